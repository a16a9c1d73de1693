"""Where are the runs that meet the run of the sink round a corner: their counter, boxes and splash, and the side splashes at walls?"""

from collections.abc import Iterator

from kit.design.edges import ends_at_wall
from kit.design.levels import Levels
from kit.design.place_room import SUBFLOOR
from kit.design.run_places import RunPlace, joined_runs, place_runs
from kit.job import FilledJob
from kit.shapes import Block
from kit.solids import Body, Stage
from kit.spans import Span

__all__ = ["place_returns"]

_FIXED = ("counter.runs", "counter.sink_center", "cabinet.width")


def place_returns(job: FilledJob, levels: Levels) -> Iterator[Body]:
    """Counter and boxes of each joined run, and splash where the counter's own stands at its walls. A run that stands apart has no place here.

    Nobody listed the boxes of a return run: they stand as one, as deep and high as the sink base.
    """
    counter, cabinet, places = job.counter, job.cabinet, place_runs(job.counter)
    top = (levels.box_top_in, levels.counter_top_in)
    stays = counter.made_by == "stays" and not job.scope.counter.renewed
    for number in joined_runs(counter):
        place, boxes = places[number - 1], f"boxes of run {number}"
        box = _block(job, place, (0.0, place.run.length_in), (0.0, cabinet.depth_in), (cabinet.toe_height_in, levels.box_top_in))
        yield Body(boxes, "return run", (box,), stands_on=(SUBFLOOR,), fields=(*_FIXED, "cabinet.depth", "cabinet.height"))
        slab = _block(job, place, place.run.own_span_in, (counter.wall_gap_in, place.run.depth_in), top)
        stages = Stage.OPENED | Stage.BUILT if stays else Stage.BUILT
        yield Body(f"countertop of run {number}", "return run", (slab,), stages, stands_on=(boxes,), fields=(*_FIXED, "counter.thickness"))
    if counter.splash == "same":
        for number in sorted((counter.sink_run, *joined_runs(counter))):
            yield from _splashes(job, levels, places[number - 1])


def _splashes(job: FilledJob, levels: Levels, place: RunPlace) -> Iterator[Body]:
    """At the wall behind a return run; at each end of a run that lies at a wall."""
    counter, run, thick_in = job.counter, place.run, job.counter.splash_thickness_in
    up = (levels.counter_top_in, levels.counter_top_in + counter.splash_height_in)
    on = "counter" if place.number == counter.sink_run else f"countertop of run {place.number}"
    pieces: list[tuple[str, Span, Span]] = []
    if place.number != counter.sink_run:
        pieces.append((f"backsplash of run {place.number}", (0.0, run.length_in), (0.0, thick_in)))
    for side in ends_at_wall(counter.runs, place.number):
        along = (0.0, thick_in) if side == "left" else (run.length_in - thick_in, run.length_in)
        pieces.append((f"side splash of run {place.number} {side}", along, (thick_in, run.depth_in)))
    for name, along, forward in pieces:
        block = _block(job, place, along, forward, up)
        if not block.empty:
            fields = (*_FIXED, "counter.splash_thickness", "counter.splash_height")
            yield Body(name, "side splash", (block,), Stage.BUILT, stands_on=(on,), fields=fields)


def _block(job: FilledJob, place: RunPlace, along: Span, forward: Span, z: Span) -> Block:
    """A block by its spans along a run and forward from its wall, in the axes of the model: x from the left end of the sink's run, y from its wall."""
    left_in = job.cabinet.width_in / 2.0 - job.counter.sink_center_in
    start_x, start_y = place_runs(job.counter)[job.counter.sink_run - 1].origin
    (ax, ay), (bx, by) = place.at(along[0], forward[0]), place.at(along[1], forward[1])
    x, y = sorted((ax - start_x, bx - start_x)), sorted((start_y - ay, start_y - by))
    return Block((left_in + x[0], left_in + x[1]), (y[0], y[1]), z)
