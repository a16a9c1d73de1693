"""How much sealant: each joint by its length and the area of its bead.

A bead is paid for by volume: length times the area of its section. A chart that promises about 50 ft of
1/4 x 1/4 in joint from a 10.1 fl oz cartridge is wrong by two: the volume gives 24 ft.
"""

import math
from collections.abc import Sequence
from typing import Literal

from kit.errors import JobError
from kit.records import Line
from kit.sources import value
from kit.steps import Step
from kit.takeoff.own_counter import splash_is_ours
from kit.takeoff.set_sink import sink_is_set, sink_setter
from kit.takeoff.sheet import Sheet
from kit.takeoff.sink_opening import rim_joint
from kit.takeoff.working import Amount, number, pieces_length, total
from kit.units.defined import CUBIC_INCHES_PER_FLUID_OUNCE

__all__ = ["TAPED_SIDES", "bead_area", "count_sealant", "joint_depth"]

BeadShape = Literal["rectangle", "round", "flat fillet", "concave fillet"]
DepthRule = Literal["equal to width", "half of width"]

TAPED_SIDES = 2
"""Tape lies on both sides of a joint that is tooled, and of a line that is cut."""
RIM = "rim"
# the bead under a rim is laid as a rope; a flush rim is a filled joint; everything else is tooled into a corner
# paint doesn't stick to silicone: where a splash meets the wall the bead is painted with it
_AT_THE_WALL = {"backsplash to wall": "paintable-caulk"}
_RIM_SHAPES: dict[str, BeadShape] = {"top": "round", "under": "round", "flush": "rectangle"}


def count_sealant(sheet: Sheet) -> list[Line]:
    """Volume of each joint [fl oz]: length x area of its bead; hours and masking tape by the foot.

    What a clipped rim presses out is wiped off; every other bead is masked and tooled. Whoever sets the sink, we or a trade, beds its rim.
    """
    step, joints = Step.SEAL, _joints(sheet)
    if not joints:
        return []
    ounces = number(CUBIC_INCHES_PER_FLUID_OUNCE, "cu in a fl oz")
    lines = [
        sheet.buy(step, _AT_THE_WALL.get(name, "sealant"), name, length * number(area, "sq in of bead") / ounces, parts=("sealant",))
        for name, length, area in joints
    ]
    wiped = [length for name, length, _ in joints if name == RIM and sheet.design.setting.clipped]
    tooled = [(name, length) for name, length, _ in joints if not (name == RIM and wiped)]
    if wiped:
        lines += sheet.work_for(sink_setter(sheet), step, "wipe-rim-foot", "lay and wipe", total(wiped) / number(12, "in a foot"))
    if tooled:
        tape = number(TAPED_SIDES, "sides") * total([length for _, length in tooled]) / number(12, "in a foot")
        lines.append(sheet.buy(step, "masking-tape", "beads", tape, source="common-practice"))
    return [*lines, *_tooled(sheet, tooled)]


def _tooled(sheet: Sheet, joints: Sequence[tuple[str, Amount]]) -> list[Line]:
    """Ours, but for the rim of a sink that a trade sets."""
    theirs = [length for name, length in joints if name == RIM and not sink_setter(sheet).ours_to_install]
    ours = [length for name, length in joints if not (name == RIM and theirs)]
    lines = sheet.work_for(sink_setter(sheet), Step.SEAL, "seal-foot", "bed the rim", total(theirs) / number(12, "in a foot")) if theirs else []
    if not ours:
        return lines
    return [*lines, sheet.do(Step.SEAL, "seal-foot", "mask, lay and tool", total(ours) / number(12, "in a foot"), parts=("sealant",))]


def _joints(sheet: Sheet) -> list[tuple[str, Amount, float]]:
    """Each kind of joint with its length [in] and the area of its bead [sq in]."""
    job, top, bead_in = sheet.job, sheet.design.top, sheet.job.counter.bead_in
    corner = bead_area("flat fillet", bead_in)
    joints = []
    if sink_is_set(sheet) and sink_setter(sheet).installed_by in {"us", "trade"}:
        joints.append((RIM, rim_joint(sheet), _rim_area(sheet)))
    if splash_is_ours(sheet):
        along = pieces_length(top.splash)
        joints += [("backsplash to countertop", along, corner), ("backsplash to wall", along, corner)]
    elif sheet.design.removal.counter_by == "us" and top.wall_in:
        joints += [("countertop to wall", number(top.wall_in, "in at the wall"), corner), *_end_gaps(sheet)]
    if job.counter.made_by == "us" and job.scope.counter.ours_to_install and top.seam_list and not sheet.design.setting.laid_in_place:
        joints.append(("seams", total([number(seam.length_in, "in of seam") for seam in top.seam_list]), corner))
    return joints


def _end_gaps(sheet: Sheet) -> list[tuple[str, Amount, float]]:
    """Each gap at a wall end that no side splash covers, filled before the fillet is tooled over it."""
    gaps = []
    for number_of, run in enumerate(sheet.job.counter.runs, 1):
        for side, end, gap_in in (("left", run.left_end, run.left_gap_in), ("right", run.right_end, run.right_gap_in)):
            if end == "wall" and gap_in:
                deep_in = joint_depth(max(gap_in, value("sealant", "depth/least")))
                gaps.append((f"gap at the {side} end of run {number_of}", number(run.depth_in, "in deep"), bead_area("rectangle", gap_in, deep_in)))
    return gaps


def _rim_area(sheet: Sheet) -> float:
    bead_in, shape = sheet.job.counter.bead_in, _RIM_SHAPES[sheet.job.sink.mount]
    if shape != "rectangle":
        return bead_area(shape, bead_in)
    return bead_area(shape, bead_in, joint_depth(max(bead_in, value("sealant", "depth/least"))))


def bead_area(shape: BeadShape, width_in: float, depth_in: float | None = None) -> float:
    """Area of a bead's section.

    Parameters
    ----------
    shape
        `rectangle` (a filled joint), `round` (a laid rope), `flat fillet` (tooled straight between two legs) or
        `concave fillet` (tooled with a round tool whose radius is the leg).
    width_in
        Width of the joint, diameter of the rope or leg of the fillet [in].
    depth_in
        Depth of a rectangle [in]; without it the joint is square. No other shape has one.

    Returns
    -------
    Area [sq in].

    Raises
    ------
    JobError
        If a size is not positive, or a depth is given to a shape that has none.

    Examples
    --------
    >>> bead_area("rectangle", 0.375, 0.25)
    0.09375
    """
    depth = width_in if depth_in is None else depth_in
    if not (0 < width_in < math.inf and 0 < depth < math.inf):
        raise JobError(f"A bead needs a size: {width_in:g} x {depth:g} in has none.")
    if depth_in is not None and shape != "rectangle":
        raise JobError(f"A {shape} bead has one size; a depth of {depth_in:g} in is one too many.")
    square = width_in * depth
    return {"rectangle": 1.0, "round": math.pi / 4, "flat fillet": 0.5, "concave fillet": 1 - math.pi / 4}[shape] * square


def joint_depth(width_in: float, rule: DepthRule = "equal to width") -> float:
    """Depth to fill a sealant joint of a width [in].

    Parameters
    ----------
    width_in
        Width of the joint [in].
    rule
        `equal to width`: as deep as wide up to 1/2 in, 1/2 in up to 1 in, then 5/8 in (`petrie-2000`).
        `half of width`: half the width, between 1/4 and 1/2 in (`architectural-detailing`).
        The two differ for widths of 3/8 and 1/2 in; the first buys more.

    Returns
    -------
    Depth [in], never less than 1/4 in.

    Raises
    ------
    JobError
        If the joint is narrower than the 1/4 in that both rules ask for.

    Examples
    --------
    >>> joint_depth(0.375), joint_depth(0.375, "half of width")
    (0.375, 0.25)
    """
    least = value("sealant", "depth/least")
    if not width_in >= least:
        raise JobError(f"A joint of {width_in:g} in is narrower than the {least:g} in that a sealant joint needs.")
    if rule == "half of width":
        return min(max(width_in * value("sealant", "half-depth/share"), least), value("sealant", "half-depth/most"))
    if width_in <= value("sealant", "depth/equal-most"):
        return width_in
    return value("sealant", "depth/medium" if width_in <= value("sealant", "depth/medium-most") else "depth/wide")
