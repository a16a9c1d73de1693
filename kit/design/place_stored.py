"""What else lives there: the dishwasher beside the base; filter, hot-water tank and pull-out bin below the sink, where the drain and frame leave room."""

from collections.abc import Iterator, Sequence

from kit.design.place_boxes import box_back_in, face_back_in
from kit.design.place_room import SUBFLOOR
from kit.design.place_run import is_beside
from kit.job import FilledJob
from kit.solids import Block, Body, Span, Stage
from kit.sources import value

__all__ = ["place_dishwashers", "place_stored"]


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
    """Each of the usual size at the first place along the base that is free, from the left; at the left end where none is.

    Nobody measured them, and they can be moved: they go in last, and keep out of the rooms for wrench and hand.
    """
    plumbing = job.plumbing
    kinds = (("pull-out bin", plumbing.bin), ("hot-water tank", plumbing.hot_tap), ("water filter", plumbing.filter))
    names = [name for name, lives_here in kinds if lives_here]
    there = [body for body in placed if body.is_at(Stage.BUILT)] if names else []
    for name in names:
        there.append(_stored(job, name, there))
        yield there[-1]


def _stored(job: FilledJob, name: str, there: Sequence[Body]) -> Body:
    kind = name.replace(" ", "-")
    wide_in, deep_in, high_in = (value("practice", f"{kind}/{size}") for size in ("wide", "deep", "high"))
    side_in, low_in = job.cabinet.side_thickness_in, job.cabinet.floor_height_in
    front_in, back_in = face_back_in(job), box_back_in(job)
    front, rear = (max(back_in, front_in - deep_in), front_in), (back_in, min(back_in + deep_in, front_in))
    depths, z = ((front,) if name == "pull-out bin" else (rear, front)), (low_in, low_in + high_in)
    across = (side_in, job.cabinet.width_in - side_in)
    free = [(start_in, y) for y in depths if (start_in := _first_free(there, across, y, z, wide_in)) is not None]
    start_in, y = free[0] if free else (side_in, depths[0])
    x = (start_in, start_in + wide_in)
    return Body(name, "stored", (Block(x, y, z),), Stage.BUILT, stands_on=("cabinet floor",), fields=("cabinet.width", "cabinet.floor_height"))


def _first_free(there: Sequence[Body], across: Span, y: Span, z: Span, wide_in: float) -> float | None:
    """Where along the base the first gap of that width begins between all that reaches into these depths and heights; None without one."""
    spans = sorted(shape.x for body in there for shape in body.shapes if shape.y[0] < y[1] and y[0] < shape.y[1] and shape.z[0] < z[1] and z[0] < shape.z[1])
    low_in = across[0]
    for first, last in (*spans, (across[1], across[1])):
        if min(first, across[1]) - low_in >= wide_in:
            return low_in
        low_in = max(low_in, last)
    return None
