"""Where are wall and floor? x along the wall from the sink base's left outside, y from the finished wall into the room, z up from the floor."""

from collections.abc import Iterable, Iterator, Sequence

from kit.job import FilledJob
from kit.shapes import Block, carve
from kit.solids import Body
from kit.sources import value

__all__ = ["GROUND", "SUBFLOOR", "WALL", "place_room", "place_stud"]

WALL, SUBFLOOR = "wall", "subfloor"
GROUND = (SUBFLOOR,)
"""Where every load must arrive."""

_AROUND_IN, _THICK_IN, _HIGH_IN = 240.0, 6.0, 120.0  # past everything that a job may place


def place_room(job: FilledJob, in_the_wall: Iterable[Body] = (), low: Sequence[Body] = ()) -> tuple[Body, ...]:
    """The finished wall behind the run and the floor below it.

    The wall is hollow where a pipe runs or a known stud stands in it, the floor as low as it is below each body that fills what it has fallen there.
    """
    along = (-_AROUND_IN, job.cabinet.width_in + _AROUND_IN)
    wall: tuple[Block, ...] = (Block(along, (-_THICK_IN, 0.0), (0.0, _HIGH_IN)),)
    floor: tuple[Block, ...] = (Block(along, (-_THICK_IN, _AROUND_IN), (-_THICK_IN, 0.0)),)
    for pipe in in_the_wall:
        wall = carve(wall, Block(pipe.span("x"), pipe.span("y"), pipe.span("z")))
    for body in low:
        floor = carve(floor, Block(body.span("x"), body.span("y"), body.span("z")))
    return Body(WALL, "wall", wall, stands_on=(SUBFLOOR,)), Body(SUBFLOOR, "floor", floor)


def place_stud(job: FilledJob) -> Iterator[Body]:
    """The stud nearest to the drain, where somebody found it."""
    off_in, half_in, board_in = job.plumbing.stud_offset_in, value("lumber", "2x4/thickness") / 2.0, value("site_work", "wall-board/thickness")
    if off_in is None:
        return
    middle_in = job.cabinet.width_in / 2.0 + off_in
    block = Block(
        (middle_in - half_in, middle_in + half_in), (-board_in - job.plumbing.stud_depth_in, -board_in), (0.0, value("practice", "drain/riser-shown"))
    )
    yield Body("stud", "stud", (block,), stands_on=(SUBFLOOR,), fields=("plumbing.stud_offset", "plumbing.stud_depth"))
