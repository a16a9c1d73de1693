"""Where does what carries the sink stand? One way each in a file of its own: cleats, platform, rails, cradle."""

from collections.abc import Sequence
from dataclasses import replace

from kit.design.carrying import Carrying
from kit.design.frame_load import Load
from kit.design.frame_parts import FramePlace, is_clear
from kit.design.front import FrontCut
from kit.design.levels import Levels
from kit.design.place_cleats import place_cleats
from kit.design.place_hangers import place_cradle, place_rails
from kit.design.place_platform import place_platform
from kit.design.place_sink import SinkPlace
from kit.design.place_stored import crowded
from kit.design.place_strip import place_strip_cleat
from kit.job import FilledJob
from kit.shapes import Block
from kit.solids import Body

__all__ = ["place_frame"]


def place_frame(
    job: FilledJob, levels: Levels, at: SinkPlace, cut: FrontCut | None, carrying: Carrying, load: Load, others: Sequence[Body]
) -> FramePlace | None:
    """The bodies below the sink for a way to carry it, and below the strip of counter behind it; None where counter or clips hold it alone.

    Members stay clear of the drain where they can, and posts of a platform of what else lives there, turned where that makes room.
    """
    place = _carry(job, at, cut, carrying, load, others)
    if place is not None and (carrying.touches or carrying.way == "platform") and (left := crowded(job, (*others, *place.bodies))):
        slim = _platform(job, at, carrying, others, slim=True)
        place = slim if crowded(job, (*others, *slim.bodies)) < left and not _meet(slim.bodies, others) else place
    return place and replace(place, bodies=(*place.bodies, *place_strip_cleat(job, levels, at, [*others, *place.bodies])))


def _meet(members: Sequence[Body], others: Sequence[Body]) -> bool:
    """Whether a post stands where another or something else is."""
    posts = [body for body in members if body.name.startswith("post")]
    blocks = [(body, shape) for body in posts for shape in body.shapes if isinstance(shape, Block)]
    return any(not is_clear(block, [*others, *(other for other in posts if other is not body)]) for body, block in blocks)


def _platform(job: FilledJob, at: SinkPlace, carrying: Carrying, others: Sequence[Body], *, slim: bool = False) -> FramePlace:
    place = place_platform(job, at, others, slim=slim)
    return replace(place, carries=("counter", "platform panel")) if carrying.touches else place


def _carry(job: FilledJob, at: SinkPlace, cut: FrontCut | None, carrying: Carrying, load: Load, others: Sequence[Body]) -> FramePlace | None:
    if carrying.touches:
        return _platform(job, at, carrying, others)
    match carrying.way:
        case "cleats":
            return place_cleats(job, at, cut, load.design_lb / 2.0, others)
        case "platform":
            return _platform(job, at, carrying, others)
        case "rails":
            return place_rails(job, at)
        case "cradle":
            return place_cradle(job, at)
        case "counter" | "clips":
            return None
