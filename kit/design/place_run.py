"""Where are the other boxes of the sink's run, and which of them are dishwashers?"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal, Never

from kit.design.place_room import SUBFLOOR
from kit.job import FilledJob
from kit.job.cabinet import Cabinet
from kit.shapes import Block
from kit.solids import Body
from kit.sources import value
from kit.spans import Span
from kit.units import exceeds

__all__ = ["OtherBox", "dishwasher_places", "is_beside", "locate_boxes", "place_other_boxes"]

Side = Literal["left", "right"]
_SIDES: tuple[Side, ...] = ("left", "right")


@dataclass(frozen=True, slots=True)
class OtherBox:
    """A box of the run: what it is, the side of the sink base, its number from there, and its span along the wall [in]."""

    kind: str
    side: Side
    number: int
    x: Span


def locate_boxes(cabinet: Cabinet[Never]) -> tuple[OtherBox, ...]:
    """The boxes as listed, one beside the other from the sink base outward."""
    boxes = []
    for side in _SIDES:
        at_in, way = (0.0, -1.0) if side == "left" else (cabinet.width_in, 1.0)
        for number, box in enumerate([box for box in cabinet.boxes if box.side == side], 1):
            end_in = at_in + way * box.width_in
            boxes.append(OtherBox(box.kind, side, number, (min(at_in, end_in), max(at_in, end_in))))
            at_in = end_in
    return tuple(boxes)


def dishwasher_places(cabinet: Cabinet[Never]) -> tuple[Span, ...]:
    """Each dishwasher along the wall, from the sink base's left outside [in]: as listed, else beside the base and of the usual width."""
    boxes = locate_boxes(cabinet)
    places = [box.x for box in boxes if box.kind == "dishwasher"]
    wide_in, sides = value("practice", "counter/dishwasher"), {box.side for box in boxes}
    if cabinet.left.kind == "dishwasher" and "left" not in sides:
        places.append((-wide_in, 0.0))
    if cabinet.right.kind == "dishwasher" and "right" not in sides:
        places.append((cabinet.width_in, cabinet.width_in + wide_in))
    return tuple(places)


def is_beside(cabinet: Cabinet[Never], side: str) -> bool:
    """Whether what stands on that side begins at the base: no box is listed there that comes before it."""
    first = next((box for box in cabinet.boxes if box.side == side), None)
    return first is None or first.kind == "dishwasher"


def place_other_boxes(job: FilledJob, tops: Sequence[tuple[float, float]]) -> Iterator[Body]:
    """Each box as one block from the wall to the face; a filler is a board at the face. A space without a box and a dishwasher beside the base are none.

    `tops` are supports along the wall and how high boxes that stay fixed are there [in]: a box ends at the lowest that it reaches.
    """
    cabinet = job.cabinet
    for box in locate_boxes(cabinet):
        if box.kind == "open" or (box.kind == "dishwasher" and box.number == 1):
            continue
        rear_in = cabinet.depth_in - value("practice", "frame/face-frame") if box.kind == "filler" else 0.0
        top_in = min([cabinet.height_in, *(top_in for at_in, top_in in tops if not (exceeds(box.x[0], at_in) or exceeds(at_in, box.x[1])))])
        block = Block(box.x, (rear_in, cabinet.depth_in), (cabinet.toe_height_in, top_in))
        if not block.empty:
            yield Body(
                f"{box.kind} box {box.number} on the {box.side}", "run boxes", (block,), stands_on=(SUBFLOOR,), fields=("cabinet.boxes", "cabinet.width")
            )
