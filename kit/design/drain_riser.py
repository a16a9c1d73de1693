"""What is renewed in the wall where the stub comes down: the riser from a cut above today's tee to the tee at the new height, and its stub.

No end of the old pipe can be moved. A plastic riser is cut above and below, the new tee is let down onto the lower end, and a
repair coupling without a stop slides over the last joint. Between metal and plastic both joints are couplings that slide. No
slip joint is closed into a wall. From memory; the licensed trade and the local authority decide.
"""

from dataclasses import dataclass

from kit.design.arm_way import ArmWay, stub_end_in
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

    `above_in` is the new pipe above the tee, `below_in` that below it, 0 where the tee sits on the old pipe [in].
    """

    material: str
    pipes: tuple[Pipe, ...]
    fittings: tuple[Fitting, ...]
    transition: str | None
    above_in: float
    below_in: float

    @property
    def cut_out_in(self) -> float:
        """Length of the old riser that is cut out [in], up to the middle of a tee that sits on it."""
        return self.above_in + self.below_in

    @property
    def cemented_joints(self) -> int:
        """Sockets to cement in the wall."""
        return sum(fitting.count * fitting.sockets for fitting in self.fittings)


def design_riser(job: FilledJob, lists: Lists, lower_by_in: float, way: ArmWay) -> Riser:
    """The new part for a stub that comes down by so much [in]."""
    plumbing = job.plumbing
    material = "abs" if plumbing.drain_old == "abs" else "pvc"
    join, _ = lists.transition("drain", plumbing.drain_old, material)
    transition = join_of_size(join, plumbing.drain_size)
    above_in = lower_by_in + value("practice", "drain/riser-beyond")
    below_in = 0.0 if transition is None else value("practice", "drain/riser-beyond")
    runs = [("riser above the tee", above_in, ("sanitary-tee", "coupling"))]
    if below_in:  # a tee has sockets for plastic only: a short pipe goes between it and the coupling
        runs.append(("riser below the tee", below_in, ("sanitary-tee", "coupling")))
    runs.append(("stub", _stub_length_in(job, way), ("sanitary-tee", "coupling")))
    pipes = [pipe for name, length_in, ends in runs for pipe in drain_pipes(name, length_in, material, plumbing.drain_size, ends, lists)]
    return Riser(material, tuple(pipes), _fittings(material, plumbing.drain_size, transition), transition, above_in, below_in)


def _stub_length_in(job: FilledJob, way: ArmWay) -> float:
    """From the middle of the wall through its board into the room [in]."""
    return job.plumbing.stud_depth_in / 2.0 + value("site_work", "wall-board/thickness") + stub_end_in(way)


def _fittings(material: str, size: str, transition: str | None) -> tuple[Fitting, ...]:
    tee = Fitting(f"sanitary-tee-{material}-{item_size(size)}", 1, TEE_SOCKETS)
    if transition is not None:
        return tee, Fitting(transition, 2)
    return tee, Fitting(f"repair-coupling-{material}-{item_size(size)}", 1, COUPLING_SOCKETS)
