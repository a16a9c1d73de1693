"""Where are wall and floor? x along the wall from the sink base's left outside, y from the finished wall into the room, z up from the floor."""

from collections.abc import Sequence

from kit.job import FilledJob
from kit.solids import Block, Body, carve

__all__ = ["GROUND", "SUBFLOOR", "WALL", "place_room"]

WALL, SUBFLOOR = "wall", "subfloor"
GROUND = (SUBFLOOR,)
"""Where every load must arrive."""

_AROUND_IN, _THICK_IN, _HIGH_IN = 240.0, 6.0, 120.0  # past everything that a job may place


def place_room(job: FilledJob, low: Sequence[Body] = ()) -> tuple[Body, ...]:
    """The finished wall behind the run and the floor below it, as low as it is below each body that fills what the floor has fallen there."""
    along = (-_AROUND_IN, job.cabinet.width_in + _AROUND_IN)
    wall = Block(along, (-_THICK_IN, 0.0), (0.0, _HIGH_IN))
    floor: tuple[Block, ...] = (Block(along, (-_THICK_IN, _AROUND_IN), (-_THICK_IN, 0.0)),)
    for body in low:
        floor = carve(floor, Block(body.span("x"), body.span("y"), body.span("z")))
    return Body(WALL, "wall", (wall,), stands_on=(SUBFLOOR,)), Body(SUBFLOOR, "floor", floor)
