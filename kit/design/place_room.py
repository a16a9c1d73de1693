"""Where are wall and floor? x along the wall from the sink base's left outside, y from the finished wall into the room, z up from the floor."""

from collections.abc import Iterable, Sequence

from kit.job import FilledJob
from kit.solids import Block, Body, carve

__all__ = ["GROUND", "SUBFLOOR", "WALL", "place_room"]

WALL, SUBFLOOR = "wall", "subfloor"
GROUND = (SUBFLOOR,)
"""Where every load must arrive."""

_AROUND_IN, _THICK_IN, _HIGH_IN = 240.0, 6.0, 120.0  # past everything that a job may place


def place_room(job: FilledJob, in_the_wall: Iterable[Body] = (), low: Sequence[Body] = ()) -> tuple[Body, ...]:
    """The finished wall behind the run and the floor below it.

    The wall is hollow where a pipe runs in it, the floor as low as it is below each body that fills what it has fallen there.
    """
    along = (-_AROUND_IN, job.cabinet.width_in + _AROUND_IN)
    wall: tuple[Block, ...] = (Block(along, (-_THICK_IN, 0.0), (0.0, _HIGH_IN)),)
    floor: tuple[Block, ...] = (Block(along, (-_THICK_IN, _AROUND_IN), (-_THICK_IN, 0.0)),)
    for pipe in in_the_wall:
        wall = carve(wall, Block(pipe.span("x"), pipe.span("y"), pipe.span("z")))
    for body in low:
        floor = carve(floor, Block(body.span("x"), body.span("y"), body.span("z")))
    return Body(WALL, "wall", wall, stands_on=(SUBFLOOR,)), Body(SUBFLOOR, "floor", floor)
