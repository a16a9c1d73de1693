"""What stands in each list: how many rows, how old its prices are, and whether it says that it is invented."""

import datetime as dt
import re
from dataclasses import dataclass

from kit.lists.goods_rows import Price
from kit.lists.list_files import FILES
from kit.lists.load import Lists
from kit.tables import parse_table

__all__ = ["ListFact", "PriceAges", "is_passed_on", "list_facts", "price_ages"]

_INVENTED = re.compile(r"\b(invented|demo)\b", re.IGNORECASE)  # rows of the demonstration name one of them


@dataclass(frozen=True, slots=True)
class ListFact:
    """One list: its file, how many rows it has, and whether its own text says that its figures are invented."""

    file: str
    rows: int
    invented: bool


@dataclass(frozen=True, slots=True)
class PriceAges:
    """The price rows on a day: how many hold, how many are older than the company allows [days], those still to come, and the oldest that holds."""

    holding: int
    stale: int
    most_days: int
    coming: int
    oldest: dt.date | None


def list_facts(lists: Lists) -> tuple[ListFact, ...]:
    """Every list in its order."""
    return tuple(ListFact(file, len(parse_table(lists.texts[file], file).rows), _INVENTED.search(lists.texts[file]) is not None) for file in FILES)


def is_passed_on(lists: Lists, price: Price) -> bool:
    """Whether a row is money that is only passed on, such as a permit fee, a dollar for a dollar: no price that ages, or that anybody could raise."""
    return lists.items[price.item].unit == "USD" and price.least_charge is None


def price_ages(lists: Lists, day: dt.date) -> PriceAges:
    """How old the prices are on a day, counted from the day from which each holds; what is only passed on is none of them."""
    rows = [price for prices in lists.prices.values() for price in prices if not is_passed_on(lists, price)]
    holding = [price for price in rows if price.holds_on(day)]
    most = lists.company.stale_after_days
    return PriceAges(
        holding=len(holding),
        stale=sum((day - price.effective_from).days > most for price in holding),
        most_days=most,
        coming=sum(price.effective_from > day for price in rows),
        oldest=min((price.effective_from for price in holding), default=None),
    )
