"""Where are strainer or disposer, tailpiece, trap and arm of the drain, and what of it runs in the wall?"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from kit.design.arm_way import ArmWay, along_line, order_outlets, pipe_outside_in, route_arm, stub_end_in, stub_x_in
from kit.design.drain import DrainRoute
from kit.design.drain_levels import DrainLevels
from kit.design.drain_parts import WASTE_TUBE, disposer_tube_in, tailpiece_in
from kit.design.place_floor_pipe import INLET_FIELDS
from kit.design.place_sink import SinkPlace, outlet_fields
from kit.job import FilledJob
from kit.shapes import Axis, Block, Rod, Shape
from kit.solids import Body, Stage
from kit.sources import value
from kit.sources.sizes import table_size
from kit.spans import TOUCH_IN, Span, about

__all__ = ["place_drain", "place_old_drain", "place_wall_pipes"]


def place_drain(job: FilledJob, at: SinkPlace, drain: DrainRoute) -> Iterator[Body]:
    """The way of the waste as it is built, the trap at the outlet that lies nearest to the stub; no more than outlets where no trap is designed.

    Below a strainer the trap hangs on the tailpiece; a disposer lets out at its side, so its trap stands beside it, on the side of the stub.
    """
    outlets = order_outlets(job, at)
    hanging = [_below_outlet(job, at, outlet, higher_in, number) for number, (outlet, higher_in) in enumerate(outlets, 1)]
    yield from hanging
    if drain.not_designed:
        return
    yield from _trap_and_arm(job, drain.levels, drain.way, stub_end_in(drain.way))
    for number, (body, (_, higher_in)) in enumerate(zip(hanging, outlets, strict=True), 1):
        if body.part == "disposer":
            yield from _tube(job, "disposer tube", (*drain.way.inlet, _tail_low_in(job, drain.levels)), disposer_tube_in(job, drain.levels), body.name)
        else:
            name, (x, y, _) = "tailpiece" if number == 1 else f"tailpiece {number}", body.middle
            yield from _tube(job, name, (x, y, _tail_low_in(job, drain.levels)), tailpiece_in(job, drain.levels, higher_in), body.name)
    yield from _wastes(job, drain)


def _tail_low_in(job: FilledJob, levels: DrainLevels) -> float:
    """Lower end of what goes into the trap's slip joint [in]."""
    return levels.weir_built_in + pipe_outside_in(job) - value("practice", "drain/tailpiece-enters")


def _tube(job: FilledJob, name: str, low: tuple[float, float, float], long_in: float, hangs_on: str) -> Iterator[Body]:
    """A tube that stands upright on a place, none where nothing is left for it."""
    x, y, z = low
    if long_in > TOUCH_IN:
        rod = Rod(low, (x, y, z + long_in), value("practice", "drain/tailpiece") / 2.0)
        yield Body(name, "tailpiece", (rod,), Stage.BUILT, stands_on=(hangs_on,), fields=_fixed(job))


def _wastes(job: FilledJob, drain: DrainRoute) -> Iterator[Body]:
    """The waste of each further bowl just above the trap, its fall left out; a tube where its set ends before the trap. Both slide on tailpieces."""
    radius_in = value("practice", "drain/tailpiece") / 2.0
    z = drain.levels.weir_built_in + pipe_outside_in(job) + radius_in
    for number, waste in enumerate(drain.wastes, 1):
        again = f" {number}" if number > 1 else ""
        for name, span in ((WASTE_TUBE, (0.0, waste.beyond_set_in)), ("continuous waste", (waste.beyond_set_in, waste.length_in))):
            rods = tuple(Rod((*one, z), (*other, z), radius_in) for one, other in waste.legs(*span))
            if rods:
                yield Body(f"{name}{again}", "tailpiece", rods, Stage.BUILT, stands_on=("trap", f"strainer {number + 1}"), fields=_fixed(job))


def place_old_drain(job: FilledJob, drain: DrainRoute, old: Iterable[Body]) -> Iterator[Body]:
    """Today's tailpiece, trap and arm, from the middle of the old bowl to today's stub: out with the old sink. None where one of the two is not known."""
    sink, lifted_in = next((body for body in old if body.name == "old sink"), None), (drain.stub_in or 0.0) - drain.stub_built_in
    if sink is None or drain.stub_in is None or drain.through_floor:
        return
    bowl, levels = sink.shapes[1:], drain.levels
    today = replace(levels, weir_built_in=levels.weir_built_in + lifted_in, trap_bottom_in=levels.trap_bottom_in + lifted_in)
    (x0, x1), (y0, y1), low_in = _across(bowl, "x"), _across(bowl, "y"), min(shape.z[0] for shape in bowl)
    x, y, nut_in = (x0 + x1) / 2.0, (y0 + y1) / 2.0, value("practice", "drain/strainer-nut") / 2.0
    strainer = Rod((x, y, low_in - value("practice", "drain/strainer-body")), (x, y, low_in), nut_in)
    way, top_in = route_arm(job, (x, y)), low_in - value("practice", "drain/strainer-body")
    bodies = (
        Body("strainer", "strainer", (strainer,), stands_on=("old sink",), fields=sink.fields),
        *_trap_and_arm(job, today, way, stub_end_in(drain.way)),
        *_tube(job, "tailpiece", (x, y, _tail_low_in(job, today)), top_in - _tail_low_in(job, today), "strainer"),
    )
    for body in bodies:
        hung = tuple(name if name in {"wall", "stub", "old sink"} else f"old {name}" for name in body.stands_on)
        fields = tuple(dict.fromkeys((*sink.fields, "plumbing.stub_height", "plumbing.stub_offset")))
        yield Body(f"old {body.name}", "old drain", body.shapes, Stage.TODAY, stands_on=hung, fields=fields)


def _fixed(job: FilledJob) -> tuple[str, ...]:
    """What fixes tailpiece, trap and arm: the outlet beside them, stub or pipe below, and how much lower than the bowl they must start where it comes down."""
    if job.plumbing.drain_leaves == "floor":
        return (*outlet_fields(job), *INLET_FIELDS)
    disposer = ("plumbing.disposer_diameter", "plumbing.disposer_drop") if job.plumbing.disposer != "none" else ("plumbing.strainer_drop",)
    return (*outlet_fields(job), "plumbing.stub_height", *disposer)


def _aside(job: FilledJob) -> tuple[str, ...]:
    """What fixes where along the wall the arm ends; a pipe in the floor is among the measures of trap and arm anyway."""
    return () if job.plumbing.drain_leaves == "floor" else ("plumbing.stub_offset",)


def _across(shapes: Sequence[Shape], axis: Axis) -> Span:
    spans: list[Span] = [getattr(shape, axis) for shape in shapes]
    return min(low for low, _ in spans), max(high for _, high in spans)


def _trap_and_arm(job: FilledJob, levels: DrainLevels, way: ArmWay, start_in: float) -> Iterator[Body]:
    """The trap's bend, and the arm from the end of the stub, `start_in` from the wall or the pipe, straight out and over to it; its fall is left out."""
    radius_in, fields = pipe_outside_in(job) / 2.0, _fixed(job)
    yield Body("trap", "trap", _bend(way, radius_in, levels), Stage.BUILT, stands_on=("arm",), fields=fields)
    z = levels.weir_built_in + _bore_in(job) / 2.0 - levels.arm_fall_to_wall_in
    wall, *rest = way.points
    points = [along_line(wall, rest[0], min(start_in, stub_end_in(way)) / way.legs_in[0]), *rest]
    rods = tuple(Rod((*one, z), (*other, z), radius_in) for one, other in pairwise(points))
    yield Body("arm", "arm", rods, Stage.BUILT, stands_on=("stub",), fields=(*fields, *_aside(job)))


def _bend(way: ArmWay, radius_in: float, levels: DrainLevels) -> tuple[Block, ...]:
    """One block where the bend is in line with the arm that leaves it; one that is swung stands as three, from its inlet to its outlet."""
    inlet, outlet, thick_in = way.inlet, way.outlet, 2.0 * radius_in
    z = (levels.trap_bottom_in, levels.weir_built_in + thick_in)
    lead = [math.copysign(1.0, end - start) if abs(end - start) > TOUCH_IN else 0.0 for start, end in zip(*way.points[-2:], strict=True)]
    end = Block(_ahead(outlet[0], lead[0], thick_in), _ahead(outlet[1], lead[1], thick_in), z)
    if all(step or abs(one - other) < TOUCH_IN for step, one, other in zip(lead, inlet, outlet, strict=True)):
        x, y = ((min(span[0], at - radius_in), max(span[1], at + radius_in)) for span, at in zip((end.x, end.y), inlet, strict=True))
        return (Block(x, y, z),)
    middle = [(one + other) / 2.0 for one, other in zip(inlet, outlet, strict=True)]
    return *(Block(about(x, thick_in), about(y, thick_in), z) for x, y in (inlet, middle)), end


def _ahead(at: float, step: float, thick_in: float) -> Span:
    """From the end of the arm on in its own direction, or about its middle across that."""
    return about(at, thick_in) if not step else (min(at, at + step * thick_in), max(at, at + step * thick_in))


def _below_outlet(job: FilledJob, at: SinkPlace, outlet: tuple[float, float], higher_in: float, number: int) -> Body:
    """Disposer or strainer with its tailpiece's nut, below the bottom of its own bowl."""
    (x, y), top_in, fields = outlet, at.under_in + higher_in, outlet_fields(job)
    if number == 1 and job.plumbing.disposer != "none":
        deep_in, wide_in = job.plumbing.disposer_height_in, job.plumbing.disposer_diameter_in
        rod = Rod((x, y, top_in - deep_in), (x, y, top_in), wide_in / 2.0)
        return Body(
            "disposer", "disposer", (rod,), Stage.BUILT, stands_on=("sink bowl",), fields=(*fields, "plumbing.disposer_height", "plumbing.disposer_diameter")
        )
    rod = Rod((x, y, top_in - value("practice", "drain/strainer-body")), (x, y, top_in), value("practice", "drain/strainer-nut") / 2.0)
    return Body("strainer" if number == 1 else f"strainer {number}", "strainer", (rod,), Stage.BUILT, stands_on=("sink bowl",), fields=fields)


def _bore_in(job: FilledJob) -> float:
    return value("pipes", f"pvc-40/{table_size(job.plumbing.drain_size)}/bore")


def place_wall_pipes(job: FilledJob, drain: DrainRoute) -> Iterator[Body]:
    """Stub and riser in the wall, as they are and as they will be; no riser where nobody found one.

    A stub comes from the middle of the wall and ends in the room, where arm or trap begins.
    """
    if drain.through_floor:
        return
    radius_in, x, end_in = pipe_outside_in(job) / 2.0, stub_x_in(job), stub_end_in(drain.way)
    middle_in = -value("site_work", "wall-board/thickness") - job.plumbing.stud_depth_in / 2.0
    fields, today_in, built_in = ("plumbing.stub_height", "plumbing.stub_offset", "cabinet.width"), drain.stub_in, drain.stub_built_in

    def stub(name: str, z: float, stages: Stage) -> Body:
        rod = Rod((x, middle_in, z), (x, end_in, z), radius_in)
        return Body(name, "stub", (rod,), stages, stands_on=("wall",), fields=fields)

    if today_in is None or today_in == built_in:
        yield stub("stub", built_in, Stage.ALL)
    else:
        yield stub("stub today", today_in, Stage.TODAY)
        yield stub("stub", built_in, Stage.OPENED | Stage.BUILT)
    yield from _riser(job, drain, (x, middle_in))


def _riser(job: FilledJob, drain: DrainRoute, at: tuple[float, float]) -> Iterator[Body]:
    """The pipe that the stub comes from: whole, or cut above today's stub and at or below the new one where it is lowered."""
    if not job.plumbing.vent_seen:
        return
    (x, y), radius_in, top_in = at, pipe_outside_in(job) / 2.0, value("practice", "drain/riser-shown")

    def pipe(name: str, low_in: float, high_in: float, stages: Stage) -> Iterator[Body]:
        if high_in > low_in:
            rod = Rod((x, y, low_in), (x, y, high_in), radius_in)
            yield Body(name, "riser", (rod,), stages, stands_on=("wall",), fields=("plumbing.stub_offset", "plumbing.stud_depth", "cabinet.width"))

    if drain.riser is None or drain.stub_in is None:
        yield from pipe("riser", 0.0, top_in, Stage.ALL)
        return
    tee_in, high_in = drain.stub_built_in, drain.stub_built_in + drain.riser.above_in
    low_in = tee_in - drain.riser.below_in
    yield from pipe("riser below", min(0.0, low_in), low_in, Stage.ALL)
    yield from pipe("riser above", high_in, top_in, Stage.ALL)
    yield from pipe("riser that is cut out", low_in, high_in, Stage.TODAY)
    yield from pipe("riser below the tee", low_in, tee_in, Stage.OPENED | Stage.BUILT)
    yield from pipe("riser above the tee", tee_in, high_in, Stage.OPENED | Stage.BUILT)
