"""Terms, purchases and tasks from a few figures, for the tests of the price."""

from decimal import Decimal
from typing import Any

from kit.pricing.build_up import price_job
from kit.pricing.job_terms import Input, PriceTerms
from kit.records import BuildUp, CostType, Purchase, Task
from kit.steps import Step

__all__ = ["amounts", "bought", "priced", "task", "terms"]

SHARES = {"tax": "0", "burden": "0", "contingency": "0", "overhead": "0", "profit": "0"}


def terms(
    profit_as: Any = "markup", tax_on: Any = "exempt", *, least: str = "0.00", round_to: str | None = None, wage: str = "0.00", **given: Any
) -> PriceTerms:
    """Terms where every share is 0 unless given; other keywords are the choices."""
    values = SHARES | {name: value for name, value in given.items() if name in {*SHARES, "warranty", "handling"}}
    if "material_markup" in given:
        values["material-markup"] = given["material_markup"]
    inputs = [Input(f"in:{name}", name, Decimal(value), "share") for name, value in values.items()]
    inputs += [Input("in:wage", "wage", Decimal(wage), "money"), Input("in:least", "least", Decimal(least), "money")]
    inputs += [] if round_to is None else [Input("in:round-to", "round to", Decimal(round_to), "money")]
    choices = {"deposit_share": Decimal(0), "hold_share": Decimal(0)} | {name: given[name] for name in given.keys() - {*values, "material_markup"}}
    return PriceTerms(tuple(inputs), profit_as, tax_on, **choices)


def bought(item: str, amount: str, *, taxable: bool = True, packs: int = 1, used: float = 1.0, consumable: bool = False) -> Purchase:
    price = Decimal(amount)
    count, need = float(packs), packs * used
    return Purchase(
        id=item,
        line_ids=(),
        item=item,
        supplier="Invented Yard",
        price_row=f"{item}@row",
        need=need,
        unit="each",
        pack=1.0,
        packs=packs,
        charged=count,
        unit_price=price,
        amount=price * max(packs, 1),
        taxable=taxable,
        used=used,
        left_over="",
        consumable=consumable,
    )


def task(step: Step, amount: str) -> Task:
    return Task(step, (), 1.0, 1.0, 1.0, 1, 1.0, "crew", Decimal(amount), Decimal(amount), (), "", (), 0.0, "working")


def priced(asked: PriceTerms, *, material: str = "0.00", hired: str = "0.00", labor: str = "0.00") -> tuple[BuildUp, ...]:
    """The build-up of one purchase of material, one of hired work and one task."""
    purchases = (bought("board", material), bought("shop", hired, taxable=False))
    return price_job(purchases, {"board": CostType.MATERIAL, "shop": CostType.HIRED}, (task(Step.SET_SINK, labor),), asked)


def amounts(rows: tuple[BuildUp, ...]) -> dict[str, Decimal]:
    return {row.id: row.amount for row in rows}
