"""Pieces to cut: which sticks, sheets, slabs or blanks to buy for them, by an exact plan; offcuts from the van serve first."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from functools import lru_cache

from kit.buying.packs import make_purchase
from kit.cutting.lengths import plan_cuts
from kit.cutting.plans import CutPlan, CutStock, Stock
from kit.cutting.slabs import plan_slabs
from kit.errors import CutError, Fault
from kit.job.job import Offcut
from kit.lists.goods_rows import Item, Price
from kit.money import split_cents, sum_money
from kit.records import Line, PackedPart, Piece, Purchase
from kit.sources import value
from kit.units import format_amount, format_length

__all__ = ["VAN", "pieces_of", "plan_pieces", "share_bound"]

VAN = "offcuts in the van"
_FIELDS = {
    "cabinet": ("cabinet.width", "cabinet.depth", "cabinet.height"),
    "counter": ("counter.runs",),
    "drain": ("sink.outlet_setback", "plumbing.stub_height", "plumbing.stub_offset"),
    "fillers": ("cabinet.width", "cabinet.height"),
    "frame": ("cabinet.width", "cabinet.depth", "cabinet.height"),
    "shims": ("cabinet.depth",),
    "stub": ("plumbing.stub_height",),
}
"""Measures of the job that make the pieces of a part long."""


def pieces_of(lines: Sequence[Line]) -> tuple[Piece, ...]:
    """Every piece of the lines of one item."""
    return tuple(piece for line in lines for piece in line.pieces)


def plan_pieces(item: Item, lines: Sequence[Line], prices: Sequence[Price], offcuts: Sequence[Offcut]) -> tuple[Purchase, ...]:
    """One purchase for each stock that the plan buys; what the van holds stands beside it at no cost.

    Raises CutError if a piece fits no stock: which piece of which line, its size, the largest stock, and the measures of the job to look at.
    """
    rows = {price.id: price for price in prices if not price.least_packs} | {_van_name(offcut): _van_row(item, offcut) for offcut in offcuts}
    counts = {_van_name(offcut): offcut.count for offcut in offcuts}
    stock = tuple(Stock(row.stock_length_in or 0.0, row.price, name, counts.get(name), row.stock_width_in or 0.0) for name, row in rows.items())
    try:
        plan = _plan(pieces_of(lines), stock, item.kerf_in or 0.0, value("practice", "cutting/least-offcut"), sticks=item.cut == "length")
    except CutError as error:
        raise CutError([_explain(fault, item, lines) for fault in error.faults]) from None
    bought = []
    for name in dict.fromkeys(cut.stock.name for cut in plan.cut):
        mine = [cut for cut in plan.cut if cut.stock.name == name]
        packed = tuple(_pack(item, cut) for cut in mine)
        need = sum(_holds(item, piece.length_in, piece.width_in) for cut in mine for piece in cut.pieces)
        purchase = make_purchase(f"{item.item}/{rows[name].sold_as}", item, lines, rows[name], need, len(mine))
        if item.cut == "length":
            offcuts_left = [part.left_over for cut, part in zip(mine, packed, strict=True) if cut.usable]
            purchase = replace(purchase, left_over=f"offcuts {', '.join(offcuts_left)}" if offcuts_left else "nothing to keep")
        bought.append(replace(purchase, plan=packed, proven=plan.proven))
    return share_bound(bought, plan.bound)


@lru_cache(maxsize=512)
def _plan(pieces: tuple[Piece, ...], stock: tuple[Stock, ...], kerf_in: float, least_offcut_in: float, *, sticks: bool) -> CutPlan:
    """Remembered by its measures: most moves of a slider leave a cut list as it was."""
    if sticks:
        return plan_cuts(pieces, stock, kerf_in=kerf_in, least_offcut_in=least_offcut_in)
    return plan_slabs(pieces, [entry for entry in stock if entry.width_in], kerf_in=kerf_in)


def _pack(item: Item, cut: CutStock) -> PackedPart:
    """What one stick or sheet yields."""
    size = cut.stock.length_in, cut.stock.width_in
    names = tuple(piece.name for piece in cut.pieces)
    if item.cut == "length":
        return PackedPart(cut.stock.name, *size, names, format_length(cut.left_over_in), cut.pieces, cut.left_over_in)
    left_over = f"{format_amount(_holds(item, *size) - sum(_holds(item, part.length_in, part.width_in) for part in cut.pieces))} sq ft"
    return PackedPart(cut.stock.name, *size, names, left_over, cut.pieces)


def _holds(item: Item, length_in: float, width_in: float | None) -> float:
    """Feet of a length, or square feet of a sheet."""
    return length_in / 12.0 if item.cut == "length" else length_in * (width_in or 0.0) / 144.0


def _van_name(offcut: Offcut) -> str:
    sizes = (size for size in (offcut.length_in, offcut.width_in) if size is not None)
    return f"{VAN}: {' x '.join(map(format_length, sizes))}"


def _van_row(item: Item, offcut: Offcut) -> Price:
    holds = _holds(item, offcut.length_in, offcut.width_in)
    return Price(item.item, VAN, dt.date.min, None, _van_name(offcut), holds, offcut.length_in, offcut.width_in, Decimal(0), "USD")


def share_bound(purchases: Sequence[Purchase], bound: Decimal) -> tuple[Purchase, ...]:
    """Each purchase with its part of the plan's bound: what the plan may cost too much is taken off the purchases by their amounts."""
    amounts = [purchase.amount for purchase in purchases]
    gap = sum_money(amounts) - bound
    gaps = split_cents(gap, amounts) if gap else [gap] * len(amounts)
    return tuple(replace(purchase, bound=purchase.amount - part) for purchase, part in zip(purchases, gaps, strict=True))


def _explain(fault: Fault, item: Item, lines: Sequence[Line]) -> Fault:
    """A fault of the plan with the line that asks for the piece, the item, and where the job or the list can be changed."""
    named = [line for line in lines if any(fault.place == f"piece {piece.name}" for piece in line.pieces)] or list(lines)
    fields = list(dict.fromkeys(field for line in named for part in line.parts for field in _FIELDS.get(part, ())))
    check = f" Check {', '.join(fields)}, or add" if fields else " Add"
    where = ", ".join(line.id for line in named)
    message = f"{fault.place} of {item.name}: {fault.message}" if fault.place else f"{item.name}: {fault.message}"
    return Fault(where, f"{message}{check} a larger size of {item.item} to prices.csv.")
