"""Prices go up or down by a share from a day on; what held before that day stays."""

import datetime as dt
from collections.abc import Iterable
from decimal import Decimal, InvalidOperation

from kit.errors import KitError
from kit.lists.company import COMPANY_FILE
from kit.lists.facts import is_passed_on
from kit.lists.goods_rows import Price
from kit.lists.load import Lists, parse_lists
from kit.lists.merging import PRICES, Cells, merge_cells
from kit.lists.take_in import date_prices
from kit.money import CENT_PLACES, EXACT, PRICE_PLACES, to_decimal

__all__ = ["can_be_raised", "parse_raise", "raise_prices"]

_LEAST, _MOST = Decimal("-0.9"), Decimal(1)  # beyond these it is a slip of the hand


def parse_raise(typed: str) -> Decimal:
    """The share by which prices move, as a person types its percents: "8", "8 %", "-2.5".

    Raises
    ------
    KitError
        If it is no number, nothing, or more than a slip of the hand would leave likely.

    Examples
    --------
    >>> parse_raise("8 %")
    Decimal('0.08')
    """
    plain = typed.strip().removesuffix("%").strip().replace("\N{MINUS SIGN}", "-")
    try:
        share = Decimal(plain).scaleb(-2, EXACT)
    except InvalidOperation:
        raise KitError(f'"{typed}" is not a percentage. Type one, such as 8, or -3 to lower prices.') from None
    if not share.is_finite() or not share or not _LEAST <= share <= _MOST:
        raise KitError(f'"{typed}" is not between -90 and 100 percent, or is nothing. Type one such as 8, or -3 to lower prices.')
    return share


def can_be_raised(lists: Lists, price: Price, day: dt.date) -> bool:
    """Whether a price holds on the day, and is no money that is only passed on."""
    return price.holds_on(day) and not is_passed_on(lists, price)


def raise_prices(lists: Lists, prices: Iterable[Price], share: Decimal, day: dt.date, *, dated: dt.date | None = None) -> Lists:
    """The lists with these prices moved by a share from a day on, rounded to the cent, or as fine as they were; `dated` becomes the date of the prices.

    Of a row that bills what falls short of a least charge, the least charge moves: its price is a dollar for a dollar.

    Raises ListError if the lists are not sound with them.
    """
    rows = [_raised(price, share, day) for price in prices if can_be_raised(lists, price, day)]
    merged = merge_cells(lists.texts[PRICES], rows, PRICES)
    texts = {**lists.texts, PRICES: merged.text}
    if dated is not None:
        texts[COMPANY_FILE] = date_prices(texts[COMPANY_FILE], dated)
    return parse_lists(texts, lists.folder)


def _raised(price: Price, share: Decimal, day: dt.date) -> Cells:
    cells = {"item": price.item, "supplier": price.supplier, "effective_from": day.isoformat(), "sold_as": price.sold_as}
    if price.least_packs is not None:
        cells["least_packs"] = str(price.least_packs)
    if price.effective_to is not None:
        cells["effective_to"] = price.effective_to.isoformat()
    if price.least_charge is not None:
        return {**cells, "least_charge": _moved(price.least_charge, share)}
    return {**cells, "price": _moved(price.price, share)}


def _moved(amount: Decimal, share: Decimal) -> str:
    exponent = amount.normalize().as_tuple().exponent
    fine = isinstance(exponent, int) and -exponent > CENT_PLACES
    return str(to_decimal(EXACT.multiply(amount, 1 + share), PRICE_PLACES if fine else CENT_PLACES))
