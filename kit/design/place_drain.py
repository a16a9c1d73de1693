"""Where are strainer or disposer, tailpiece, trap and arm of the drain, and what of it runs in the wall?"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from kit.design.drain import DrainRoute
from kit.design.drain_levels import DrainLevels
from kit.design.place_sink import SinkPlace, outlet_fields
from kit.job import FilledJob
from kit.solids import Axis, Block, Body, Rod, Shape, Span, Stage
from kit.sources import value

__all__ = ["place_drain", "place_old_drain", "place_wall_pipes"]


def place_drain(job: FilledJob, at: SinkPlace, drain: DrainRoute) -> Iterator[Body]:
    """The way of the waste as it is built, the trap at the outlet that lies nearest to the stub; no further than the outlets where it goes through the floor.

    Below a strainer the trap hangs on the tailpiece; a disposer lets out at its side, so its trap stands beside it, on the side of the stub.
    """
    stub_x = job.cabinet.width_in / 2.0 + job.plumbing.stub_offset_in
    outlets = sorted(at.outlets, key=lambda outlet: abs(outlet[0] - stub_x))
    hanging = [_below_outlet(job, at, x, y, number) for number, (x, y) in enumerate(outlets, 1)]
    yield from hanging
    if not drain.through_floor:
        yield from _to_the_wall(job, drain.levels, outlets[0], hanging[0])


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
    found = (Body("strainer", "strainer", (strainer,), stands_on=("old sink",), fields=sink.fields),)
    for body in (*found, *_to_the_wall(job, today, (x, y), found[0])):
        hung = tuple(name if name in {"wall", "old sink"} else f"old {name}" for name in body.stands_on)
        fields = tuple(dict.fromkeys((*sink.fields, "plumbing.stub_height", "plumbing.stub_offset")))
        yield Body(f"old {body.name}", "old drain", body.shapes, Stage.TODAY, stands_on=hung, fields=fields)


def _fixed(job: FilledJob) -> tuple[str, ...]:
    """What fixes tailpiece, trap and arm: the outlet beside them, the stub below, and how much lower than the bowl they must start where it comes down."""
    disposer = ("plumbing.disposer_diameter", "plumbing.disposer_drop") if job.plumbing.disposer != "none" else ("plumbing.strainer_drop",)
    return (*outlet_fields(job), "plumbing.stub_height", "plumbing.arm_to_wall", *disposer)


def _across(shapes: Sequence[Shape], axis: Axis) -> Span:
    spans: list[Span] = [getattr(shape, axis) for shape in shapes]
    return min(low for low, _ in spans), max(high for _, high in spans)


def _to_the_wall(job: FilledJob, levels: DrainLevels, outlet: tuple[float, float], first: Body) -> Iterator[Body]:
    """Tailpiece, trap and arm."""
    stub_x, radius_in = job.cabinet.width_in / 2.0 + job.plumbing.stub_offset_in, _outside_in(job) / 2.0
    x, y = outlet
    beside = first.part == "disposer"
    if beside:
        x += (first.size_in("x") / 2.0 + radius_in + value("practice", "frame/outlet-air")) * (1.0 if stub_x >= x else -1.0)
    top_in = levels.weir_built_in + 2.0 * radius_in
    fields = _fixed(job)
    run_in, sideways = value("practice", "drain/trap-run"), 1.0 if stub_x >= x else -1.0
    if y - run_in >= 2.0 * radius_in:
        trap_x, trap_y, join_x = (x - radius_in, x + radius_in), (y - run_in, y + radius_in), x
    else:  # too near the wall: the trap is turned, along it
        join_x = x + sideways * run_in
        ends = sorted((x - sideways * radius_in, join_x))
        trap_x, trap_y = (ends[0], ends[1]), (y - radius_in, y + radius_in)
    yield Body("trap", "trap", (Block(trap_x, trap_y, (levels.trap_bottom_in, top_in)),), Stage.BUILT, stands_on=("arm",), fields=fields)
    tail_low_in, tail_top_in = top_in - value("practice", "drain/tailpiece-enters"), first.span("z")[0]
    if not beside and tail_top_in > tail_low_in:
        tail = Rod((x, y, tail_low_in), (x, y, tail_top_in), value("practice", "drain/tailpiece") / 2.0)
        yield Body("tailpiece", "tailpiece", (tail,), Stage.BUILT, stands_on=("strainer",), fields=fields)
    turn_y = max(radius_in, min(trap_y[0], first.span("y")[0] if beside else trap_y[0]) - radius_in)
    yield _arm(job, levels, (stub_x, join_x), turn_y, max(trap_y[0], turn_y))


def _arm(job: FilledJob, levels: DrainLevels, across: tuple[float, float], turn_y: float, trap_y: float) -> Body:
    """From the stub straight out of the wall, over to the trap, and on to it; its fall is left out of its place."""
    radius_in, (stub_x, x) = _outside_in(job) / 2.0, across
    z = levels.weir_built_in + _bore_in(job) / 2.0 - levels.arm_fall_to_wall_in
    ways = [((stub_x, 0.0, z), (stub_x, turn_y, z)), ((stub_x, turn_y, z), (x, turn_y, z)), ((x, turn_y, z), (x, trap_y, z))]
    rods = tuple(Rod(start, end, radius_in) for start, end in ways if start != end)
    fields = (*_fixed(job), "plumbing.stub_offset")
    return Body("arm", "arm", rods, Stage.BUILT, stands_on=("wall",), fields=fields)


def _below_outlet(job: FilledJob, at: SinkPlace, x: float, y: float, number: int) -> Body:
    """Disposer or strainer with its tailpiece's nut."""
    fields = outlet_fields(job)
    if number == 1 and job.plumbing.disposer != "none":
        deep_in, wide_in = job.plumbing.disposer_height_in, job.plumbing.disposer_diameter_in
        rod = Rod((x, y, at.under_in - deep_in), (x, y, at.under_in), wide_in / 2.0)
        return Body(
            "disposer", "disposer", (rod,), Stage.BUILT, stands_on=("sink bowl",), fields=(*fields, "plumbing.disposer_height", "plumbing.disposer_diameter")
        )
    rod = Rod((x, y, at.under_in - value("practice", "drain/strainer-body")), (x, y, at.under_in), value("practice", "drain/strainer-nut") / 2.0)
    return Body("strainer" if number == 1 else f"strainer {number}", "strainer", (rod,), Stage.BUILT, stands_on=("sink bowl",), fields=fields)


def _pipe(job: FilledJob, what: str) -> float:
    return value("pipes", f"pvc-40/{'1.5' if job.plumbing.drain_size == '1-1/2' else '2'}/{what}")


def _outside_in(job: FilledJob) -> float:
    return _pipe(job, "outside")


def _bore_in(job: FilledJob) -> float:
    return _pipe(job, "bore")


def place_wall_pipes(job: FilledJob, drain: DrainRoute) -> Iterator[Body]:
    """Stub and riser in the wall, as they are and as they will be; no riser where nobody found one.

    The arm begins at the wall's face, so the stub as built ends there; what stands out of the wall today is a body of its own.
    """
    if drain.through_floor:
        return
    radius_in, x = _outside_in(job) / 2.0, job.cabinet.width_in / 2.0 + job.plumbing.stub_offset_in
    middle_in = -value("site_work", "wall-board/thickness") - job.plumbing.stud_depth_in / 2.0
    fields, today_in, built_in = ("plumbing.stub_height", "plumbing.stub_offset", "cabinet.width"), drain.stub_in, drain.stub_built_in

    def stub(name: str, z: float, y: Span, stages: Stage) -> Body:
        return Body(name, "stub", (Rod((x, y[0], z), (x, y[1], z), radius_in),), stages, stands_on=("wall",), fields=fields)

    in_wall = (middle_in + radius_in, 0.0)
    if today_in is not None:
        bare = Stage.OPENED if job.old.sink_kind != "none" else Stage.TODAY | Stage.OPENED  # today the old arm sits on it
        yield stub("stub end", today_in, (0.0, value("practice", "drain/stub-beyond")), bare)
    if today_in is None or today_in == built_in:
        yield stub("stub", built_in, in_wall, Stage.ALL)
    else:
        yield stub("stub today", today_in, in_wall, Stage.TODAY)
        yield stub("stub", built_in, in_wall, Stage.OPENED | Stage.BUILT)
    yield from _riser(job, drain, (x, middle_in))


def _riser(job: FilledJob, drain: DrainRoute, at: tuple[float, float]) -> Iterator[Body]:
    """The pipe that the stub comes from: whole, or cut above today's stub and below the new one where it is lowered."""
    if not job.plumbing.vent_seen:
        return
    (x, y), radius_in, top_in, beyond_in = at, _outside_in(job) / 2.0, value("practice", "drain/riser-shown"), value("practice", "drain/riser-beyond")

    def pipe(name: str, low_in: float, high_in: float, stages: Stage) -> Iterator[Body]:
        if high_in > low_in:
            rod = Rod((x, y, low_in), (x, y, high_in), radius_in)
            yield Body(name, "riser", (rod,), stages, stands_on=("wall",), fields=("plumbing.stub_offset", "plumbing.stud_depth", "cabinet.width"))

    if drain.riser is None or drain.stub_in is None:
        yield from pipe("riser", 0.0, top_in, Stage.ALL)
        return
    low_in, high_in = max(0.0, drain.stub_built_in - beyond_in), drain.stub_in + beyond_in
    yield from pipe("riser below", 0.0, low_in, Stage.ALL)
    yield from pipe("riser above", high_in, top_in, Stage.ALL)
    yield from pipe("riser that is cut out", low_in, high_in, Stage.TODAY)
    yield from pipe("riser with its tee", low_in, high_in, Stage.OPENED | Stage.BUILT)
