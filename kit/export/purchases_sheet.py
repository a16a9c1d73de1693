"""Sheet "Purchases": what is bought, hired and paid, for how much and how it was counted; below, which pieces come out of which stick or sheet."""

import math
from collections.abc import Sequence

from kit.buying.minimums import is_idle, with_idle_minimums
from kit.estimating import Estimate
from kit.export.lists_used import counted_pieces, sold_as
from kit.export.said_quantities import say_pack
from kit.export.sheet_cells import FIRST_ROW, INPUT_GUIDE, Book, Column, Page, Place, add_up, look_of_count, start_page
from kit.export.terms_sheet import round_formula
from kit.money import CENT_PLACES, CHARGED_PLACES, count_packs, sum_money, to_charged, to_decimal
from kit.pricing.taxed import taxed_purchases
from kit.records import CostType, Purchase
from kit.units import whole_pieces

__all__ = ["CUT_PLAN", "NAME", "ordered_purchases", "place_purchases", "write_purchases"]

NAME = "Purchases"
CUT_PLAN = "Cut plan"
_COLUMNS = (
    Column("What", 40),
    Column("Supplier", 24),
    Column("Sold as, or cut into", 20),
    Column("Charged for", 8, figures=True),
    Column("Unit price (input)", 12, figures=True),
    Column("Amount", 11, figures=True),
    Column("Need", 10, figures=True),
    Column("Unit", 7),
    Column("One pack holds", 8, figures=True),
    Column("Packs", 6, figures=True),
    Column("Counted as", 44),
    Column("Left over", 16),
    Column("Kind of cost", 10),
    Column("Tax paid", 6),
    Column("Cost code", 8),
    Column("Purchase", 40),
    Column("Least for a job", 9, figures=True),
)
_WHAT, _SUPPLIER, _SOLD_AS, _CHARGED, _PRICE, _AMOUNT, _NEED, _UNIT, _PACK, _PACKS, _COUNTED, _LEFT, _KIND, _TAX, _CODE, _ID, _LEAST = range(17)
_GUIDE = f"{INPUT_GUIDE} Which piece comes out of which stock stands below: measure each piece on site before you cut."
_GAP = 2  # a blank row and the heads stand between the sum and the cut plan
_SAME = 1e-9


def ordered_purchases(estimate: Estimate) -> list[Purchase]:
    """The purchases by kind of cost, taxed ones first, so that each sum of the build-up is one range.

    A minimum charge that is reached stands there at nothing: the sheet must charge it when somebody lowers a price in it.
    """
    taxed, kinds, lists = taxed_purchases(estimate), list(CostType), estimate.lists
    purchases = with_idle_minimums(estimate.purchases, lists, estimate.job.identity.visit_date)
    return sorted(purchases, key=lambda purchase: (kinds.index(lists.item(purchase.item).cost_type), purchase.id not in taxed))


def place_purchases(estimate: Estimate) -> dict[str, Place]:
    """The cells of each purchase, `price:<purchase>` and `buy:<purchase>` (its amount), and `all:buy`, the sum."""
    places: dict[str, Place] = {}
    purchases = ordered_purchases(estimate)
    for row, purchase in enumerate(purchases, FIRST_ROW):
        places[f"price:{purchase.id}"] = Place(NAME, row, _PRICE)
        places[f"buy:{purchase.id}"] = Place(NAME, row, _AMOUNT)
    return places | {"all:buy": Place(NAME, FIRST_ROW + len(purchases), _AMOUNT)}


def write_purchases(book: Book, estimate: Estimate, title: str) -> None:
    """The sheet."""
    page = start_page(book, NAME, title, _COLUMNS, _GUIDE, keep_columns=1)
    taxed, purchases = taxed_purchases(estimate), ordered_purchases(estimate)
    for row, purchase in enumerate(purchases, FIRST_ROW):
        item = estimate.lists.item(purchase.item)
        page.text(row, _WHAT, item.name, "words")
        page.text(row, _SUPPLIER, purchase.supplier, "words")
        page.text(row, _SOLD_AS, sold_as(estimate, purchase), "words")
        page.text(row, _UNIT, purchase.unit)
        page.number(row, _PACK, purchase.pack, look_of_count(purchase.pack, purchase.unit))
        (page.number if is_idle(purchase) else page.enter)(row, _PRICE, purchase.unit_price, "price")
        page.text(row, _LEFT, purchase.left_over)
        page.text(row, _KIND, item.cost_type)
        page.text(row, _TAX, "yes" if purchase.id in taxed else "no")
        page.text(row, _CODE, item.cost_code)
        page.text(row, _ID, purchase.id)
        _write_need(page, row, purchase, estimate)
        page.text(row, _COUNTED, _write_charged(page, row, purchase))
        charged, price = Place(NAME, row, _CHARGED).cell, Place(NAME, row, _PRICE).cell
        page.formula(row, _AMOUNT, round_formula(f"{charged}*{price}", CENT_PLACES), purchase.amount, "money")
    _write_total(page, purchases)
    last = _write_cut_plan(page, estimate, book.places["all:buy"].row)
    page.sheet.print_area(0, 0, last, _AMOUNT)  # what comes after it is for the screen


def _write_need(page: Page, row: int, purchase: Purchase, estimate: Estimate) -> None:
    """The need as the sum of the takeoff's lines; a plain figure where the purchase takes only a part of them; what is short of a minimum charge."""
    if purchase.least is not None:
        charged = add_up([page.book.places[f"buy:{name}"] for name in purchase.tops_up], NAME)
        page.number(row, _LEAST, purchase.least, "money")
        page.formula(row, _NEED, f"MAX({Place(NAME, row, _LEAST).cell}-{charged},0)", purchase.need, "quantity")
        return
    needs = {line.id: line.need for line in estimate.lines}
    summed = math.fsum(needs[line_id] for line_id in purchase.line_ids)
    if purchase.line_ids and math.isclose(summed, purchase.need, rel_tol=_SAME):
        together = add_up([page.book.places[f"need:{line_id}"] for line_id in purchase.line_ids], NAME)
        pieces = purchase.packs and purchase.unit == "each"
        formula, need = (f"ROUNDUP(ROUND({together},6),0)", whole_pieces(purchase.need)) if pieces else (together, purchase.need)
        page.formula(row, _NEED, formula, need, look_of_count(need, purchase.unit))
    else:
        page.number(row, _NEED, purchase.need, look_of_count(purchase.need, purchase.unit))


def _write_charged(page: Page, row: int, purchase: Purchase) -> str:
    """Packs and what the price is multiplied with; how they were counted comes back in words."""
    need, pack, packs = (Place(NAME, row, column).cell for column in (_NEED, _PACK, _PACKS))
    if purchase.packs == 0:
        if to_charged(purchase.need / purchase.pack) == to_decimal(purchase.charged, CHARGED_PLACES):
            page.formula(
                row, _CHARGED, round_formula(f"{need}/{pack}", CHARGED_PLACES, noisy=True), purchase.charged, look_of_count(purchase.charged, purchase.unit)
            )
            return "as measured"
        page.number(row, _CHARGED, purchase.charged, "quantity")
        return "as charged"
    counted = "as bought" if not purchase.plan else "from the cut plan" if purchase.proven else "from a cut plan not proven cheapest"
    if not purchase.plan and count_packs(purchase.need, purchase.pack) == purchase.packs:
        page.formula(row, _PACKS, f"ROUNDUP(ROUND({need}/{pack},6),0)", purchase.packs, "whole")
        counted = "whole packs"
    else:
        page.number(row, _PACKS, purchase.packs, "whole")
    if purchase.charged == purchase.packs:
        page.formula(row, _CHARGED, packs, purchase.charged, "whole")
    else:
        page.number(row, _CHARGED, purchase.charged, "quantity")
        counted = f"{counted}, charged by use"
    return counted


def _write_cut_plan(page: Page, estimate: Estimate, above: int) -> int:
    """Below the sum, a row for each stick or sheet that is cut, if any is; gives the last row."""
    planned = [(purchase, part) for purchase in estimate.purchases for part in purchase.plan]
    if not planned:
        return above
    head = above + _GAP
    for column in range(_AMOUNT + 1):
        page.text(head, column, {_WHAT: CUT_PLAN, _SUPPLIER: "Supplier", _SOLD_AS: "Cut into"}.get(column, ""), "head")
    for row, (purchase, part) in enumerate(planned, head + 1):
        name = estimate.lists.item(purchase.item).name
        page.text(row, _WHAT, f"{name}, {say_pack(name, sold_as(estimate, purchase))}", "words")
        page.text(row, _SUPPLIER, purchase.supplier, "words")  # on a next page the heads of the purchases stand above it
        page.across(row, _SOLD_AS, _AMOUNT, f"{counted_pieces(part)}; left {part.left_over}")
    return head + len(planned)


def _write_total(page: Page, purchases: Sequence[Purchase]) -> None:
    place = page.book.places["all:buy"]
    page.rule(place.row, len(_COLUMNS))
    page.text(place.row, _WHAT, "All purchases", bold=True, topped=True)
    amounts = [page.book.places[f"buy:{purchase.id}"] for purchase in purchases]
    page.formula(place.row, _AMOUNT, add_up(amounts, NAME), sum_money([purchase.amount for purchase in purchases]), "money", bold=True, topped=True)
