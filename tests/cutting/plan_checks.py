"""Finished plans followed in exact fractions; shares no code with the planner.

Planner and checks agree on one thing only: a length typed as a float stands for the fraction with a denominator up
to 20,000 that lies within a billionth of an inch, if there is one.
"""

from collections import Counter
from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction
from math import lcm

import numpy as np

from kit.cutting.plans import CutPlan, Stock
from kit.records import Piece

Box = tuple[tuple[Fraction, Fraction], tuple[Fraction, Fraction]]
"""Near and far end along the slab, then across it [in]."""


def meant(length_in: float) -> Fraction:
    """What a float stands for [in]."""
    near = Fraction(length_in).limit_denominator(20_000)
    return near if abs(near - Fraction(length_in)) <= Fraction(1, 10**9) else Fraction(length_in)


def check_money(plan: CutPlan, used: Sequence[Stock], on_sale: Sequence[Stock]) -> None:
    """What is cut is on sale and there is enough of it; cost, bound and proof agree."""
    for entry, count in Counter(used).items():
        limits = [other.available for other in on_sale if other == entry]
        assert limits, f"{entry.name} is not on sale"
        assert None in limits or count <= sum(limit or 0 for limit in limits), f"more of {entry.name} than there are"
    assert Fraction(plan.cost) == sum((Fraction(entry.price) for entry in used), Fraction(0))
    assert plan.bound <= plan.cost
    assert plan.proven == (plan.bound == plan.cost) == (plan.proof != "open")


def check_cuts(plan: CutPlan, pieces: Sequence[Piece], stock: Sequence[Stock], kerf_in: float, least_offcut_in: float = 0.0) -> None:
    """Every piece comes out once, each stick holds its pieces and their blades, and leaves what it says."""
    blade = meant(kerf_in)
    wanted = Counter((piece.name, meant(piece.length_in)) for piece in pieces for _ in range(piece.count))
    assert Counter((piece.name, meant(piece.length_in)) for stick in plan.cut for piece in stick.pieces) == wanted
    for stick in plan.cut:
        at = Fraction(0)
        assert stick.pieces
        for piece in stick.pieces:
            assert abs(Fraction(piece.at_in) - at) < Fraction(1, 10**9)
            at += meant(piece.length_in) + blade
        assert at - blade <= meant(stick.stock.length_in), "a stick is too short"
        left = max(Fraction(0), meant(stick.stock.length_in) - at)
        assert abs(Fraction(stick.left_over_in) - left) < Fraction(1, 10**9)
        assert stick.usable == (left > 0 and left >= meant(least_offcut_in))
    check_money(plan, [stick.stock for stick in plan.cut], stock)


def certify_cuts(plan: CutPlan, pieces: Sequence[Piece], stock: Sequence[Stock], kerf_in: float) -> Decimal:
    """The bound that a plan's piece values prove: the cheapest set of sticks, up to the plan's cost, that no row of values bars."""
    blade, demand = meant(kerf_in), Counter[Fraction]()
    for piece in pieces:
        demand[meant(piece.length_in) + blade] += piece.count
    sizes = sorted((size for size, count in demand.items() if count), reverse=True)
    rooms = [meant(entry.length_in) + blade for entry in stock]
    grid = lcm(*(length.denominator for length in (*sizes, *rooms)))
    worths = [
        stick_worths([int(size * grid) for size in sizes], [demand[size] for size in sizes], values, [int(room * grid) for room in rooms])
        for values in plan.values
    ]
    totals = [sum(value * demand[size] for value, size in zip(values, sizes, strict=True)) for values in plan.values]
    prices = [Fraction(entry.price) for entry in stock]
    limits = [sum(demand.values()) if entry.available is None else entry.available for entry in stock]
    priced = [place for place, price in enumerate(prices) if price]
    best = Fraction(plan.cost)

    def buy(depth: int, counts: list[int], spent: Fraction) -> None:
        nonlocal best
        if spent < best and all(sum(map(int.__mul__, row, counts)) >= total for row, total in zip(worths, totals, strict=True)):
            best = spent
        elif depth < len(priced):
            place = priced[depth]
            for number in range(limits[place] + 1):
                if spent + number * prices[place] >= best:
                    break
                buy(depth + 1, [*counts[:place], number, *counts[place + 1 :]], spent + number * prices[place])

    buy(0, [0 if price else limit for price, limit in zip(prices, limits, strict=True)], Fraction(0))
    return plan.cost if best == Fraction(plan.cost) else Decimal(best.numerator) / Decimal(best.denominator)


def stick_worths(sizes: Sequence[int], counts: Sequence[int], values: Sequence[int], rooms: Sequence[int]) -> list[int]:
    """Greatest worth of what one stick of each room can hold, piece by piece."""
    table = np.zeros(max(rooms) + 1, dtype=np.int64)
    for size, count, value in zip(sizes, counts, values, strict=True):
        for _ in range(min(count, max(rooms) // size)):
            table[size:] = np.maximum(table[size:], table[:-size] + value)
    return [int(table[room]) if room >= 0 else 0 for room in rooms]


def check_slabs(plan: CutPlan, parts: Sequence[Piece], slabs: Sequence[Stock], kerf_in: float) -> None:
    """Every part lies once, with its grain, inside its slab, and through cuts of the blade's width part them all."""
    left = Counter((part.name, meant(part.length_in), meant(part.width_in), part.grain) for part in parts for _ in range(part.count))
    for cut in plan.cut:
        boxes = []
        for part in cut.pieces:
            along, across = meant(part.length_in), meant(part.width_in)
            ways = [(part.name, along, across, "length"), (part.name, along, across, "free"), (part.name, across, along, "free")]
            left[next(way for way in ways if left[way] > 0)] -= 1
            at, beside = meant(part.at_in), meant(part.across_in)
            boxes.append(((at, at + along), (beside, beside + across)))
            assert at >= 0 <= beside
            assert at + along <= meant(cut.stock.length_in) + SLIP
            assert beside + across <= meant(cut.stock.width_in) + SLIP
        assert boxes
        assert can_be_parted(boxes, meant(kerf_in)), "no through cuts part the parts"
    assert not left.total(), "parts are missing"
    check_money(plan, [cut.stock for cut in plan.cut], slabs)


SLIP = Fraction(1, 10**8)
"""Places are floats, sums of several measures."""


def can_be_parted(boxes: Sequence[Box], blade: Fraction) -> bool:
    """Whether through cuts one after the other part all rectangles."""
    if len(boxes) == 1:
        return True
    for axis, edge in ((axis, box[axis][1]) for axis in (0, 1) for box in boxes):
        near = [box for box in boxes if box[axis][1] <= edge + SLIP]
        far = [box for box in boxes if box[axis][0] >= edge + blade - SLIP]
        if near and far and len(near) + len(far) == len(boxes):
            return can_be_parted(near, blade) and can_be_parted(far, blade)
    return False
