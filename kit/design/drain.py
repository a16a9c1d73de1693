"""The way of the waste: outlet, strainer or disposer, tailpiece, trap, arm, stub; and how far the stub must come down."""

from dataclasses import dataclass, replace

from kit.design.arm_way import ArmWay, order_outlets, route_arm, route_to_pipe
from kit.design.drain_levels import CodeSettings, DrainLevels, DrainMeasures, code_settings, drain_levels
from kit.design.drain_parts import Fitting, Pipe, arm_material_of, count_slip_joints, join_of_size, list_fittings, list_pipes, trap_adapter_of
from kit.design.drain_riser import Riser, design_riser
from kit.design.floor_drain import why_not_designed
from kit.design.levels import Levels
from kit.design.place_sink import SinkPlace, locate_sink
from kit.design.waste_way import WasteWay, longest_run_in, route_wastes
from kit.job import FilledJob
from kit.lists import Lists
from kit.sources import value
from kit.sources.sizes import table_size

__all__ = ["DrainRoute", "design_drain"]


@dataclass(frozen=True, slots=True)
class DrainRoute:
    """The route and what it takes. Heights above the floor [in].

    `stub_max_in` is the highest stub that still drains, `stub_built_in` the height chosen; `lower_by_in` how far today's comes
    down to it, None when the stub was not measured. The same without a disposer stands beside it. `levels` were worked from `measures` under the
    `settings` of the code family; `riser` stands only where the stub is lowered: it must come down,
    the scope says so and the riser was found. `way` is the arm from above, as it is placed, `wastes` those of further bowls; `outlets_apart_in`
    lies between the first outlet and the last. `stub_material` is what trap and arm then meet;
    `material` is the arm's. In a drain that goes `through_floor` the inlet of the tee on its pipe stands for the stub; where trap and arm are
    not designed, `not_designed` says why, and there is no pipe, no fitting and no joint; the way
    `ends_at_pipe` where that was measured and its trap finds room before it.
    """

    stub_max_in: float
    stub_max_without_disposer_in: float
    stub_built_in: float
    stub_in: float | None
    lower_by_in: float | None
    lower_by_without_disposer_in: float | None
    tailpiece_in: float
    fittings: tuple[Fitting, ...]
    transition: str | None
    transition_note: str
    material: str
    size: str
    way: ArmWay
    wastes: tuple[WasteWay, ...]
    outlets_apart_in: float
    measures: DrainMeasures
    settings: CodeSettings
    levels: DrainLevels
    pipes: tuple[Pipe, ...]
    riser: Riser | None
    stub_material: str
    slip_joints: int
    cement: str | None
    through_floor: bool = False
    not_designed: str = ""
    ends_at_pipe: bool = False

    @property
    def cemented_joints(self) -> int:
        """Sockets to cement."""
        return sum(fitting.count * fitting.sockets for fitting in self.fittings)

    @property
    def moves(self) -> bool:
        """Whether the stub must come down."""
        return bool(self.lower_by_in)

    @property
    def is_lowered(self) -> bool:
        """Whether the job lowers it."""
        return self.riser is not None

    @property
    def to_measure(self) -> tuple[str, ...]:
        """Pipes whose cut length waits for a take-out that no table knows: measure the fittings at hand."""
        return tuple(pipe.name for pipe in (*self.pipes, *(self.riser.pipes if self.riser else ())) if pipe.measure)


def design_drain(job: FilledJob, levels: Levels, lists: Lists) -> DrainRoute:
    """Route for the sink as mounted, with today's stub where it can stay.

    Notes
    -----
    Levels are those of `drain_levels`. Limits and fall are settings of the code family, to be confirmed with the local
    authority; the trap is checked with the deepest seal that they allow.
    """
    plumbing = job.plumbing
    settings = code_settings(job.site.code_family)
    at = locate_sink(job, levels)
    outlets = at.outlets
    way, fits = _way(job, at)
    wastes = route_wastes(job, at, way)
    measures = _measures(job, levels, settings, way, longest_run_in(wastes))
    heights = drain_levels(measures, settings)
    plain = drain_levels(replace(measures, need_in=plumbing.strainer_drop_in), settings)
    riser = _riser(job, lists, heights.lower_by_in, way)
    stub = plumbing.drain_old if riser is None else riser.material
    arm = arm_material_of(job, stub, way)
    join, note = lists.transition("drain", stub, arm or "slip-joint")
    transition = join_of_size(join, plumbing.drain_size)
    through_floor, not_designed = plumbing.drain_leaves == "floor", why_not_designed(job, way if fits else None, heights)
    pipes = () if not_designed else list_pipes(job, heights, lists, wastes, way, arm)
    tailpiece_in = next((pipe.centers_in for pipe in pipes if pipe.name == "tailpiece"), 0.0)
    return DrainRoute(
        stub_max_in=heights.stub_highest_in,
        stub_max_without_disposer_in=plain.stub_highest_in,
        stub_built_in=heights.stub_built_in,
        stub_in=measures.stub_in,
        lower_by_in=None if not_designed else heights.lower_by_in,
        lower_by_without_disposer_in=plain.lower_by_in,
        tailpiece_in=tailpiece_in,
        fittings=() if not_designed else list_fittings(job, pipes, wastes, stub, arm, transition),
        transition=None if not_designed else transition,
        transition_note=note,
        material=arm or plumbing.drain_new,
        size=plumbing.drain_size,
        way=way,
        wastes=wastes,
        outlets_apart_in=outlets[-1][0] - outlets[0][0],  # walls between the bowls included; 0 with one bowl
        measures=measures,
        settings=settings,
        levels=heights,
        pipes=pipes,
        riser=riser,
        stub_material=stub,
        slip_joints=0 if not_designed else count_slip_joints(job, pipes, wastes),
        cement=None if not_designed else arm or _cemented_stub(stub),
        through_floor=through_floor,
        not_designed=not_designed,
        ends_at_pipe=through_floor and fits,
    )


def _way(job: FilledJob, at: SinkPlace) -> tuple[ArmWay, bool]:
    """From the outlet over the trap, a disposer keeps the trap beside it; and whether it ends where the drain leaves.

    Where a pipe in the floor has no place, or the trap no room before it, the way into the wall stands in, and nothing is built of it.
    """
    (outlet, _), *_ = order_outlets(job, at)
    pipe, beside_in = job.plumbing.floor_pipe_at_in, 0.0 if job.plumbing.disposer == "none" else job.plumbing.disposer_diameter_in / 2.0
    to_pipe = None if pipe is None else route_to_pipe(job, outlet, pipe, beside_in)
    return (route_arm(job, outlet, beside_in), job.plumbing.drain_leaves == "wall") if to_pipe is None else (to_pipe, True)


def _riser(job: FilledJob, lists: Lists, lower_by_in: float | None, way: ArmWay) -> Riser | None:
    """Nothing is designed, and so nothing priced, in a wall where nobody found the riser (the vent that was seen is its upper end), nor below a floor."""
    if not lower_by_in or not job.scope.drain_move.renewed or not job.plumbing.vent_seen or job.plumbing.drain_leaves == "floor":
        return None
    return design_riser(job, lists, lower_by_in, way)


def _cemented_stub(old: str) -> str | None:
    """The material whose cement fixes a slip-joint trap's adapter to the stub."""
    return old if trap_adapter_of(old) and old in {"pvc", "abs"} else None


def _measures(job: FilledJob, levels: Levels, settings: CodeSettings, way: ArmWay, waste_run_in: float) -> DrainMeasures:
    """What the levels start from: the arm as it is placed, and beyond it the pipe from the stub to the vent as measured.

    The vent of a pipe in the floor begins in its tee.
    """
    plumbing, size = job.plumbing, table_size(job.plumbing.drain_size)
    in_wall = plumbing.drain_leaves == "wall"
    beyond_in = 0.0 if not in_wall else None if plumbing.arm_to_vent_in is None else max(plumbing.arm_to_vent_in - plumbing.arm_to_wall_in, 0.0)
    return DrainMeasures(
        mount=job.sink.mount,
        counter_top_in=levels.counter_top_in,
        counter_thickness_in=job.counter.thickness_in,
        rim_above_in=max(0.0, levels.rim_in - levels.counter_top_in),
        bowl_depth_in=job.sink.deepest_in,
        bottom_thickness_in=max(job.sink.underside_in - job.sink.deepest_in, 0.0),
        need_in=plumbing.strainer_drop_in if plumbing.disposer == "none" else plumbing.disposer_drop_in,
        bore_in=value("pipes", f"pvc-40/{size}/bore"),
        size_in=float(size),
        run_to_wall_in=way.length_in,
        run_to_vent_in=None if beyond_in is None else way.length_in + beyond_in,
        waste_run_in=waste_run_in,
        stub_in=plumbing.stub_height_in if in_wall else plumbing.vented_inlet_in,
        cabinet_floor_in=job.cabinet.floor_height_in,
        trap_seal_in=settings.seal_most_in,
        trap_wall_in=value("pipes", f"pvc-40/{size}/wall"),
        spare_in=value("practice", "drain/spare"),
        wanted_in=plumbing.stub_wanted_in if in_wall else None,
        slope_in_per_ft=settings.slope_least_in_per_ft,
    )
