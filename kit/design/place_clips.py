"""Where are the clips around a rim: those that hold an undermount to the counter, those that draw a drop-in's thin flange down onto it?"""

from collections.abc import Iterator, Sequence

from kit.design.carrying import Carrying
from kit.design.frame_parts import is_clear
from kit.design.levels import Levels
from kit.design.place_counter import Opening
from kit.design.place_sink import SinkPlace
from kit.job import FilledJob
from kit.shapes import Block
from kit.solids import Body, Stage
from kit.sources import value
from kit.spans import Span, spans_cross
from kit.units import count_parts

__all__ = ["CLIP", "clip_count", "has_clips", "place_clips"]

CLIP = "sink clip"

_FIELDS = ("sink.body_width", "sink.bowl_width", "sink.depth", "cabinet.width", "cabinet.depth")


def clip_count(job: FilledJob) -> int:
    """Clips around the rim, one for every `sink/clip-spacing` of it."""
    around_in = 2.0 * (job.sink.body_width_in + job.sink.depth_in)
    return count_parts(around_in, value("practice", "sink/clip-spacing"))


def has_clips(job: FilledJob, carrying: Carrying) -> bool:
    """Whether clips hold the sink, or draw its thin flange down onto the counter."""
    return carrying.way == "clips" or (job.sink.mount == "top" and job.sink.rim_thickness_in <= value("practice", "sink/clip-rim"))


def place_clips(job: FilledJob, levels: Levels, carrying: Carrying, at: SinkPlace, opening: Opening, others: Sequence[Body]) -> Iterator[Body]:
    """Evenly around the rim, each moved along its side to the nearest place where nothing stands, left out where there is none.

    An undermount's grips below the rim's edge, with its foot beside it below the counter; a drop-in's hangs at the bowl and grips below the counter's cut edge.
    """
    below = carrying.way == "clips"
    if not has_clips(job, carrying):
        return
    x, y = (at.rim_x, at.rim_y) if below else (opening.x, opening.y)
    z = (
        (at.rim_z[0] - value("practice", "clip/thick"), at.rim_z[0])
        if below
        else (levels.cabinet_top_in - value("practice", "clip/thick"), levels.cabinet_top_in)
    )
    foot_top_in = at.rim_z[1] if below else z[1]
    there = [body for body in others if spans_cross(body.span("z"), (z[0], foot_top_in)) and body.is_at(Stage.BUILT)]
    for number, (side, along_in) in enumerate(_around(x, y, clip_count(job)), 1):
        beside_in = {"rear": at.outside_y[0] - y[0], "front": y[1] - at.outside_y[1], "left": at.outside_x[0] - x[0], "right": x[1] - at.outside_x[1]}[side]
        places = _near(along_in, x if side in {"rear", "front"} else y)
        tried = (_shapes(side, (x, y, z), place_in, foot_top_in, beside_in) for place_in in places)
        shapes = next((shapes for shapes in tried if all(is_clear(block, there) for block in shapes)), None)
        if shapes is not None:
            hangs = ("counter",) if below else ("sink rim",)
            there.append(Body(f"{CLIP} {number}", "clips", shapes, Stage.BUILT, stands_on=hangs, fields=_FIELDS))
            yield there[-1]


def _around(x: Span, y: Span, count: int) -> Iterator[tuple[str, float]]:
    """The side and the place along it of each of so many, evenly around a rectangle from its rear left corner."""
    wide_in, deep_in = x[1] - x[0], y[1] - y[0]
    sides = (("rear", x[0], wide_in), ("right", y[0], deep_in), ("front", x[0], wide_in), ("left", y[0], deep_in))
    for number in range(count):
        way_in = (number + 0.5) * 2.0 * (wide_in + deep_in) / count
        for side, start_in, long_in in sides:
            if way_in <= long_in:
                yield side, start_in + way_in
                break
            way_in -= long_in


def _near(along_in: float, span: Span) -> list[float]:
    """Where along its side a clip may sit, the nearest first: within half the spacing, and whole on that side."""
    half_in, most = value("practice", "clip/wide") / 2.0, int(value("practice", "sink/clip-spacing") / 2.0)
    steps = sorted(range(most, -most - 1, -1), key=abs)
    low_in, high_in = min(span[0] + half_in, sum(span) / 2.0), max(span[1] - half_in, sum(span) / 2.0)
    return [min(max(along_in + step, low_in), high_in) for step in steps]


def _shapes(side: str, rim: tuple[Span, Span, Span], along_in: float, foot_top_in: float, beside_in: float) -> tuple[Block, ...]:
    """The foot outside of the edge, up to what it is fixed to, and the part below the edge, as far in as the bowl beside it leaves room."""
    (x, y, z), half_in, reach_in = rim, value("practice", "clip/wide") / 2.0, value("practice", "clip/reach")
    edge_in, out = {"rear": (y[0], -1.0), "front": (y[1], 1.0), "left": (x[0], -1.0), "right": (x[1], 1.0)}[side]
    along, shapes = (along_in - half_in, along_in + half_in), []
    for far_in, up in ((edge_in + out * reach_in, (z[0], foot_top_in)), (edge_in - out * min(reach_in, beside_in), z)):
        across = (min(edge_in, far_in), max(edge_in, far_in))
        shapes.append(Block(along, across, up) if side in {"rear", "front"} else Block(across, along, up))
    return tuple(block for block in shapes if not block.empty)
