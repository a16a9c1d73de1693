"""Which rows of the price lists an estimate rests on: how goods are sold and sized, since when a price holds, whose figures they are."""

import datetime as dt
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping

from kit.buying.price_ages import price_row_of
from kit.estimating import Estimate
from kit.lists import Lists
from kit.lists.company import Company
from kit.lists.goods_rows import Price
from kit.records import PackedPart, Piece, PlacedPiece, Purchase
from kit.units import format_length

__all__ = ["counted_pieces", "currency_in", "currency_of", "goods_name", "names_invented", "price_days", "says_invented", "size_words", "sold_as"]


_NEW_DOORS = "new-door-"


def _prices_used(estimate: Estimate) -> Iterator[Price]:
    used = (price_row_of(purchase, estimate.lists) for purchase in estimate.purchases)
    return (price for price in used if price is not None)


def price_days(estimate: Estimate) -> list[dt.date]:
    """The day from which each price in use holds, oldest first."""
    return sorted(price.effective_from for price in _prices_used(estimate))


def currency_of(estimate: Estimate) -> str:
    """The currency of the prices in use; the lists hold one."""
    return next((price.currency for price in _prices_used(estimate)), "USD")


def sold_as(estimate: Estimate, purchase: Purchase) -> str:
    """What one unit price buys, such as "box of 50"; an offcut from the van is in no list, its price row's name ends in what it is."""
    price = price_row_of(purchase, estimate.lists)
    return price.sold_as if price is not None else purchase.price_row.rsplit("@", 1)[-1] or purchase.unit


def goods_name(estimate: Estimate, item: str) -> str:
    """What an item is called on a paper for who buys or brings it; of new doors also how many and how high, as they are ordered."""
    name, doors = estimate.lists.item(item).name, estimate.design.doors
    if doors is None or not item.startswith(_NEW_DOORS):
        return name
    wide = "as wide as the old one" if doors.count == 1 else "as wide as the old ones"
    return f"{name}: {doors.count} {'door' if doors.count == 1 else 'doors'}, {format_length(doors.height_in)} high, {wide}"


def size_words(piece: Piece | PlacedPiece) -> str:
    """Length and width of a piece, such as "24 in x 3 1/2 in"; what is cut from a stick has its length only."""
    return " x ".join(format_length(size) for size in (piece.length_in, piece.width_in) if size > 0.0)


def counted_pieces(part: PackedPart, numbers: Mapping[tuple[str, float], int] | None = None) -> str:
    """The pieces of one stick or sheet, those alike counted together, with sizes where the plan has them: "(2) 24 in cleat".

    `numbers` by name and length [in] to a thousandth stand behind the pieces that have one: "(2) 24 in cleat [1]"; "#2" would read as a grade of lumber.
    """
    named = [f"{size_words(piece)} {piece.name}{_number_of(piece, numbers or {})}" for piece in part.placed] or part.pieces
    return "; ".join(f"({count}) {name}" for name, count in Counter(named).items())


def _number_of(piece: PlacedPiece, numbers: Mapping[tuple[str, float], int]) -> str:
    number = numbers.get((piece.name, round(piece.length_in, 3)))
    return "" if number is None else f" [{number}]"


def says_invented(estimate: Estimate) -> bool:
    """Whether the company, its region or a supplier says that it is invented."""
    return names_invented(estimate.lists.company, (purchase.supplier for purchase in estimate.purchases))


def names_invented(company: Company, suppliers: Iterable[str]) -> bool:
    """The same by the names of whom is bought from."""
    return any("invented" in name.casefold() for name in (company.name, company.region, *suppliers))


def currency_in(lists: Lists) -> str:
    """The one currency of the lists."""
    return next((price.currency for prices in lists.prices.values() for price in prices), "USD")
