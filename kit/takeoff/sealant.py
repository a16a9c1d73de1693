"""Sealant by seam and bead: rim, splash, counter to wall, seams of our own counter."""

from kit.records import Line
from kit.sources import value
from kit.steps import Step
from kit.takeoff.beads import BeadShape, bead_area, joint_depth
from kit.takeoff.removal import counter_comes_off
from kit.takeoff.sheet import Sheet
from kit.takeoff.sink import sink_is_set
from kit.takeoff.splash import pieces_length, splash_is_ours
from kit.takeoff.standing_counter import cut_edge
from kit.takeoff.working import Amount, n, total
from kit.units import CUBIC_INCHES_PER_FLUID_OUNCE

__all__ = ["count_sealant"]

TAPED_SIDES = 2
# the bead under a rim is laid as a rope; a flush rim is a filled joint; everything else is tooled into a corner
_RIM_SHAPES: dict[str, BeadShape] = {"top": "round", "under": "round", "flush": "rectangle"}


def count_sealant(sheet: Sheet) -> list[Line]:
    """Volume of each joint [fl oz]: length x area of its bead; hours and masking tape by the foot."""
    step, joints = Step.SEAL, _joints(sheet)
    if not joints:
        return []
    ounces = n(CUBIC_INCHES_PER_FLUID_OUNCE, "cu in a fl oz")
    lines = [sheet.buy(step, "sealant", name, length * n(area, "sq in of bead") / ounces, parts=("sealant",)) for name, length, area in joints]
    feet = total([length for _, length, _ in joints]) / n(12, "in a foot")
    tape = n(TAPED_SIDES, "sides") * total([length for _, length, _ in joints]) / n(12, "in a foot")
    lines.append(sheet.buy(step, "masking-tape", "beads", tape, source="common-practice"))
    return [*lines, sheet.do(step, "seal-foot", "mask, lay and tool", feet, parts=("sealant",))]


def _joints(sheet: Sheet) -> list[tuple[str, Amount, float]]:
    """Each kind of joint with its length [in] and the area of its bead [sq in]."""
    job, top, bead_in = sheet.job, sheet.design.top, sheet.job.counter.bead_in
    corner = bead_area("flat fillet", bead_in)
    joints = []
    if top.cut_out is not None and sink_is_set(sheet) and job.scope.sink.ours_to_install:
        joints.append(("rim", cut_edge(sheet), _rim_area(sheet)))
    if splash_is_ours(sheet):
        along = pieces_length(top.splash)
        joints += [("splash to counter", along, corner), ("splash to wall", along, corner)]
    elif counter_comes_off(job) and top.wall_in:
        joints.append(("counter to wall", n(top.wall_in, "in at the wall"), corner))
    if job.counter.made_by == "us" and job.scope.counter.ours_to_install and top.seam_list:
        joints.append(("seams", total([n(seam.length_in, "in of seam") for seam in top.seam_list]), corner))
    return joints


def _rim_area(sheet: Sheet) -> float:
    bead_in, shape = sheet.job.counter.bead_in, _RIM_SHAPES[sheet.job.sink.mount]
    if shape != "rectangle":
        return bead_area(shape, bead_in)
    return bead_area(shape, bead_in, joint_depth(max(bead_in, value("sealant", "depth/least"))))
