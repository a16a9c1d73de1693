"""Everything of one job in its place: the bodies of the room, the base, the sink, the counter, the drain and the frame."""

from dataclasses import dataclass

from kit.design.carrying import Carrying, choose_carrying
from kit.design.doors import DoorPlan
from kit.design.drain import DrainRoute
from kit.design.frame_load import Load
from kit.design.frame_parts import POST_PACKER, SHIMS, FramePlace
from kit.design.front import FrontCut
from kit.design.levels import Levels
from kit.design.place_boxes import place_boxes
from kit.design.place_clips import place_clips
from kit.design.place_counter import Opening, locate_opening, place_box_packers, place_counter, place_sub_top
from kit.design.place_drain import place_drain, place_old_drain, place_wall_pipes
from kit.design.place_fillers import place_fillers
from kit.design.place_floor_pipe import place_floor_pipe
from kit.design.place_frame import place_frame
from kit.design.place_holes import DeckHole, locate_holes
from kit.design.place_level import RUN_PACKER, low_tops, place_lean_packers, place_run_packers
from kit.design.place_old import place_old
from kit.design.place_platform import CORNER_SHIMS
from kit.design.place_repairs import locate_back_opening, place_back_patch, place_side_doublers
from kit.design.place_returns import place_returns
from kit.design.place_room import place_room, place_stud
from kit.design.place_rooms import place_rooms
from kit.design.place_run import place_other_boxes
from kit.design.place_sink import SinkPlace, locate_sink, place_sink
from kit.design.place_stored import place_dishwashers, place_stored
from kit.design.place_supply import place_supply_stubs, place_taps, place_valves
from kit.design.shims import Shims, leaning_sides
from kit.job import FilledJob
from kit.solids import Model

__all__ = ["Placed", "place_all"]


@dataclass(frozen=True, slots=True)
class Placed:
    """The model, and what its rooms hand to each other.

    Where the sink is, its opening, what carries it and where that stands (None where counter or clips do alone), the holes of counter and faucet deck.
    """

    model: Model
    sink: SinkPlace
    opening: Opening
    carrying: Carrying
    frame: FramePlace | None
    holes: tuple[DeckHole, ...]

    @property
    def counter_holes(self) -> tuple[DeckHole, ...]:
        """The holes that go through the counter."""
        return tuple(hole for hole in self.holes if not hole.in_sink)

    @property
    def faucet_in_sink(self) -> bool:
        """Whether the faucet stands in the sink's own faucet deck."""
        return len(self.counter_holes) < len(self.holes)


def place_all(
    job: FilledJob, levels: Levels, shims: Shims, cut: FrontCut | None, doors: DoorPlan | None, drain: DrainRoute, load: Load, ledge_holes: int
) -> Placed:
    """Place all in one order: room, base, pipes, taps, what must stay free, frame, sink, counter, what else lives there; each gets what stands already."""
    at = locate_sink(job, levels)
    holes = locate_holes(job, at, ledge_holes)
    opening = locate_opening(job, levels, at, holes)
    floor_pipe = tuple(place_floor_pipe(job, drain))
    pipes, in_the_wall = (
        (*place_drain(job, at, drain), *place_valves(job), *floor_pipe),
        (*place_wall_pipes(job, drain), *place_supply_stubs(job), *place_stud(job)),
    )
    through_the_back = [body for body in (*pipes, *in_the_wall) if body.part in {"arm", "stub", "supply"} and body.span("y")[0] <= job.cabinet.back_panel_in]
    back_opening, lean = locate_back_opening(job, drain), leaning_sides(job)
    boxes = (*place_boxes(job, cut, doors, through_the_back, back_opening, lean, floor_pipe), *place_fillers(job, levels, at, cut, doors))
    boxes = (*boxes, *place_lean_packers(job, lean), *place_back_patch(back_opening, through_the_back))
    around = (*boxes, *pipes, *in_the_wall, *place_taps(levels, at, holes), *place_dishwashers(job), *place_other_boxes(job, low_tops(job, levels, shims)))
    around = (*around, *place_rooms(around, drain.way.inlet))
    carrying = choose_carrying(job, levels, load, at, opening)
    frame = place_frame(job, levels, at, cut, carrying, load, around)
    members, packers = () if frame is None else frame.bodies, tuple(place_run_packers(job, levels, shims))
    clips = tuple(place_clips(job, levels, carrying, at, opening, (*around, *members)))
    hung = tuple(clip.name for clip in clips if carrying.way == "clips") or ("counter",)
    around = (*around, *clips, *place_side_doublers(job, at, (*around, *members, *clips)), *packers, *place_returns(job, levels))
    sub_top = tuple(place_sub_top(job, levels, at, opening, holes, (*members, *clips)))
    tops = (*sub_top, *place_counter(job, levels, opening, holes, (*sub_top, *members)), *place_box_packers(job, levels))
    room = place_room(job, in_the_wall, [body for body in (*members, *packers) if body.name.startswith((SHIMS, POST_PACKER, RUN_PACKER))])
    corner_shims = [body for body in members if body.name.startswith(CORNER_SHIMS)]
    sink = place_sink(job, at, hung if frame is None else frame.carries, [hole.room for hole in holes if hole.in_sink], corner_shims)
    old = tuple(place_old(job, levels))
    bodies = (*room, *around, *sink, *tops, *members, *old, *place_old_drain(job, drain, old))
    return Placed(Model((*bodies, *place_stored(job, bodies))), at, opening, carrying, frame, holes)
