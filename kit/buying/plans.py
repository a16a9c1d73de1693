"""Pieces to cut: which stock to buy for them, by an exact plan; offcuts from the van serve first."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

from kit.buying.packs import make_purchase
from kit.cutting.lengths import CutPlan, Stick, Stock, first_plan, plan_cuts
from kit.job.offcut import Offcut
from kit.lists import Item, Price
from kit.records import Line, PackedPart, Piece, PlacedPiece, Purchase
from kit.sources import value
from kit.units import format_length

__all__ = ["VAN", "pieces_of", "plan_sticks"]

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
    stock = [Stock(price.stock_length or 0.0, price.price, price.id) for price in prices]
    stock += [Stock(offcut.length_in, Decimal(0), f"{VAN}: {format_length(offcut.length_in)}", offcut.count) for offcut in offcuts]
    planner = plan_cuts if exact else first_plan
    plan = planner(pieces_of(lines), stock, kerf_in=item.kerf or 0.0, least_offcut_in=value("practice", "cutting/least-offcut"))
    names: dict[str, list[Stick]] = {}
    for stick in plan.sticks:
        names.setdefault(stick.stock.name, []).append(stick)
    return tuple(_purchase(item, lines, rows, name, sticks, plan) for name, sticks in names.items())


def _purchase(item: Item, lines: Sequence[Line], rows: dict[str, Price], name: str, sticks: list[Stick], plan: CutPlan) -> Purchase:
    need = sum(piece.length_in for stick in sticks for piece in stick.pieces) / 12.0
    row = rows.get(name)
    if row is None:
        row = _van_row(item, name, sticks[0].stock)
    bought = make_purchase(f"{item.item}/{row.sold_as}", item, lines, row, need, len(sticks))
    offcuts = [format_length(stick.left_over_in) for stick in sticks if stick.usable]
    return replace(
        bought,
        left_over=f"offcuts {', '.join(offcuts)}" if offcuts else "nothing to keep",
        plan=tuple(_part(stick) for stick in sticks),
        bound=plan.bound,
        proven=plan.proven,
    )


def _van_row(item: Item, name: str, stock: Stock) -> Price:
    return Price(item.item, VAN, dt.date.min, None, name, stock.length_in / 12.0, stock.length_in, None, Decimal(0), "USD")


def _part(stick: Stick) -> PackedPart:
    return PackedPart(
        stock=stick.stock.name,
        length_in=stick.stock.length_in,
        width_in=0.0,
        pieces=tuple(piece.name for piece in stick.pieces),
        left_over=format_length(stick.left_over_in),
        placed=tuple(PlacedPiece(piece.name, piece.start_in, piece.length_in) for piece in stick.pieces),
    )
