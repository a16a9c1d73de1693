"""Cents: every rounding rule of the kit in one place.

Money is `decimal.Decimal`. Nothing here relies on the current decimal context, because widget callbacks and
servers run in other threads: each step names its rounding or goes through `EXACT`, a context of 34 digits.
"""

import math
import re
from collections.abc import Sequence
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Context, Decimal
from functools import lru_cache
from typing import Literal

from kit.errors import Fault, PriceError, UnitError

__all__ = [
    "CENT",
    "CENT_PLACES",
    "CHARGED_PLACES",
    "EXACT",
    "NOISE_PLACES",
    "PACK_PLACES",
    "PRICE_PLACES",
    "count_packs",
    "format_dollars",
    "format_money",
    "parse_money",
    "require_decimal",
    "require_money",
    "round_cents",
    "split_cents",
    "sum_money",
    "tax_on",
    "times",
    "to_charged",
    "to_decimal",
    "whole_dollars",
]

CENT = Decimal("0.01")
CENT_PLACES = 2
CHARGED_PLACES = 4
"""Decimals of what a price is multiplied with where it isn't whole packs: hours, units of hired work, shares of a pack."""
PACK_PLACES = 6
"""Decimals of a number of packs, before it is rounded up."""
PRICE_PLACES = 4
"""Decimals of a price of one pack or unit, which may have parts of a cent."""
NOISE_PLACES = 12
"""What lies behind these decimals of a float is noise: it is rounded away first, as the sheet does."""
EXACT = Context(prec=34, rounding=ROUND_HALF_UP)

_AMOUNT = r"(?P<{0}>[0-9]{{1,3}}(?:,[0-9]{{3}})+(?:\.[0-9]+)?|[0-9]+(?:\.[0-9]+)?)"
_MONEY = re.compile(rf"(?P<sign>[+-]?) *(?:(?P<before>\$|[A-Za-z]{{3}} ){_AMOUNT.format('left')}|{_AMOUNT.format('right')} ?(?P<after>[A-Za-z]{{3}}))")


def parse_money(text: str, currency: str = "USD", *, places: int = 2, signed: bool = False) -> Decimal:
    """Money written by a person.

    Parameters
    ----------
    text
        Such as `250.00 USD`, `USD 250`, `$250.00` (US dollars only), `$1,250`.
    currency
        Three-letter code (ISO 4217) that is wanted.
    places
        Decimals allowed.
    signed
        Allow a negative amount (a credit).

    Returns
    -------
    Amount [currency], with as many decimals as `places`.

    Raises
    ------
    UnitError
        No currency, another one, too many decimals, negative, or not money.

    Examples
    --------
    >>> parse_money("$1,250")
    Decimal('1250.00')
    """
    sample = f'such as "250.00 {currency}"'
    plain = text.strip().replace("−", "-") if isinstance(text, str) else str(text)
    if re.fullmatch(r"[+-]?[0-9][0-9,]*(\.[0-9]*)?", plain):
        raise UnitError(f'"{text}" has no currency. Give one, {sample}.')
    match = _MONEY.fullmatch(plain)
    if match is None:
        raise UnitError(f'"{text}" is not an amount of money. Give one, {sample}.')
    typed = (match["before"] or match["after"]).strip().upper().replace("$", "USD")
    if typed != currency:
        raise UnitError(f'"{text}" is not in {currency}. Give an amount in {currency}, {sample}.')
    amount = Decimal((match["left"] or match["right"]).replace(",", ""))
    if -int(amount.as_tuple().exponent) > places:
        raise UnitError(f'"{text}" has more than {places} decimals. Give an amount {sample}.')
    if match["sign"] and not signed:
        raise UnitError(f'"{text}" has a sign. Give zero or more without a sign, {sample}.')
    if amount.adjusted() > 12:
        raise UnitError(f'"{text}" is too large. Give an amount {sample}.')
    amount = amount.quantize(Decimal(1).scaleb(-places, EXACT), ROUND_HALF_UP, EXACT)
    return amount.copy_negate() if match["sign"] == "-" and amount else amount


def require_decimal(value: object, place: str, example: str = 'a Decimal such as Decimal("0.12")') -> Decimal:
    """A number on which cents depend, as a caller gives it; `place` is what it is for, such as the id of a purchase or a term.

    Raises PriceError if it is a float or no number at all, or not finite; it names the place, and what is wanted instead.
    """
    if isinstance(value, Decimal | int) and not isinstance(value, bool):
        number = Decimal(value)
        if number.is_finite():
            return number
        raise PriceError(Fault(place, f"{value} is not an amount."))
    raise PriceError(Fault(place, f"{value!r} is a {type(value).__name__}; give {example}."))


def require_money(amount: object, place: str, *, places: int = CENT_PLACES) -> Decimal:
    """Money that a caller gives [USD]: a Decimal, or text such as "12.50 USD" with at most so many decimals.

    Raises
    ------
    PriceError
        As `require_decimal`, and for text that is no money.

    Examples
    --------
    >>> require_money("12.50 USD", "sink")
    Decimal('12.50')
    """
    if not isinstance(amount, str):
        return require_decimal(amount, place, 'a Decimal or text such as "12.50 USD"')
    try:
        return parse_money(amount, places=places, signed=True)
    except UnitError as error:
        raise PriceError(Fault(place, str(error))) from None


def round_cents(amount: Decimal) -> Decimal:
    """Amount to the cent, half up (away from zero).

    Examples
    --------
    >>> round_cents(Decimal("2.675"))
    Decimal('2.68')
    """
    return to_decimal(amount, CENT_PLACES)


@lru_cache(maxsize=32)
def _step(places: int) -> Decimal:
    """The smallest step with so many decimals: 0.01 for 2."""
    return Decimal(1).scaleb(-places, EXACT)


def to_decimal(value: float | Decimal, places: int) -> Decimal:
    """Give a number as Decimal with a fixed number of decimals, half up (away from zero).

    A float is taken at its shortest decimal (what it prints as), so that 2.675 gives 2.68 as a person expects.

    Raises
    ------
    PriceError
        If it is not a finite number.

    Examples
    --------
    >>> to_decimal(2.675, 2)
    Decimal('2.68')
    """
    number = value if isinstance(value, Decimal) else Decimal(repr(float(value)) if isinstance(value, float) else value)
    if not number.is_finite():
        raise PriceError(f"{value} is not an amount.")
    rounded = number.quantize(_step(places), ROUND_HALF_UP, EXACT)
    return rounded or rounded.copy_abs()  # no minus zero


def to_charged(quantity: float) -> Decimal:
    """A quantity as a price is multiplied with it: to four decimals, half up, the noise of floats taken away first.

    Examples
    --------
    >>> to_charged(0.00004999999999999)
    Decimal('0.0001')
    """
    return to_decimal(round(quantity, NOISE_PLACES), CHARGED_PLACES)


def sum_money(amounts: Sequence[Decimal]) -> Decimal:
    """Exact sum, 0.00 for none."""
    total = Decimal("0.00")
    for amount in amounts:
        total = EXACT.add(total, amount)
    return total


def times(amount: Decimal, factor: float | Decimal) -> Decimal:
    """Product, not rounded; a float factor (hours, packs, share) is taken at its shortest decimal."""
    exact = factor if isinstance(factor, Decimal) else Decimal(repr(float(factor)))
    return EXACT.multiply(amount, exact)


def count_packs(need: float, pack: float) -> int:
    """Whole packs that hold what is needed: need / pack to 6 places half up, then up.

    The rounding first takes away the noise of floats; a sheet does the same with ROUNDUP(ROUND(need/pack, 6), 0).

    Parameters
    ----------
    need
        What is needed, waste added [unit].
    pack
        What one pack holds [same unit].

    Raises
    ------
    PriceError
        A negative need, an empty pack, or no number.

    Examples
    --------
    >>> count_packs(0.1 + 0.2, 0.1)
    3
    """
    if not (math.isfinite(need) and math.isfinite(pack)):
        raise PriceError(f"{need} / {pack} is not a number of packs.")
    if need < 0:
        raise PriceError(f"{need} is needed: a need can't be negative.")
    if pack <= 0:
        raise PriceError(f"A pack holds {pack}: it must hold more than nothing.")
    return int(to_decimal(need / pack, PACK_PLACES).to_integral_value(ROUND_CEILING, EXACT))


def split_cents(total: Decimal, shares: Sequence[float | Decimal]) -> tuple[Decimal, ...]:
    """Split an amount by shares so that the parts sum to it to the cent.

    Each part is rounded down; the cents left over go to the parts that lost most, the first of equals first.

    Parameters
    ----------
    total
        Amount in whole cents, may be negative.
    shares
        Weights, none negative, not all zero; they need not sum to one.

    Raises
    ------
    PriceError
        If total has parts of a cent, or the shares can't be used.

    Examples
    --------
    >>> split_cents(Decimal("1.00"), [1, 1, 1])
    (Decimal('0.34'), Decimal('0.33'), Decimal('0.33'))
    """
    if total != round_cents(total):
        raise PriceError(f"{total} has parts of a cent and can't be split to the cent.")
    weights = [share if isinstance(share, Decimal) else Decimal(repr(float(share))) for share in shares]
    if not weights or any(not weight.is_finite() or weight < 0 for weight in weights) or not any(weights):
        raise PriceError("Shares must be numbers of zero or more, at least one above zero.")
    cents, whole = int(EXACT.scaleb(total.copy_abs(), 2)), sum_money(weights)
    exact = [EXACT.divide(EXACT.multiply(Decimal(cents), weight), whole) for weight in weights]
    parts = [int(part.to_integral_value(ROUND_FLOOR, EXACT)) for part in exact]
    order = sorted(range(len(parts)), key=lambda index: (parts[index] - exact[index], index))
    for index in order[: cents - sum(parts)]:
        parts[index] += 1
    sign = -1 if total < 0 else 1
    return tuple(to_decimal(EXACT.scaleb(Decimal(sign * part), -2), 2) for part in parts)


def tax_on(amounts: Sequence[Decimal], rate: Decimal, *, basis: Literal["item", "invoice"] = "invoice") -> Decimal:
    """Sales tax on amounts, rounded once: up when the third decimal is more than 4.

    Parameters
    ----------
    amounts
        Taxable amounts.
    rate
        Combined rate as a share (0.0825 for 8.25 percent).
    basis
        Round the tax of each item, or of the invoice as a whole; the seller chooses, the choice is a term of the job.

    Notes
    -----
    Streamlined Sales and Use Tax Agreement, section 324 (`ssuta-324` in `kit/sources/sources.toml`). The tax is rounded
    from its full value: 1.41 at 6 percent is 0.0846, so 0.08; to three decimals first it would be 0.085, and wrongly 0.09.

    Examples
    --------
    >>> tax_on([Decimal("1.41")], Decimal("0.06"))
    Decimal('0.08')
    """
    if basis == "item":
        return sum_money([round_cents(EXACT.multiply(amount, rate)) for amount in amounts])
    return round_cents(EXACT.multiply(sum_money(amounts), rate))


def whole_dollars(amount: Decimal) -> Decimal:
    """Amount as `format_dollars` shows it: a difference of two is then that of what stands beside it."""
    return amount.quantize(Decimal(1), ROUND_HALF_UP, EXACT)


def format_dollars(amount: Decimal) -> str:
    """Amount to the whole dollar, halves away from zero, where cents mean nothing: `$1,235`.

    Examples
    --------
    >>> format_dollars(Decimal("1234.50"))
    '$1,235'
    """
    dollars = whole_dollars(amount)
    return f"{'-' if dollars < 0 else ''}${dollars.copy_abs():,}"


def format_money(amount: Decimal, currency: str = "USD") -> str:
    """Amount to the cent for a person: `$1,234.50`, or `1,234.50 CAD` for another currency.

    Examples
    --------
    >>> format_money(Decimal("-1234.5"))
    '-$1,234.50'
    """
    cents = round_cents(amount)
    sign = "-" if cents < 0 else ""
    digits = f"{cents.copy_abs():,}"
    return f"{sign}${digits}" if currency == "USD" else f"{sign}{digits} {currency}"
