"""Where is the counter of the sink's run, and how large is the opening in it for each mount?"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from kit.design.levels import Levels
from kit.design.place_boxes import face_back_in
from kit.design.place_holes import DeckHole, rear_flange_in
from kit.design.place_sink import SinkPlace
from kit.job import FilledJob
from kit.shapes import Block, carve
from kit.solids import Body, Gap, Model, Stage
from kit.sources import value
from kit.spans import Span, about, grown, spans_cross

__all__ = ["BOX_PACKER", "STRIP_CLEAT", "Opening", "locate_opening", "opening_gaps", "place_box_packers", "place_counter", "place_sub_top", "sub_top_deep"]


BOX_PACKER, STRIP_CLEAT = "box packer", "strip cleat"


@dataclass(frozen=True, slots=True)
class Opening:
    """The opening for the sink in the axes of the model [in].

    `x` and `y` are those of the hole that goes through, up to the counter's front edge where an apron leaves it open. `rabbet` is the
    step around the hole in which a flush rim hangs, `notch` what is cut from the front edge beside the hole for an apron that is wider
    than the body and stands up to the counter's top. `fields` are the measures of the job that fix all of it.
    """

    x: Span
    y: Span
    open_front: bool
    rabbet: Block | None = None
    notch: Block | None = None
    fields: tuple[str, ...] = ()

    @property
    def width_in(self) -> float:
        """Left to right [in]."""
        return self.x[1] - self.x[0]

    @property
    def front_to_back_in(self) -> float:
        """Rear edge to the front edge of the hole, or to the counter's own where the front is open [in]."""
        return self.y[1] - self.y[0]


def opening_gaps(model: Model, opening: Opening) -> Mapping[str, Gap]:
    """What one marks the opening by.

    "wide" and "deep" are its own; "from left" and "to right" run from it to the ends of its run, "from wall" from the finished wall and
    "strip" from the counter's rear edge to the opening's rear edge, "front" from it to the front edge (0 where it is open there).
    """
    counter, wall_in = model["counter"], model["wall"].span("y")[1]
    (left_in, right_in), (rear_in, front_in) = counter.span("x"), counter.span("y")
    fields = tuple(dict.fromkeys((*opening.fields, *counter.fields)))

    def gap(axis: Literal["x", "y"], low: float, high: float, fixed: tuple[str, ...] = fields) -> Gap:
        return Gap(high - low, axis, (low, high), fixed)

    return {
        "wide": gap("x", *opening.x, opening.fields),
        "deep": gap("y", *opening.y, fields if opening.open_front else opening.fields),
        "from left": gap("x", left_in, opening.x[0]),
        "to right": gap("x", opening.x[1], right_in),
        "from wall": gap("y", wall_in, opening.y[0], opening.fields),
        "strip": gap("y", rear_in, opening.y[0], (*opening.fields, "counter.wall_gap")),
        "front": gap("y", opening.y[1], front_in),
    }


def locate_opening(job: FilledJob, levels: Levels, at: SinkPlace, holes: Sequence[DeckHole] = ()) -> Opening:
    """The opening that this mount asks for.

    Notes
    -----
    Under: the bowls' inside, dividers included, and the reveal on every side (a minus reveal hangs over the bowl). Flush apron: body
    outside and a joint at sides and rear. Flush, standard: a hole for the body below the rim, and a rabbet for the rim. Top: a hole for the
    body below the flange, covered by it. A faucet deck with the faucet in it lies over the opening too, so that nut and wrench find room: the rear
    flange then covers as much as those at the sides. An apron leaves the front open. All common practice, no source; the maker's template goes first.
    """
    apron, front_in = at.apron is not None, job.counter.run_of_sink.depth_in
    rabbet = None
    match job.sink.mount:
        case "under":
            x, y = grown(at.inside_x, job.counter.reveal_in), grown(at.inside_y, job.counter.reveal_in)
        case "flush" if apron:
            joint_in = value("practice", "counter/flush-joint")
            x, y = grown(at.rim_x, joint_in), grown(at.rim_y, joint_in)
        case "flush":
            clear_in, joint_in = value("practice", "counter/body-clearance"), value("practice", "counter/flush-joint")
            x, y = grown(at.outside_x, clear_in), grown(at.outside_y, clear_in)
            deep_in = job.sink.rim_thickness_in + value("practice", "counter/rabbet-bed")
            rabbet = Block(grown(at.rim_x, joint_in), grown(at.rim_y, joint_in), (levels.counter_top_in - deep_in, levels.counter_top_in))
        case "top":
            clear_in = value("practice", "counter/body-clearance")
            x, y = grown(at.outside_x, clear_in), grown(at.outside_y, clear_in)
    if any(hole.in_sink for hole in holes):
        y = (min(y[0], at.rim_y[0] + rear_flange_in(job, at)), y[1])
    if job.sink.template_width_in is not None:
        x = about(sum(x) / 2.0, job.sink.template_width_in)
    if job.sink.template_depth_in is not None and not apron:
        y = about(sum(y if job.sink.mount == "under" else at.rim_y) / 2.0, job.sink.template_depth_in)
    return Opening(x, (y[0], front_in) if apron else y, apron, rabbet, _notch(job, levels, at), _opening_fields(job))


def _opening_fields(job: FilledJob) -> tuple[str, ...]:
    """The measures that fix the opening: those of the bowls' inside, or of the body; and the maker's template where there is one."""
    sink = job.sink
    width = {"under": ("sink.bowl_width", "sink.bowls", "counter.reveal"), "flush": ("sink.body_width",), "top": ("sink.bowl_width",)}[sink.mount]
    template = (("sink.template_width", sink.template_width_in), ("sink.template_depth", sink.template_depth_in))
    return ("cabinet.width", "cabinet.depth", *width, "sink.depth", "sink.rear_rim", "sink.apron_projection", *(name for name, at in template if at))


def _notch(job: FilledJob, levels: Levels, at: SinkPlace) -> Block | None:
    """Room for the apron in the counter's overhang, with a joint at its sides; none where the apron ends below the counter."""
    if at.apron is None or at.apron.z[1] <= levels.box_top_in:
        return None
    joint_in = value("practice", "counter/flush-joint")
    return Block(grown(at.apron.x, joint_in), (at.apron.y[0], job.counter.run_of_sink.depth_in), (levels.box_top_in, levels.counter_top_in))


def _cleats(members: Sequence[Body]) -> tuple[str, ...]:
    """Those that hold the strip behind the sink."""
    return tuple(body.name for body in members if body.name.startswith(STRIP_CLEAT))


def _on_the_base(levels: Levels) -> tuple[str, ...]:
    """What a sub-top stands on, and a counter without one."""
    return (f"{BOX_PACKER} left", f"{BOX_PACKER} right") if levels.packed_top_in > levels.cabinet_top_in else ("side left", "side right")


def place_box_packers(job: FilledJob, levels: Levels) -> Iterator[Body]:
    """Strips on the sides of a base that stays fixed and is low: they raise sub-top, counter and sink together."""
    z = (levels.cabinet_top_in, levels.packed_top_in)
    for side in ("left", "right") if z[1] > z[0] else ():
        wide = (0.0, job.cabinet.side_thickness_in) if side == "left" else (job.cabinet.width_in - job.cabinet.side_thickness_in, job.cabinet.width_in)
        block = Block(wide, (0.0, face_back_in(job)), z)
        fields = ("cabinet.width", "cabinet.height", "levelness.readings")
        yield Body(f"{BOX_PACKER} {side}", "shims", (block,), Stage.BUILT, stands_on=(f"side {side}",), fields=fields)


def sub_top_deep(job: FilledJob) -> Span:
    """From the wall to the rear and the front edge of a sub-top [in]: a new one ends a saw cut short of the wall, so that two come out of a sheet."""
    return value("practice", "sub-top/short") if job.counter.sub_top == "new" else job.counter.wall_gap_in, job.cabinet.depth_in


def place_sub_top(job: FilledJob, levels: Levels, at: SinkPlace, opening: Opening, holes: Sequence[DeckHole], members: Sequence[Body]) -> Iterator[Body]:
    """A sub-top on the base: open where the counter is, around a rim level with its top, around pipes and members of the frame that reach into it."""
    z = (levels.packed_top_in, levels.box_top_in)
    left_in = job.cabinet.width_in / 2.0 - job.counter.sink_center_in
    run = Block((left_in, left_in + job.counter.run_of_sink.length_in), sub_top_deep(job), z)
    if run.empty:
        return
    clear_in = value("practice", "counter/body-clearance")
    gaps = [
        Block(opening.x, opening.y, z),
        *(Block(*hole.room, z) for hole in holes if not hole.in_sink),
        *(gap for gap in (opening.rabbet, opening.notch) if gap is not None),
    ]
    if at.rim_z[0] < levels.box_top_in:
        gaps.append(Block(grown(at.rim_x, clear_in), (at.rim_y[0] - clear_in, opening.y[1] if opening.open_front else at.rim_y[1] + clear_in), z))
    gaps += [Block(member.span("x"), member.span("y"), z) for member in members if spans_cross(member.span("z"), z)]
    strips: tuple[Block, ...] = (run,)
    for gap in gaps:
        strips = carve(strips, gap)
    if strips:
        stages = Stage.OPENED | Stage.BUILT
        yield Body(
            "sub-top", "cabinet", strips, stages, stands_on=(*_on_the_base(levels), *_cleats(members)), fields=("counter.sub_top_thickness", "cabinet.height")
        )


def place_counter(job: FilledJob, levels: Levels, opening: Opening, holes: Sequence[DeckHole], below: Sequence[Body] = ()) -> Iterator[Body]:
    """The run of the sink as strips round its opening, each hole in it a gap; the splash that stands on it.

    It lies on the sub-top where one of the bodies `below` is that, else on the base; and on the cleats behind the sink.
    """
    counter, run = job.counter, job.counter.run_of_sink
    left_in = job.cabinet.width_in / 2.0 - counter.sink_center_in
    z = (levels.box_top_in, levels.counter_top_in)
    whole = Block((left_in + run.own_span_in[0], left_in + run.own_span_in[1]), (counter.wall_gap_in, run.depth_in), z)
    strips: tuple[Block, ...] = (whole,)
    for hole in (Block(opening.x, opening.y, z), opening.rabbet, opening.notch):
        strips = strips if hole is None or hole.empty else carve(strips, hole)
    for drilled in (hole for hole in holes if not hole.in_sink):
        strips = carve(strips, Block(*drilled.room, z))
    if not strips:  # a run shorter than its opening stays whole here: the overlap with the sink is the finding
        strips = (whole,)
    fields = tuple(
        dict.fromkeys(
            (
                "counter.thickness",
                "counter.runs",
                "counter.sink_center",
                "counter.wall_gap",
                "cabinet.height",
                *(("counter.sub_top_thickness",) if job.counter.sub_top != "none" else ()),
                *opening.fields,
            )
        )
    )
    stages = Stage.OPENED | Stage.BUILT if counter.made_by == "stays" and not job.scope.counter.renewed else Stage.BUILT
    sub_top = tuple(body.name for body in below if body.name == "sub-top")
    yield Body("counter", "counter", strips, stages, stands_on=sub_top or (*_on_the_base(levels), *_cleats(below)), fields=fields)
    if counter.splash == "same":
        along = (left_in, left_in + run.length_in)
        splash = Block(along, (0.0, counter.splash_thickness_in), (levels.counter_top_in, levels.counter_top_in + counter.splash_height_in))
        if not splash.empty:
            yield Body("splash", "splash", (splash,), Stage.BUILT, stands_on=("counter",), fields=("counter.splash_thickness", "counter.splash_height"))
