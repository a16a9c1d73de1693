"""Where are wall and floor? x along the wall from the sink base's left outside, y from the finished wall into the room, z up from the floor."""

from kit.job import FilledJob
from kit.solids import Block, Body

__all__ = ["GROUND", "SUBFLOOR", "WALL", "place_room"]

WALL, SUBFLOOR = "wall", "subfloor"
GROUND = (SUBFLOOR,)
"""Where every load must arrive."""

_AROUND_IN, _THICK_IN, _HIGH_IN = 240.0, 6.0, 120.0  # past everything that a job may place


def place_room(job: FilledJob) -> tuple[Body, ...]:
    """The finished wall behind the run and the floor below it."""
    along = (-_AROUND_IN, job.cabinet.width_in + _AROUND_IN)
    wall = Block(along, (-_THICK_IN, 0.0), (0.0, _HIGH_IN))
    floor = Block(along, (-_THICK_IN, _AROUND_IN), (-_THICK_IN, 0.0))
    return Body(WALL, "wall", (wall,), stands_on=(SUBFLOOR,)), Body(SUBFLOOR, "floor", (floor,))
