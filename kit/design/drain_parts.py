"""What the drain is put together from: fittings with their sockets, pipes with their lengths, slip joints."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from kit.design.arm_way import ArmWay, elbow_takes_in, pipe_outside_in, stub_end_in
from kit.design.cut_lengths import cut_between_centers, find_takeout
from kit.design.drain_levels import DrainLevels
from kit.design.waste_way import WasteWay
from kit.errors import CutError, JobError
from kit.job import FilledJob
from kit.lists import Lists
from kit.sources import value
from kit.sources.sizes import item_size, table_size
from kit.units import count_parts, exceeds

__all__ = ["Fitting", "Pipe", "arm_material_of", "count_slip_joints", "disposer_tube_in", "drain_pipes", "join_of_size", "list_fittings", "list_pipes"]
__all__ += ["WASTE_TUBE", "tailpiece_in", "tailpiece_spare_in", "trap_adapter_of"]

WASTE_TUBE = "waste tube between bowls"


@dataclass(frozen=True, slots=True)
class Fitting:
    """Fittings of one kind, and how many cemented sockets each has."""

    item: str
    count: int
    sockets: int = 0


@dataclass(frozen=True, slots=True)
class Pipe:
    """Pipes of one length. `centers_in` runs between the centers of its fittings or, for a tube, along the tube itself [in].

    `cut_in` is what the saw cuts, None where a take-out is not known: then the length between centers is bought, which
    is never too short, and the fitting is measured before the cut. `splices` tells how many joins a run in several pieces has, `least_in` how near to
    each other the centers of its fittings can lie [in], 0 where nothing sets a limit.
    """

    name: str
    item: str
    centers_in: float
    count: int
    cut_in: float | None
    splices: int = 0
    least_in: float = 0.0

    @property
    def length_in(self) -> float:
        """The length to buy for one [in]."""
        return self.centers_in if self.cut_in is None else self.cut_in

    @property
    def measure(self) -> bool:
        """Whether a fitting must be measured before the cut."""
        return self.cut_in is None


def trap_adapter_of(old: str) -> str | None:
    """The adapter that lets a slip-joint trap into a stub of this material; none where a slip nut is there already."""
    if old == "slip-joint":
        return None
    return f"trap-adapter-{old}" if old in {"pvc", "abs"} else "trap-adapter-metal"


def join_of_size(join: str | None, size: str) -> str | None:
    """The coupling that the transitions list names, in the size of the drain; its own name is that of the usual 1 1/2 in."""
    return f"{join}-2" if join is not None and size == "2" else join


def arm_material_of(job: FilledJob, stub: str, way: ArmWay) -> str | None:
    """What the arm is cemented from; None where the outlet tube of a slip-joint trap reaches the stub by itself.

    Slip joints belong to the trap's inlet, seal and outlet, and the adapter is the last: a longer arm, or one that turns, is
    cemented pipe of the stub's plastic, PVC where the stub is none (from memory; local code decides).
    """
    plumbing = job.plumbing
    if plumbing.drain_new != "slip-joint":
        return plumbing.drain_new
    if len(way.legs_in) == 1 and not exceeds(way.length_in - stub_end_in(way), value("practice", "drain/slip-reach")):
        return None
    return stub if stub in {"pvc", "abs"} else "pvc"


def list_pipes(job: FilledJob, levels: DrainLevels, lists: Lists, wastes: Sequence[WasteWay], way: ArmWay, arm: str | None) -> tuple[Pipe, ...]:
    """Tailpieces, what bridges bowls too far apart for a set, and the arm by its legs: each as long as it is placed.

    Parameters
    ----------
    job
        The job, assumptions filled in.
    levels
        Levels of the drain as built.
    lists
        The take-outs that the user measured.
    wastes
        The wastes of further bowls as they are placed.
    way
        The arm as it is placed.
    arm
        Material of a cemented arm; None: the trap's own tube.
    """
    pipes: list[Pipe] = []
    for tail_in, strainers in _tailpieces(job, levels).items():
        pipes += _tubes("tailpiece", tail_in, strainers)
    for name, length_in in (("disposer tube", disposer_tube_in(job, levels)), *((WASTE_TUBE, waste.beyond_set_in) for waste in wastes)):
        pipes += _tubes(name, length_in, 1) if length_in else []
    return (*pipes, *_arm(job, lists, way, arm))


def _tailpieces(job: FilledJob, levels: DrainLevels) -> dict[float, int]:
    """How many strainers have a tailpiece of each length [in]: a shallower bowl's is longer by as much; a disposer hangs below the deepest.

    The one away from the trap may be shorter by the fall of the waste between the bowls: a tube slides in its nut by more, so both are cut alike.
    """
    depths = sorted((bowl.depth_in for bowl in job.sink.bowls), reverse=True)[1 if job.plumbing.disposer != "none" else 0 :]
    lengths = {depth_in: tailpiece_in(job, levels, job.sink.deepest_in - depth_in) for depth_in in depths}
    return {length_in: depths.count(depth_in) for depth_in, length_in in lengths.items() if exceeds(length_in, 0.0)}


def tailpiece_in(job: FilledJob, levels: DrainLevels, higher_in: float = 0.0) -> float:
    """From a strainer into the slip joint of the trap [in]; `higher_in` is how much less deep its bowl is than the deepest. None is left at 0 or less."""
    enters_in = value("practice", "drain/tailpiece-enters")
    return levels.drop_built_in + higher_in - value("practice", "drain/strainer-body") - pipe_outside_in(job) + enters_in


def tailpiece_spare_in(job: FilledJob, levels: DrainLevels) -> float:
    """By how much the tailpiece of the deepest bowl can be cut shorter at the highest stub that drains [in]: what its nuts hold stays."""
    at_highest_in = tailpiece_in(job, levels, levels.need_in - levels.drop_built_in)
    return at_highest_in - value("practice", "drain/tailpiece-enters")


def disposer_tube_in(job: FilledJob, levels: DrainLevels) -> float:
    """What the trap lies lower than a disposer needs it [in]; 0 without one, and where its elbow takes that up."""
    extra_in = levels.drop_built_in - levels.need_in
    return extra_in if job.plumbing.disposer != "none" and extra_in > value("practice", "drain/turn-from") else 0.0


def _arm(job: FilledJob, lists: Lists, way: ArmWay, material: str | None) -> list[Pipe]:
    """The legs from the trap to the end of the stub; one tube of the trap's own, or cemented pipe with an elbow between two legs."""
    first_in, *rest_in = way.legs_in
    legs_in = [*reversed(rest_in), first_in - stub_end_in(way)]
    if material is None:
        return _tubes("arm", legs_in[0], 1)
    start = "trap-adapter" if job.plumbing.drain_new == "slip-joint" else "trap"
    names = {1: ("arm",), 2: ("arm to the elbow", "arm to the stub"), 3: ("arm to the elbow", "arm between the elbows", "arm to the stub")}[len(legs_in)]
    joints = (start, *("90-ell" for _ in legs_in[1:]), "coupling")
    return [
        pipe
        for name, length_in, ends in zip(names, legs_in, pairwise(joints), strict=True)
        for pipe in drain_pipes(name, length_in, material, job.plumbing.drain_size, ends, lists)
    ]


def _tubes(name: str, length_in: float, count: int) -> list[Pipe]:
    """Slip-joint tube, in as many equal pieces as its usual longest asks for; a tube slides, so its length is its cut."""
    parts = count_parts(length_in, value("practice", "drain/tube-longest"))
    return [Pipe(name, "tube-slip-joint", length_in / parts, count * parts, length_in / parts, count * (parts - 1))]


def drain_pipes(name: str, length_in: float, material: str, size: str, ends: tuple[str, str], lists: Lists) -> list[Pipe]:
    """Drain pipe between the centers of two fittings, in as many equal pieces as a stick asks for."""
    parts = count_parts(length_in, value("practice", "drain/pipe-longest"))
    each_in, whole = length_in / parts, parts == 1
    cut_in, least_in = (_cut_in(each_in, size, ends, lists), _least_in(size, ends)) if whole else (None, 0.0)
    return [Pipe(name, f"pipe-{material}-{item_size(size)}", each_in, parts, cut_in, parts - 1, least_in)]


def _least_in(size: str, ends: tuple[str, str]) -> float:
    """How near the centers of two fittings can lie where their mouths meet [in]: a coupling takes its socket, an elbow half of the crossing pipe more."""
    takes = {"90-ell": elbow_takes_in(size), "coupling": value("practice", f"drain/socket/{table_size(size)}")}
    return sum(takes.get(end, 0.0) for end in ends)


def _cut_in(centers_in: float, size: str, ends: tuple[str, str], lists: Lists) -> float | None:
    known = {f"dwv/{row.fitting}/{row.size}": row.take_out_in for row in lists.take_outs.values() if row.take_out_in is not None}
    try:
        first_in, second_in = (find_takeout(known, "dwv", end, size) for end in ends)
        return cut_between_centers(centers_in, first_in, second_in)
    except (JobError, CutError):  # not known, or so near that the fittings touch: the fitting at hand decides
        return None


def list_fittings(
    job: FilledJob, pipes: tuple[Pipe, ...], wastes: Sequence[WasteWay], stub: str, arm: str | None, transition: str | None
) -> tuple[Fitting, ...]:
    """Trap, adapter to the stub or to a cemented arm, elbow, couplings, continuous wastes and their turns, branch tailpiece.

    A spigot is cemented in its neighbor's socket.
    """
    fittings = _into_stub(job, stub) if arm is None else [*_trap(job, f"trap-adapter-{arm}"), *_arm_fittings(job, pipes, arm, transition)]
    extended = sum(pipe.splices for pipe in pipes if pipe.item == "tube-slip-joint")
    if extended:
        fittings.append(Fitting("coupling-slip-joint", extended))
    if wastes:
        fittings.append(Fitting("continuous-waste" if job.plumbing.disposer == "none" else "continuous-waste-disposer", len(wastes)))
    if turns := sum(waste.turns for waste in wastes):
        fittings.append(Fitting("elbow-slip-joint", turns))
    if _has_branch(job):
        fittings.append(Fitting("branch-tailpiece", 1))
    return tuple(fittings)


def _trap(job: FilledJob, adapter: str | None) -> list[Fitting]:
    """The trap and its adapter: a slip-joint trap's is cemented on plastic pipe, a cemented trap's sits in the trap's own socket."""
    material = job.plumbing.drain_new
    if material != "slip-joint":
        return [Fitting(f"trap-{material}", 1, 2), Fitting(f"trap-adapter-{material}", 1)]
    sockets = 1 if adapter in {"trap-adapter-pvc", "trap-adapter-abs"} else 0
    return [Fitting("trap-slip-joint", 1), *([Fitting(adapter, 1, sockets)] if adapter else [])]


def _into_stub(job: FilledJob, stub: str) -> list[Fitting]:
    """A slip-joint trap straight into the stub by its adapter; 2 in plastic takes a reducer for the adapter to sit in, 2 in metal an adapter of its size."""
    adapter, large = trap_adapter_of(stub), job.plumbing.drain_size == "2"
    if adapter == "trap-adapter-metal":
        adapter = join_of_size(adapter, job.plumbing.drain_size)
    reducer = [Fitting(f"reducer-{stub}", 1, 1)] if large and stub in {"pvc", "abs"} else []
    return [*_trap(job, adapter), *reducer]


def _arm_fittings(job: FilledJob, pipes: tuple[Pipe, ...], material: str, transition: str | None) -> list[Fitting]:
    size, turns = item_size(job.plumbing.drain_size), sum(name.startswith("arm") for name in {pipe.name for pipe in pipes}) - 1
    couplings = sum(pipe.splices for pipe in pipes if pipe.item.startswith("pipe-")) + (1 if transition is None else 0)
    fittings = [Fitting(f"elbow-{material}-{size}", turns, 2)] if turns else []
    fittings += [Fitting(f"coupling-{material}-{size}", couplings, 2)] if couplings else []
    if job.plumbing.drain_size == "2":  # a kitchen trap is 1 1/2 in, never larger than its drain
        fittings.append(Fitting(f"reducer-{material}", 1, 2))
    return fittings


def _has_branch(job: FilledJob) -> bool:
    """Whether the dishwasher drains into a tailpiece: with a disposer it drains into that."""
    return job.plumbing.dishwasher and job.plumbing.disposer == "none"


def count_slip_joints(job: FilledJob, pipes: tuple[Pipe, ...], wastes: Sequence[WasteWay]) -> int:
    """Slip joints, a washer each: tube into trap, ends and turns of a continuous waste, branch tailpiece, extensions; seal and outlet of a slip-joint trap."""
    joints = 1 + sum(2 + waste.turns for waste in wastes) + (1 if _has_branch(job) else 0)
    if job.plumbing.drain_new == "slip-joint":
        joints += 2
    return joints + sum(pipe.splices for pipe in pipes if pipe.item == "tube-slip-joint")
