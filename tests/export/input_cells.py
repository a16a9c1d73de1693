"""Which cells of the workbook may be changed, and what each means to `kit.revalue`."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from kit.buying.minimums import is_idle
from kit.estimating import Estimate
from kit.export.purchases_sheet import ordered_purchases, place_purchases
from kit.export.sheet_cells import Place
from kit.export.terms_sheet import drivers_used, factors_used, place_terms

__all__ = ["InputCell", "input_cells"]


@dataclass(frozen=True, slots=True)
class InputCell:
    """An input of the workbook: `revalue` takes `{name: new value}` as its argument `kind`.

    `value` is Decimal for prices and terms, float for rates (hours for one unit, factors).
    """

    sheet: str
    cell: str
    kind: Literal["prices", "rates", "terms"]
    name: str
    value: Decimal | float


def input_cells(estimate: Estimate) -> list[InputCell]:
    """Every input cell of the workbook of this estimate: unit prices, hours for one unit, factors, terms."""
    return list(_inputs(estimate))


def _inputs(estimate: Estimate) -> Iterator[InputCell]:
    places = place_purchases(estimate) | place_terms(estimate)

    def cell(key: str, kind: Literal["prices", "rates", "terms"], name: str, value: Decimal | float) -> InputCell:
        place: Place = places[key]
        return InputCell(place.sheet, place.cell, kind, name, value)

    for purchase in (row for row in ordered_purchases(estimate) if not is_idle(row)):
        yield cell(f"price:{purchase.id}", "prices", purchase.id, purchase.unit_price)
    for driver in drivers_used(estimate):
        yield cell(f"rate:{driver}", "rates", driver, estimate.lists.rates[driver].likely_h)
    for name, value in factors_used(estimate).items():
        yield cell(f"factor:{name}", "rates", f"factor:{name}", value)
    for term in estimate.terms.inputs:
        yield cell(term.id, "terms", term.id, term.value)
