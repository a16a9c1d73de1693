"""A cutting job in whole numbers, and the way back to inches, money and names.

The blade is added once to each piece and once to each stick or slab, along and across: n pieces from one stick need n - 1
cuts between them, so that `sum(l) + (n - 1) k <= L` is the same as `sum(l + k) <= L + k`. Every inequality that follows is
exact, also where the rest is thinner than the blade.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import lcm
from operator import le

from kit.cutting.plans import CutPlan, CutStock, Prices, Proof, Stock, check_job, read_length, worth_keeping
from kit.cutting.sets import Rule
from kit.errors import CutError, Fault
from kit.records import Piece, PlacedPiece

__all__ = ["Answer", "CutJob", "Place", "Size", "read_job"]

Size = tuple[int, int]
Place = tuple[int, int, int, int, int]
"""One piece on a stick or slab: its kind, then along, across, length and width as it lies, blade included [grid units]."""


@dataclass(frozen=True, slots=True)
class Answer:
    """The best plan found, as stock and places of each stick or slab, None when there is none; its cost, and a bound on every plan."""

    loads: tuple[tuple[int, tuple[Place, ...]], ...] | None
    cost: int
    bound: int
    proof: Proof
    rules: tuple[Rule, ...]


@dataclass(frozen=True)
class CutJob:
    """A cutting job in whole numbers: lengths and widths in units of a grid, `grid` of them in an inch, the blade included.

    `ways` are the one or two ways in which a piece of each kind may lie, as (length, width), largest kind first, `names` its pieces; `rooms` (length, width)
    of each stock, `costs` what one costs, as `Prices` counts it, `supply` how many there are (as many as pieces where there is no end of them), `stocks`
    what is meant by it. What has no width is as wide as the `blade`. `least` is the shortest left-over that is worth keeping.
    """

    ways: tuple[tuple[Size, ...], ...]
    rooms: tuple[Size, ...]
    costs: tuple[int, ...]
    supply: tuple[int, ...]
    names: tuple[tuple[str, ...], ...]
    stocks: tuple[Stock, ...]
    prices: Prices
    grid: int
    blade: int
    least: int

    @property
    def demand(self) -> tuple[int, ...]:
        """How many pieces of each kind."""
        return tuple(map(len, self.names))

    def area(self, counts: Sequence[int]) -> int:
        """Area of the pieces counted, blade included."""
        return sum([ways[0][0] * ways[0][1] * count for ways, count in zip(self.ways, counts, strict=True)])

    def fits(self, length: int, width: int, stock: int) -> bool:
        """Whether a box fits a stick or slab."""
        return length <= self.rooms[stock][0] and width <= self.rooms[stock][1]

    def write(self, answer: Answer) -> CutPlan:
        """The answer in inches and money, with names on the pieces. Raises CutError if the answer has no plan."""
        if answer.loads is None:
            held = "can't hold" if answer.bound >= answer.cost else "was not found to hold"
            raise CutError(f"The stock available {held} all {sum(self.demand)} pieces. Add to it, or name a stock without a limit.")
        queues = [list(reversed(names)) for names in self.names]
        cut = [self._cut(stock, places, queues) for stock, places in sorted(answer.loads, key=self._largest_first)]
        cost, bound = self.prices.money(answer.cost), self.prices.money(answer.bound)
        proof: Proof = answer.proof if bound == cost else "open"
        return CutPlan(tuple(cut), cost, bound, bound == cost, proof, tuple(rule.values for rule in answer.rules))

    def _largest_first(self, load: tuple[int, tuple[Place, ...]]) -> tuple[float, int, list[int]]:
        stock, places = load
        kinds = [place[0] for place in places]
        entry = self.stocks[stock]
        return -entry.length_in * (entry.width_in or 1.0), stock, [-kinds.count(kind) for kind in range(len(self.ways))]

    def _cut(self, stock: int, places: Sequence[Place], queues: Sequence[list[str]]) -> CutStock:
        """One stick or slab with its pieces where they lie."""
        pieces = []
        blade, grid = self.blade, self.grid
        for kind, along, across, length, width in sorted(places, key=lambda place: (place[2], place[1])):
            pieces.append(PlacedPiece(queues[kind].pop(), along / grid, (length - blade) / grid, across / grid, (width - blade) / grid))
        end = max(along + length for _, along, _, length, _ in places)
        left = max(0, self.rooms[stock][0] - end - blade)
        return CutStock(self.stocks[stock], tuple(pieces), left / grid, usable=left >= self.least and left > 0)


def read_job(pieces: Sequence[Piece], stock: Sequence[Stock], kerf_in: float, least_offcut_in: float, *, wide: bool) -> CutJob:
    """Check a job and put it in whole numbers, on the grid that holds all its measures; `wide` when widths count.

    Raises
    ------
    CutError
        A piece fits no stock; a measure or price makes no sense. All faults in one report.
    """
    if faults := [*check_job(pieces, stock, wide=wide, kerf_in=kerf_in, least_offcut_in=least_offcut_in)]:
        raise CutError(faults)
    kerf, least = read_length(kerf_in), read_length(least_offcut_in)
    sized_pieces = [(inches_of(piece), piece) for piece in pieces if piece.count]
    on_sale = [entry for entry in stock if entry.available != 0]
    rooms = [inches_of(entry) for entry in on_sale]
    faults = [too_large(piece, on_sale) for size, piece in sized_pieces if not any(all(map(le, way, room)) for way in ways_of(piece, size) for room in rooms)]
    if faults:
        raise CutError(faults)
    groups: dict[tuple[tuple[Fraction, Fraction], ...], list[str]] = {}
    for size, piece in sized_pieces:
        groups.setdefault(ways_of(piece, size), []).extend([piece.name] * piece.count)
    kinds = sorted(groups, key=lambda ways: (-ways[0][0] * (ways[0][1] or 1), ways))
    useful = worth_keeping(rooms, on_sale)
    count = sum(map(len, groups.values()))
    prices = Prices([on_sale[place].price for place in useful], count)
    grid = lcm(kerf.denominator, least.denominator, *(inches.denominator for size in (*rooms, *(size for size, _ in sized_pieces)) for inches in size))

    def whole(size: tuple[Fraction, Fraction]) -> Size:
        return int((size[0] + kerf) * grid), int((size[1] + kerf) * grid)

    return CutJob(
        tuple(tuple(map(whole, ways)) for ways in kinds),
        tuple(whole(rooms[place]) for place in useful),
        prices.costs,
        tuple(count if (available := on_sale[place].available) is None else min(available, count) for place in useful),
        tuple(tuple(groups[ways]) for ways in kinds),
        tuple(on_sale[place] for place in useful),
        prices,
        grid,
        int(kerf * grid),
        int(least * grid),
    )


def inches_of(entry: Piece | Stock) -> tuple[Fraction, Fraction]:
    """Length and width [in]."""
    return read_length(entry.length_in), read_length(entry.width_in)


def ways_of(piece: Piece, size: tuple[Fraction, Fraction]) -> tuple[tuple[Fraction, Fraction], ...]:
    """The ways in which a piece may lie, the longer first; a stick is never turned."""
    length, width = size
    return tuple(sorted({(length, width), (width, length)}, reverse=True)) if width and piece.grain == "free" else ((length, width),)


def too_large(piece: Piece, on_sale: Sequence[Stock]) -> Fault:
    """The fault of a piece that fits no stock."""
    if not on_sale:
        return Fault(f"piece {piece.name}", "There is no stock to cut it from.")
    sizes = ", ".join(write_size(*size) for size in sorted({(entry.length_in, entry.width_in) for entry in on_sale}))
    grain = ", grain along the length," if piece.width_in and piece.grain == "length" else ""
    return Fault(f"piece {piece.name}", f"{write_size(piece.length_in, piece.width_in)}{grain} fits no stock. Sizes available: {sizes}.")


def write_size(length_in: float, width_in: float) -> str:
    """A size as a person reads it, such as "96 x 26 in"."""
    return f"{length_in:.10g} x {width_in:.10g} in" if width_in else f"{length_in:.10g} in"
