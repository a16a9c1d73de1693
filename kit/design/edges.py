"""Which sides of the counter's runs are front edges, open ends or walls, around inside corners too?"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal, Never

from kit.job.counter import Counter, Run
from kit.spans import Span

__all__ = ["Edge", "Joint", "corner_joints", "end_edges", "ends_at_wall", "front_edges", "meet_at", "wall_edges"]

Side = Literal["left", "right"]


@dataclass(frozen=True, slots=True)
class Joint:
    """An inside corner of two runs, by their numbers: the later one begins at the front edge of the earlier, whose end at `side` lies at the wall.

    `across_in` is the depth of the later run: so much of the earlier one's front is no edge, and so long is the seam [in].
    """

    earlier: int
    later: int
    side: Side
    across_in: float


@dataclass(frozen=True, slots=True)
class Edge:
    """One straight edge of a run: its name for cut lists, what kind of edge a sum calls it, its length [in]."""

    name: str
    kind: str
    length_in: float


def meet_at(earlier: Run[Never], later: Run[Never]) -> Side | None:
    """The end of the earlier run at which two runs that follow each other meet in a corner; None where they stand apart."""
    if earlier.right_end == "corner" and later.left_end == "corner":
        return "right"
    if earlier.left_end == "corner" and later.right_end == "corner":
        return "left"
    return None


def corner_joints(runs: Sequence[Run[Never]]) -> tuple[Joint, ...]:
    """Each corner in which a run meets the next one along the walls."""
    met = [(number, later, meet_at(earlier, later)) for number, (earlier, later) in enumerate(pairwise(runs), 1)]
    return tuple(Joint(number, number + 1, side, later.depth_in) for number, later, side in met if side is not None)


def front_edges(counter: Counter[Never], open_x: Span | None = None) -> Iterator[Edge]:
    """The front edges in sight: without what a return run covers, and in two where the front of the sink's run is open for an apron.

    `open_x` is that opening, from the left end of the sink's run [in].
    """
    joints = corner_joints(counter.runs)
    for number, run in enumerate(counter.runs, 1):
        covered = {joint.side: joint.across_in for joint in joints if joint.earlier == number}
        start_in, end_in = run.own_span_in
        start_in, end_in = max(start_in, covered.get("left", 0.0)), min(end_in, run.length_in - covered.get("right", 0.0))
        stretches = [("", start_in, end_in)]
        if open_x is not None and number == counter.sink_run:
            stretches = [(" left", start_in, min(open_x[0], end_in)), (" right", max(open_x[1], start_in), end_in)]
        yield from (Edge(f"front strip {number}{side}", "in of front edge", high - low) for side, low, high in stretches if high > low)


def end_edges(runs: Sequence[Run[Never]]) -> Iterator[Edge]:
    """The open ends."""
    for number, run in enumerate(runs, 1):
        for side, end in (("left", run.left_end), ("right", run.right_end)):
            if end == "open":
                yield Edge(f"end strip {number} {side}", "in of open end", run.depth_in)


def wall_edges(runs: Sequence[Run[Never]]) -> Iterator[Edge]:
    """The walls behind the runs, at their ends, and at the corner's square of the earlier run: behind it the wall of the return run goes on."""
    for number, run in enumerate(runs, 1):
        yield Edge(f"backsplash {number}", "in", run.length_in)
        for side in ends_at_wall(runs, number):
            yield Edge(f"side splash {number} {side}", "in at a wall end", run.depth_in)


def ends_at_wall(runs: Sequence[Run[Never]], number: int) -> tuple[Side, ...]:
    """The ends of a run that lie at a wall, those in a corner that it fills included."""
    run, corners = runs[number - 1], {joint.side for joint in corner_joints(runs) if joint.earlier == number}
    ends: tuple[tuple[Side, str], ...] = (("left", run.left_end), ("right", run.right_end))
    return tuple(side for side, end in ends if end == "wall" or side in corners)
