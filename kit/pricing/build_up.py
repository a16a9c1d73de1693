"""The build-up: from purchases and hours to the price, each row computed, explained and written to the sheet alike."""

import difflib
from collections.abc import Mapping, Sequence
from dataclasses import replace
from decimal import Decimal, localcontext
from typing import Literal

from kit.errors import Fault, PriceError, UnknownRowError
from kit.money import EXACT, round_cents, to_charged, to_decimal
from kit.pricing.hour_rows import hour_rows
from kit.pricing.job_terms import PriceTerms
from kit.pricing.rows import define_rows
from kit.records import BuildUp, CostType, Op, Purchase, Task

__all__ = ["SHARE_ROWS", "BuildUpAmounts", "amounts_of", "charge_by_use", "compute_rows", "cost_of_hour", "price_job", "row_kinds"]

SHARE_ROWS = frozenset({"margin", "keep", "overhead-marked-up"})
"""Rows that are a share of the price, shown in percent."""

RowKind = Literal["money", "number"]
_REMEDIES = {"burden": "Give a wage, and fewer hours off than are paid."}
_ZERO, _ONE = Decimal(0), Decimal(1)


class BuildUpAmounts:
    """What a build-up comes to, read by its rows; for records that have one."""

    __slots__ = ()
    build_up: tuple[BuildUp, ...]

    def amount(self, row: str) -> Decimal:
        """The amount of a row of the build-up, such as "price".

        Raises UnknownRowError if there is no such row; it names the rows that there are, near ones first. Also a KeyError.
        """
        amounts = {one.id: one.amount for one in self.build_up}
        if row not in amounts:
            near = difflib.get_close_matches(row, amounts)
            meant = f" Did you mean {' or '.join(near)}?" if near else ""
            raise UnknownRowError(Fault("build-up", f'has no row "{row}".{meant} Rows: {", ".join(amounts)}.'))
        return amounts[row]

    @property
    def price(self) -> Decimal:
        """What the customer pays [USD]."""
        return self.amount("price")

    @property
    def cost(self) -> Decimal:
        """Direct cost before overhead, tax paid on purchases included [USD]."""
        return self.amount("cost")

    @property
    def margin(self) -> Decimal:
        """Share of the price before tax collected that is over direct cost."""
        return self.amount("margin")


def charge_by_use(purchases: Sequence[Purchase]) -> tuple[Purchase, ...]:
    """The purchases with each pack charged in the share that the job uses, to four places; the rest of it is stock of the company's.

    Packs, plans and suppliers stay. Hired work and fees are charged as measured, as they are.
    """
    return tuple(_by_use(purchase) if purchase.packs else purchase for purchase in purchases)


def _by_use(purchase: Purchase) -> Purchase:
    part = to_charged(purchase.packs * purchase.used)
    amount = round_cents(EXACT.multiply(purchase.unit_price, part))
    return replace(purchase, charged=float(part), amount=amount, bound=None if purchase.bound is None else min(purchase.bound, amount))


def compute_rows(rows: Sequence[BuildUp], amounts: Mapping[str, Decimal]) -> tuple[BuildUp, ...]:
    """The rows with their amounts; `amounts` gives inputs, purchases and tasks by their names.

    Raises PriceError if a row divides by zero or less: such a share leaves no price.
    """
    known = {"0": _ZERO, "1": _ONE, **amounts}
    done = []
    with localcontext(EXACT):
        for row in rows:
            amount = _apply(row, [-known[arg[1:]] if arg.startswith("-") else known[arg] for arg in row.args])
            known[row.id] = amount
            done.append(BuildUp(row.id, row.label, row.op, row.args, row.places, amount))
    return tuple(done)


def cost_of_hour(terms: PriceTerms) -> Decimal:
    """What an hour of the own crew costs by these terms [USD/h]. Raises PriceError if a year of one worker has no worked hours, or the wage is nothing."""
    return compute_rows(hour_rows(terms), {term.id: term.value for term in terms.inputs})[-1].amount


def amounts_of(purchases: Sequence[Purchase], tasks: Sequence[Task], terms: PriceTerms) -> dict[str, Decimal]:
    """What the rows read: inputs, purchases and tasks by their names."""
    amounts = {term.id: term.value for term in terms.inputs}
    amounts |= {f"buy:{purchase.id}": purchase.amount for purchase in purchases}
    amounts |= {f"task:{task.step}": task.amount for task in tasks}
    return amounts


def price_job(purchases: Sequence[Purchase], cost_types: Mapping[str, CostType], tasks: Sequence[Task], terms: PriceTerms) -> tuple[BuildUp, ...]:
    """The whole build-up of a job. `cost_types` gives the cost type of each purchase by its item.

    Raises PriceError if the terms leave no price, or state material at more than the price.
    """
    with localcontext(EXACT):  # the same cents whatever the thread's own context is
        rows = compute_rows(define_rows(purchases, cost_types, tasks, terms), amounts_of(purchases, tasks, terms))
    amounts = {row.id: row.amount for row in rows}
    if "stated-material" in amounts and amounts["stated-material"] > amounts["net"]:
        raise PriceError(
            Fault("Stated price of material", f"comes to {amounts['stated-material']}, more than the price of {amounts['net']}. Lower the markup in it.")
        )
    return rows


def _apply(row: BuildUp, args: list[Decimal]) -> Decimal:
    match row.op:
        case "sum":
            value = sum(args, _ZERO)
        case "times":
            value = _ONE
            for arg in args:
                value *= arg
        case "divide":
            if args[1] <= 0:
                remedy = _REMEDIES.get(row.id, "Lower the target margin or check the minimum charge.")
                raise PriceError(Fault(row.label, f"can't be worked out: what it is divided by is zero or less. {remedy}"))
            value = args[0] / args[1]
        case "max":
            value = max(args)
        case "min":
            value = min(args)
        case "round":
            value = args[0]
    return value if row.places is None else to_decimal(value, row.places)


def row_kinds(rows: Sequence[BuildUp], terms: PriceTerms) -> dict[str, RowKind]:
    """Each row's kind by its id, followed through its arguments: money by money is a number, all else with money in it is money."""
    kinds: dict[str, RowKind] = {term.id: "money" if term.kind == "money" else "number" for term in terms.inputs}
    kind_of: dict[str, RowKind] = {}
    for row in rows:
        args = [_kind_of(arg.removeprefix("-"), kinds) for arg in row.args]
        kinds[row.id] = kind_of[row.id] = "money" if _is_money(row.op, args) else "number"
    return kind_of


def _is_money(op: Op, args: Sequence[RowKind | None]) -> bool:
    if op == "divide":
        return args[0] == "money" and args[1] != "money"
    return "money" in args or "number" not in args  # a sum of nothing is no money


def _kind_of(name: str, kinds: dict[str, RowKind]) -> RowKind | None:
    """The kind of an argument; None for the constants, which take the kind of what stands beside them."""
    return "money" if name.startswith(("buy:", "task:")) else kinds.get(name)
