"""Everything of one job in its place: the bodies of the room, the base, the sink, the counter, the drain and the frame."""

from dataclasses import dataclass

from kit.design.carrying import Carrying, choose_carrying
from kit.design.doors import DoorPlan
from kit.design.drain_levels import DrainLevels
from kit.design.frame_parts import SHIMS, FramePlace
from kit.design.front import FrontCut
from kit.design.levels import Levels
from kit.design.load import Load
from kit.design.place_boxes import place_boxes
from kit.design.place_counter import DeckHole, Opening, locate_holes, locate_opening, place_box_packers, place_counter, place_sub_top
from kit.design.place_drain import place_drain, place_taps
from kit.design.place_frame import place_frame
from kit.design.place_room import place_room
from kit.design.place_sink import SinkPlace, locate_sink, place_sink
from kit.job import FilledJob
from kit.solids import Model

__all__ = ["Placed", "place_all"]


@dataclass(frozen=True, slots=True)
class Placed:
    """The model, and what its rooms hand to each other.

    Where the sink is, its opening, what carries it and where that stands (None where counter or clips do alone), the holes of the counter.
    """

    model: Model
    sink: SinkPlace
    opening: Opening
    carrying: Carrying
    frame: FramePlace | None
    holes: tuple[DeckHole, ...] = ()


def place_all(job: FilledJob, levels: Levels, cut: FrontCut | None, doors: DoorPlan | None, drain: DrainLevels, load: Load) -> Placed:
    """Place what stands in one order: room, base, sink, counter, drain, frame; each gets what stands already."""
    at = locate_sink(job, levels)
    opening, holes = locate_opening(job, levels, at), locate_holes(job)
    pipes = tuple(place_drain(job, at, drain))
    through_the_back = [pipe for pipe in pipes if pipe.part == "arm"]
    around = (*place_boxes(job, cut, doors, through_the_back), *pipes, *place_taps(job, levels))
    carrying = choose_carrying(job, levels, load, at, opening)
    frame = place_frame(job, at, cut, carrying, load, around)
    carries = ("counter",) if frame is None else frame.carries
    members = () if frame is None else frame.bodies
    tops = (*place_sub_top(job, levels, at, opening, holes, members), *place_counter(job, levels, opening, holes), *place_box_packers(job, levels))
    room = place_room(job, [body for body in members if body.name.startswith(SHIMS)])
    bodies = (*room, *around, *place_sink(at, carries), *tops, *members)
    return Placed(Model(bodies), at, opening, carrying, frame, holes)
