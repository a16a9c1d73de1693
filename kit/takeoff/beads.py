"""How many feet a cartridge fills.

A bead is paid for by volume: length times the area of its section. A chart that promises about 50 ft of
1/4 x 1/4 in joint from a 10.1 fl oz cartridge is wrong by two: the volume gives 24 ft.
"""

import math
from typing import Literal

from kit.errors import JobError
from kit.sources import value
from kit.units import CUBIC_INCHES_PER_FLUID_OUNCE

__all__ = ["BeadShape", "DepthRule", "bead_area", "bead_volume", "feet_per_cartridge", "joint_depth"]

BeadShape = Literal["rectangle", "round", "flat fillet", "concave fillet"]
DepthRule = Literal["equal to width", "half of width"]


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


def bead_volume(length_in: float, area_sq_in: float) -> float:
    """Volume of a bead [fl oz], waste not added.

    Parameters
    ----------
    length_in
        Length of the seam [in].
    area_sq_in
        Area of the bead's section [sq in].
    """
    return length_in * area_sq_in / CUBIC_INCHES_PER_FLUID_OUNCE


def feet_per_cartridge(cartridge_fl_oz: float, area_sq_in: float) -> float:
    """Length of bead that one cartridge holds [ft], waste not taken off.

    Parameters
    ----------
    cartridge_fl_oz
        Net volume of the cartridge [fl oz].
    area_sq_in
        Area of the bead's section [sq in].

    Raises
    ------
    JobError
        If the bead has no area.

    Examples
    --------
    >>> round(feet_per_cartridge(10.1, bead_area("rectangle", 0.25)), 1)
    24.3
    """
    if not area_sq_in > 0:
        raise JobError("A bead without area has no end.")
    return cartridge_fl_oz / bead_volume(12.0, area_sq_in)


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
