"""Is a row of the build-up an amount of money or a plain number?"""

from collections.abc import Sequence
from typing import Literal

from kit.pricing.terms import PriceTerms
from kit.records import BuildUp, Op

__all__ = ["row_kinds"]

RowKind = Literal["money", "number"]


def row_kinds(rows: Sequence[BuildUp], terms: PriceTerms) -> dict[str, RowKind]:
    """Each row's kind by its id, followed through its arguments: money by money is a number, all else with money in it is money."""
    kinds: dict[str, RowKind] = {term.id: "money" if term.kind == "money" else "number" for term in terms.inputs}
    found: dict[str, RowKind] = {}
    for row in rows:
        args = [_kind_of(arg.removeprefix("-"), kinds) for arg in row.args]
        kinds[row.id] = found[row.id] = "money" if _is_money(row.op, args) else "number"
    return found


def _is_money(op: Op, args: Sequence[RowKind | None]) -> bool:
    if op == "divide":
        return args[0] == "money" and args[1] != "money"
    return "money" in args or "number" not in args  # a sum of nothing is no money


def _kind_of(name: str, kinds: dict[str, RowKind]) -> RowKind | None:
    """The kind of an argument; None for the constants, which take the kind of what stands beside them."""
    return "money" if name.startswith(("buy:", "task:")) else kinds.get(name)
