"""What is renewed in the wall where the stub comes down: the riser from a cut above today's tee to the tee at the new height, and its stub.

No end of the old pipe can be moved. A plastic riser is cut above and below, the new tee is let down onto the lower end, and a
repair coupling without a stop slides over the last joint. Between metal and plastic both joints are couplings that slide. No
slip joint is closed into a wall. From memory; the licensed trade and the local authority decide.
"""

from dataclasses import dataclass

from kit.design.drain_parts import Fitting, Pipe, drain_pipes, join_of_size
from kit.job import FilledJob
from kit.lists import Lists
from kit.sources import value
from kit.sources.sizes import item_size

__all__ = ["Riser", "design_riser"]

TEE_SOCKETS, COUPLING_SOCKETS = 3, 2


@dataclass(frozen=True, slots=True)
class Riser:
    """Pipes and fittings of the new part, its material, and the coupling to another old pipe, None where it is the same.

    `cut_out_in` is the length of the old riser that is cut out [in].
    """

    material: str
    pipes: tuple[Pipe, ...]
    fittings: tuple[Fitting, ...]
    transition: str | None
    cut_out_in: float

    @property
    def cemented_joints(self) -> int:
        """Sockets to cement in the wall."""
        return sum(fitting.count * fitting.sockets for fitting in self.fittings)


def design_riser(job: FilledJob, lists: Lists, lower_by_in: float) -> Riser:
    """The new part for a stub that comes down by so much [in]."""
    plumbing = job.plumbing
    material = "abs" if plumbing.drain_old == "abs" else "pvc"
    join, _ = lists.transition("drain", plumbing.drain_old, material)
    transition = join_of_size(join, plumbing.drain_size)
    beyond_in = value("practice", "drain/riser-beyond")
    runs = [("riser above the tee", lower_by_in + beyond_in, ("sanitary-tee", "coupling"))]
    if transition is not None:  # a tee has sockets for plastic only: a short pipe goes between it and the coupling
        runs.append(("riser below the tee", beyond_in, ("sanitary-tee", "coupling")))
    runs.append(("stub", _stub_length_in(job), ("sanitary-tee", "coupling")))
    pipes = [pipe for name, length_in, ends in runs for pipe in drain_pipes(name, length_in, material, plumbing.drain_size, ends, lists)]
    return Riser(material, tuple(pipes), _fittings(material, plumbing.drain_size, transition), transition, lower_by_in + 2.0 * beyond_in)


def _stub_length_in(job: FilledJob) -> float:
    """From the middle of the wall through its board into the room [in]."""
    return job.plumbing.stud_depth_in / 2.0 + value("site_work", "wall-board/thickness") + value("practice", "drain/stub-beyond")


def _fittings(material: str, size: str, transition: str | None) -> tuple[Fitting, ...]:
    tee = Fitting(f"sanitary-tee-{material}-{item_size(size)}", 1, TEE_SOCKETS)
    if transition is not None:
        return tee, Fitting(transition, 2)
    return tee, Fitting(f"repair-coupling-{material}-{item_size(size)}", 1, COUPLING_SOCKETS)
