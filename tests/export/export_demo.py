"""Estimates that the tests of the exports share: every example, and forms of them that no example has."""

from dataclasses import replace
from decimal import Decimal
from functools import cache
from pathlib import Path

from long_run import one_in

import kit
from kit.export.workbook import workbook_bytes
from kit.job.file import change_job
from kit.lists.burden import add_up_burden
from kit.money import round_cents
from kit.pricing.build_up import price_job
from kit.records import PackedPart, Purchase

LISTS = kit.load_lists(kit.shipped("price_lists"))
EXAMPLES = tuple(sorted(path.stem for path in kit.shipped("examples").glob("*.toml")))
FIRST = EXAMPLES[0]


def example_path(name: str) -> Path:
    return kit.shipped("examples") / f"{name}.toml"


def write_workbook(estimate: kit.Estimate, path: Path) -> Path:
    """Write the workbook of an estimate to a path, and give the path."""
    path.write_bytes(workbook_bytes(estimate))
    return path


@cache
def example(name: str) -> kit.Estimate:
    return kit.estimate(kit.read_job(example_path(name)), LISTS)


def with_texts(customer: str, note: str) -> kit.Estimate:
    """The first example for a customer and with a note that no job file would be allowed to hold."""
    found = example(FIRST)
    identity = found.job.identity.model_copy(update={"customer": customer, "note": note, "job_number": note[:40]})
    return replace(found, job=found.job.model_copy(update={"identity": identity}))


def with_purchases(found: kit.Estimate, purchases: tuple[Purchase, ...]) -> kit.Estimate:
    """The estimate with other purchases, priced anew."""
    cost_types = {purchase.item: found.lists.item(purchase.item).cost_type for purchase in purchases}
    return replace(found, purchases=purchases, build_up=price_job(purchases, cost_types, found.tasks, found.terms))


def charged_otherwise() -> kit.Estimate:
    """The first goods packed beyond the need, the second from a plan, the third charged by use, hired work by a figure of its own."""
    found = example(FIRST)
    goods = [purchase for purchase in found.purchases if purchase.packs and not purchase.plan][:3]
    hired = next(purchase for purchase in found.purchases if not purchase.packs)
    part = PackedPart("stock", 96.0, 48.0, ("side", "side", "back"), "none")
    changed = {
        goods[0].id: replace(goods[0], packs=goods[0].packs + 1, charged=float(goods[0].packs + 1)),
        goods[1].id: replace(goods[1], plan=(part, part), packs=2, charged=2.0, need=0.25, proven=False),
        goods[2].id: replace(goods[2], charged=0.4375),
        hired.id: replace(hired, charged=hired.charged + 0.25),
    }
    valued = {name: replace(new, amount=round_cents(new.unit_price * Decimal(repr(new.charged)))) for name, new in changed.items()}
    return with_purchases(found, tuple(valued.get(purchase.id, purchase) for purchase in found.purchases))


def other_terms(**changes: object) -> kit.Estimate:
    """The first example under other terms of its own."""
    job = kit.read_job(example_path(FIRST))
    return kit.estimate(change_job(job, {f"terms.{name}": value for name, value in changes.items()}), LISTS)


def at_least_charge() -> kit.Estimate:
    """The first example where the least charge is the price."""
    return kit.revalue(example(FIRST), {}, {}, {"in:least": Decimal("98765.43")})


def burden_from_parts() -> kit.Estimate:
    """The first example, its burden worked out from the parts, with overtime among them; tax on what is sold on is credited."""
    parts = tuple(replace(part, hours=96.0) if part.part == "overtime" else part for part in LISTS.burden)
    share = float(add_up_burden(LISTS.company.wage, parts).share)
    company = replace(LISTS.company, burden_from="parts", burden=share, tax_on="everything", tax_when_bought="credit")
    return kit.estimate(kit.read_job(example_path(FIRST)), replace(LISTS, burden=parts, company=company))


VARIANTS = {
    "burden from its parts and tax credited": burden_from_parts,
    "charged otherwise": charged_otherwise,
    "markup and exempt and all hours longer": lambda: other_terms(profit_as="markup", tax_on="exempt", hours_factor="117 %", waste="7 %"),
    "least charge": at_least_charge,
    "contingency as an amount and a temporary sink": lambda: other_terms(
        contingency_amount="512.34 USD", contingency_confidence="80 %", contingency_seed=1, temporary_sink=True, extra_trips=2
    ),
    "side by side on cost with handling first, tax on everything, packs by use": lambda: other_terms(
        profit_as="of-cost", hired_as="handling-first", tax_on="everything", packs_charged="by-use", warranty="1.5 %"
    ),
    "overhead of the price, hired trades with handling only, tax on stated material by the item, to 5 dollars": lambda: other_terms(
        overhead_as="of-price",
        profit_as="of-cost",
        hired_as="handling-only",
        tax_on="material-price",
        tax_rounding="item",
        material_markup="15 %",
        round_to="5.00 USD",
    ),
    "overhead of the price under a markup, tax paid by the item, to 10 dollars": lambda: other_terms(
        overhead_as="of-price", profit_as="markup", tax_rounding="item", round_to="10.00 USD"
    ),
}
NAMES = (*EXAMPLES, *VARIANTS)
SOME = one_in(3, EXAMPLES)  # two in every run, all in the long one: for tests of a whole paper or workbook
FOR_BOOKS = [*SOME, *one_in(len(VARIANTS), VARIANTS)]  # the same with one other company


@cache
def estimate_of(name: str) -> kit.Estimate:
    """An example or a variant by its name."""
    return VARIANTS[name]() if name in VARIANTS else example(name)


@cache
def workbook_of(name: str) -> bytes:
    """Its workbook, written once for all tests of a process."""
    return workbook_bytes(estimate_of(name))
