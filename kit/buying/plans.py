"""Pieces to cut: which stock to buy for them, by an exact plan; offcuts from the van serve first."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from functools import lru_cache

from kit.buying.packs import make_purchase
from kit.cutting.lengths import CutPlan, Stick, Stock, first_plan, plan_cuts
from kit.cutting.slabs import CutSlab, Slab, SlabPlan, first_slab_plan, plan_slabs
from kit.job.offcut import Offcut
from kit.lists.goods_rows import Item, Price
from kit.records import Line, PackedPart, Piece, PlacedPiece, Purchase
from kit.sources import value
from kit.units import format_length

__all__ = ["VAN", "pieces_of", "plan_sheets", "plan_sticks"]

VAN = "offcuts in the van"


def pieces_of(lines: Sequence[Line]) -> tuple[Piece, ...]:
    """Every piece of the lines of one item."""
    return tuple(piece for line in lines for piece in line.pieces)


def plan_sticks(item: Item, lines: Sequence[Line], prices: Sequence[Price], offcuts: Sequence[Offcut], *, exact: bool) -> tuple[Purchase, ...]:
    """One purchase for each stock that the plan buys; offcuts from the van stand beside them at no cost.

    With `exact` the plan is proven; otherwise it is the first good one, for as long as a slider moves.

    Raises
    ------
    CutError
        If a piece is longer than every stock.
    """
    rows = {price.id: price for price in prices}
    stock = [Stock(price.stock_length_in or 0.0, price.price, price.id) for price in prices if not price.least_packs]
    stock += [Stock(offcut.length_in, Decimal(0), f"{VAN}: {format_length(offcut.length_in)}", offcut.count) for offcut in offcuts]
    plan = _stick_plan(pieces_of(lines), tuple(stock), item.kerf_in or 0.0, value("practice", "cutting/least-offcut"), exact=exact)
    names: dict[str, list[Stick]] = {}
    for stick in plan.sticks:
        names.setdefault(stick.stock.name, []).append(stick)
    return tuple(_purchase(item, lines, rows, name, sticks, plan) for name, sticks in names.items())


def _purchase(item: Item, lines: Sequence[Line], rows: dict[str, Price], name: str, sticks: list[Stick], plan: CutPlan) -> Purchase:
    need = sum(piece.length_in for stick in sticks for piece in stick.pieces) / 12.0
    row = rows.get(name)
    if row is None:
        row = _van_row(item, name, sticks[0].stock.length_in, sticks[0].stock.length_in / 12.0)
    bought = make_purchase(f"{item.item}/{row.sold_as}", item, lines, row, need, len(sticks))
    offcuts = [format_length(stick.left_over_in) for stick in sticks if stick.usable]
    return replace(
        bought,
        left_over=f"offcuts {', '.join(offcuts)}" if offcuts else "nothing to keep",
        plan=tuple(_part(stick) for stick in sticks),
        bound=plan.bound,
        proven=plan.proven,
    )


def plan_sheets(item: Item, lines: Sequence[Line], prices: Sequence[Price], offcuts: Sequence[Offcut], *, exact: bool) -> tuple[Purchase, ...]:
    """One purchase for each size of sheet, slab or blank that the plan buys; what the van holds stands beside it at no cost.

    With `exact` the plan is proven for through cuts where the search ends; otherwise it is the first good one.

    Raises
    ------
    CutError
        If a part fits no sheet.
    """
    rows = {price.id: price for price in prices}
    slabs = [Slab(price.stock_length_in or 0.0, price.stock_width_in or 0.0, price.price, price.id) for price in prices if not price.least_packs]
    slabs += [
        Slab(offcut.length_in, offcut.width_in, Decimal(0), f"{VAN}: {format_length(offcut.length_in)} x {format_length(offcut.width_in)}", offcut.count)
        for offcut in offcuts
        if offcut.width_in is not None
    ]
    plan = _sheet_plan(pieces_of(lines), tuple(slabs), item.kerf_in or 0.0, exact=exact)
    names: dict[str, list[CutSlab]] = {}
    for cut in plan.slabs:
        names.setdefault(cut.slab.name, []).append(cut)
    bought = []
    for name, cuts in names.items():
        slab = cuts[0].slab
        row = rows.get(name) or _van_row(item, name, slab.length_in, slab.length_in * slab.width_in / 144.0, slab.width_in)
        need = sum(part.length_in * part.width_in for cut in cuts for part in cut.parts) / 144.0
        purchase = make_purchase(f"{item.item}/{row.sold_as}", item, lines, row, need, len(cuts))
        bought.append(replace(purchase, plan=tuple(_sheet(cut) for cut in cuts), bound=plan.bound, proven=plan.proven))
    return tuple(bought)


@lru_cache(maxsize=512)
def _stick_plan(pieces: tuple[Piece, ...], stock: tuple[Stock, ...], kerf_in: float, least_offcut_in: float, *, exact: bool) -> CutPlan:
    """The plan, remembered by its measures: most ticks of a slider leave a cut list as it was."""
    planner = plan_cuts if exact else first_plan
    return planner(pieces, stock, kerf_in=kerf_in, least_offcut_in=least_offcut_in)


@lru_cache(maxsize=512)
def _sheet_plan(pieces: tuple[Piece, ...], slabs: tuple[Slab, ...], kerf_in: float, *, exact: bool) -> SlabPlan:
    """The plan, remembered by its measures."""
    planner = plan_slabs if exact else first_slab_plan
    return planner(pieces, slabs, kerf_in=kerf_in)


def _sheet(cut: CutSlab) -> PackedPart:
    used = sum(part.length_in * part.width_in for part in cut.parts) / 144.0
    return PackedPart(
        stock=cut.slab.name,
        length_in=cut.slab.length_in,
        width_in=cut.slab.width_in,
        pieces=tuple(part.name for part in cut.parts),
        left_over=f"{cut.slab.length_in * cut.slab.width_in / 144.0 - used:.4g} sq ft",
        placed=cut.parts,
    )


def _van_row(item: Item, name: str, length_in: float, holds: float, width_in: float | None = None) -> Price:
    return Price(item.item, VAN, dt.date.min, None, name, holds, length_in, width_in, Decimal(0), "USD")


def _part(stick: Stick) -> PackedPart:
    return PackedPart(
        stock=stick.stock.name,
        length_in=stick.stock.length_in,
        width_in=0.0,
        pieces=tuple(piece.name for piece in stick.pieces),
        left_over=format_length(stick.left_over_in),
        placed=tuple(PlacedPiece(piece.name, piece.start_in, piece.length_in) for piece in stick.pieces),
    )
