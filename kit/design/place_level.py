"""Where are the packers that level the run where a pair of shims is too little: below boxes that are raised at the floor, on boxes that stay fixed?"""

from collections.abc import Iterator, Mapping

from kit.design.levels import Levels
from kit.design.place_boxes import LEAN_PACKER, face_back_in, toe_board_back_in
from kit.design.place_room import SUBFLOOR
from kit.design.removal import design_removal
from kit.design.shims import Shims, raised_in
from kit.job import FilledJob
from kit.shapes import Block
from kit.solids import Body, Stage
from kit.sources import value
from kit.units import format_length

__all__ = ["RUN_PACKER", "low_tops", "place_lean_packers", "place_run_packers"]

RUN_PACKER = "packer of the run"


def place_run_packers(job: FilledJob, levels: Levels, shims: Shims) -> Iterator[Body]:
    """A strip at each support that wants one, its shims on top of it: as deep as the boxes on their tops, from the wall to the toe board at the floor.

    Sides of a base that stays fixed lie on strips of their own, or are the highest of it.
    """
    half_in = value("lumber", "2x4/thickness") / 2.0
    if design_removal(job).counter_by != "us":
        return
    base_in, on_tops = job.counter.sink_center_in - job.cabinet.width_in / 2.0, shims.where == "box tops"
    top_in, deep_in = (levels.packed_top_in, job.cabinet.depth_in) if on_tops else (raised_in(job), toe_board_back_in(job))
    for support in shims.supports:
        x_in, low_in = support.at_in - base_in, top_in - support.worst_in
        if support.packer_in and not (on_tops and 0.0 <= x_in <= job.cabinet.width_in):
            block = Block((x_in - half_in, x_in + half_in), (0.0, deep_in), (low_in, low_in + support.packer_in))
            fields = ("levelness.readings", "counter.sink_center", "cabinet.width")
            yield Body(f"{RUN_PACKER}, {format_length(support.at_in)} from its left end", "shims", (block,), Stage.BUILT, stands_on=(SUBFLOOR,), fields=fields)


def place_lean_packers(job: FilledJob, lean: Mapping[str, float]) -> Iterator[Body]:
    """A strip on a side of the base that leans, as long as the side; its pair of shims on top is left out."""
    cabinet = job.cabinet
    for side, thick_in in lean.items():
        x = (0.0, cabinet.side_thickness_in) if side == "left" else (cabinet.width_in - cabinet.side_thickness_in, cabinet.width_in)
        block = Block(x, (0.0, face_back_in(job)), (cabinet.height_in - thick_in, cabinet.height_in))
        fields = ("cabinet.width", "cabinet.height", "levelness.readings")
        yield Body(f"{LEAN_PACKER} {side}", "shims", (block,), Stage.BUILT, stands_on=(f"side {side}",), fields=fields)


def low_tops(job: FilledJob, levels: Levels, shims: Shims) -> list[tuple[float, float]]:
    """Each support of boxes that stay fixed, along the wall from the base's left outside, and the height of their tops there [in]; none for raised ones."""
    base_in = job.counter.sink_center_in - job.cabinet.width_in / 2.0
    if shims.where == "floor" or design_removal(job).counter_by != "us":
        return []
    return [(support.at_in - base_in, levels.packed_top_in - support.worst_in) for support in shims.supports]
