"""Which way does the waste of a further bowl go, seen from above: from the trap's inlet, or from the outlet before it, to its own outlet?

Straight along the wall; behind a disposer that hangs between, with an elbow at each turn (from memory). Its set spans what is usual; a tube
next to the trap makes up what is left.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from kit.design.arm_way import ArmWay, Spot, along_line, order_outlets
from kit.design.place_sink import SinkPlace
from kit.job import FilledJob
from kit.sources import value

__all__ = ["WasteWay", "longest_run_in", "route_wastes"]


@dataclass(frozen=True, slots=True)
class WasteWay:
    """One continuous waste in plan [in]: its points from the trap on. `goes_on` where it begins at another outlet, whose waste carries it further."""

    points: tuple[Spot, ...]
    goes_on: bool = False

    @property
    def length_in(self) -> float:
        """Along the tube, from middle to middle of what it joins [in]."""
        return math.fsum(math.dist(one, other) for one, other in pairwise(self.points))

    @property
    def turns(self) -> int:
        """Elbows between its ends."""
        return len(self.points) - 2

    @property
    def beyond_set_in(self) -> float:
        """What its set doesn't reach [in], to a millionth: less is the noise of floats."""
        return max(round(self.length_in - value("practice", "drain/kit-reach"), 6), 0.0)

    def legs(self, from_in: float, to_in: float) -> Iterator[tuple[Spot, Spot]]:
        """The straight parts of its way between two lengths along it [in]."""
        start_in = 0.0
        for one, other in pairwise(self.points):
            long_in = math.dist(one, other)
            low_in, high_in = max(from_in - start_in, 0.0), min(to_in - start_in, long_in)
            if high_in > low_in:
                yield along_line(one, other, low_in / long_in), along_line(one, other, high_in / long_in)
            start_in += long_in


def route_wastes(job: FilledJob, at: SinkPlace, way: ArmWay) -> tuple[WasteWay, ...]:
    """One for each outlet but that over the trap, in the order of `order_outlets`."""
    (first, _), *others = order_outlets(job, at)
    ways: dict[Spot, WasteWay] = {}
    place = at.outlets.index(first)
    for beside in (reversed(at.outlets[:place]), at.outlets[place + 1 :]):
        start = way.inlet
        for outlet in beside:
            ways[outlet] = WasteWay(_around(job, first, start, outlet) if start == way.inlet else (start, outlet), start != way.inlet)
            start = outlet
    return tuple(ways[spot] for spot, _ in others)


def _around(job: FilledJob, first: Spot, inlet: Spot, outlet: Spot) -> tuple[Spot, ...]:
    """From the trap's inlet to an outlet: straight, or behind the disposer below the first outlet where that hangs between the two."""
    if (inlet[0] - first[0]) * (outlet[0] - first[0]) >= 0.0:
        return inlet, outlet
    tube_in, air_in = value("practice", "drain/tailpiece") / 2.0, value("practice", "frame/outlet-air")
    behind_in = first[1] - job.plumbing.disposer_diameter_in / 2.0 - tube_in - air_in
    return inlet, (inlet[0], behind_in), (outlet[0], behind_in), outlet


def longest_run_in(wastes: Sequence[WasteWay]) -> float:
    """The longest way of a waste to the trap, through the outlets on it [in]; 0 with one bowl."""
    runs_in: dict[Spot, float] = {}
    for waste in sorted(wastes, key=lambda one: one.goes_on):
        runs_in[waste.points[-1]] = waste.length_in + (runs_in[waste.points[0]] if waste.goes_on else 0.0)
    return max(runs_in.values(), default=0.0)
