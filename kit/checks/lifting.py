"""How heavy is this lift for one person: the revised lifting equation, as a screening note.

Waters, Putz-Anderson and Garg, Applications Manual for the Revised NIOSH Lifting Equation (DHHS (NIOSH) 94-110, 1994,
revised 2021). It holds for one person, two hands, free posture; setting a sink into a cabinet is mostly outside that,
so its answer never clears a lift: each reason why is listed with it.
"""

from collections.abc import Collection
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from itertools import pairwise
from typing import Literal

from kit.design.require import require
from kit.errors import JobError
from kit.sources import rows_under, value

__all__ = [
    "Hands",
    "LiftEnd",
    "LiftScreening",
    "OutsideMethod",
    "estimate_reach",
    "lifting_frequency_factor",
    "recommended_weight",
    "screen_lift",
]

_TABLE = "lifting"
Coupling = Literal["good", "fair", "poor"]
Duration = Literal["short", "moderate", "long"]


class OutsideMethod(StrEnum):
    """What puts a lift outside the equation (manual, p. 6); each value is the sentence shown."""

    ONE_HAND = "lifted with one hand"
    LONG_DAY = "lifting for more than 8 hours"
    SEATED_OR_KNEELING = "lifted sitting or kneeling"
    RESTRICTED_SPACE = "in a restricted space, such as over or inside a cabinet"
    UNSTABLE_LOAD = "an unstable load"
    CARRIED = "carried more than a step or two, pushed or pulled meanwhile"
    BARROW_OR_SHOVEL = "with a barrow or shovel"
    FAST = "faster than 30 in a second"
    SLIPPERY_FLOOR = "on a floor that gives less grip than 0.4"
    CLIMATE = "outside 66 to 79 F or 35 to 50 % humidity"
    SEVERAL_PEOPLE = "lifted by several people: the equation is for one"


@dataclass(frozen=True, slots=True)
class Hands:
    """Where the hands are: distance from the ankles' middle and height above the floor [in], twist [deg]."""

    reach_in: float
    height_in: float
    twist_deg: float = 0.0


@dataclass(frozen=True, slots=True)
class LiftEnd:
    """One end of the lift: multipliers, recommended weight limit [lb], lifting index (None: do not lift)."""

    reach: float
    height: float
    travel: float
    twist: float
    frequency: float
    grip: float
    weight_lb: float
    index: float | None


@dataclass(frozen=True, slots=True)
class LiftScreening:
    """Both ends of a lift. The governing one has the smaller weight; `destination` is None where placing needs no care."""

    load_lb: float
    origin: LiftEnd
    destination: LiftEnd | None
    band: str
    outside: tuple[OutsideMethod, ...]
    working: str

    @property
    def governing(self) -> LiftEnd:
        """The end that allows less."""
        return min((end for end in (self.origin, self.destination) if end is not None), key=lambda end: end.weight_lb)


def estimate_reach(depth_in: float, height_in: float) -> float:
    """Estimate the reach [in] for a load `depth_in` deep, front to back, with the hands at `height_in` (manual, p. 8)."""
    require(positive={"depth_in": depth_in}, not_negative={"height_in": height_in})
    base = value(_TABLE, "estimate/low" if height_in < value(_TABLE, "estimate/height") else "estimate/high")
    return base + depth_in / 2.0


def recommended_weight(
    hands: Hands,
    travel_in: float,
    load_lb: float,
    *,
    coupling: Coupling = "poor",
    frequency: float = 1.0,
) -> LiftEnd:
    """Work the recommended weight limit at one end of a lift.

    Parameters
    ----------
    hands
        Reach and height [in], twist [deg] at this end.
    travel_in
        Vertical way of the hands [in].
    load_lb
        What is lifted [lb].
    coupling
        Grip: a bulky load without handles, such as a sink, is "poor".
    frequency
        From `lifting_frequency_factor`; it belongs to the origin's height.

    Returns
    -------
    Multipliers, limit [lb] and index. A limit of 0 has no index: do not lift.
    """
    require(
        positive={"reach_in": hands.reach_in, "load_lb": load_lb},
        not_negative={"height_in": hands.height_in, "travel_in": travel_in},
        within={"twist_deg": (hands.twist_deg, 0.0, 180.0), "frequency": (frequency, 0.0, 1.0)},
    )
    if coupling not in {"good", "fair", "poor"}:
        raise JobError(f'"{coupling}" is not a grip. Give "good", "fair" or "poor".')
    reach, height, travel, twist = _reach(hands.reach_in), _height(hands.height_in), _travel(travel_in), _twist(hands.twist_deg)
    grip = value(_TABLE, f"coupling/{coupling}/{'low' if hands.height_in < value(_TABLE, 'vertical/base') else 'high'}")
    weight = value(_TABLE, "load-constant") * reach * height * travel * twist * frequency * grip
    return LiftEnd(reach, height, travel, twist, frequency, grip, weight, load_lb / weight if weight > 0.0 else None)


def _reach(reach_in: float) -> float:
    least = value(_TABLE, "horizontal/numerator")
    return 0.0 if reach_in > value(_TABLE, "horizontal/most") else least / max(reach_in, least)


def _height(height_in: float) -> float:
    if height_in > value(_TABLE, "vertical/most"):
        return 0.0
    return 1.0 - value(_TABLE, "vertical/slope") * abs(height_in - value(_TABLE, "vertical/base"))


def _travel(travel_in: float) -> float:
    if travel_in > value(_TABLE, "distance/most"):
        return 0.0
    return value(_TABLE, "distance/base") + value(_TABLE, "distance/numerator") / max(travel_in, value(_TABLE, "distance/least"))


def _twist(twist_deg: float) -> float:
    return 0.0 if twist_deg > value(_TABLE, "asymmetry/most") else 1.0 - value(_TABLE, "asymmetry/slope") * twist_deg


def screen_lift(
    load_lb: float,
    origin: Hands,
    destination: Hands,
    *,
    coupling: Coupling = "poor",
    per_min: float = 0.2,
    duration: Duration = "short",
    placed_with_care: bool = True,
    outside: Collection[OutsideMethod] = (),
) -> LiftScreening:
    """Screen one lift by one person.

    Parameters
    ----------
    load_lb
        What is lifted [lb].
    origin, destination
        Hands at the start and the end.
    coupling
        Grip: "good", "fair" or "poor".
    per_min, duration
        Lifts a minute, and the class of the day: up to one, two or eight hours of lifting.
    placed_with_care
        Whether the end needs control, as setting a sink does; then both ends count.
    outside
        What puts this lift outside the equation.

    Returns
    -------
    Both ends with limit and index, the band in words, and the reasons why the figures only screen.

    Raises
    ------
    JobError
        If a measure can't be one.
    """
    travel = abs(destination.height_in - origin.height_in)
    frequency = lifting_frequency_factor(per_min, duration, origin.height_in)
    ends = [recommended_weight(hands, travel, load_lb, coupling=coupling, frequency=frequency) for hands in (origin, destination)]
    first, last = ends[0], ends[1] if placed_with_care else None
    worst = min((first, last or first), key=lambda end: end.weight_lb)
    band = _band(worst.index)
    index = "none" if worst.index is None else f"{worst.index:.1f}"
    words = "; ".join(_end_in_words(name, end) for name, end in (("start", first), ("end", last)) if end is not None)
    return LiftScreening(load_lb, first, last, band, tuple(sorted(set(outside))), f"{words}; {load_lb:g} lb: index {index}, {band}")


def _end_in_words(name: str, end: LiftEnd) -> str:
    factors = " x ".join(f"{factor:.3f}" for factor in (end.reach, end.height, end.travel, end.twist, end.frequency, end.grip))
    return f"{name}: {value(_TABLE, 'load-constant'):g} lb x {factors} = {end.weight_lb:.1f} lb"


def _band(index: float | None) -> str:
    """Band of a lifting index in words (manual, p. 20)."""
    if index is None:
        return "do not lift this way"
    if index > value(_TABLE, "index/high"):
        return "highly stressful"
    return "raised risk" if index > value(_TABLE, "index/raised") else "within the limit for one person"


def lifting_frequency_factor(per_min: float, duration: Duration, height_in: float) -> float:
    """Look up the frequency multiplier (manual, Table 5), straight between rows; 0 above a column's last row.

    `per_min` are lifts a minute, `height_in` the hands' height at the origin [in]. Fewer than 0.2 count as 0.2.
    """
    require(not_negative={"per_min": per_min, "height_in": height_in})
    column = _frequency_column(duration, "low" if height_in < value(_TABLE, "vertical/base") else "high")
    rate = max(per_min, column[0][0])
    for (low, at_low), (high, at_high) in pairwise(column):
        if rate <= high:
            return at_low + (at_high - at_low) * (rate - low) / (high - low)
    return 0.0


@lru_cache(maxsize=8)
def _frequency_column(duration: Duration, band: str) -> tuple[tuple[float, float], ...]:
    return tuple((float(rate), row.value) for rate, row in rows_under("lifting_frequency", f"{duration}/{band}").items())
