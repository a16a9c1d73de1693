"""The build-up: from purchases and hours to the price, each row computed, explained and written to the sheet alike."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from decimal import ROUND_HALF_UP, Decimal

from kit.errors import Fault, PriceError
from kit.pricing.terms import PriceTerms
from kit.records import BuildUp, CostType, Op, Purchase, Task

__all__ = ["compute_rows", "define_rows", "price_job"]

CENT = 2
_ZERO, _ONE = Decimal(0), Decimal(1)


def define_rows(purchases: Sequence[Purchase], cost_types: Mapping[str, CostType], tasks: Sequence[Task], terms: PriceTerms) -> tuple[BuildUp, ...]:
    """The rows in order, amounts still 0. `cost_types` gives the cost type of each purchase by its item."""

    def bought(kind: CostType) -> tuple[str, ...]:
        return tuple(f"buy:{purchase.id}" for purchase in purchases if cost_types[purchase.item] is kind) or ("0",)

    taxable = tuple(f"buy:{purchase.id}" for purchase in purchases if purchase.taxable) if terms.tax_on == "material-cost" else ()
    rows = [
        _row("material", "Material", "sum", bought(CostType.MATERIAL)),
        _row("hired", "Hired trades and fabricator", "sum", bought(CostType.HIRED)),
        _row("fees", "Permits and fees", "sum", bought(CostType.FEE)),
        _row("other", "Other", "sum", bought(CostType.OTHER)),
        _row("taxable", "Material on which we pay tax", "sum", taxable or ("0",)),
        _row("tax-paid", "Sales tax paid on material", "times", ("taxable", "in:tax"), CENT),
        _row("burden-factor", "Wage and burden, as a factor", "sum", ("1", "in:burden")),
        _row("labour-rate", "Cost of an hour", "times", ("in:wage", "burden-factor"), CENT),
        _row("labour", "Own labour", "sum", tuple(f"task:{task.step}" for task in tasks) or ("0",)),
        _row("cost", "Direct cost", "sum", ("material", "hired", "fees", "other", "tax-paid", "labour")),
        _row("contingency", "Contingency", "sum", ("in:contingency",))
        if terms.input("in:contingency").kind == "money"
        else _row("contingency", "Contingency", "times", ("cost", "in:contingency"), CENT),
        _row("overhead", "Overhead", "times", ("cost", "in:overhead"), CENT),
        _row("before-profit", "Cost with contingency and overhead", "sum", ("cost", "contingency", "overhead")),
    ]
    if terms.profit_as == "margin":
        rows += [
            _row("keep", "Share of the price that is not profit", "sum", ("1", "-in:profit")),
            _row("wanted", "Price at the wanted margin", "divide", ("before-profit", "keep"), CENT),
        ]
    else:
        rows += [
            _row("markup-factor", "Markup, as a factor", "sum", ("1", "in:profit")),
            _row("wanted", "Price at the wanted markup", "times", ("before-profit", "markup-factor"), CENT),
        ]
    rows += [
        _row("price", "Price", "max", ("wanted", "in:least")),
        _row("profit", "Profit", "sum", ("price", "-before-profit")),
        _row("gross", "Price less direct cost", "sum", ("price", "-cost")),
        _row("margin", "Margin (share of the price over direct cost)", "divide", ("gross", "price"), 4),
    ]
    return tuple(rows)


def compute_rows(rows: Sequence[BuildUp], amounts: Mapping[str, Decimal]) -> tuple[BuildUp, ...]:
    """The rows with their amounts; `amounts` gives inputs, purchases and tasks by their names.

    Raises
    ------
    PriceError
        If a row divides by zero or less: such a share leaves no price.
    """
    known = {"0": _ZERO, "1": _ONE, **amounts}
    done = []
    for row in rows:
        amount = _apply(row, [-known[arg[1:]] if arg.startswith("-") else known[arg] for arg in row.args])
        known[row.id] = amount
        done.append(replace(row, amount=amount))
    return tuple(done)


def price_job(purchases: Sequence[Purchase], cost_types: Mapping[str, CostType], tasks: Sequence[Task], terms: PriceTerms) -> tuple[BuildUp, ...]:
    """The whole build-up of a job."""
    amounts = {term.id: term.value for term in terms.inputs}
    amounts |= {f"buy:{purchase.id}": purchase.amount for purchase in purchases}
    amounts |= {f"task:{task.step}": task.amount for task in tasks}
    return compute_rows(define_rows(purchases, cost_types, tasks, terms), amounts)


def _row(row_id: str, label: str, op: Op, args: tuple[str, ...], places: int | None = None) -> BuildUp:
    return BuildUp(row_id, label, op, args, places, _ZERO)


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
                raise PriceError(
                    Fault(row.label, "can't be worked out: what it is divided by is zero or less. Lower the wanted margin or check the least charge.")
                )
            value = args[0] / args[1]
        case "max":
            value = max(args)
        case "min":
            value = min(args)
        case "round":
            value = args[0]
    return value if row.places is None else value.quantize(Decimal(1).scaleb(-row.places), rounding=ROUND_HALF_UP)
