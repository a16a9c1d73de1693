"""How do a handbook's man-hours become workdays of a crew? The arithmetic of the public planner's handbook.

The handbook's tables give direct work alone, to be adjusted by judgement: man-days from a rate, times a delay factor; then
workdays from the crew, the share of its time that it can give and the length of its shift. Own hours, entered as this kit's rates, need
none of this; it serves to bring a public rate into them and to check the result.
"""

from collections.abc import Sequence
from math import ceil

from kit.errors import Fault, KitError
from kit.sources import value

__all__ = ["average_efficiency", "count_man_days", "count_workdays", "crew_capability", "delay_factor", "shift_equivalent"]

TABLE = "man_days"
DUST = 1e-9
"""A workday begun by less than this is the dust of binary arithmetic."""

AMOUNTS = ("quantity", "man_hours", "man_days")
"""What may be 0; everything else is divided by."""


def count_man_days(quantity: float, unit_size: float, man_hours: float, delay: float = 1.0) -> float:
    """Count the man-days of some work.

    Parameters
    ----------
    quantity
        Work to do, in the unit of `unit_size`.
    unit_size
        Amount of work that the rate speaks of (1000 for "man-hours per 1000 square feet").
    man_hours
        Man-hours for that amount.
    delay
        Delay factor, more than 1 where work goes slower than the handbook's average.

    Returns
    -------
    Man-days of 8 man-hours, whatever the real length of the shift.
    """
    _check(quantity=quantity, unit_size=unit_size, man_hours=man_hours, delay=delay)
    return quantity / unit_size * man_hours / value(TABLE, "man-day") * delay


def average_efficiency(scores: Sequence[float]) -> float:
    """Average the scores (25 to 100 percent) given to the elements that help or hinder the work."""
    least, most = value(TABLE, "efficiency/least"), value(TABLE, "efficiency/most")
    faults = [
        Fault(f"score {n}", f"{score:g} is no score. Wanted: {least:g} to {most:g} percent.") for n, score in enumerate(scores, 1) if not least <= score <= most
    ]
    if faults or not scores:
        raise KitError(faults or "No scores to average. Give at least one.")
    return sum(scores) / len(scores)


def delay_factor(efficiency: float) -> float:
    """Get the delay factor of a production efficiency [percent]: the handbook's average efficiency has factor 1."""
    _check(efficiency=efficiency)
    return value(TABLE, "efficiency/average") / efficiency


def shift_equivalent(shift_h: float) -> float:
    """Man-days that one person does in a shift of `shift_h` productive hours."""
    _check(shift_h=shift_h)
    return shift_h / value(TABLE, "man-day")


def crew_capability(crew: float, workdays: float, shift_h: float, availability: float) -> float:
    """Man-days that a crew can do in some workdays.

    Parameters
    ----------
    crew
        People in direct work.
    workdays
        Days on which they work.
    shift_h
        Productive hours of a shift [h].
    availability
        Share of its time that the crew can give to the work (0 to 1); belongs here and in durations, never in the man-days.
    """
    _check(crew=crew, workdays=workdays, availability=availability)
    return crew * workdays * shift_equivalent(shift_h) * availability


def count_workdays(man_days: float, crew: float, shift_h: float, availability: float) -> int:
    """Count the whole workdays that a crew needs for some man-days; parameters as `crew_capability`."""
    _check(man_days=man_days)
    return ceil(man_days / crew_capability(crew, 1, shift_h, availability) - DUST)


def _check(**measures: float) -> None:
    faults = [
        Fault(name, f"{given:g} makes no sense. Wanted: {'0 or more' if name in AMOUNTS else 'more than 0'}.")
        for name, given in measures.items()
        if not (0 < given < float("inf") or (given == 0 and name in AMOUNTS))
    ]
    if faults:
        raise KitError(faults)
