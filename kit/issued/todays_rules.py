"""What would today's rules make of a promise? A difference with its lines and reasons; it never touches what was promised."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from kit.document import estimate_document
from kit.estimating import Estimate
from kit.money import EXACT, format_money

__all__ = ["Difference", "Differences", "find_differences"]


@dataclass(frozen=True, slots=True)
class Difference:
    """One line that today's rules work out otherwise: what was promised, what they give, and the working where there is one."""

    what: str
    promised: str
    today: str
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Differences:
    """The lines that differ and what they come to in the price [USD]; `problem` says why today's rules give no price at all."""

    lines: tuple[Difference, ...]
    amount: Decimal | None
    problem: str = ""

    def __bool__(self) -> bool:
        return bool(self.lines or self.amount or self.problem)

    @property
    def words(self) -> str:
        """In one sentence, such as `By today's rules: +11.54 USD`."""
        if self.problem:
            return f"By today's rules: it {self.problem}"
        if not self:
            return "By today's rules: the same."
        return f"By today's rules: {format_change(self.amount)}."


def format_change(amount: Decimal | None) -> str:
    """A difference of money with its sign."""
    return f"+{format_money(amount)}" if amount and amount > 0 else format_money(amount or Decimal("0.00"))


def find_differences(promised: Mapping[str, Any], today: Estimate) -> Differences:
    """Hold the results of a document against an estimate; a line without a partner is told as such."""
    now = estimate_document(today)
    lines = (
        *_lines(promised, now, today),
        *_money("purchases", "id", promised, now, today),
        *_money("tasks", "step", promised, now, today),
        *_rows(promised, now),
    )
    return Differences(tuple(lines), EXACT.subtract(today.price, Decimal(promised["price"])))


def _by(rows: Any, key: str) -> dict[str, Mapping[str, Any]]:
    return {row[key]: row for row in rows}


def _pairs(name: str, key: str, promised: Mapping[str, Any], now: Mapping[str, Any]) -> Iterator[tuple[str, Mapping[str, Any], Mapping[str, Any]]]:
    before, after = _by(promised[name], key), _by(now[name], key)
    for id_ in dict.fromkeys((*before, *after)):
        yield id_, before.get(id_, {}), after.get(id_, {})


def _lines(promised: Mapping[str, Any], now: Mapping[str, Any], today: Estimate) -> Iterator[Difference]:
    """Quantities of the takeoff, with today's working as the reason."""
    for _, before, after in _pairs("lines", "id", promised, now):
        if before.get("quantity") != after.get("quantity"):
            row = after or before
            was, now_is = (f"{one['quantity']:g} {one['unit']}" if one else "none" for one in (before, after))
            yield Difference(f"{today.lists.name_of(row['item'])}, {row['step'].replace('-', ' ')}", was, now_is, str(after.get("basis", "")))


def _money(name: str, key: str, promised: Mapping[str, Any], now: Mapping[str, Any], today: Estimate) -> Iterator[Difference]:
    """Amounts of purchases or of work."""
    for id_, before, after in _pairs(name, key, promised, now):
        if before.get("amount") != after.get("amount"):
            row = after or before
            label = today.lists.name_of(row["item"]) if name == "purchases" else f"work: {id_.replace('-', ' ')}"
            yield Difference(label, str(before.get("amount", "none")), str(after.get("amount", "none")), str(after.get("basis", "")))


_ROWS = ("cost", "contingency", "warranty", "overhead", "tax-collected", "price")


def _rows(promised: Mapping[str, Any], now: Mapping[str, Any]) -> Iterator[Difference]:
    """The sums that a person reads of the build-up."""
    for id_, before, after in _pairs("build_up", "id", promised, now):
        if id_ in _ROWS and before.get("amount") != after.get("amount"):
            yield Difference((after or before)["label"], str(before.get("amount", "none")), str(after.get("amount", "none")))
