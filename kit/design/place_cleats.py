"""Where do the members stand that carry a sink under its rim: side cleats and their packers, rear cross piece, front tie, posts?"""

import math
from collections.abc import Iterator, Sequence

from kit.design.frame_parts import BOX, DRAIN, SIDES, FramePlace, edge_in, inside, is_clear, member, mirrored, play_in, post, post_front_in, thick_in
from kit.design.front import FrontCut
from kit.design.place_boxes import box_back_in, face_back_in
from kit.design.place_sink import SinkPlace
from kit.job import FilledJob
from kit.shapes import Block
from kit.solids import Body
from kit.sources import value
from kit.spans import Span, grown, length_of, spans_cross
from kit.units import count_parts

__all__ = ["place_cleats"]

_RIM = (*BOX, "cabinet.nailer", "sink.rim_thickness", "sink.body_width", "sink.bowl_width")


def place_cleats(job: FilledJob, at: SinkPlace, cut: FrontCut | None, load_lb: float, others: Sequence[Body]) -> FramePlace:
    """Cleats at the sides, a cross piece under the rear rim between them, each on posts; a tie in front where the cut took the top rail."""
    reach_in, top_in = _reach_in(job, at), at.rim_z[0]
    side_in, low_in = job.cabinet.side_thickness_in, top_in - edge_in()
    deep = (box_back_in(job), face_back_in(job) - value("practice", "frame/clearance"))
    bodies = []
    for side in SIDES:
        x = mirrored(job, (side_in + reach_in - thick_in(), side_in + reach_in), side)
        bodies.append(member(f"side cleat {side}", Block(x, deep, (low_in, top_in)), (f"post front {side}", f"post rear {side}"), "y", _RIM))
        bodies += _packers(job, side, reach_in - thick_in(), deep, (low_in, top_in))
    rear_in = at.outside_y[0] - value("practice", "frame/bowl-clearance")
    rear, front = (rear_in - thick_in(), rear_in), (post_front_in(job) - edge_in(), post_front_in(job))
    for side in SIDES:
        under_cleat = (side_in + reach_in - thick_in(), side_in + reach_in)
        under_both = (under_cleat[0], under_cleat[0] + edge_in())
        bodies += post(job, f"front {side}", mirrored(job, under_cleat, side), front, low_in)
        bodies += post(job, f"rear {side}", mirrored(job, under_both, side), rear, low_in)
    between = (side_in + reach_in, job.cabinet.width_in - side_in - reach_in)
    bodies += _rear_cross(job, Block(grown(between, -play_in() / 2.0), rear, (low_in, top_in)), load_lb, [*others, *bodies])
    if cut is not None and cut.rail_removed:
        bodies.append(_front_tie(job, at, cut, between, [*others, *bodies]))
    return FramePlace(tuple(bodies), ("side cleat left", "side cleat right", "rear cross piece"), top_in, reach_in)


def _reach_in(job: FilledJob, at: SinkPlace) -> float:
    """A bare cleat reaches in by its thickness; it is packed out only where it carries too little rim, and stays clear of the bowl."""
    inside_in = length_of(inside(job))
    least_in = value("checks", "cabinet/rim-on-cleat") + value("checks", "tape/tolerance")
    wanted_in = (inside_in - length_of(at.rim_x)) / 2.0 + least_in
    most_in = (inside_in - length_of(at.outside_x)) / 2.0 - value("practice", "frame/bowl-clearance")
    return max(thick_in(), min(wanted_in, most_in))


def _packers(job: FilledJob, side: str, packing_in: float, deep: Span, z: Span) -> Iterator[Body]:
    """Layers of lumber between cabinet side and cleat, the last one planed to what is left."""
    layers = count_parts(packing_in, thick_in())
    first_in = job.cabinet.side_thickness_in
    for number in range(1, layers + 1):
        last_in = min(first_in + thick_in(), job.cabinet.side_thickness_in + packing_in)
        block = Block(mirrored(job, (first_in, last_in), side), deep, z)
        yield member(f"cleat packer {side} {number}", block, (f"side {side}",), "y", _RIM)
        first_in = last_in


def _rear_cross(job: FilledJob, block: Block, load_lb: float, others: Sequence[Body]) -> Iterator[Body]:
    """Under the rear rim, on both rear posts; a third post near its middle where it is long or carries much, clear of the drain."""
    posts, middle = [f"post rear {side}" for side in SIDES], None
    if length_of(block.x) > value("practice", "frame/cross-span") or load_lb > value("practice", "frame/cross-load"):
        middle = _middle_post(job, block, others)
    if middle is not None:
        posts.append("post rear middle")
    yield member("rear cross piece", block, posts, "x", (*_RIM, "sink.depth", "sink.rear_rim", "sink.apron_projection"))
    if middle is not None:
        yield from post(job, "rear middle", middle, block.y, block.z[0])


def _middle_post(job: FilledJob, block: Block, others: Sequence[Body]) -> Span | None:
    """The place nearest to the middle, within the middle third, where a post meets nothing that is built; None where there is none."""
    middle_in, third_in, step_in = sum(block.x) / 2.0, length_of(block.x) / 6.0, value("practice", "frame/outlet-air")
    steps = range(math.floor(max(third_in, 0.0) / step_in) + 1)
    for off_in in (sign * number * step_in for number in steps for sign in (1.0, -1.0)):
        x = (middle_in + off_in - edge_in() / 2.0, middle_in + off_in + edge_in() / 2.0)
        if is_clear(Block(x, block.y, (job.cabinet.floor_height_in, block.z[0])), others):
            return x
    return None


def _front_tie(job: FilledJob, at: SinkPlace, cut: FrontCut, between: Span, others: Sequence[Body]) -> Body:
    """Flat between the front posts, below bowl and cut; as far back as the posts, no further forward than what hangs in the way asks, at most to the face."""
    top_in, air_in = min(at.under_in, job.cabinet.height_in - cut.height_in), value("practice", "frame/outlet-air")
    x, z, back_in = grown(between, -play_in() / 2.0), (top_in - thick_in(), top_in), post_front_in(job)
    hung = [body for body in others if body.part in DRAIN and spans_cross(body.span("z"), z)]
    past_in = max((body.span("y")[1] + air_in + edge_in() for body in hung), default=back_in)
    fronts = (back_in, min(max(past_in, back_in), face_back_in(job)), face_back_in(job))
    blocks = [Block(x, (front_in - edge_in(), front_in), z) for front_in in fronts]
    clear = [block for block in blocks if is_clear(block, others)]
    airy = [block for block in clear if is_clear(Block(block.x, grown(block.y, air_in), block.z), hung)]
    block = next(iter((*airy, *clear, *blocks)))
    return member("front tie", block, ("post front left", "post front right"), "x", (*_RIM, "sink.apron_height"))
