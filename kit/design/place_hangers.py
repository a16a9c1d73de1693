"""Where are the bars that hold a standard sink from the box without posts: two rails under its rim, or a cradle under its bowl?"""

from kit.design.frame_parts import SIDES, FramePlace, inside, mirrored
from kit.design.place_boxes import box_back_in, face_back_in
from kit.design.place_sink import SinkPlace
from kit.job import FilledJob
from kit.shapes import Block
from kit.solids import Body, Stage
from kit.sources import value
from kit.spans import Span

__all__ = ["place_cradle", "place_rails"]

_FIELDS = ("cabinet.width", "cabinet.depth", "cabinet.height", "sink.bowl_width", "sink.depth")


def _bar(name: str, block: Block, stands_on: tuple[str, ...]) -> Body:
    return Body(name, "frame", (block,), Stage.BUILT, stands_on=stands_on, fields=_FIELDS)


def place_rails(job: FilledJob, at: SinkPlace) -> FramePlace:
    """A bar under the rim beside the bowls at each side, from the back of the box to its front."""
    bar_in, beside_in = value("practice", "sink/rail"), value("practice", "frame/bowl-clearance")
    left: Span = (at.outside_x[0] - beside_in - bar_in, at.outside_x[0] - beside_in)
    deep, z = (box_back_in(job), face_back_in(job)), (at.rim_z[0] - bar_in, at.rim_z[0])
    bars = tuple(_bar(f"sink rail {side}", Block(mirrored(job, left, side), deep, z), (f"side {side}",)) for side in SIDES)
    return FramePlace(bars, tuple(bar.name for bar in bars), at.rim_z[0])


def place_cradle(job: FilledJob, at: SinkPlace) -> FramePlace:
    """Two bars below the bowls from side to side, at their rear and front walls."""
    bar_in = value("practice", "sink/rail")
    rear_in, front_in = max(at.outside_y[0], box_back_in(job)), min(at.outside_y[1], face_back_in(job))
    places: dict[str, Span] = {"rear": (rear_in, rear_in + bar_in), "front": (front_in - bar_in, front_in)}
    z = (at.under_in - bar_in, at.under_in)
    bars = tuple(_bar(f"cradle bar {where}", Block(inside(job), deep, z), ("side left", "side right")) for where, deep in places.items())
    return FramePlace(bars, tuple(bar.name for bar in bars), at.under_in)
