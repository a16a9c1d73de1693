"""What else lives there: the dishwasher beside the base; filter, hot-water tank and pull-out bin below the sink, where the drain and frame leave room."""

from collections.abc import Iterable, Iterator, Sequence

from kit.design.place_boxes import box_back_in, face_back_in
from kit.design.place_room import SUBFLOOR
from kit.design.place_run import is_beside
from kit.job import FilledJob
from kit.shapes import Block, overlap_depth
from kit.solids import Body, Stage
from kit.sources import value
from kit.spans import Span, free_spans, spans_cross

__all__ = ["crowded", "free_room_in", "place_dishwashers", "place_stored"]


def place_dishwashers(job: FilledJob) -> Iterator[Body]:
    """The tub of each dishwasher beside the base, without its front: as wide as its listed space, else of the usual size. Its height is a check of its own."""
    cabinet, wide_in = job.cabinet, value("practice", "counter/dishwasher")
    high_in = min(cabinet.height_in, value("checks", "dishwasher/opening"))
    for side, neighbor in (("left", cabinet.left), ("right", cabinet.right)):
        if neighbor.kind == "dishwasher" and is_beside(cabinet, side):
            listed = next((box.width_in for box in cabinet.boxes if box.side == side), None)
            own_in = wide_in if listed is None else max(listed - neighbor.gap_in, 0.0)  # it fills what is left of its space
            near_in = cabinet.width_in + neighbor.gap_in if side == "right" else -neighbor.gap_in
            x = (near_in, near_in + own_in) if side == "right" else (near_in - own_in, near_in)
            deep = (value("practice", "dishwasher/behind"), max(cabinet.depth_in, value("practice", "dishwasher/behind")))
            fields = ("cabinet.width", "cabinet.depth", "cabinet.height", f"cabinet.{side}.gap", *(() if listed is None else ("cabinet.boxes",)))
            yield Body(f"dishwasher {side}", "dishwasher", (Block(x, deep, (0.0, high_in)),), stands_on=(SUBFLOOR,), fields=fields)
            front_in = cabinet.depth_in + value("checks", "corner/door-thickness")
            swing = Block(x, (front_in, front_in + high_in - cabinet.toe_height_in), (cabinet.toe_height_in, high_in))
            if not swing.empty:
                yield Body(f"the door of the dishwasher {side}", "swing", (swing,), room=True, stands_on=(f"dishwasher {side}",), fields=fields)


def place_stored(job: FilledJob, placed: Sequence[Body]) -> Iterator[Body]:
    """Each of the usual size at the first place along the base that is free, from the left; at the widest gap where none has room.

    Nobody measured them, and they can be moved: they go in last, and keep out of the rooms for wrench and hand.
    """
    plumbing = job.plumbing
    kinds = (("pull-out bin", plumbing.bin), ("hot-water tank", plumbing.hot_tap), ("water filter", plumbing.filter))
    names = [name for name, lives_here in kinds if lives_here]
    there, late = [body for body in placed if body.is_at(Stage.BUILT)] if names else [], list[str]()
    for name in names:
        body, fits = _stored(job, name, there)
        if fits:
            there.append(body)
            yield body
        else:
            late.append(name)
    for name in late:  # what has no room takes none of that of the others
        body, _ = _stored(job, name, there)
        there.append(body)
        yield body


def crowded(job: FilledJob, placed: Sequence[Body]) -> int:
    """How many of them find no free place beside what is placed."""
    solid, overlapping = [body for body in placed if not body.room], 0
    for body in place_stored(job, placed):
        overlapping += any(overlap_depth(shape, own) for other in solid if other.is_at(Stage.BUILT) for shape in other.shapes for own in body.shapes)
    return overlapping


def _stored(job: FilledJob, name: str, there: Sequence[Body]) -> tuple[Body, bool]:
    """The body of a thing where it finds room or the widest gap, and whether it finds room."""
    kind = name.replace(" ", "-")
    wide_in, deep_in, high_in = (value("practice", f"{kind}/{size}") for size in ("wide", "deep", "high"))
    side_in, low_in = job.cabinet.side_thickness_in, job.cabinet.floor_height_in
    front_in, back_in = face_back_in(job), box_back_in(job)
    front, rear = (max(back_in, front_in - deep_in), front_in), (back_in, min(back_in + deep_in, front_in))
    fronts = [body.span("y")[1] for body in there if body.name.startswith("post")]
    between = [(y, y + deep_in) for y in sorted(dict.fromkeys(fronts)) if y + deep_in <= front_in]
    depths: list[Span] = [front] if name == "pull-out bin" else [rear, front, *between]
    z, across = (low_in, low_in + high_in), (side_in, job.cabinet.width_in - side_in)
    gaps = [(gap, y) for y in depths for gap in _gaps(there, across, y, z)]
    fits = [(gap, y) for gap, y in gaps if gap[1] - gap[0] >= wide_in]
    gap, y = fits[0] if fits else max(gaps, key=lambda one: one[0][1] - one[0][0], default=(across, depths[0]))
    start_in = min(gap[0], max(across[1] - wide_in, across[0]))
    shape, fields = Block((start_in, start_in + wide_in), y, z), ("cabinet.width", "cabinet.floor_height")
    return Body(name, "stored", (shape,), Stage.BUILT, stands_on=("cabinet floor",), fields=fields), bool(fits)


def free_room_in(bodies: Iterable[Body], thing: Body, across: Span) -> tuple[float, float]:
    """How wide and how high a thing may be that stands at its depth beside all other bodies [in]; (0, 0) where nothing that is sold finds room.

    As high as it is and as wide as the widest gap; lower, where it is as wide as it is only there, or finds room only there.
    """
    others, y, (low_in, high_in) = [body for body in bodies if body.name != thing.name], thing.span("y"), thing.span("z")
    least_wide_in, least_high_in = value("checks", "stored/least-wide"), value("checks", "stored/least-high")
    tops = {shape.z[0] for body in others for shape in body.shapes if spans_cross(shape.y, y) and low_in + least_high_in <= shape.z[0] < high_in}
    rooms = []
    for top_in in (high_in, *sorted(tops, reverse=True)):
        wide_in = max((high - low for low, high in _gaps(others, across, y, (low_in, top_in))), default=0.0)
        rooms.append((wide_in, top_in - low_in))
    for wanted_in in (thing.size_in("x"), least_wide_in):
        for wide_in, tall_in in rooms:
            if wide_in >= wanted_in:
                return wide_in, tall_in
    return 0.0, 0.0


def _gaps(there: Sequence[Body], across: Span, y: Span, z: Span) -> list[Span]:
    """What is free along the base between all that reaches into these depths and heights, from the left."""
    return free_spans(across, [shape.x for body in there for shape in body.shapes if spans_cross(shape.y, y) and spans_cross(shape.z, z)])
