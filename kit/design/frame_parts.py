"""What all ways to carry a sink share: members, posts to the floor, mirrored places, room beside what hangs below the sink."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from kit.design.packer_strips import strips_in
from kit.design.place_boxes import face_back_in, toe_board_back_in
from kit.design.place_room import SUBFLOOR
from kit.design.shims import floor_fall_in, pair_in
from kit.job import FilledJob
from kit.shapes import Axis, Block, overlap_depth
from kit.solids import Body, Stage
from kit.sources import value
from kit.spans import Span

__all__ = [
    "BOX",
    "DRAIN",
    "LUMBER",
    "PANEL",
    "POST_PACKER",
    "SHIMS",
    "SIDES",
    "FramePlace",
    "edge_in",
    "inside",
    "is_clear",
    "member",
    "mirrored",
    "play_in",
    "post",
]
__all__ += ["post_front_in", "thick_in"]

SHIMS, POST_PACKER = "shims below post", "packer below post"
LUMBER, PANEL = "lumber-2x4", "plywood-3-4"
SIDES = ("left", "right")
BOX = ("cabinet.width", "cabinet.side_thickness", "cabinet.depth", "cabinet.height")
DRAIN = ("strainer", "disposer", "tailpiece", "trap", "arm", "stub")
"""Parts of what hangs below an outlet and leads to the wall."""


@dataclass(frozen=True, slots=True)
class FramePlace:
    """The members of the frame, and what they carry the sink by.

    `support_in` is the top of what carries the sink above the floor [in]; `reach_in` how far a side cleat, packed out where the bare one
    carries too little rim, reaches in from the cabinet's side (0 without cleats).
    """

    bodies: tuple[Body, ...]
    carries: tuple[str, ...]
    support_in: float
    reach_in: float = 0.0

    @property
    def carrier(self) -> str:
        """The first member that carries; a platform that is brought up to touch carries with the counter."""
        return next(name for name in self.carries if name != "counter")


def edge_in() -> float:
    """The wide side of a member [in]."""
    return value("lumber", "2x4/width")


def thick_in() -> float:
    """The narrow side of a member [in]."""
    return value("lumber", "2x4/thickness")


def play_in() -> float:
    """What a member between two others is shorter than the room for it [in]."""
    return value("practice", "frame/cross-play")


def inside(job: FilledJob) -> Span:
    """Between the sides of the base [in]."""
    return job.cabinet.side_thickness_in, job.cabinet.width_in - job.cabinet.side_thickness_in


def member(name: str, block: Block, stands_on: Iterable[str], along: Axis, fields: tuple[str, ...], item: str = LUMBER) -> Body:
    """A member that is cut from an item of the lists to its length along an axis."""
    return Body(name, "frame", (block,), Stage.BUILT, stands_on=tuple(stands_on), item=item, along=along, fields=fields)


def mirrored(job: FilledJob, span: Span, side: str) -> Span:
    """A span that is given for the left side, on that side."""
    return span if side == "left" else (job.cabinet.width_in - span[1], job.cabinet.width_in - span[0])


def is_clear(block: Block, others: Sequence[Body]) -> bool:
    """Whether nothing that is built stands where a block would."""
    return not any(overlap_depth(block, shape) for body in others if body.is_at(Stage.BUILT) for shape in body.shapes)


def post(job: FilledJob, where: str, x: Span, y: Span, top_in: float) -> Iterator[Body]:
    """A post on the cabinet floor, where the floor is raised a block below it, shims where the subfloor has fallen, a packer where a pair is too little."""
    cabinet = job.cabinet
    if top_in <= cabinet.floor_height_in:
        return
    below_in = cabinet.floor_height_in - cabinet.floor_thickness_in
    fields = (*BOX, "cabinet.floor_height", "cabinet.floor_thickness")
    fall_in = floor_fall_in(job, sum(x) / 2.0)
    foot = (f"{SHIMS} {where}",) if fall_in else (SUBFLOOR,)
    on = (f"block below post {where}",) if below_in > 0.0 else foot
    yield member(f"post {where}", Block(x, y, (cabinet.floor_height_in, top_in)), on, "z", fields)
    if below_in > 0.0:
        yield member(f"block below post {where}", Block(x, y, (0.0, below_in)), foot, "z", fields)
    if fall_in:
        packer_in, packer, read = strips_in(max(fall_in - pair_in(), 0.0)), f"{POST_PACKER} {where}", ("levelness.readings",)
        filled_in, packed = fall_in - packer_in, bool(packer_in)
        yield Body(*foot, "shims", (Block(x, y, (-filled_in, 0.0)),), Stage.BUILT, stands_on=(packer if packed else SUBFLOOR,), fields=read)
        if packed:
            yield Body(packer, "shims", (Block(x, y, (-fall_in, -filled_in)),), Stage.BUILT, stands_on=(SUBFLOOR,), fields=read)


def post_front_in(job: FilledJob) -> float:
    """Front of the front posts: clear of the hinges, and behind the toe board that hides their blocks [in]."""
    return min(face_back_in(job) - value("practice", "frame/post-setback"), toe_board_back_in(job))
