"""An independent check of finished plans, in exact fractions; shares no code with the planner.

Planner and verifier agree on one thing only: a length typed as a float stands for the fraction with a denominator up
to 20,000 that lies within a billionth of an inch, if there is one.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from decimal import Decimal
from fractions import Fraction
from math import lcm

from kit.cutting.plans import CutPlan, Stick, Stock
from kit.errors import CutError, Fault
from kit.money import EXACT
from kit.records import Piece

__all__ = ["certify_cuts", "verify_cuts"]

CLOSE_IN = Fraction(1, 10**6)
"""Positions and left-overs are floats for drawing; they must be right to a millionth of an inch."""


def meant(length_in: float) -> Fraction:
    """What a float stands for [in]."""
    given = Fraction(length_in)
    near = given.limit_denominator(20_000)
    return near if abs(near - given) <= Fraction(1, 10**9) else given


def verify_cuts(plan: CutPlan, pieces: Sequence[Piece], stock: Sequence[Stock], kerf_in: float) -> None:
    """Check that a plan can be cut and costs what it says.

    Parameters
    ----------
    plan
        The plan.
    pieces, stock, kerf_in
        What it was asked for [in].

    Raises
    ------
    CutError
        With every fault: a stick overfilled, a piece missing or one too many, a blade forgotten, more sticks than
        there are, a wrong price, a bound above the cost.
    """
    faults = [*stick_faults(plan, kerf_in), *count_faults(plan, pieces), *supply_faults(plan, stock), *cost_faults(plan)]
    if faults:
        raise CutError(faults)


def stick_faults(plan: CutPlan, kerf_in: float) -> Iterator[Fault]:
    """Lengths, blade, positions and left-over of each stick."""
    blade, trim = meant(kerf_in), meant(plan.trim_in)
    first = trim + blade if trim else Fraction(0)
    for number, stick in enumerate(plan.sticks, start=1):
        place = f"stick {number}"
        length = meant(stick.stock.length_in)
        used = first + sum((meant(piece.length_in) for piece in stick.pieces), Fraction(0)) + blade * (len(stick.pieces) - 1)
        if not stick.pieces:
            yield Fault(place, "yields no piece.")
        if used > length:
            yield Fault(place, f"needs {float(used):.10g} in, the stick has {stick.stock.length_in:.10g} in.")
        yield from position_faults(place, stick, first, blade)
        left = max(Fraction(0), length - used - blade)
        if abs(Fraction(stick.left_over_in) - left) > CLOSE_IN:
            yield Fault(place, f"says {stick.left_over_in:.10g} in are left, {float(left):.10g} in are.")
        if stick.usable != (left > 0 and left >= meant(plan.least_offcut_in)):
            yield Fault(place, "its rest is wrongly called usable or not.")


def position_faults(place: str, stick: Stick, first: Fraction, blade: Fraction) -> Iterator[Fault]:
    """Where each piece starts."""
    at = first
    for piece in stick.pieces:
        if abs(Fraction(piece.start_in) - at) > CLOSE_IN:
            yield Fault(place, f"{piece.name} starts at {piece.start_in:.10g} in, it must at {float(at):.10g} in.")
        at += meant(piece.length_in) + blade


def count_faults(plan: CutPlan, pieces: Sequence[Piece]) -> Iterator[Fault]:
    """Pieces wanted against pieces cut."""
    wanted: Counter[tuple[str, float]] = Counter()
    for piece in pieces:
        wanted[piece.name, piece.length_in] += piece.count
    cut = Counter((piece.name, float(piece.length_in)) for stick in plan.sticks for piece in stick.pieces)
    for name, length_in in sorted({*wanted, *cut}):
        near = sum(count for (other, other_in), count in cut.items() if other == name and abs(other_in - length_in) < CLOSE_IN)
        want = sum(count for (other, other_in), count in wanted.items() if other == name and abs(other_in - length_in) < CLOSE_IN)
        if near != want:
            yield Fault(f"piece {name}", f"{length_in:.10g} in: {want} wanted, {near} cut.")


def supply_faults(plan: CutPlan, stock: Sequence[Stock]) -> Iterator[Fault]:
    """Sticks cut against sticks there are."""
    for entry, used in Counter(stick.stock for stick in plan.sticks).items():
        offered = [other.available for other in stock if other == entry]
        if not offered:
            yield Fault(f"stock {entry.name}", "is not on offer.")
        elif None not in offered and used > sum(number or 0 for number in offered):
            yield Fault(f"stock {entry.name}", f"{used} sticks are cut, there are {sum(number or 0 for number in offered)}.")


def cost_faults(plan: CutPlan) -> Iterator[Fault]:
    """Cost and bound."""
    cost = sum((Fraction(stick.stock.price) for stick in plan.sticks), Fraction(0))
    if Fraction(plan.cost) != cost:
        yield Fault("cost", f"says {plan.cost}, the sticks cost {float(cost):.2f}.")
    if plan.bound > plan.cost or plan.proven != (plan.bound == plan.cost):
        yield Fault("bound", f"says {plan.bound}, {'proven' if plan.proven else 'not proven'}, at a cost of {plan.cost}.")


def certify_cuts(plan: CutPlan, pieces: Sequence[Piece], stock: Sequence[Stock], kerf_in: float) -> Decimal:
    """The bound that a plan's piece values prove, worked out anew in whole numbers.

    For each row of `plan.values`, a set of sticks whose contents can't be worth as much as all pieces together does not
    hold the pieces. The cheapest set that no row bars is the bound.

    Parameters
    ----------
    plan
        The plan with its certificate.
    pieces, stock, kerf_in
        What it was asked for [in].

    Returns
    -------
    The least price of a set of sticks that meets all rows; sets dearer than `plan.cost` are not looked at.
    """
    blade, trim = meant(kerf_in), meant(plan.trim_in)
    lost = trim + blade if trim else Fraction(0)
    demand: Counter[Fraction] = Counter()
    for piece in pieces:
        demand[meant(piece.length_in) + blade] += piece.count
    wanted = sorted(((size, count) for size, count in demand.items() if count), reverse=True)
    offers = [(meant(entry.length_in) - lost + blade, entry) for entry in stock if entry.available != 0]
    grid = lcm(*(size.denominator for size, _ in wanted), *(room.denominator for room, _ in offers))
    sizes, counts = [int(size * grid) for size, _ in wanted], [count for _, count in wanted]
    rooms = [int(room * grid) for room, _ in offers]
    limits = [sum(counts) if entry.available is None else entry.available for _, entry in offers]
    prices = [Fraction(entry.price) for _, entry in offers]
    rows = []
    for values in plan.values:
        table = worth_table(sizes, counts, values, max(rooms))
        total = sum(value * count for value, count in zip(values, counts, strict=True))
        rows.append((total, [table[room] if room >= 0 else 0 for room in rooms]))
    least = least_price(rows, prices, limits, Fraction(plan.cost))
    return plan.cost if least is None or least >= Fraction(plan.cost) else EXACT.divide(Decimal(least.numerator), Decimal(least.denominator))


def worth_table(sizes: Sequence[int], counts: Sequence[int], values: Sequence[int], longest: int) -> list[int]:
    """Greatest worth of a stick's content for each room, one piece after the other."""
    table = [0] * (longest + 1)
    for size, count, value in zip(sizes, counts, values, strict=True):
        for _ in range(min(count, longest // size) if value else 0):
            for room in range(longest, size - 1, -1):
                table[room] = max(table[room], table[room - size] + value)
    return table


def least_price(rows: list[tuple[int, list[int]]], prices: list[Fraction], limits: list[int], below: Fraction) -> Fraction | None:
    """Least price under `below` of a set of sticks that is worth enough by each row; None when there is none."""
    free = [limit if price == 0 else 0 for price, limit in zip(prices, limits, strict=True)]
    best: Fraction | None = None
    priced = [place for place, price in enumerate(prices) if price]

    def enough(counts: list[int]) -> bool:
        return all(sum(worth * count for worth, count in zip(worths, counts, strict=True)) >= total for total, worths in rows)

    def choose(depth: int, counts: list[int], spent: Fraction) -> None:
        nonlocal best
        if enough(counts):
            if best is None or spent < best:
                best = spent
            return
        if depth == len(priced):
            return
        place = priced[depth]
        number = 0
        while number <= limits[place] and spent + number * prices[place] < (below if best is None else best):
            choose(depth + 1, [*counts[:place], number, *counts[place + 1 :]], spent + number * prices[place])
            number += 1

    choose(0, free, Fraction(0))
    return best
