"""Reading a measure that a person wrote: one number and unit, or feet and inches."""

import re
import unicodedata
from fractions import Fraction
from functools import lru_cache

from kit.errors import UnitError
from kit.units.defined import BY_SPELLING, EXAMPLES, FOLLOWED_BY, Dimension

__all__ = ["parse_quantity"]

_LONGEST_TEXT = 400
_LARGEST = 10**12
_SPELLING = "|".join(re.escape(word) for word in sorted(BY_SPELLING, key=len, reverse=True))
_NUMBER = r"[0-9]+(?:-| +)[0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]+\.[0-9]+|\.[0-9]+|[0-9]+"
_TERM = re.compile(rf"(?P<number>{_NUMBER}) *(?:(?P<unit>{_SPELLING})(?:\.(?= |$))?(?![a-z./^%'\"°])|(?![a-z0-9./^%'\"°]))")
# Between two terms: blanks, or one hyphen that joins them (2'-9").
_GAP = re.compile(r"-(?=[0-9.])| *")
_VULGAR = re.compile(r"((?<=[0-9])-)?([¼-¾⅐-⅞])")
_MARKS = str.maketrans({"′": "'", "’": "'", "‘": "'", "´": "'", "`": "'", "″": '"', "”": '"', "“": '"', "−": "-", "–": "-", "‑": "-", "⁄": "/"})


def parse_quantity(text: str, dimension: Dimension, *, signed: bool = False) -> float:
    """Read a measure written by a person, in the canonical unit of its dimension.

    Parameters
    ----------
    text
        A number with a unit; the number may be a decimal, a fraction or a mixed number. A length may be written as
        `33 1/2 in`, `33-1/2"`, `33½ in`, `33.5 in`, `2' 9 1/2"`, `2 ft 9 1/2 in`, `838 mm`, `83.8 cm`, `0.838 m`.
    dimension
        What is wanted; `canonical_unit(dimension)` names the unit of the result. A share is given in percent.
        Days are no unit of time here: a working day and an elapsed day differ, so hours are asked for.
    signed
        Allow a leading + or - (a level reading).

    Returns
    -------
    Value [canonical unit of the dimension].

    Raises
    ------
    UnitError
        No unit, another dimension's unit, a negative, a zero denominator, or no measure at all.

    Examples
    --------
    >>> parse_quantity("2 ft 9 1/2 in", "length"), parse_quantity("838.2 mm", "length")
    (33.5, 33.0)
    >>> parse_quantity("15 %", "share")
    0.15
    >>> parse_quantity("1 h 30 min", "time")
    1.5
    """
    if not isinstance(text, str):
        raise UnitError(f'"{text}" has no unit. Give one, such as {EXAMPLES[dimension][1]}.')
    return _parse(text, dimension, signed)


@lru_cache(maxsize=4096)
def _parse(text: str, dimension: Dimension, signed: bool) -> float:  # noqa: FBT001 (the cache wants hashable positions)
    noun, example = EXAMPLES[dimension]
    plain = _tidy(text)
    if not plain:
        raise UnitError(f"{noun[0].upper()}{noun[1:]} is missing. Give one, such as {example}.")
    if len(plain) > _LONGEST_TEXT:
        raise UnitError(f'"{text[:20]}..." is too long to be {noun}. Give one, such as {example}.')
    sign, body = (plain[0], plain[1:].lstrip()) if plain[0] in "+-" else ("", plain)
    total = _sum_terms(body, text, dimension)
    if sign and not signed:
        what = "is negative" if sign == "-" else "has a sign"
        raise UnitError(f'"{text}" {what}. Give zero or more without a sign, such as {example}.')
    if total > _LARGEST:
        raise UnitError(f'"{text}" is too large to be {noun}. Give one, such as {example}.')
    return float(-total if sign == "-" else total) + 0.0  # no minus zero


def _tidy(text: str) -> str:
    """Lower case, plain marks and spaces: `33½″` becomes `33 1/2"`."""
    fractions = _VULGAR.sub(lambda match: " " + unicodedata.normalize("NFKD", match[2]), text)
    plain = unicodedata.normalize("NFKC", fractions.translate(_MARKS)).translate(_MARKS).casefold()
    return " ".join(plain.replace("''", '"').split())


def _sum_terms(body: str, text: str, dimension: Dimension) -> Fraction:
    """Sum of `number unit` terms [canonical unit], each smaller than the one before."""
    total, place, expected = Fraction(0), 0, ("", 0)
    while place < len(body):
        match = _TERM.match(body, place)
        if match is None or (place and not expected[0]):
            raise _complain(body, text, dimension)
        unit = BY_SPELLING.get(match["unit"] or "")
        if unit is None or unit.dimension != dimension:
            raise _complain(body, text, dimension)
        number = _read_number(match["number"], text)
        if place and (unit.name != expected[0] or number >= expected[1]):
            raise UnitError(f'"{text}": after {match.string[:place].strip(" -")}, give less than {expected[1]} {expected[0]}.')
        total += number * unit.factor
        # Only a whole number of the larger unit may go on in the smaller one.
        expected = FOLLOWED_BY.get(unit.name, ("", 0)) if number.denominator == 1 else ("", 0)
        gap = _GAP.match(body, match.end())
        place = gap.end() if gap else match.end()
    return total


def _read_number(number: str, text: str) -> Fraction:
    """Exact value of a decimal, a fraction or a mixed number."""
    *whole, last = number.replace("-", " ").split()
    if "/" not in last:
        return Fraction(last)
    top, bottom = (int(part) for part in last.split("/"))
    if bottom == 0:
        raise UnitError(f'"{text}" divides by zero.')
    if whole and top >= bottom:
        raise UnitError(f'"{text}": {top}/{bottom} beside a whole number must be less than one.')
    return (int(whole[0]) if whole else 0) + Fraction(top, bottom)


def _complain(body: str, text: str, dimension: Dimension) -> UnitError:
    """Build the sentence that says what is wrong with text that is no measure of the wanted kind."""
    noun, example = EXAMPLES[dimension]
    match = re.fullmatch(rf"(?:{_NUMBER}) *(?P<rest>[a-z%°][^0-9-]*[23]?)?", body)
    if match is None:
        lacking = re.search(rf"(?<![0-9./])(?:{_NUMBER})$", body)
        if lacking and body[: lacking.start()].rstrip(" -").endswith(tuple(BY_SPELLING)):
            return UnitError(f'"{text}" has no unit after {lacking[0]}. Give one, such as {example}.')
        return UnitError(f'"{text}" is not {noun}. Give one, such as {example}.')
    rest = (match["rest"] or "").strip()
    if not rest:
        return UnitError(f'"{text}" has no unit. Give one, such as {example}.')
    other = BY_SPELLING.get(rest.removesuffix("."))
    if other is not None and other.dimension != dimension:
        return UnitError(f'"{text}" is {EXAMPLES[other.dimension][0]}, not {noun}. Give {noun}, such as {example}.')
    if dimension == "time" and rest in {"d", "day", "days"}:
        return UnitError(f'"{text}" does not say whether days are worked or elapsed. Give hours, such as "8 h" or "24 h".')
    return UnitError(f'"{text}" has a unit that is not known, {rest}. Give {noun}, such as {example}.')
