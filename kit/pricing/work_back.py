"""Working back: which profit gives a wanted margin, a wanted price, or a wanted margin for each crew-day?

The answer is found on the build-up itself, by changing the one input that it reads (`in:profit`), so that roundings, least charge and tax
count as they do in the estimate.
"""

from bisect import bisect_left
from collections.abc import Callable
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

from kit.errors import Fault, PriceError
from kit.money import CENT, CENT_PLACES, EXACT, require_decimal, require_money, round_cents, times
from kit.pricing.build_up import BuildUpAmounts, amounts_of, compute_rows
from kit.pricing.job_terms import SHARE_PLACES, PriceTerms
from kit.pricing.priced import Priced
from kit.pricing.rows import define_rows
from kit.records import BuildUp

__all__ = ["WorkedBack", "find_price", "find_price_for_crew_days", "find_price_for_margin"]

PROFIT = "in:profit"
FINENESS = Decimal(1).scaleb(-SHARE_PLACES)
_HIGHEST = Decimal(100)
_NEAR_ALL = Decimal("0.999999")

Rows = tuple[BuildUp, ...]


@dataclass(frozen=True, slots=True)
class WorkedBack(BuildUpAmounts):
    """The profit that answers the question, and the build-up with it.

    `price` is the lowest price that reaches what was wanted. `exact` tells whether it is met to the cent (a price) or to the last place
    that a cent allows (a margin): a least charge or a rounding of the price may lift the answer above what was wanted.
    """

    profit: Decimal
    build_up: Rows
    exact: bool

    @property
    def terms(self) -> dict[str, Decimal]:
        """What to give `kit.revalue` as its terms."""
        return {PROFIT: self.profit}


def find_price_for_margin(job: Priced, margin: Decimal) -> WorkedBack:
    """The lowest price that leaves a margin over direct cost.

    Parameters
    ----------
    job
        The estimate; all its terms but the profit stay.
    margin
        Wanted share of the price before tax collected, below 1.

    Raises
    ------
    PriceError
        If no profit reaches it, or it is a float.
    """
    margin = require_decimal(margin, "target margin")
    if not margin < 1:
        raise PriceError(Fault("target margin", "No price leaves that much. Ask for less than 100%."))

    def reaches(rows: Rows) -> bool:
        return _amount(rows, "gross") >= times(_amount(rows, "net"), margin)

    def exact(rows: Rows) -> bool:
        cent_less = EXACT.subtract(_amount(rows, "net"), CENT)
        return EXACT.subtract(_amount(rows, "gross"), CENT) < times(cent_less, margin)

    return _lowest(job, reaches, exact)


def find_price(job: Priced, price: Decimal | str) -> WorkedBack:
    """The profit at a wanted price [USD, what the customer pays]; where rounding or tax skip it, at the next price above.

    Raises PriceError if no profit reaches it, or it is a float or no money.
    """
    target = require_money(price, "target price")
    return _lowest(job, lambda rows: _amount(rows, "price") >= target, lambda rows: _amount(rows, "price") == target)


def find_price_for_crew_days(job: Priced, for_each_day: Decimal | str, crew_days: Decimal) -> WorkedBack:
    """The lowest price that leaves so much over direct cost for each crew-day [USD].

    Raises PriceError if there are no crew-days, no profit reaches it, or either is a float.
    """
    if require_decimal(crew_days, "crew-days") <= 0:
        raise PriceError(Fault("crew-days", f"{crew_days} is not above 0: nothing to share the margin out over."))
    target = round_cents(times(require_money(for_each_day, "target for each crew-day"), crew_days))
    return _lowest(job, lambda rows: _amount(rows, "gross") >= target, lambda rows: _amount(rows, "gross") == target)


def _amount(rows: Rows, name: str) -> Decimal:
    return next(row.amount for row in rows if row.id == name)


def _lowest(job: Priced, reaches: Callable[[Rows], bool], exact: Callable[[Rows], bool]) -> WorkedBack:
    """The least profit, in steps of `FINENESS`, whose build-up reaches what is wanted; a higher profit never lowers the price."""
    defined, amounts = define_rows(job.purchases, job.cost_types, job.tasks, job.terms), amounts_of(job.purchases, job.tasks, job.terms)

    def rows_of(profit: Decimal) -> Rows | None:
        try:
            return compute_rows(defined, {**amounts, PROFIT: profit})
        except PriceError:  # so low a profit that no price is left
            return None

    def reached(steps: int) -> bool:
        rows = rows_of(times(FINENESS, Decimal(steps)))
        return rows is not None and reaches(rows)

    low, high = (int(EXACT.divide(bound, FINENESS)) for bound in _bounds(job.terms))
    if not reached(high):
        raise PriceError(Fault("working back", "No profit reaches what you need."))
    least = times(FINENESS, Decimal(low + bisect_left(range(low, high), True, lo=1, key=reached)))  # noqa: FBT003 - the first that reaches it
    profit, rows = _plainest(least, job.terms.value(PROFIT), rows_of)
    return WorkedBack(profit, rows, exact(rows))


def _plainest(least: Decimal, own: Decimal, rows_of: Callable[[Decimal], Rows | None]) -> tuple[Decimal, Rows]:
    """The profit with the fewest decimals, and before that the job's own, that gives the same price: 25 percent and not 24.9995."""
    rounded = (least.quantize(Decimal(1).scaleb(-places), ROUND_CEILING, EXACT) for places in range(CENT_PLACES, SHARE_PLACES))
    tried = ((profit, rows) for profit in (own, *rounded, least) if (rows := rows_of(profit)))
    price = _amount(rows_of(least) or (), "price")
    return next((profit, rows) for profit, rows in tried if _amount(rows, "price") == price)


def _bounds(terms: PriceTerms) -> tuple[Decimal, Decimal]:
    """A profit below all that leave a price, and the largest that leaves one."""
    overhead = terms.value("in:overhead") if terms.overhead_as == "of-price" else Decimal(0)
    if terms.profit_as == "margin":
        return -_HIGHEST, EXACT.subtract(_NEAR_ALL, overhead)
    if terms.profit_as == "markup" and overhead:
        return -_HIGHEST, EXACT.subtract(EXACT.divide(_NEAR_ALL, overhead), Decimal(1))
    return -_HIGHEST, _HIGHEST
