"""What does each figure move in a job, were it a tenth off? The job is estimated again with one figure changed at a time."""

import math
import sys
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Any

import kit.sources
from kit.errors import KitError
from kit.estimating import Estimate, estimate
from kit.money import EXACT
from kit.records import Finding
from kit.sources import Row, list_tables, table

__all__ = ["OFF", "YEARS_OFF", "Move", "WatchedRows", "figures_read", "find_moves"]

OFF = 0.1
"""How far a figure is taken to be off, as a share of it; of one that is 0, this much."""

YEARS_OFF = 10.0
"""How far a calendar year is taken to be off: a tenth of it would be two centuries."""

LATEST_PLAIN_NUMBER = 1000.0
"""A figure of this name beyond it is a year, not a number of them."""

_HOLD_NO_FIGURE = ("kit.cutting", "kit.buying.pieces_to_cut", "kit.draw", "kit.lists", "kit.export", "kit.panels", "kit.cli", "kit.figures")
"""Rooms whose memory depends on no figure: plans by their measures, texts, styles."""


@dataclass(frozen=True, slots=True)
class Move:
    """What one figure moves [USD, h]: the larger of a tenth more and a tenth less; `findings` says which answers of the checks differ then.

    `refused` says why the job can be estimated with neither, empty where it can.
    """

    figure: Row
    price: Decimal
    cost: Decimal
    hours: float
    findings: tuple[str, ...]
    refused: str = ""

    @property
    def size(self) -> tuple[Decimal, float, int]:
        """For the order: by price, hours and findings."""
        return abs(self.price), abs(self.hours), len(self.findings)


def figures_read(priced: Estimate) -> tuple[Row, ...]:
    """The figures that an estimate of this job reads, table by table."""
    seen: set[tuple[str, str]] = set()
    whole = {name: dict(table(name)) for name in list_tables()}
    with _tables_from(lambda name: WatchedRows(whole[name], seen)):
        estimate(priced.job_as_read, priced.lists)
    return tuple(figure for name in whole for figure in whole[name].values() if (name, figure.name) in seen)


def find_moves(priced: Estimate) -> tuple[Move, ...]:
    """For each figure that the job reads what it moves were it a tenth more or less, the largest move first.

    Parameters
    ----------
    priced
        The estimate of the job as its lists and files give it.

    Returns
    -------
    A move for each figure, those that move nothing among them, last. Two estimates are worked out for each: some ten seconds for a whole kitchen. Other threads
    of the same process must not estimate meanwhile.
    """
    whole = {name: dict(table(name)) for name in list_tables()}
    figures = figures_read(priced)
    moves = [
        max((_move(priced, figure, share, whole) for share in (1.0 + OFF, 1.0 - OFF)), key=lambda move: (not move.refused, move.size)) for figure in figures
    ]
    return tuple(sorted(moves, key=lambda move: (bool(move.refused), move.size), reverse=True))


def _move(priced: Estimate, figure: Row, share: float, whole: Mapping[str, dict[str, Row]]) -> Move:
    wrong = replace(figure, value=_wrong_value(figure, share))
    rows = {**whole, figure.table: {**whole[figure.table], figure.name: wrong}}
    with _tables_from(lambda name: rows[name]):
        try:
            moved = estimate(priced.job_as_read, priced.lists)
        except KitError as error:
            return Move(figure, Decimal(0), Decimal(0), 0.0, (), str(error.faults[0]))
    price, cost = EXACT.subtract(moved.price, priced.price), EXACT.subtract(moved.cost, priced.cost)
    return Move(figure, price, cost, round(moved.hours - priced.hours, 4), _changed(priced.findings, moved.findings))


def _wrong_value(figure: Row, share: float) -> float:
    """The figure with a share of it: a year ten years earlier or later, a figure of 0 a tenth of its unit."""
    if figure.name.endswith("year") and figure.value > LATEST_PLAIN_NUMBER:
        return figure.value + math.copysign(YEARS_OFF, share - 1.0)
    return figure.value * share if figure.value else share - 1.0


def _changed(before: tuple[Finding, ...], after: tuple[Finding, ...]) -> tuple[str, ...]:
    """The checks that come or go, or whose level or margin is another."""
    old, new = ({(one.id, one.level, one.margin): one.check for one in findings} for findings in (before, after))
    return tuple(dict.fromkeys(name for one in (new, old) for key, name in one.items() if key not in (old if one is new else new)))


class WatchedRows(dict[str, Row]):
    """Rows of a table that note which of them are read."""

    def __init__(self, rows: Mapping[str, Row], seen: set[tuple[str, str]]) -> None:
        super().__init__(rows)
        self._seen = seen

    def __getitem__(self, name: str) -> Row:
        row = super().__getitem__(name)
        self._seen.add((row.table, name))
        return row

    def get(self, name: str, default: Any = None) -> Any:  # noqa: D102 - as a dict
        if name in self:
            self._seen.add((super().__getitem__(name).table, name))
        return super().get(name, default)

    def values(self) -> Any:  # noqa: D102 - as a dict
        self._seen.update((row.table, row.name) for row in super().values())
        return super().values()

    def items(self) -> Any:  # noqa: D102 - as a dict
        self.values()
        return super().items()


@contextmanager
def _tables_from(reader: Callable[[str], dict[str, Row]]) -> Iterator[None]:
    """Let the kit read its tables through another function; what it remembers of the ones before is forgotten, and again afterwards."""
    own = kit.sources.read_rows
    kit.sources.read_rows = reader  # type: ignore[assignment]  # the one place where another reader stands in
    _forget()
    try:
        yield
    finally:
        kit.sources.read_rows = own
        _forget()


def _forget() -> None:
    names = [name for name in sys.modules if name.partition(".")[0] == "kit" and not name.startswith(_HOLD_NO_FIGURE)]
    for thing in [thing for name in names for thing in list(vars(sys.modules[name]).values())]:
        if callable(clear := getattr(thing, "cache_clear", None)):
            clear()
