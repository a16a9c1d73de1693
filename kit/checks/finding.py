"""How a check writes its finding: level from the margin and the tape's tolerance, source from the row that set the limit."""

import math

from kit.records import Finding, Level
from kit.sources import Row, value
from kit.units import exceeds, format_length, format_limit, next_mark

__all__ = ["CONFIRM", "FLOOR", "SIDES", "WALL", "chance_of_fit", "fit_finding", "plain_finding", "tape_tolerance_in", "two_lengths"]

CONFIRM = "Confirm with the local authority."
"""The last word of a remedy that the code of the place decides."""

FLOOR = ("above the floor", "below the floor")
WALL = ("from the wall", "into the wall")
SIDES = ("to the right", "to the left")
"""Where a place is that one measures from the floor, the wall or the base's left side, and where one beyond it is."""


def tape_tolerance_in() -> float:
    """What two tape readings may be off [in]."""
    return value("checks", "tape/tolerance")


def chance_of_fit(margin: float, tolerance: float) -> float:
    """Chance (0 to 1) that a margin is really zero or more; its tolerance, in the same unit, is taken as two standard deviations of a normal error."""
    if not tolerance:
        return 1.0 if margin >= 0.0 else 0.0
    return 0.5 * (1.0 + math.erf(margin * 2.0 / tolerance / math.sqrt(2.0)))


def fit_finding(
    finding_id: str,
    check: str,
    measured_in: float | None,
    limit_in: float | Row | None,
    *,
    basis: str,
    remedy: str,
    source: str | Row = "",
    tolerance_in: float | None = None,
    most: bool = False,
    worst: Level = Level.STOP,
    parts: tuple[str, ...] = (),
    measure: str = "Measure it.",
    past_zero: str = "",
    off: bool = False,
) -> Finding:
    """A length that must be at least (`most`: at most) a limit.

    A margin no larger than the tolerance is a caution with the chance that it fits: measure again. Outside the limit the level
    is `worst`; where that is ok, what it takes is in the takeoff and the remedy is a
    note that says so. A value or limit that nobody knows is `unknown`; `measure` says what to measure. Of a place that may
    lie on the other side of zero, such as a height, `past_zero` says where that is: "below the floor". Of readings that should agree
    (`off`) it is said how far they are off. The limit is the row that sets it; where it is worked out, `source` is the row that it
    was worked out from, or the key of whoever says so.
    """
    if isinstance(limit_in, Row):
        source, limit_in = limit_in, limit_in.value
    if tolerance_in is None:
        tolerance_in = tape_tolerance_in()
    if measured_in is None or limit_in is None:
        limit = "a measure that is missing" if limit_in is None else _bound(format_limit(limit_in, most=most), past_zero, most=most)
        shown = "not measured" if measured_in is None else _place(format_length(measured_in), past_zero)
        key, row = _cite(source)
        return Finding(finding_id, check, Level.UNKNOWN, shown, limit, "in", None, tolerance_in, None, basis, key, measure, parts, row)
    margin = limit_in - measured_in if most else measured_in - limit_in
    measured, limited = two_lengths(measured_in, limit_in, most=most)
    measured = _place(measured, past_zero)
    if exceeds(0.0, measured_in) and not (most or past_zero):  # nobody has less than nothing: how much is short
        measured = f"none, {format_length(-margin)} short"
    if off:
        measured = "exactly" if measured == format_length(0.0) else f"off by {measured}"
    if exceeds(0.0, margin):
        level, advice = worst, remedy
    elif tolerance_in and not exceeds(margin, tolerance_in):
        level, advice = Level.CAUTION, f"Too close to call with a tape: measure again. {remedy}"
    else:
        level, advice = Level.OK, ""
    key, row = _cite(source)
    return Finding(
        finding_id,
        check,
        level,
        measured,
        _bound(limited, past_zero, most=most),
        "in",
        margin,
        tolerance_in,
        chance_of_fit(margin, tolerance_in),
        basis,
        key,
        advice,
        parts,
        row,
    )


def _place(shown: str, past_zero: str) -> str:
    """A length as shown; on the other side of zero by where it is, not by a minus."""
    return f"{shown[1:]} {past_zero}" if past_zero and shown.startswith("-") else shown


def _bound(shown: str, past_zero: str, *, most: bool) -> str:
    """The limit in words: "at most 18 in"; past zero that is "at least 2 in below the floor"; of a gap that may be as small as it likes only that."""
    if shown == format_length(0.0) and not (most or past_zero):
        return "a gap"
    place = _place(shown, past_zero)
    return f"{'at most' if most == (place == shown) else 'at least'} {place}"


def two_lengths(measured_in: float, limit_in: float, *, most: bool, shim: bool = False) -> tuple[str, str]:
    """A length and its limit as a tape shows them: the limit never past what it is; finer where they would read alike and are not, or turned round.

    The limit of a gap under a level or a straightedge, which is judged with a `shim`, goes to 1/32 in: a tape's next mark would take off a third of it
    (common practice, no source).
    """
    side = _side(measured_in - limit_in)
    for denominator in (16, 32, 64):
        limit_to = max(denominator, 32) if shim else denominator
        limit = format_limit(limit_in, most=most, denominator=limit_to)
        measured_mark, limit_mark = math.floor(measured_in * denominator + 0.5) / denominator, next_mark(limit_in, limit_to, down=most)
        shown = _side(measured_mark - limit_mark)
        if shown == side or (denominator == 64 and not shown):
            return format_length(measured_in, denominator=denominator), limit
    return format_limit(measured_in, most=most, denominator=64), limit


def _side(off_in: float) -> int:
    """1 above a limit, -1 below it, 0 on it."""
    return exceeds(off_in, 0.0) - exceeds(0.0, off_in)


def plain_finding(
    finding_id: str,
    check: str,
    level: Level,
    measured: str,
    limit: str,
    *,
    basis: str,
    source: str | Row,
    remedy: str = "",
    margin: float | None = None,
    unit: str = "",
    parts: tuple[str, ...] = (),
) -> Finding:
    """A finding that is no comparison of two lengths."""
    key, row = _cite(source)
    return Finding(finding_id, check, level, measured, limit, unit, margin, 0.0, None, basis, key, remedy, parts, row)


def _cite(source: str | Row) -> tuple[str, str]:
    """Key of whoever says so, and table and row of the number; no row where a key alone was given."""
    return (source, "") if isinstance(source, str) else (source.key, f"{source.table}/{source.name}")
