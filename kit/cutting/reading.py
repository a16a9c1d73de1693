"""From measures in inches and prices to the whole numbers of a cutting job."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import ceil, floor, isfinite, lcm

from kit.cutting.bars import Bars
from kit.cutting.exact import count_places, read_length, whole_price
from kit.cutting.plans import Stock
from kit.cutting.slab_plans import Slab
from kit.errors import CutError, Fault
from kit.records import Piece

__all__ = ["CutJob", "read_job"]

MOST_ROOM = 300_000
"""Longest stick in grid units; measures on a finer grid are rounded against the plan, and for the bound in its favour."""


@dataclass(frozen=True, slots=True)
class CutJob:
    """A cutting job in whole numbers, and the way back.

    Parameters
    ----------
    bars
        The job in whole numbers; None without pieces.
    loose
        The job rounded in favour of the bound, when its grid was too fine to keep.
    wanted
        For each size of `bars`: names and lengths of its pieces.
    stocks
        For each stock of `bars`: the stock meant.
    places
        Decimals of the prices.
    least_left
        Least left-over that is usable, blade included [fine grid units of `bars`].
    """

    bars: Bars | None
    loose: Bars | None
    wanted: tuple[tuple[tuple[str, Fraction], ...], ...]
    stocks: tuple[Stock, ...]
    places: int
    least_left: int
    kerf: Fraction
    trim: Fraction


def read_job(pieces: Sequence[Piece], stock: Sequence[Stock], *, kerf_in: float, trim_in: float, least_offcut_in: float) -> CutJob:
    """Check a job and put it in whole numbers; the parameters are those of `plan_cuts`.

    Raises
    ------
    CutError
        With every fault found.
    """
    faults = [*check_measures(kerf_in=kerf_in, trim_in=trim_in, least_offcut_in=least_offcut_in), *check_pieces(pieces), *check_stock(stock)]
    if faults:
        raise CutError(faults)
    kerf, trim = read_length(kerf_in), read_length(trim_in)
    lost = trim + kerf if trim else Fraction(0)
    on_sale = [entry for entry in stock if entry.available != 0]
    wanted = [(read_length(piece.length_in), piece) for piece in pieces if piece.count]
    longest = max((read_length(entry.length_in) - lost for entry in on_sale), default=Fraction(0))
    faults = [too_long(piece, longest) for length, piece in wanted if length > longest]
    if faults:
        raise CutError(faults)
    if not wanted:
        return CutJob(None, None, (), (), 2, 0, kerf, trim)
    return build_job([(length, piece.name, piece.count) for length, piece in wanted], on_sale, kerf, trim, read_length(least_offcut_in))


def build_job(wanted: list[tuple[Fraction, str, int]], on_sale: list[Stock], kerf: Fraction, trim: Fraction, least: Fraction) -> CutJob:
    """The checked job on the grid that holds all measures; when that is too fine, on a coarser one rounded both ways."""
    lost = trim + kerf if trim else Fraction(0)
    lengths = [read_length(entry.length_in) - lost + kerf for entry in on_sale]
    count = sum(count for _, _, count in wanted)
    places = count_places(entry.price for entry in on_sale)
    kept = worth_keeping(lengths, on_sale, places, count)
    job = Measures([(length + kerf, count) for length, _, count in wanted], [(lengths[place], on_sale[place]) for place in kept], places)
    grid = lcm(*(length.denominator for length in [*lengths, *(length + kerf for length, _, _ in wanted)]))
    bars, loose = job.on_grid(grid, ceil, floor), None
    if max(bars.rooms) > MOST_ROOM:
        grid = max(1, int(MOST_ROOM / max(lengths)))
        bars, loose = job.on_grid(grid, ceil, floor), job.on_grid(grid, floor, ceil)
    groups: dict[int, list[tuple[str, Fraction]]] = {}
    for length, name, number in wanted:
        groups.setdefault(ceil((length + kerf) * grid), []).extend([(name, length)] * number)
    names = tuple(tuple(groups[size]) for size in sorted(groups, reverse=True))
    return CutJob(bars, loose, names, tuple(on_sale[place] for place in kept), places, ceil((least + kerf) * grid), kerf, trim)


@dataclass(frozen=True, slots=True)
class Measures:
    """Lengths with their blade: of the pieces, with counts, and of the stocks; and the decimals of the prices."""

    pieces: list[tuple[Fraction, int]]
    stocks: list[tuple[Fraction, Stock]]
    places: int

    def on_grid(self, grid: int, round_piece: Callable[[Fraction], int], round_stick: Callable[[Fraction], int]) -> Bars:
        """The job in whole parts of 1 / grid inch."""
        demand: dict[int, int] = {}
        for length, number in self.pieces:
            size = round_piece(length * grid)
            demand[size] = demand.get(size, 0) + number
        sizes = tuple(sorted(demand, reverse=True))
        count = sum(demand.values())
        return Bars(
            sizes,
            tuple(demand[size] for size in sizes),
            tuple(round_stick(length * grid) for length, _ in self.stocks),
            tuple(price_stick(entry, self.places, count) for _, entry in self.stocks),
            tuple(count if entry.available is None else min(entry.available, count) for _, entry in self.stocks),
        ).reduced()


def price_stick(entry: Stock, places: int, count: int) -> int:
    """Cost of a stick in the unit of `Bars.costs`."""
    whole = whole_price(entry.price, places)
    return whole * (count + 1) + (whole > 0)


def worth_keeping(lengths: list[Fraction], on_sale: list[Stock], places: int, count: int) -> list[int]:
    """Places of the stocks that are not outdone by an unlimited one as long and no dearer; shortest first."""
    costs = [price_stick(entry, places, count) for entry in on_sale]
    order = sorted(range(len(on_sale)), key=lambda place: (lengths[place], costs[place], place))
    endless = [place for place in order if on_sale[place].available is None]
    kept = []
    for place in order:
        rank = (-lengths[place], costs[place], on_sale[place].available is not None, place)
        longer = [other for other in endless if lengths[other] >= lengths[place] and costs[other] <= costs[place]]
        if all((-lengths[other], costs[other], False, other) >= rank for other in longer):
            kept.append(place)
    return kept


def check_measures(**measures: float) -> Iterator[Fault]:
    """Faults of measures that may be 0 but not less."""
    for name, measure in measures.items():
        if not isfinite(measure) or measure < 0:
            yield Fault(name, f"{measure:.10g} in is no width or length. Give 0 or more inches.")


def check_pieces(pieces: Sequence[Piece]) -> Iterator[Fault]:
    """Faults of the pieces one by one."""
    for piece in pieces:
        if not isfinite(piece.length_in) or piece.length_in <= 0:
            yield Fault(f"piece {piece.name}", f"{piece.length_in:.10g} in is no length. Give more than 0 inches.")
        if piece.count < 0 or piece.count != int(piece.count):
            yield Fault(f"piece {piece.name}", f"{piece.count} is no count. Give a whole number, 0 or more.")


def check_stock(stock: Sequence[Stock | Slab]) -> Iterator[Fault]:
    """Faults of the stock, sticks or slabs, one by one."""
    for entry in stock:
        if not isfinite(entry.length_in) or entry.length_in <= 0:
            yield Fault(f"stock {entry.name}", f"{entry.length_in:.10g} in is no length. Give more than 0 inches.")
        if not isinstance(entry.price, Decimal) or not entry.price.is_finite() or entry.price < 0:
            yield Fault(f"stock {entry.name}", f"{entry.price} is no price. Give a decimal amount, 0 or more.")
        if entry.available is not None and entry.available < 0:
            yield Fault(f"stock {entry.name}", f"{entry.available} is no number of sticks or slabs. Give 0 or more, or None for as many as wanted.")


def too_long(piece: Piece, longest: Fraction) -> Fault:
    """The fault of a piece that no stock can hold."""
    if longest <= 0:
        return Fault(f"piece {piece.name}", "there is no stock to cut it from.")
    return Fault(f"piece {piece.name}", f"{piece.length_in:.10g} in is longer than every stock; the longest holds {float(longest):.10g} in.")
