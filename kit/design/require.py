"""Refuse measures that can't be one: all of them at once, each under its name."""

import math
from collections.abc import Mapping

from kit.errors import Fault, JobError

__all__ = ["require"]


def require(
    *,
    positive: Mapping[str, float] | None = None,
    not_negative: Mapping[str, float] | None = None,
    within: Mapping[str, tuple[float, float, float]] | None = None,
) -> None:
    """Check plain numbers before they are worked with.

    Parameters
    ----------
    positive
        Name and value of each number that must be more than 0.
    not_negative
        Name and value of each number that must be 0 or more.
    within
        Name and (value, least, most) of each number that must lie between two others, both included.

    Raises
    ------
    JobError
        With one fault for each number that is out of bounds, infinite or not a number.
    """
    faults = [_fault(name, value, "more than 0") for name, value in (positive or {}).items() if not 0.0 < value < math.inf]
    faults += [_fault(name, value, "0 or more") for name, value in (not_negative or {}).items() if not 0.0 <= value < math.inf]
    faults += [_fault(name, value, f"{least:g} to {most:g}") for name, (value, least, most) in (within or {}).items() if not least <= value <= most]
    if faults:
        raise JobError(faults)


def _fault(name: str, value: float, bounds: str) -> Fault:
    return Fault(name, f"{value:g} was given; give a number, {bounds}.")
