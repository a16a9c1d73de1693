"""Where are the sink and the counter that come out? As far as the job says; the old sink's bowl is of the usual form."""

from collections.abc import Iterator

from kit.design.levels import Levels
from kit.design.place_boxes import face_back_in
from kit.design.place_counter import sub_top_deep
from kit.job import FilledJob
from kit.shapes import Block, carve
from kit.solids import Body, Stage
from kit.sources import value
from kit.spans import Span

__all__ = ["place_old"]

_SINK = ("old.sink_width", "old.sink_depth", "old.counter_thickness", "cabinet.width", "cabinet.depth", "cabinet.height")


def place_old(job: FilledJob, levels: Levels) -> Iterator[Body]:
    """Today's counter with its splash and, in its opening, today's sink: centered on the base, in the middle of the counter's depth.

    As long and deep as the old counter was measured; where several runs share its length, as long as the new one.
    """
    counter, old, there = job.counter, job.old, job.counter.sub_top == "there"
    bottom_in = levels.cabinet_top_in + (counter.sub_top_thickness_in if there else 0.0)
    top_in = bottom_in + old.counter_thickness_in
    left_in = job.cabinet.width_in / 2.0 - counter.sink_center_in
    long_in = old.counter_length_in if old.counter_length_in is not None and len(counter.runs) == 1 else counter.run_of_sink.length_in
    deep_in = counter.run_of_sink.depth_in if old.counter_depth_in is None else old.counter_depth_in
    x = (left_in, left_in + long_in)
    tops = [("old countertop", (counter.wall_gap_in, deep_in), (bottom_in, top_in))]
    tops += [("sub-top today", sub_top_deep(job), (levels.cabinet_top_in, bottom_in))] if there else []
    sink = () if old.sink_kind == "none" else _sink(job, bottom_in, top_in, deep_in)
    fields = (
        "old.counter_thickness",
        "old.sink_width",
        "old.sink_depth",
        "counter.wall_gap",
        "old.counter_length",
        "old.counter_depth",
        "counter.runs",
        "cabinet.height",
    )
    for name, deep, z in tops:
        strips: tuple[Block, ...] = (Block(x, deep, z),)
        for shape in sink:
            strips = carve(strips, Block(shape.x, shape.y, (min(shape.z[0], z[0]), z[1])))
        if strips:
            yield Body(name, "old countertop", strips, Stage.TODAY, stands_on=("side left", "side right"), fields=fields)
    if sink:
        yield Body("old sink", "old sink", (sink[0], *_plates(sink[1])), Stage.TODAY, stands_on=("old countertop",), fields=_SINK)
    if old.splash != "none":
        splash = Block(x, (0.0, value("practice", "old/splash-thickness")), (top_in, top_in + old.splash_height_in))
        if not splash.empty:
            yield Body("old backsplash", "old countertop", (splash,), Stage.TODAY, stands_on=("old countertop",), fields=("old.splash_height",))


def _sink(job: FilledJob, bottom_in: float, top_in: float, deep_in: float) -> tuple[Block, Block]:
    """Rim and bowl, outside: the rim on the counter or in its top, or at its underside; an old apron is not measured and left out.

    Where the middle of the counter would put the bowl into the front of the base, it lies further back, as a new one would.
    """
    old, thick_in, beside_in = job.old, value("practice", "old/rim-thickness"), value("practice", "old/rim")
    below = old.sink_kind in {"under", "apron"}
    rim_top_in = {"top": top_in + thick_in, "tiled-in": top_in}.get(old.sink_kind, bottom_in)
    front_in = (deep_in + old.sink_depth_in) / 2.0
    in_the_box_in = front_in if below else front_in - beside_in
    front_in -= max(0.0, in_the_box_in - (face_back_in(job) - value("practice", "sink/behind-face")))
    middle_in, half_in = job.cabinet.width_in / 2.0, old.sink_width_in / 2.0
    x, y = (middle_in - half_in, middle_in + half_in), (front_in - old.sink_depth_in, front_in)
    rear_in = beside_in if below else value("practice", "old/ledge")
    bowl_z = (rim_top_in - value("practice", "old/bowl-depth"), rim_top_in - thick_in)
    return Block(x, y, (rim_top_in - thick_in, rim_top_in)), Block(_within(x, beside_in, beside_in), _within(y, rear_in, beside_in), bowl_z)


def _within(span: Span, low_in: float, high_in: float) -> Span:
    """What is left of a span between its margins, at the least its middle [in]."""
    low, high = span[0] + low_in, span[1] - high_in
    return (low, high) if low < high else (sum(span) / 2.0, sum(span) / 2.0)


def _plates(bowl: Block) -> tuple[Block, ...]:
    """Sides and bottom of the bowl: what is inside is a gap."""
    thick_in = value("practice", "old/bowl-wall")
    return carve((bowl,), Block(_within(bowl.x, thick_in, thick_in), _within(bowl.y, thick_in, thick_in), (bowl.z[0] + thick_in, bowl.z[1])))
