"""Where does the pipe of a drain that leaves through the floor stand up below the sink, with the inlet and the vent of its tee?"""

from collections.abc import Iterator

from kit.design.arm_way import along_line, pipe_outside_in, stub_end_in
from kit.design.drain import DrainRoute
from kit.design.place_room import SUBFLOOR
from kit.job import FilledJob
from kit.shapes import Rod
from kit.solids import Body
from kit.spans import TOUCH_IN

__all__ = ["FLOOR_PIPE", "FLOOR_VENT", "INLET_FIELDS", "VENT_IN_WALL", "place_floor_pipe"]

FLOOR_PIPE, FLOOR_VENT, VENT_IN_WALL = "drain pipe in the floor", "vent of the drain in the floor", "vent into the wall"
_AT = ("plumbing.floor_pipe_from_left", "plumbing.floor_pipe_from_wall")
INLET_FIELDS = (*_AT, "plumbing.floor_inlet")


def place_floor_pipe(job: FilledJob, drain: DrainRoute) -> Iterator[Body]:
    """From the kitchen floor up: to the middle of its tee where a vent was seen, else to its top; none where nobody measured where it stands.

    The inlet of the tee, to which the arm comes, is there where the arm is designed. The vent goes up from the tee and straight into the wall at the height
    that was measured; it has no place where nobody measured that.
    """
    plumbing = job.plumbing
    at, radius_in = plumbing.floor_pipe_at_in, pipe_outside_in(job) / 2.0
    vented_in = plumbing.vented_inlet_in
    top_in = plumbing.floor_pipe_top_in if vented_in is None else vented_in
    if at is None or top_in <= TOUCH_IN:
        return
    fields = (*_AT, "plumbing.floor_pipe_top") if vented_in is None else INLET_FIELDS
    yield Body(FLOOR_PIPE, "stub", (Rod((*at, 0.0), (*at, top_in), radius_in),), stands_on=(SUBFLOOR,), fields=fields)
    if vented_in is None:
        return
    if not drain.not_designed:
        end = along_line(at, drain.way.points[1], stub_end_in(drain.way) / drain.way.legs_in[0])
        yield Body("stub", "stub", (Rod((*at, top_in), (*end, top_in), radius_in),), stands_on=(FLOOR_PIPE,), fields=fields)
    yield from _vent(job, at, top_in, radius_in)


def _vent(job: FilledJob, at: tuple[float, float], from_in: float, radius_in: float) -> Iterator[Body]:
    """Up from the tee to below its elbow, and from there into the wall: two bodies, so that each goes through its own hole."""
    (x, y), high_in = at, job.plumbing.floor_vent_in
    if high_in is None or high_in <= from_in:
        return
    fields, elbow_in = (*INLET_FIELDS, "plumbing.floor_vent"), high_in - radius_in
    if elbow_in > from_in:
        yield Body(FLOOR_VENT, "stub", (Rod((x, y, from_in), (x, y, elbow_in), radius_in),), stands_on=(FLOOR_PIPE,), fields=fields)
    if y > TOUCH_IN:
        yield Body(VENT_IN_WALL, "stub", (Rod((x, 0.0, high_in), (x, y + radius_in, high_in), radius_in),), stands_on=("wall",), fields=fields)
