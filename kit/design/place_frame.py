"""Where does what carries the sink stand? One way each in a file of its own: cleats, platform, rails, cradle."""

from collections.abc import Sequence
from dataclasses import replace

from kit.design.carrying import Carrying
from kit.design.frame_parts import FramePlace
from kit.design.front import FrontCut
from kit.design.load import Load
from kit.design.place_cleats import place_cleats
from kit.design.place_hangers import place_cradle, place_rails
from kit.design.place_platform import place_platform
from kit.design.place_sink import SinkPlace
from kit.job import FilledJob
from kit.solids import Body

__all__ = ["place_frame"]


def place_frame(job: FilledJob, at: SinkPlace, cut: FrontCut | None, carrying: Carrying, load: Load, others: Sequence[Body]) -> FramePlace | None:
    """The bodies below the sink for a way to carry it; None where counter or clips hold it alone. Members stay clear of the drain where they can."""
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
