"""How a counter made by us is held: rows of fasteners, slotted across the grain where wood must move."""

from dataclasses import dataclass

from kit.design.wood_movement import Movement, slot_length
from kit.job import FilledJob
from kit.sources import value
from kit.units import count_parts

__all__ = ["FastenerRow", "design_fasteners"]


@dataclass(frozen=True, slots=True)
class FastenerRow:
    """One row along all runs: its distance from the counter's front edge, its fasteners, and the length of their slots [in].

    `slot_in` is 0 where the fastener holds the counter in place.
    """

    name: str
    from_front_in: float
    count: int
    slot_in: float


def design_fasteners(job: FilledJob, movement: Movement | None) -> tuple[FastenerRow, ...]:
    """A front row that stays put and a rear row, through the rails of the boxes; the rear one slotted under wood.

    Notes
    -----
    Nothing is glued down. The front row is the fixed one, so that the reveal and the overhang hold and all movement goes
    to the wall. Spacing and inset: common practice, no source.
    """
    counter = job.counter
    if counter.made_by != "us":
        return ()
    inset_in, spacing_in = value("practice", "counter/fastener-inset"), value("practice", "counter/fastener-spacing")
    depth_in = counter.run_of_sink.depth_in
    front_in = min(counter.overhang_in + inset_in, depth_in)
    rear_in = min(max(counter.overhang_in + job.cabinet.depth_in - inset_in, front_in), depth_in)
    count = sum(count_parts(run.own_length_in, spacing_in) + 1 for run in counter.runs)
    slot_in = 0.0 if movement is None else slot_length(movement.design_in, rear_in - front_in, depth_in, value("practice", "wood/shank"))
    return (FastenerRow("front row", front_in, count, 0.0), FastenerRow("rear row", rear_in, count, slot_in))
