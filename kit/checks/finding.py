"""How a check writes its finding: level from the margin and the tape's tolerance."""

import math

from kit.records import Finding, Level
from kit.units import format_length

__all__ = ["TAPE_TOLERANCE_IN", "chance_of_fit", "fit_finding"]

# common practice, no source: a careful reading is good to 1/16 in; two readings make the difference
TAPE_TOLERANCE_IN = 0.125


def chance_of_fit(margin: float, tolerance: float) -> float:
    """Chance that a margin is really zero or more, the tolerance taken as two standard deviations of a normal error."""
    if tolerance <= 0.0:
        return 1.0 if margin >= 0.0 else 0.0
    return 0.5 * (1.0 + math.erf(margin * 2.0 / tolerance / math.sqrt(2.0)))


def fit_finding(
    finding_id: str,
    check: str,
    measured_in: float | None,
    least_in: float,
    *,
    basis: str,
    source: str,
    remedy: str,
    tolerance_in: float = TAPE_TOLERANCE_IN,
    most: bool = False,
    parts: tuple[str, ...] = (),
) -> Finding:
    """A length that must be at least (`most`: at most) a limit; within the tolerance it is a caution, measure again."""
    limit = f"{'at most' if most else 'at least'} {format_length(least_in)}"
    if measured_in is None:
        return Finding(finding_id, check, Level.UNKNOWN, "not measured", limit, "in", None, tolerance_in, None, basis, source, f"Measure it. {remedy}", parts)
    margin = least_in - measured_in if most else measured_in - least_in
    level = Level.STOP if margin < -1e-9 else Level.CAUTION if margin < tolerance_in else Level.OK
    advice = remedy if level is Level.STOP else f"Measure again: the margin is within the tape. {remedy}" if level is Level.CAUTION else ""
    chance = chance_of_fit(margin, tolerance_in)
    return Finding(finding_id, check, level, format_length(measured_in), limit, "in", margin, tolerance_in, chance, basis, source, advice, parts)
