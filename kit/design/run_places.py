"""Where does each run of counter lie, seen from above? Runs that meet at a corner turn by a right angle; others stand apart."""

from dataclasses import dataclass
from typing import Literal, Never

from kit.design.edges import meet_at
from kit.job.counter import Counter, Run

__all__ = ["Point", "RunPlace", "joined_runs", "place_runs"]

Point = tuple[float, float]
APART_IN = 14.0


@dataclass(frozen=True, slots=True)
class RunPlace:
    """One run in the plan [in]: its back left end, and the way along it from left to right (whoever stands before it, facing its wall).

    The plan's x runs to the right, y up; the run of the sink lies along x with its wall at the top.
    """

    number: int
    run: Run[Never]
    origin: Point
    along: tuple[int, int]

    def at(self, along_in: float, forward_in: float) -> Point:
        """The point so far along the run from its left end, and so far forward from its wall [in]."""
        (x, y), (dx, dy) = self.origin, self.along
        return x + dx * along_in + dy * forward_in, y + dy * along_in - dx * forward_in

    @property
    def corners(self) -> tuple[Point, ...]:
        """Its four corners."""
        length, deep = self.run.length_in, self.run.depth_in
        return self.at(0.0, 0.0), self.at(length, 0.0), self.at(length, deep), self.at(0.0, deep)

    @property
    def lies_across(self) -> bool:
        """Whether it runs left to right on the sheet."""
        return self.along[1] == 0

    @property
    def faces_left(self) -> bool:
        """Whether its front looks to the left of the sheet: the return run at the right of an L."""
        return self.along[1] < 0

    def side_of(self, way: float) -> Literal["left", "right"]:
        """The side of the sheet on which its left (-1) or right (1) end lies."""
        return "left" if self.along[0] * way < 0 or (self.along[0] == 0 and not self.faces_left) else "right"

    def joint_with(self, before: "RunPlace") -> tuple[Point, Point] | None:
        """The line on which it meets the run before it, None when they stand apart."""
        side = meet_at(before.run, self.run)
        if side is None:
            return None
        end = 0.0 if side == "right" else self.run.length_in
        return self.at(end, 0.0), self.at(end, self.run.depth_in)


def place_runs(counter: Counter[Never]) -> tuple[RunPlace, ...]:
    """Place all runs, turned so that the run of the sink lies across the sheet with its wall at the top.

    Notes
    -----
    Runs are listed in the order in which one walks along the walls. Where the right end of a run and the left end of the
    next say corner, the next one begins at the front edge of the one before and runs towards whoever stands before it (and
    the other way round, to the left). The corner's square belongs to the earlier run.
    """
    places = [RunPlace(1, counter.runs[0], (0.0, 0.0), (1, 0))]
    for number, run in enumerate(counter.runs[1:], 2):
        places.append(_next_to(places, number, run))
    while places[counter.sink_run - 1].along != (1, 0):
        places = [RunPlace(place.number, place.run, (place.origin[1], -place.origin[0]), (place.along[1], -place.along[0])) for place in places]
    return tuple(places)


def joined_runs(counter: Counter[Never]) -> tuple[int, ...]:
    """The numbers of the runs that meet that of the sink round one corner or more, itself left out: only they have a place beside it."""
    runs, first, last = counter.runs, counter.sink_run - 1, counter.sink_run - 1
    while first > 0 and meet_at(runs[first - 1], runs[first]):
        first -= 1
    while last + 1 < len(runs) and meet_at(runs[last], runs[last + 1]):
        last += 1
    return tuple(number for number in range(first + 1, last + 2) if number != counter.sink_run)


def _next_to(places: list[RunPlace], number: int, run: Run[Never]) -> RunPlace:
    before = places[-1]
    dx, dy = before.along
    side = meet_at(before.run, run)
    if side == "right":
        along = (dy, -dx)  # a quarter turn to the right: the wall goes on round the corner
        return RunPlace(number, run, before.at(before.run.length_in, before.run.depth_in), along)
    if side == "left":
        along = (-dy, dx)
        start = before.at(0.0, before.run.depth_in)
        return RunPlace(number, run, (start[0] - along[0] * run.length_in, start[1] - along[1] * run.length_in), along)
    lowest = min(y for place in places for _, y in place.corners)
    return RunPlace(number, run, (before.origin[0], lowest - APART_IN), (1, 0))
