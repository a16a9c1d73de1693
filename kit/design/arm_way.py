"""Which way does the waste go, seen from above: the outlet over the trap, the trap's bend, and the legs of the arm to the stub?

A drain that leaves through the floor has no stub in the wall: its arm goes straight to the inlet of the tee on the pipe that stands up.
The bend of a trap swings about its inlet and about its outlet: it takes up a side offset as long as itself, and the arm goes straight to the
stub. What is left beyond that, and what a disposer leaves no room for, is a leg to the side. From memory; the licensed trade decides.
"""

import math
from dataclasses import dataclass
from itertools import pairwise

from kit.design.place_sink import SinkPlace
from kit.job import FilledJob
from kit.sources import value
from kit.sources.sizes import table_size

__all__ = ["ArmWay", "Spot", "along_line", "elbow_takes_in", "order_outlets", "pipe_outside_in", "route_arm", "route_to_pipe", "stub_end_in", "stub_x_in"]

Spot = tuple[float, float]


@dataclass(frozen=True, slots=True)
class ArmWay:
    """The way in plan [in]: middle of the trap's inlet and of its outlet, and the points of the arm from the wall's face, or the middle of the pipe, to it."""

    inlet: Spot
    outlet: Spot
    points: tuple[Spot, ...]

    @property
    def legs_in(self) -> tuple[float, ...]:
        """Length of each leg, from the wall or the pipe on [in]."""
        return tuple(math.dist(one, other) for one, other in pairwise(self.points))

    @property
    def length_in(self) -> float:
        """From the weir to the face of the wall, or to the middle of the pipe in the floor, along the arm [in]."""
        return math.fsum(self.legs_in)


def stub_x_in(job: FilledJob) -> float:
    """Middle of the stub, or of the pipe in the floor, along the wall [in]."""
    pipe = job.plumbing.floor_pipe_at_in
    if pipe is not None:
        return pipe[0]
    return job.cabinet.width_in / 2.0 + job.plumbing.stub_offset_in


def stub_end_in(way: ArmWay) -> float:
    """How far a stub stands out of the wall, or an inlet from the middle of its pipe [in]: as usual, shorter where the arm turns or the trap begins before."""
    return min(value("practice", "drain/stub-beyond"), way.legs_in[0] / 2.0)


def pipe_outside_in(job: FilledJob) -> float:
    """Outside of trap and arm [in]."""
    return value("pipes", f"pvc-40/{table_size(job.plumbing.drain_size)}/outside")


def elbow_takes_in(size: str) -> float:
    """From the middle of a 90 degree elbow to its mouth, at the least [in]: half of the pipe that crosses there, and the depth of a socket."""
    return value("pipes", f"pvc-40/{table_size(size)}/outside") / 2.0 + value("practice", f"drain/socket/{table_size(size)}")


def order_outlets(job: FilledJob, at: SinkPlace) -> list[tuple[Spot, float]]:
    """Each outlet and how much less deep its bowl is than the deepest [in]: the one over the trap first, then by distance from the stub.

    A disposer hangs below the deepest bowl, the trap below the outlet nearest to the stub.
    """
    deepest_in, stub_x = job.sink.deepest_in, stub_x_in(job)
    outlets = [(outlet, deepest_in - bowl.depth_in) for outlet, bowl in zip(at.outlets, job.sink.bowls, strict=True)]
    has_disposer = job.plumbing.disposer != "none"
    return sorted(outlets, key=lambda one: (one[1] if has_disposer else 0.0, abs(one[0][0] - stub_x)))


def route_arm(job: FilledJob, outlet: Spot, beside_in: float = 0.0) -> ArmWay:
    """The way from an outlet to the stub; `beside_in` is the radius of a disposer below it: the trap stands beside that, on the side of the stub."""
    stub_x, radius_in, run_in = stub_x_in(job), pipe_outside_in(job) / 2.0, value("practice", "drain/trap-run")
    x, y = outlet
    side = 1.0 if stub_x >= x else -1.0
    if beside_in:
        x += (beside_in + radius_in + value("practice", "frame/outlet-air")) * side
    bend = _swing((x, y), stub_x, run_in, radius_in)
    if beside_in and _distance(outlet, (x, y), bend) < beside_in + radius_in:
        bend = _swing((x, y), x + side * 1e-9, run_in, radius_in)  # straight to the wall, away from the disposer where that is too near
        turn_y = max(radius_in, min(bend[1] - elbow_takes_in(job.plumbing.drain_size), y - beside_in - radius_in))
        return _join((x, y), (bend[0], max(bend[1], turn_y)), stub_x, turn_y)
    return _join((x, y), bend, stub_x, bend[1])


def route_to_pipe(job: FilledJob, outlet: Spot, pipe: Spot, beside_in: float = 0.0) -> ArmWay | None:
    """The way from an outlet straight to a pipe in the floor, `beside_in` as for `route_arm`; None where the bend of the trap reaches the pipe.

    The trap swings about its inlet until it looks at the pipe, and the tee's inlet looks at the trap (from memory).
    """
    start_in = beside_in + pipe_outside_in(job) / 2.0 + value("practice", "frame/outlet-air") if beside_in else 0.0
    apart_in, end_in = math.dist(outlet, pipe), start_in + value("practice", "drain/trap-run")
    if apart_in <= end_in:
        return None
    end = along_line(outlet, pipe, end_in / apart_in)
    return ArmWay(along_line(outlet, pipe, start_in / apart_in), end, (pipe, end))


def along_line(start: Spot, end: Spot, share: float) -> Spot:
    """The place at a share of the way from one place to another."""
    return start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])


def _swing(inlet: Spot, stub_x: float, run_in: float, radius_in: float) -> Spot:
    """Where a bend ends that is swung until it is in line with the stub; along the wall, as far as it must, where that is too near."""
    (x, y), aside_in = inlet, abs(stub_x - inlet[0])
    deep_in = math.sqrt(run_in**2 - min(aside_in, run_in) ** 2)
    if y - deep_in < 2.0 * radius_in:
        deep_in = max(0.0, min(run_in, y - 2.0 * radius_in))
    return x + math.copysign(math.sqrt(run_in**2 - deep_in**2), stub_x - x), max(y - deep_in, radius_in)


def _distance(spot: Spot, start: Spot, end: Spot) -> float:
    """From a spot to the nearest point between two others [in]."""
    along = [high - low for low, high in zip(start, end, strict=True)]
    share = sum((at - low) * step for at, low, step in zip(spot, start, along, strict=True)) / sum(step * step for step in along)
    share = min(1.0, max(0.0, share))
    return math.dist(spot, [low + share * step for low, step in zip(start, along, strict=True)])


def _join(inlet: Spot, outlet: Spot, stub_x: float, turn_y: float) -> ArmWay:
    """The points from the wall: straight where a slip joint or a bent stub takes up what is left aside, else over to the trap's outlet at `turn_y`."""
    x, y = outlet
    if abs(stub_x - x) <= value("practice", "drain/turn-from"):
        return ArmWay(inlet, outlet, ((stub_x, 0.0), (stub_x, y)))
    way = ((stub_x, 0.0), (stub_x, turn_y), (x, turn_y), outlet)
    return ArmWay(inlet, outlet, (way[0], *(point for before, point in pairwise(way) if math.dist(before, point) > 1e-6)))
