"""The way of the waste: outlet, strainer or disposer, tailpiece, trap, arm, stub; and how far the stub must come down."""

from dataclasses import dataclass, replace

from kit.design.drain_levels import CodeSettings, DrainLevels, DrainMeasures, code_settings, drain_levels
from kit.design.drain_parts import Fitting, Pipe, count_slip_joints, list_fittings, list_pipes, list_riser, trap_adapter_of
from kit.design.levels import Levels
from kit.job import FilledJob
from kit.lists import Lists
from kit.sources import value
from kit.sources.sizes import table_size

__all__ = ["DrainRoute", "Fitting", "Pipe", "design_drain"]


@dataclass(frozen=True, slots=True)
class DrainRoute:
    """The route and what it takes. Heights above the floor [in].

    `stub_max_in` is the highest stub that still drains; `lower_by_in` how far today's must come down, None when the
    stub was not measured. The same without a disposer stands beside it. `levels` were worked from `measures` under the
    `settings` of the code family; `pipes` are cut, `riser` only where the stub is lowered.
    """

    stub_max_in: float
    stub_max_without_disposer_in: float
    stub_in: float | None
    lower_by_in: float | None
    lower_by_without_disposer_in: float | None
    tailpiece_in: float
    fittings: tuple[Fitting, ...]
    transition: str | None
    transition_note: str
    material: str
    size: str
    measures: DrainMeasures
    settings: CodeSettings
    levels: DrainLevels
    pipes: tuple[Pipe, ...]
    riser: tuple[Pipe, ...]
    slip_joints: int
    cement: str | None

    @property
    def cemented_joints(self) -> int:
        """Sockets to cement."""
        return sum(fitting.count * fitting.sockets for fitting in self.fittings)

    @property
    def moves(self) -> bool:
        """Whether the stub must come down."""
        return self.lower_by_in is not None and self.lower_by_in > 0.0

    @property
    def to_measure(self) -> tuple[str, ...]:
        """Pipes whose cut length waits for a take-out that no table knows: measure the fittings at hand."""
        return tuple(pipe.name for pipe in (*self.pipes, *self.riser) if pipe.measure)


def design_drain(job: FilledJob, levels: Levels, lists: Lists) -> DrainRoute:
    """Route for the sink as mounted, with today's stub where it can stay.

    Notes
    -----
    Levels are those of `drain_levels`. Limits and fall are settings of the code family, to be confirmed with the local
    authority; the trap is checked with the deepest seal that they allow.
    """
    plumbing = job.plumbing
    settings = code_settings(job.site.code_family)
    measures = _measures(job, levels, settings)
    found = drain_levels(measures, settings)
    plain = drain_levels(replace(measures, need_in=plumbing.strainer_drop_in), settings)
    transition, note = lists.transition("drain", plumbing.drain_old, plumbing.drain_new)
    side_in = abs(plumbing.stub_offset_in - job.sink.outlet_offset_in)
    turns = side_in > value("practice", "drain/turn-from")
    pipes = list_pipes(job, found, lists, measures.waste_run_in, side_in if turns else 0.0)
    tailpiece_in = next((pipe.centres_in for pipe in pipes if pipe.name == "tailpiece"), 0.0)
    return DrainRoute(
        stub_max_in=found.stub_highest_in,
        stub_max_without_disposer_in=plain.stub_highest_in,
        stub_in=plumbing.stub_height_in,
        lower_by_in=found.lower_by_in,
        lower_by_without_disposer_in=plain.lower_by_in,
        tailpiece_in=tailpiece_in,
        fittings=list_fittings(job, pipes, transition, turns=turns),
        transition=transition,
        transition_note=note,
        material=plumbing.drain_new,
        size=plumbing.drain_size,
        measures=measures,
        settings=settings,
        levels=found,
        pipes=pipes,
        riser=list_riser(job, lists, found.lower_by_in or 0.0),
        slip_joints=count_slip_joints(job, pipes, turns=turns),
        cement=plumbing.drain_new if plumbing.drain_new != "slip-joint" else _cemented_stub(plumbing.drain_old),
    )


def _cemented_stub(old: str) -> str | None:
    """The material whose cement fixes a slip-joint trap's adapter to the stub."""
    return old if trap_adapter_of(old) and old in {"pvc", "abs"} else None


def _measures(job: FilledJob, levels: Levels, settings: CodeSettings) -> DrainMeasures:
    plumbing, size = job.plumbing, table_size(job.plumbing.drain_size)
    bowls = job.sink.bowls
    return DrainMeasures(
        mount=job.sink.mount,
        counter_top_in=levels.counter_top_in,
        counter_thickness_in=job.counter.thickness_in,
        rim_above_in=max(0.0, levels.rim_in - levels.counter_top_in),
        bowl_depth_in=job.sink.deepest_in,
        bottom_thickness_in=job.sink.bottom_thickness_in,
        need_in=plumbing.strainer_drop_in if plumbing.disposer == "none" else plumbing.disposer_drop_in,
        bore_in=value("pipes", f"pvc-40/{size}/bore"),
        size_in=float(size),
        run_to_wall_in=plumbing.arm_to_wall_in,
        run_to_vent_in=plumbing.arm_to_vent_in,
        stub_in=plumbing.stub_height_in,
        cabinet_floor_in=job.cabinet.floor_height_in,
        trap_seal_in=settings.seal_most_in,
        trap_wall_in=value("pipes", f"pvc-40/{size}/wall"),
        waste_run_in=_waste_run_in(job) if len(bowls) > 1 else 0.0,
        slope_in_per_ft=settings.slope_least_in_per_ft,
    )


def _waste_run_in(job: FilledJob) -> float:
    """From the first to the last outlet, bowls side by side with walls of one width and outlets in their middle [in]."""
    bowls = job.sink.bowls
    inside_in = sum(bowl.width_in for bowl in bowls)
    wall_in = (job.sink.bowl_width_in - inside_in) / (len(bowls) + 1)
    return inside_in - (bowls[0].width_in + bowls[-1].width_in) / 2.0 + (len(bowls) - 1) * wall_in
