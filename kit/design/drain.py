"""The way of the waste: outlet, strainer or disposer, tailpiece, trap, arm, stub; and how far the stub must come down."""

from dataclasses import dataclass

from kit.design.levels import Levels
from kit.job import Job
from kit.lists import Lists
from kit.sources import value

__all__ = ["DrainRoute", "Fitting", "design_drain"]

SLOPE_IN_PER_FT = 0.25
TRAP_SLACK_IN = 2.0
_DECIMAL = {"1-1/2": "1.5", "2": "2"}


@dataclass(frozen=True, slots=True)
class Fitting:
    """Fittings of one kind, and how many cemented sockets each has."""

    item: str
    count: int
    sockets: int = 0


@dataclass(frozen=True, slots=True)
class DrainRoute:
    """The route and what it takes. Heights above the floor [in].

    `stub_max_in` is the highest stub that still drains; `lower_by_in` how far today's must come down, None when the
    stub was not measured. The same without a disposer stands beside it.
    """

    drop_needed_in: float
    stub_max_in: float
    stub_max_without_disposer_in: float
    stub_in: float | None
    lower_by_in: float | None
    lower_by_without_disposer_in: float | None
    arm_in: float
    tailpiece_in: float
    fittings: tuple[Fitting, ...]
    transition: str | None
    transition_note: str
    material: str

    @property
    def cemented_joints(self) -> int:
        """Sockets to cement."""
        return sum(fitting.count * fitting.sockets for fitting in self.fittings)

    @property
    def moves(self) -> bool:
        """Whether the stub must come down."""
        return self.lower_by_in is not None and self.lower_by_in > 0.0


def design_drain(job: Job, levels: Levels, lists: Lists) -> DrainRoute:
    """Route for the sink as mounted, with today's stub where it can stay.

    Notes
    -----
    Highest stub = underside of the bowl - drop needed + half the bore - fall of the arm; the outlet side of the trap
    weir is the invert of the arm. Fall 1/4 in a foot (model codes, smaller than 3 in pipe; confirm with the local authority).
    """
    plumbing, sink = job.plumbing, job.sink
    bore_in = value("pipes", f"pvc-40/{_DECIMAL[plumbing.drain_size]}/bore")
    fall_in = SLOPE_IN_PER_FT * plumbing.arm_to_wall_in / 12.0
    base_in = levels.bowl_bottom_in + bore_in / 2.0 - fall_in
    drop_in = plumbing.disposer_drop_in if plumbing.disposer != "none" else plumbing.strainer_drop_in
    stub_max_in, without_in = base_in - drop_in, base_in - plumbing.strainer_drop_in
    stub_in = plumbing.stub_height_in
    side_in = abs(plumbing.stub_offset_in - sink.outlet_offset_in)
    lower_in = None if stub_in is None else max(0.0, stub_in - stub_max_in)
    weir_in = (stub_in if stub_in is not None and not lower_in else stub_max_in) - bore_in / 2.0 + fall_in
    transition, note = lists.transition("drain", plumbing.drain_old, plumbing.drain_new)
    return DrainRoute(
        drop_needed_in=drop_in,
        stub_max_in=stub_max_in,
        stub_max_without_disposer_in=without_in,
        stub_in=stub_in,
        lower_by_in=lower_in,
        lower_by_without_disposer_in=None if stub_in is None else max(0.0, stub_in - without_in),
        arm_in=plumbing.arm_to_wall_in + side_in,
        tailpiece_in=max(0.0, levels.bowl_bottom_in - weir_in - TRAP_SLACK_IN) if plumbing.disposer == "none" else 0.0,
        fittings=_fittings(job, turns=side_in > 1.0),
        transition=transition,
        transition_note=note,
        material=plumbing.drain_new,
    )


def _fittings(job: Job, *, turns: bool) -> tuple[Fitting, ...]:
    material, bowls = job.plumbing.drain_new, len(job.sink.bowls)
    cemented = material != "slip-joint"
    fittings = [Fitting(f"trap-{material}", 1, 1 if cemented else 0)]
    if cemented:
        fittings.append(Fitting(f"trap-adapter-{material}", 1, 1))
        if turns:
            fittings.append(Fitting(f"elbow-{material}", 1, 2))
    if bowls > 1:
        fittings.append(Fitting("continuous-waste", bowls - 1))
    if job.plumbing.dishwasher and job.plumbing.disposer == "none":
        fittings.append(Fitting("branch-tailpiece", 1))
    return tuple(fittings)
