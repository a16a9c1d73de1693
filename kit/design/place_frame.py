"""Where does what carries the sink stand? One way each in a file of its own: cleats, platform, rails, cradle."""

from collections.abc import Sequence
from dataclasses import replace

from kit.design.carrying import Carrying
from kit.design.frame_parts import FramePlace
from kit.design.front import FrontCut
from kit.design.levels import Levels
from kit.design.load import Load
from kit.design.place_cleats import place_cleats
from kit.design.place_hangers import place_cradle, place_rails
from kit.design.place_platform import place_platform
from kit.design.place_sink import SinkPlace
from kit.design.place_strip import place_strip_cleat
from kit.job import FilledJob
from kit.solids import Body

__all__ = ["place_frame"]


def place_frame(
    job: FilledJob, levels: Levels, at: SinkPlace, cut: FrontCut | None, carrying: Carrying, load: Load, others: Sequence[Body]
) -> FramePlace | None:
    """The bodies below the sink for a way to carry it, and below the strip of counter behind it; None where counter or clips hold it alone.

    Members stay clear of the drain where they can.
    """
    place = _carry(job, at, cut, carrying, load, others)
    return place and replace(place, bodies=(*place.bodies, *place_strip_cleat(job, levels, at, [*others, *place.bodies])))


def _carry(job: FilledJob, at: SinkPlace, cut: FrontCut | None, carrying: Carrying, load: Load, others: Sequence[Body]) -> FramePlace | None:
    if carrying.touches:
        return replace(place_platform(job, at, others), carries=("counter", "platform panel"))
    match carrying.way:
        case "cleats":
            return place_cleats(job, at, cut, load.design_lb / 2.0, others)
        case "platform":
            return place_platform(job, at, others)
        case "rails":
            return place_rails(job, at)
        case "cradle":
            return place_cradle(job, at)
        case "counter" | "clips":
            return None
