"""Where does each member of the frame stand that carries the sink: cleats, cross piece, tie, platform, posts, blocks?"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from kit.design.front import FrontCut
from kit.design.place_boxes import box_back_in, face_back_in
from kit.design.place_room import SUBFLOOR
from kit.design.place_sink import SinkPlace
from kit.job import FilledJob
from kit.solids import Axis, Block, Body, Span, Stage, carve, overlap_depth
from kit.sources import value

__all__ = ["LUMBER", "PANEL", "FramePlace", "place_frame"]

LUMBER, PANEL = "lumber-2x4", "plywood-3-4"
_SIDES = ("left", "right")
_DRAIN = ("strainer", "disposer", "tailpiece", "trap", "arm")


@dataclass(frozen=True, slots=True)
class FramePlace:
    """The members of the frame, and what they carry the sink by.

    `support_in` is the top of what carries the sink above the floor [in]; `reach_in` how far a side cleat, packed out where the bare one
    carries too little rim, reaches in from the cabinet's side (0 without cleats).
    """

    bodies: tuple[Body, ...]
    carries: tuple[str, ...]
    support_in: float
    reach_in: float


def place_frame(job: FilledJob, at: SinkPlace, cut: FrontCut | None, others: Sequence[Body]) -> FramePlace:
    """Cleats under the rim, or a platform under the bowl; members stay clear of what the drain needs where they can be moved.

    A rim whose underside lies above the box can't be carried by cleats on the box's sides: the platform is placed then.
    """
    rim_fits = at.rim_z[0] <= job.cabinet.height_in + job.counter.sub_top_in + 1e-9
    if job.sink.carried_at != "bowl" and rim_fits:
        return _cleats(job, at, cut, others)
    return _platform(job, at, others)


def _edge_in() -> float:
    return value("lumber", "2x4/width")


def _thick_in() -> float:
    return value("lumber", "2x4/thickness")


def _play_in() -> float:
    return value("practice", "frame/cross-play")


def _inside(job: FilledJob) -> Span:
    return job.cabinet.side_thickness_in, job.cabinet.width_in - job.cabinet.side_thickness_in


def _reach_in(job: FilledJob, at: SinkPlace) -> float:
    """A bare cleat reaches in by its thickness; it is packed out only where it carries too little rim, and stays clear of the bowl."""
    inside_in = _inside(job)[1] - _inside(job)[0]
    least_in = value("checks", "cabinet/rim-on-cleat") + value("checks", "tape/tolerance")
    wanted_in = (inside_in - (at.rim_x[1] - at.rim_x[0])) / 2.0 + least_in
    most_in = (inside_in - (at.outside_x[1] - at.outside_x[0])) / 2.0 - value("practice", "frame/bowl-clearance")
    return max(_thick_in(), min(wanted_in, most_in))


def _member(name: str, block: Block, stands_on: Iterable[str], along: Axis, fields: tuple[str, ...], item: str = LUMBER) -> Body:
    return Body(name, "frame", (block,), Stage.BUILT, stands_on=tuple(stands_on), item=item, along=along, fields=fields)


_BOX = ("cabinet.width", "cabinet.side_thickness", "cabinet.depth", "cabinet.height")
_RIM = (*_BOX, "sink.rim_thickness", "sink.body_width", "sink.bowl_width")


def _mirrored(job: FilledJob, span: Span, side: str) -> Span:
    """A span that is given for the left side, on that side."""
    return span if side == "left" else (job.cabinet.width_in - span[1], job.cabinet.width_in - span[0])


def _cleats(job: FilledJob, at: SinkPlace, cut: FrontCut | None, others: Sequence[Body]) -> FramePlace:
    reach_in, top_in = _reach_in(job, at), at.rim_z[0]
    side_in, low_in = job.cabinet.side_thickness_in, top_in - _edge_in()
    deep = (box_back_in(job), face_back_in(job) - value("practice", "frame/clearance"))
    found = []
    for side in _SIDES:
        x = _mirrored(job, (side_in + reach_in - _thick_in(), side_in + reach_in), side)
        found.append(_member(f"side cleat {side}", Block(x, deep, (low_in, top_in)), (f"post front {side}", f"post rear {side}"), "y", _RIM))
        found += _packers(job, side, reach_in - _thick_in(), deep, (low_in, top_in))
    rear = (at.outside_y[0] - value("practice", "frame/bowl-clearance") - _thick_in(), at.outside_y[0] - value("practice", "frame/bowl-clearance"))
    between = (side_in + reach_in + _play_in() / 2.0, job.cabinet.width_in - side_in - reach_in - _play_in() / 2.0)
    fields = (*_RIM, "sink.depth", "sink.rear_rim", "sink.apron_projection")
    posts = tuple(f"post rear {side}" for side in _SIDES)
    found.append(_member("rear cross piece", Block(between, rear, (low_in, top_in)), posts, "x", fields))
    front = (_post_front_in(job) - _edge_in(), _post_front_in(job))
    for side in _SIDES:
        under_cleat = (side_in + reach_in - _thick_in(), side_in + reach_in)
        under_both = (under_cleat[0], under_cleat[0] + _edge_in())
        found += _post(job, f"front {side}", _mirrored(job, under_cleat, side), front, low_in)
        found += _post(job, f"rear {side}", _mirrored(job, under_both, side), rear, low_in)
    if cut is not None and cut.rail_removed:
        found.append(_front_tie(job, at, cut, (side_in + reach_in, job.cabinet.width_in - side_in - reach_in), [*others, *found]))
    carries = ("side cleat left", "side cleat right", "rear cross piece")
    return FramePlace(tuple(found), carries, top_in, reach_in)


def _packers(job: FilledJob, side: str, packing_in: float, deep: Span, z: Span) -> Iterator[Body]:
    """Layers of lumber between cabinet side and cleat, the last one planed to what is left."""
    layers = math.ceil(round(packing_in / _thick_in(), 6))
    first_in = job.cabinet.side_thickness_in
    for number in range(1, layers + 1):
        last_in = min(first_in + _thick_in(), job.cabinet.side_thickness_in + packing_in)
        block = Block(_mirrored(job, (first_in, last_in), side), deep, z)
        yield _member(f"cleat packer {side} {number}", block, (f"side {side}",), "y", _RIM)
        first_in = last_in


def _post(job: FilledJob, where: str, x: Span, y: Span, top_in: float) -> Iterator[Body]:
    """A post on the cabinet floor and, where the floor is raised, a block below it down to the subfloor."""
    cabinet = job.cabinet
    below_in = cabinet.floor_height_in - cabinet.floor_thickness_in
    fields = (*_BOX, "cabinet.floor_height", "cabinet.floor_thickness")
    stands_on = (f"block below post {where}",) if below_in > 0.0 else (SUBFLOOR,)
    if top_in > cabinet.floor_height_in:
        yield _member(f"post {where}", Block(x, y, (cabinet.floor_height_in, top_in)), stands_on, "z", fields)
        if below_in > 0.0:
            yield _member(f"block below post {where}", Block(x, y, (0.0, below_in)), (SUBFLOOR,), "z", fields)


def _front_tie(job: FilledJob, at: SinkPlace, cut: FrontCut, between: Span, others: Sequence[Body]) -> Body:
    """Flat between the front posts, below bowl and cut; as far back as the posts, or at the face where something hangs in the way."""
    top_in = min(at.under_in, job.cabinet.height_in - cut.height_in)
    x = (between[0] + _play_in() / 2.0, between[1] - _play_in() / 2.0)
    blocks = [Block(x, (front_in - _edge_in(), front_in), (top_in - _thick_in(), top_in)) for front_in in (_post_front_in(job), face_back_in(job))]
    block = next((block for block in blocks if _is_clear(block, others)), blocks[0])
    return _member("front tie", block, ("post front left", "post front right"), "x", (*_RIM, "sink.apron_height"))


def _post_front_in(job: FilledJob) -> float:
    """Front of the front posts: clear of the hinges, and behind the toe board that hides their blocks [in]."""
    behind_toe_in = job.cabinet.depth_in - value("practice", "cabinet/toe-setback") - value("practice", "cabinet/toe-board")
    return min(face_back_in(job) - value("practice", "frame/post-setback"), behind_toe_in)


def _is_clear(block: Block, others: Sequence[Body]) -> bool:
    return not any(overlap_depth(block, shape) for body in others for shape in body.shapes if body.stages & Stage.BUILT)


def _platform(job: FilledJob, at: SinkPlace, others: Sequence[Body]) -> FramePlace:
    """A panel under the bowls on joists across the base, each on a post at both ends; outlets go through the panel."""
    board_in, inside = value("practice", "frame/platform-panel"), _inside(job)
    y = (at.outside_y[0], min(at.outside_y[1], face_back_in(job)))
    panels: tuple[Block, ...] = (Block(at.outside_x, y, (at.under_in - board_in, at.under_in)),)
    hanging = [body for body in others if body.part in {"strainer", "disposer"}]
    air_in = value("practice", "frame/outlet-air")
    for body in hanging:
        hole = Block(_grown(body.span("x"), air_in), _grown(body.span("y"), air_in), (at.under_in - board_in, at.under_in))
        panels = carve(panels, hole)
    fields = (*_BOX, "sink.bowl_width", "sink.depth", "sink.bottom_thickness", "sink.bowls")
    x = (inside[0] + _play_in() / 2.0, inside[1] - _play_in() / 2.0)
    z = (at.under_in - board_in - _edge_in(), at.under_in - board_in)
    in_the_way = [body for body in others if body.part in _DRAIN and body.span("z")[0] < z[1] and body.span("z")[1] > z[0]]
    joists, bodies = _joist_places((y[0], min(y[1], _post_front_in(job))), in_the_way, air_in), []
    names = [f"platform joist {where}" for where in joists]
    panel = Body("platform panel", "frame", panels, Stage.BUILT, stands_on=tuple(names), item=PANEL, fields=fields)
    for name, (where, deep) in zip(names, joists.items(), strict=True):
        posts = tuple(f"post {where} {side}" for side in _SIDES)
        bodies.append(_member(name, Block(x, deep, z), posts, "x", fields))
        for side in _SIDES:
            bodies += _post(job, f"{where} {side}", _mirrored(job, (inside[0], inside[0] + _edge_in()), side), deep, z[0])
    return FramePlace((panel, *bodies), ("platform panel",), at.under_in, 0.0)


def _grown(span: Span, by_in: float) -> Span:
    return span[0] - by_in, span[1] + by_in


def _joist_places(y: Span, in_the_way: Sequence[Body], air_in: float) -> dict[str, Span]:
    """Front to back: as near to both edges of the panel as the drain leaves room, and a third in the widest place between them.

    Where it leaves room for no two, they lie at the edges and the overlap is told.
    """
    thick_in, free, low_in = _thick_in(), [], y[0]
    for first, last in [*sorted(_grown(body.span("y"), air_in) for body in in_the_way), (y[1], y[1])]:
        if min(first, y[1]) - low_in >= thick_in:
            free.append((low_in, min(first, y[1])))
        low_in = max(low_in, last)
    at_edges = {"rear": (y[0], y[0] + thick_in), "front": (y[1] - thick_in, y[1])}
    if not free:
        return at_edges
    rear, front = (free[0][0], free[0][0] + thick_in), (free[-1][1] - thick_in, free[-1][1])
    if front[0] < rear[1]:
        return at_edges
    between = [(max(low, rear[1]), min(high, front[0])) for low, high in free]
    low, high = max(between, key=lambda span: span[1] - span[0])
    if high - low < thick_in:
        return {"rear": rear, "front": front}
    middle_in = (low + high) / 2.0
    return {"rear": rear, "middle": (middle_in - thick_in / 2.0, middle_in + thick_in / 2.0), "front": front}
