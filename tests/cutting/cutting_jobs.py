"""Seeded jobs for the cutting tests and benches, invented; and the published instances as jobs."""

import json
import random
from decimal import Decimal
from pathlib import Path
from typing import Any

from kit.cutting.plans import Stock
from kit.records import Piece

DATA = Path(__file__).parents[1] / "data"
KERF_IN = 0.125

Lumber = tuple[list[Piece], list[Stock]]
Counter = tuple[list[Piece], list[Stock]]


def read_instances(name: str) -> list[dict[str, Any]]:
    """The instances of a data file."""
    instances: list[dict[str, Any]] = json.loads((DATA / name).read_text(encoding="utf-8"))
    return instances


def bars_of(instance: dict[str, Any]) -> Lumber:
    """A published cutting instance: each bar costs 1.00, no kerf."""
    pieces = [Piece(float(length), count, f"item {length}") for length, count in instance["items"]]
    return pieces, [Stock(float(instance["capacity"]), Decimal("1.00"), "bar")]


def bins_of(instance: dict[str, Any]) -> Counter:
    """A published slab instance: each bin costs 1.00, no kerf, no turning."""
    parts = [Piece(float(width), 1, f"item {number}", float(height)) for number, (width, height) in enumerate(instance["items"], start=1)]
    return parts, [slab_of(float(width), float(height), Decimal("1.00"), "bin") for width, height, _ in instance["bins"]]


def slab_of(length_in: float, width_in: float, price: Decimal, name: str, available: int | None = None) -> Stock:
    """Slabs by length and width."""
    return Stock(length_in, price, name, available, width_in)


def lumber_jobs(number: int, seed: int, *, one_stock: bool = False, most_pieces: int = 40) -> list[Lumber]:
    """Random jobs: 3 to 10 lengths of 6 to 90 in on a 1/8 grid, 8 to 40 pieces, stock of 96, 120, 144 and 192 in (or 96 in only).

    45 to 130 cents a foot; one third linear, one third dearer by the foot the longer (0, 3, 6, 12 %), one third 10 % up or down at random.
    """
    chance = random.Random(seed)
    jobs = []
    for place in range(number):
        kinds, count = chance.randint(3, 10), chance.randint(8, most_pieces)
        eighths = chance.sample(range(6 * 8, 90 * 8 + 1), kinds)
        counts = [1] * kinds
        for _ in range(count - kinds):
            counts[chance.randrange(kinds)] += 1
        pieces = [Piece(length / 8, many, f"piece {letter}") for length, many, letter in zip(eighths, counts, "ABCDEFGHIJ", strict=False)]
        cents = chance.randint(45, 130)
        factors = [(1.0,) * 4, (1.0, 1.03, 1.06, 1.12), tuple(chance.uniform(0.9, 1.1) for _ in range(4))][place % 3]
        stock = [
            Stock(float(length), Decimal(round(cents * length / 12 * factor)).scaleb(-2), f"{length} in")
            for length, factor in zip((96, 120, 144, 192), factors, strict=True)
        ]
        jobs.append((pieces, stock[:1] if one_stock else stock))
    return jobs


def offcut_jobs(number: int, seed: int, most_pieces: int = 14) -> list[Lumber]:
    """Lumber jobs with one to three kinds of offcuts on hand, free or at a small value."""
    chance = random.Random(seed)
    jobs = []
    for pieces, stock in lumber_jobs(number, seed, most_pieces=most_pieces):
        values = [Decimal(0), Decimal("0.50"), Decimal("1.00")]
        offcuts = [Stock(chance.randint(160, 760) / 8, chance.choice(values), f"offcut {place}", chance.randint(1, 2)) for place in range(chance.randint(1, 3))]
        jobs.append((pieces, [*offcuts, *stock]))
    return jobs


SLAB_SIZES = ((96.0, 26.0), (120.0, 26.0), (108.0, 52.0), (118.0, 55.0), (126.0, 63.0), (130.0, 65.0))


def kitchen_jobs(number: int, seed: int, *, parts: int | None = None) -> list[Counter]:
    """Random counters: legs 25 1/2 in deep, islands, splashes, vanities, strips behind a sink, panels down the side; slabs of three to six sizes.

    With `parts`, each job has as many, filled up with smaller parts.
    """
    chance = random.Random(seed)

    def eighths(low: int, high: int) -> float:
        return chance.randint(low * 8, high * 8) / 8

    jobs: list[Counter] = []
    while len(jobs) < number:
        sizes = [(eighths(24, 110), 25.5, "leg") for _ in range(chance.randint(1, 3))]
        sizes += [(length, 4.0, "splash") for length, _, _ in list(sizes) if chance.random() < 0.6]
        if chance.random() < 0.4:
            sizes.append((eighths(40, 96), eighths(28, 42), "island"))
        if chance.random() < 0.3:
            sizes.append((eighths(24, 61), 22.0, "vanity"))
        if chance.random() < 0.5:
            sizes.append((eighths(30, 36), eighths(3, 5), "strip behind the sink"))
        if chance.random() < 0.25:
            sizes += [(eighths(34, 36), 25.5, "side panel")] * chance.randint(1, 2)
        while parts and len(sizes) < parts:
            sizes.append((eighths(12, 60), chance.choice([4.0, 22.0, 25.5, eighths(6, 20)]), "extra"))
        chosen = chance.sample(SLAB_SIZES, chance.randint(3, 6))
        rate = chance.uniform(25, 80)
        prices = [Decimal(round(length * width / 144 * rate * chance.uniform(0.9, 1.1))) for length, width in chosen]
        slabs = [slab_of(length, width, price, f"{length:g} x {width:g}") for (length, width), price in zip(chosen, prices, strict=True)]
        pieces = [Piece(length, 1, f"{name} {place}", width) for place, (length, width, name) in enumerate(sizes[:parts], start=1)]
        if len(pieces) <= 12 and all(any(piece.length_in <= slab.length_in and piece.width_in <= slab.width_in for slab in slabs) for piece in pieces):
            jobs.append((pieces, slabs))
    return jobs
