"""Where are the strips that close what an apron leaves open in the front: beside it, and between it and the doors?"""

from collections.abc import Iterator

from kit.design.doors import DoorPlan
from kit.design.front import FrontCut
from kit.design.levels import Levels
from kit.design.place_boxes import front_deep
from kit.design.place_sink import SinkPlace
from kit.job import FilledJob
from kit.shapes import Axis, Block
from kit.solids import Body, Stage
from kit.sources import value
from kit.spans import Span
from kit.units import count_parts

__all__ = ["FILLER_ABOVE", "FILLER_BESIDE", "place_fillers"]

FILLER_BESIDE, FILLER_ABOVE = "side filler", "filler above the doors"


def place_fillers(job: FilledJob, levels: Levels, at: SinkPlace, cut: FrontCut | None, doors: DoorPlan | None) -> Iterator[Body]:
    """In the plane of the doors, where the false front is gone: between stile or side and the apron, and below it down to the doors.

    Where the bowl comes further forward than the base, and lower than the apron, they begin below the bowl.
    """
    cabinet, sink, down_in = job.cabinet, job.sink, levels.apron_bottom_down_in
    if cut is None or sink.apron_width_in is None or down_in is None or not cut.false_front_removed:
        return
    top_in, edge_in = cabinet.height_in, cabinet.stile_in if cabinet.construction == "face-frame" else cabinet.side_thickness_in
    beside_in = (cabinet.width_in - sink.apron_width_in) / 2.0
    for side, x in (("left", (edge_in, beside_in)), ("right", (cabinet.width_in - beside_in, cabinet.width_in - edge_in))):
        for number, across in enumerate(_strips(x), 1):
            yield _strip(job, f"{FILLER_BESIDE} {side} {number}", across, (top_in - down_in, top_in), "z")
    if doors is not None:
        end_in = min(top_in - down_in, at.under_in) if at.outside_y[1] > cabinet.depth_in else top_in - down_in
        for number, up in enumerate(_strips((top_in - doors.top_in + cabinet.door_reveal_in, end_in)), 1):
            yield _strip(job, f"{FILLER_ABOVE} {number}", (edge_in, cabinet.width_in - edge_in), up, "x")


def _strip(job: FilledJob, name: str, x: Span, z: Span, along: Axis) -> Body:
    fields = ("cabinet.width", "cabinet.stile", "sink.apron_width", "sink.apron_height", "cabinet.door_top")
    return Body(name, "fillers", (Block(x, front_deep(job), z),), Stage.BUILT, stands_on=("stile left", "stile right"), along=along, fields=fields)


def _strips(gap: Span) -> Iterator[Span]:
    """A gap in as many strips side by side as its width asks; none where it is too small to see."""
    gap_in = gap[1] - gap[0]
    if gap_in <= value("site_work", "filler/gap-least"):
        return
    count = count_parts(gap_in, value("site_work", "filler/strip-width"))
    for number in range(count):
        yield gap[0] + gap_in * number / count, gap[0] + gap_in * (number + 1) / count
