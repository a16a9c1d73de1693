"""Where does the pipe of a drain that leaves through the floor stand up below the sink?"""

from collections.abc import Iterator

from kit.design.arm_way import pipe_outside_in
from kit.design.place_room import SUBFLOOR
from kit.job import FilledJob
from kit.solids import TOUCH_IN, Body, Rod

__all__ = ["FLOOR_PIPE", "place_floor_pipe"]

FLOOR_PIPE = "drain pipe in the floor"


def place_floor_pipe(job: FilledJob) -> Iterator[Body]:
    """From the kitchen floor to its top, as found; none where nobody measured where it stands. What a plumber makes of it has no place here."""
    plumbing = job.plumbing
    x, y, top_in = plumbing.floor_pipe_from_left_in, plumbing.floor_pipe_from_wall_in, plumbing.floor_pipe_top_in
    if plumbing.drain_leaves == "floor" and x is not None and y is not None and top_in > TOUCH_IN:
        rod = Rod((x, y, 0.0), (x, y, top_in), pipe_outside_in(job) / 2.0)
        fields = ("plumbing.floor_pipe_from_left", "plumbing.floor_pipe_from_wall", "plumbing.floor_pipe_top")
        yield Body(FLOOR_PIPE, "stub", (rod,), stands_on=(SUBFLOOR,), fields=fields)
