"""The build-up: from purchases and hours to the price, each row computed, explained and written to the sheet alike."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from decimal import ROUND_HALF_UP, Decimal, localcontext

from kit.errors import Fault, PriceError
from kit.money import EXACT
from kit.pricing.hour_rows import hour_rows
from kit.pricing.rows import CENT, define_rows
from kit.pricing.terms import PriceTerms
from kit.records import BuildUp, CostType, Purchase, Task

__all__ = ["CENT", "amounts_of", "compute_rows", "cost_of_hour", "define_rows", "price_job"]

_REMEDIES = {"burden": "Give a wage, and fewer hours off than are paid."}
_ZERO, _ONE = Decimal(0), Decimal(1)


def compute_rows(rows: Sequence[BuildUp], amounts: Mapping[str, Decimal]) -> tuple[BuildUp, ...]:
    """The rows with their amounts; `amounts` gives inputs, purchases and tasks by their names.

    Raises
    ------
    PriceError
        If a row divides by zero or less: such a share leaves no price.
    """
    known = {"0": _ZERO, "1": _ONE, **amounts}
    done = []
    with localcontext(EXACT):
        for row in rows:
            amount = _apply(row, [-known[arg[1:]] if arg.startswith("-") else known[arg] for arg in row.args])
            known[row.id] = amount
            done.append(replace(row, amount=amount))
    return tuple(done)


def cost_of_hour(terms: PriceTerms) -> Decimal:
    """What an hour of the own crew costs by these terms [USD/h].

    Raises
    ------
    PriceError
        If a year of one worker has no worked hours, or the wage is nothing.
    """
    return compute_rows(hour_rows(terms), {term.id: term.value for term in terms.inputs})[-1].amount


def amounts_of(purchases: Sequence[Purchase], tasks: Sequence[Task], terms: PriceTerms) -> dict[str, Decimal]:
    """What the rows read: inputs, purchases and tasks by their names."""
    amounts = {term.id: term.value for term in terms.inputs}
    amounts |= {f"buy:{purchase.id}": purchase.amount for purchase in purchases}
    amounts |= {f"task:{task.step}": task.amount for task in tasks}
    return amounts


def price_job(purchases: Sequence[Purchase], cost_types: Mapping[str, CostType], tasks: Sequence[Task], terms: PriceTerms) -> tuple[BuildUp, ...]:
    """The whole build-up of a job. `cost_types` gives the cost type of each purchase by its item.

    Raises
    ------
    PriceError
        If the terms leave no price, or state material at more than the price.
    """
    rows = compute_rows(define_rows(purchases, cost_types, tasks, terms), amounts_of(purchases, tasks, terms))
    found = {row.id: row.amount for row in rows}
    if "stated-material" in found and found["stated-material"] > found["net"]:
        raise PriceError(
            Fault("Stated price of material", f"comes to {found['stated-material']}, more than the price of {found['net']}. Lower the markup in it.")
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
                remedy = _REMEDIES.get(row.id, "Lower the wanted margin or check the least charge.")
                raise PriceError(Fault(row.label, f"can't be worked out: what it is divided by is zero or less. {remedy}"))
            value = args[0] / args[1]
        case "max":
            value = max(args)
        case "min":
            value = min(args)
        case "round":
            value = args[0]
    return value if row.places is None else value.quantize(Decimal(1).scaleb(-row.places), rounding=ROUND_HALF_UP)
