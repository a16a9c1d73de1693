"""Every figure that a crew sets out with: what is marked, from where, and how far, read from the model."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from kit.design.frame_parts import POST_PACKER, SHIMS, thick_in
from kit.design.packer_strips import strip_words
from kit.design.place_boxes import LEAN_PACKER, cut_gaps, is_sawn
from kit.design.place_counter import BOX_PACKER, opening_gaps
from kit.design.place_floor_pipe import FLOOR_PIPE
from kit.design.place_level import RUN_PACKER
from kit.design.shims import pairs_in
from kit.draw.frame_picture import number_members
from kit.estimating import Estimate
from kit.job.field_names import part_name
from kit.shapes import Block
from kit.solids import Body, Gap, Model, Stage
from kit.sources import value
from kit.spans import TOUCH_IN, Span
from kit.units import format_length, format_limit

__all__ = ["Figure", "list_figures"]


@dataclass(frozen=True, slots=True)
class Figure:
    """One row of the table: the heading it stands under, what is marked, the figure as written, and the measures that fix it."""

    heading: str
    what: str
    words: str
    fields: tuple[str, ...] = ()


def list_figures(estimate: Estimate) -> Iterator[Figure]:
    """Every figure that is set out on this job, under its heading, in the order of the work."""
    yield from _front_figures(estimate)
    yield from _door_figures(estimate)
    yield from _packer_figures(estimate)
    yield from _frame_figures(estimate)
    yield from _counter_figures(estimate)
    yield from _wood_figures(estimate)
    yield from _drain_figures(estimate)


def _figure(heading: str, what: str, gap: Gap) -> Figure:
    return Figure(heading, what, format_length(gap.value_in), gap.fields)


def _front_figures(estimate: Estimate) -> Iterator[Figure]:
    if estimate.design.cut is not None:
        gaps = cut_gaps(estimate.design.placed.model, estimate.design.cut)
        heading = "Front cut" if is_sawn(estimate.design.placed.model, estimate.design.cut) else "Room for the apron"
        yield _figure(heading, "Left edge, from the base's left end", gaps["side"])
        yield _figure(heading, "Width", gaps["wide"])
        yield _figure(heading, "Height, down from the top of the base", gaps["down"])


def _door_figures(estimate: Estimate) -> Iterator[Figure]:
    doors = estimate.design.doors
    if doors is not None and doors.work == "trim":
        yield Figure("Doors", "Trim off the upper edge", format_length(doors.trim_in), ("cabinet.door_top", "sink.apron_height"))
    elif doors is not None and doors.work != "keep":
        yield Figure("Doors", "Height of the new doors", format_length(doors.height_in), ("cabinet.door_top", "sink.apron_height"))


def _packer_figures(estimate: Estimate) -> Iterator[Figure]:
    """Packers that level the boxes: how long, how thick and what of; those below posts stand with the frame."""
    for body in estimate.design.placed.model.of_part("shims", Stage.BUILT):
        if body.name.startswith((BOX_PACKER, LEAN_PACKER, RUN_PACKER)):
            words = f"{format_length(body.size_in('y'))} long, {strip_words(body.size_in('z'))}"
            yield Figure("Packers", part_name(body.name).capitalize(), words, body.fields)


_CARRIERS = {"platform panel": "platform", "side cleat": "cleats", "sink rail": "rails", "cradle bar": "cradle"}


def _frame_figures(estimate: Estimate) -> Iterator[Figure]:
    """Heights of what carries the sink and of the members below it, lengths by their number in the cut list."""
    placed, heading = estimate.design.placed, "Frame"
    if placed.frame is None:
        return
    carrier = placed.frame.carrier
    what = f"Top of the {next(words for start, words in _CARRIERS.items() if carrier.startswith(start))}"
    yield _figure(heading, f"{what}, above the floor", placed.model.gap("subfloor", carrier, "z", to="far"))
    yield _figure(heading, f"{what}, above the cabinet floor", placed.model.gap("cabinet floor", carrier, "z", to="far"))
    for name in ("rear cross piece", "front tie"):
        if name in placed.model:
            yield _figure(heading, f"{name.capitalize()}, rear face from the wall", placed.model.gap("wall", name, "y"))
    yield from _platform_figures(placed.model)
    yield from _places(placed.model, "post", "Posts")
    if "front tie" in placed.model:
        yield _figure(heading, "Front tie, top above the floor", placed.model.gap("subfloor", "front tie", "z", to="far"))
    for body in placed.model.of_part("shims", Stage.BUILT):
        if body.name.startswith(POST_PACKER):
            pairs = pairs_in(placed.model[body.name.replace(POST_PACKER, SHIMS)].size_in("z"))
            shims = "a pair" if pairs == 1 else f"{pairs} pairs"
            yield Figure(heading, body.name.capitalize(), f"{strip_words(body.size_in('z'))}; {shims} of shims on it", body.fields)
    numbers = number_members(estimate)
    for member in estimate.design.frame.members:
        number = numbers[member.name, round(member.length_in, 3)]
        wide = f" x {format_length(member.width_in)}" if member.width_in else ""
        fields = placed.model[member.bodies[0]].fields
        thin = _planed(placed.model, member.bodies) if member.name == "cleat packer" else ""
        yield Figure(heading, f"Member {number}: {member.count} x {member.name}", f"{format_length(member.length_in)}{wide}{thin}", fields)


def _planed(model: Model, names: Sequence[str]) -> str:
    """Which of the layers beside a cleat are planed, and to how much; empty where all are whole."""
    sizes = Counter(format_length(model[name].size_in("x")) for name in names if model[name].size_in("x") < thick_in() - TOUCH_IN)
    return "".join(f", {count} of them planed to {size} thick" for size, count in sizes.items())


def _places(model: Model, kind: str, words: str) -> Iterator[Figure]:
    """How far the rear faces of members of a kind stand from the wall, each place once, from the wall on."""
    gaps = [model.gap("wall", body.name, "y") for body in model.of_part("frame", Stage.BUILT) if body.name.startswith(kind)]
    if gaps:
        places = dict.fromkeys(format_length(gap.value_in) for gap in sorted(gaps, key=lambda gap: gap.value_in))
        yield Figure("Frame", f"{words}, rear faces from the wall", ", ".join(places), gaps[0].fields)


def _platform_figures(model: Model) -> Iterator[Figure]:
    """Where panel and joists of a platform lie, and the holes for what hangs through it."""
    if "platform panel" not in model:
        return
    panel, base = model["platform panel"], model["side left"].span("x")[0]
    (left, _), (rear, _) = panel.span("x"), panel.span("y")
    yield _figure("Frame", "Panel, rear edge from the wall", model.gap("wall", "platform panel", "y"))
    yield Figure("Frame", "Panel, left edge from the base's left end", format_length(left - base), panel.fields)
    for body in model.at(Stage.BUILT):
        hole = _hole_around(panel, body) if body.part in {"strainer", "disposer"} else None
        if hole is not None:
            size = " x ".join(format_length(high - low) for low, high in hole)
            (from_left, from_rear), open_at = (hole[0][0] - left, hole[1][0] - rear), _open_edges(panel, hole)
            where = f"{format_length(from_left)} from the panel's left edge, {format_length(from_rear)} from its rear edge{open_at}"
            yield Figure("Frame", f"Hole in the panel for the {body.part}", f"{size}, {where}", (*panel.fields, *body.fields))
    yield from _places(model, "platform joist", "Joists")


def _hole_around(panel: Body, body: Body) -> tuple[Span, Span] | None:
    """From left to right and from rear to front: the gap in a panel that a body hangs through; None where there is none."""
    middle, blocks = body.middle, [shape for shape in panel.shapes if isinstance(shape, Block)]
    if not (_is_in(panel.span("x"), middle[0]) and _is_in(panel.span("y"), middle[1])):
        return None
    if any(_is_in(shape.x, middle[0]) and _is_in(shape.y, middle[1]) for shape in blocks):
        return None
    beside = [shape.x for shape in blocks if _is_in(shape.y, middle[1])]
    before = [shape.y for shape in blocks if _is_in(shape.x, middle[0])]
    return _between(beside, panel.span("x"), middle[0]), _between(before, panel.span("y"), middle[1])


def _between(spans: Sequence[Span], whole: Span, at: float) -> Span:
    """The gap around a place between what lies before and behind it, up to the whole's edges."""
    return max((high for _, high in spans if high <= at), default=whole[0]), min((low for low, _ in spans if low >= at), default=whole[1])


def _open_edges(panel: Body, hole: tuple[Span, Span]) -> str:
    (left, right), (rear, front) = panel.span("x"), panel.span("y")
    edges = {"left": hole[0][0] - left, "right": right - hole[0][1], "rear": hole[1][0] - rear, "front": front - hole[1][1]}
    names = [name for name, left_in in edges.items() if left_in < TOUCH_IN]
    return f", open at the {' and '.join(names)} edge" if names else ""


def _is_in(span: Span, at: float) -> bool:
    return span[0] < at < span[1]


def _counter_figures(estimate: Estimate) -> Iterator[Figure]:
    placed, heading = estimate.design.placed, "Countertop opening"
    opening, gaps = placed.opening, opening_gaps(placed.model, placed.opening)
    yield _figure(heading, "Left edge, from the left end of the run", gaps["from left"])
    yield _figure(heading, "Rear edge, from the finished wall", gaps["from wall"])
    yield _figure(heading, "Width", gaps["wide"])
    yield _figure(heading, "Rear edge to the countertop's front edge" if opening.open_front else "Front to back", gaps["deep"])
    if opening.rabbet is not None:
        wide, deep, high = (side[1] - side[0] for side in (opening.rabbet.x, opening.rabbet.y, opening.rabbet.z))
        words = f"{format_length(wide)} x {format_length(deep)}, {format_length(high)} deep"
        yield Figure(heading, "Rabbet around it, for the rim", words, opening.fields)
        yield Figure(heading, "Rabbet, rear edge from the finished wall", format_length(opening.rabbet.y[0]), opening.fields)
    if opening.notch is not None:
        wide, deep = (side[1] - side[0] for side in (opening.notch.x, opening.notch.y))
        yield Figure(heading, "Notch in the front edge, for the apron", f"{format_length(wide)} x {format_length(deep)}", opening.fields)
    yield _figure(heading, "Gap between countertop and wall", placed.model.gap("wall", "counter", "y"))
    yield _figure(heading, "Top of the countertop, above the floor", placed.model.gap("subfloor", "counter", "z", to="far"))
    middle = sum(placed.sink.rim_x) / 2.0
    along_in = middle - placed.model["counter"].span("x")[0]
    yield Figure(heading, "Sink's center line, from the left end of the run", format_length(along_in), gaps["from left"].fields)
    for hole in placed.counter_holes:
        aside = hole.x_in - middle
        side = "on the sink's center line" if not aside else f"{format_length(abs(aside))} {'right' if aside > 0.0 else 'left'} of the sink's center line"
        words = f"{format_length(hole.diameter_in)}, center {format_length(hole.y_in)} from the wall, {side}"
        yield Figure("Holes", f"{hole.use.replace('-', ' ').capitalize()} hole", words, ("counter.holes",))


def _wood_figures(estimate: Estimate) -> Iterator[Figure]:
    top, heading = estimate.design.top, "Wood top"
    if top.movement is None:
        return
    for row in top.fasteners:
        hole = f"slots {format_length(row.slot_in)} long, front to back" if row.slot_in else "round holes"
        apart = format_length(value("practice", "counter/fastener-spacing"))
        yield Figure(
            heading,
            f"Screws, {row.name}",
            f"{row.count} screws, at most {apart} apart, {format_length(row.from_front_in)} from the front edge, {hole}",
            ("counter.runs",),
        )


def _drain_figures(estimate: Estimate) -> Iterator[Figure]:
    drain, heading, fields = estimate.design.drain, "Drain", ("plumbing.stub_height",)
    if drain.through_floor:
        yield from _floor_drain_figures(estimate, heading)
        return
    if drain.stub_in is None:
        yield Figure(heading, "Stub, center above the floor", f"not measured; at most {format_limit(drain.stub_max_in, most=True)}", fields)
    elif drain.moves:
        words = f"{format_length(drain.stub_built_in)}, at most {format_limit(drain.stub_max_in, most=True)}; today {format_length(drain.stub_in)}"
        yield Figure(heading, "Stub, center above the floor", words, fields)
    else:
        yield Figure(heading, "Stub, center above the floor", f"stays at {format_length(drain.stub_in)}", fields)
    model = estimate.design.placed.model
    stub = model["arm"].shapes[0]  # the arm begins with the straight way out of the wall
    at_in = sum(stub.x) / 2.0 - model["side left"].span("x")[0]
    yield Figure(heading, "Stub, center from the base's left end", format_length(at_in), model["arm"].fields)


def _floor_drain_figures(estimate: Estimate, heading: str) -> Iterator[Figure]:
    drain, model = estimate.design.drain, estimate.design.placed.model
    who = "the hired plumber sets it" if estimate.design.duties.floor_plumber else "we set it"
    words = "goes through the floor: a licensed trade sets it out" if drain.not_designed else f"goes through the floor, to the tee on its pipe: {who}"
    yield Figure(heading, "Drain", words, ("plumbing.drain_leaves",))
    if FLOOR_PIPE not in model:
        return
    pipe, side = model[FLOOR_PIPE], model["side left"]
    x, y, _ = pipe.middle
    at = f"{format_length(x - side.span('x')[0])} from the base's left end, {format_length(y)} from the wall, {format_length(pipe.size_in('z'))} high"
    yield Figure(heading, "Pipe in the floor, center", f"{at}: keep clear of it", pipe.fields)
    if not drain.not_designed:
        inlet, arm = format_length(drain.stub_built_in), format_length(drain.way.length_in)
        yield Figure(heading, "Inlet of its tee, center above the floor", f"{inlet}, turned to the trap; arm {arm} from the weir", model["arm"].fields)
