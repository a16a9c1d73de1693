"""What `check` and `estimate` say: findings, price and what it is made of, in plain trade words."""

from collections.abc import Callable, Collection, Sequence
from pathlib import Path

from kit.cli.one_screen import CAUTION, WIDTH, count_decisions, finding_lines, one_screen
from kit.cli.outlook_report import add_calendar, add_payments, add_risk
from kit.cli.report_text import Page, hours_text, share_text
from kit.design.named_goods import counter_name
from kit.draw.marks import number_findings
from kit.estimating import Estimate
from kit.issued import Issued
from kit.job.field_names import label_of, lower_first, mount_words, say_value
from kit.job.prices import whose_lists
from kit.money import format_money, sum_money
from kit.pricing.build_up import SHARE_ROWS, row_kinds
from kit.pricing.job_terms import Input
from kit.records import BuildUp, Finding, Kind, Level, Purchase, Task
from kit.units import format_day, format_need, format_quantity

__all__ = ["PARTS", "check_report", "estimate_report"]


def check_report(estimate: Estimate, *, everything: bool = False) -> str:
    """What needs a decision, worst first; what is not met but taken care of; what is good to know; the rest counted, or shown; then what was assumed."""
    page = Page(WIDTH)
    _head(page, estimate)
    fine = [one for one in estimate.findings if one.level is Level.OK]
    met = [one for one in fine if not one.taken_care_of]
    plain = [one for one in met if not one.remedy]
    _all_findings(page, estimate)
    _say_findings(page, "NOT MET AS IT STANDS, BUT TAKEN CARE OF", [("", one) for one in fine if one.taken_care_of])
    _say_findings(page, "GOOD TO KNOW, NOTHING TO DECIDE", [("", one) for one in met if one.remedy])
    if everything:
        _say_findings(page, "FINE", [("", one) for one in plain])
    elif plain:
        page.note(f"+ {len(plain)} more, all fine: --all")
    _assumptions(page, estimate)
    page.note(CAUTION)
    page.note(count_decisions(estimate.findings))
    return page.text()


def _say_findings(page: Page, name: str, findings: Sequence[tuple[str, Finding]]) -> None:
    """Findings with their numbers below each other, each in a few lines."""
    if findings:
        page.note(name)
    for number, one in findings:
        for row, line in enumerate(finding_lines(number, one)):
            page.line(line, Level.OK if row else one.level)


def estimate_report(estimate: Estimate, path: Path, *, issued: Issued | None = None, parts: Collection[str] = ()) -> str:
    """The estimate on one screen; or, where `parts` of it are asked for, those in full (names of `PARTS`).

    `path` is the file that it was read from, for the commands that come next.
    """
    if not parts:
        return one_screen(estimate, path, issued=issued)
    page = Page()
    _head(page, estimate)
    for name, add_part in PARTS.items():
        if name in parts:
            add_part(page, estimate)
    page.note(CAUTION)
    page.note(f"Price {format_money(estimate.price)}. {count_decisions(estimate.findings)}")
    return page.text()


def _head(page: Page, estimate: Estimate) -> None:
    who, sink, name_of = estimate.job.identity, estimate.job.sink, estimate.lists.name_of
    top = lower_first(counter_name(estimate.job, estimate.lists))
    page.title(
        f"{who.job_number}: {who.customer}, {who.address}",
        f"{name_of(sink.item)}, {mount_words(sink.mount)}, {top}; measured {format_day(who.visit_date)} by {who.measured_by}",
        *([who.note] if who.note else []),
    )


def _hours(page: Page, estimate: Estimate) -> None:
    steps = estimate.step_names

    def row(task: Task) -> tuple[str, ...]:
        span = f"{hours_text(task.hours_low)} to {hours_text(task.hours_high)}"
        return steps[task.step], hours_text(task.hours_likely), span, str(task.crew), hours_text(task.duration_h), format_money(task.amount)

    columns = ("Step", ">Worker-hours", ">Low to high", ">Crew", ">Duration (h)", ">Cost")
    whole = ("All steps", hours_text(estimate.hours), "", "", "", format_money(estimate.amount("labor")))
    page.table("Hours by step", columns, [*(row(task) for task in estimate.tasks), whole])


_HIRED = ("Item", "Supplier", ">Quantity", "Sold as", ">Price each", ">Amount")


def _purchases(page: Page, estimate: Estimate) -> None:
    goods = {line.item for line in estimate.lines if line.kind is Kind.BUY}
    bought = [one for one in estimate.purchases if one.item in goods]
    others = [one for one in estimate.purchases if one.item not in goods]
    columns = ("Item", "Supplier", ">Needed", ">Packs", "Sold as", ">Price each", ">Amount", "Left over")
    page.table("Purchases", columns, [*(_purchase(estimate, one) for one in bought), *([("All of these", *[""] * 5, _sum(bought), "")] if bought else [])])
    page.table(
        "Hired trades, countertop shop, fees",
        _HIRED,
        [*(_hired(estimate, one) for one in others), *([("All of these", *[""] * 4, _sum(others))] if others else [])],
    )


def _sum(purchases: Sequence[Purchase]) -> str:
    return format_money(sum_money([one.amount for one in purchases]))


def _purchase(estimate: Estimate, one: Purchase) -> tuple[str, ...]:
    name, need = estimate.lists.item(one.item).name, format_need(one.need, one.unit)
    return name, one.supplier, need, str(one.packs), _sold_as(one), format_money(one.unit_price), format_money(one.amount), one.left_over


def _hired(estimate: Estimate, one: Purchase) -> tuple[str, ...]:
    name, amount = estimate.lists.item(one.item).name, format_money(one.amount)
    if one.unit == "USD":  # a sum, not so many dollars at a dollar each
        return name, one.supplier, "", "", "", amount
    return name, one.supplier, format_quantity(one.need, one.unit), _sold_as(one), format_money(one.unit_price), amount


def _sold_as(one: Purchase) -> str:
    return one.price_row.rsplit("@", 1)[-1]


def _term_text(term: Input) -> str:
    """A term's value as people write it."""
    if term.kind == "hours":
        return f"{float(term.value):g} h"
    return format_money(term.value) if term.kind == "money" else share_text(float(term.value))


def _build_up(page: Page, estimate: Estimate) -> None:
    kinds = row_kinds(estimate.build_up, estimate.terms)
    rows = [(row.label, format_money(row.amount) if kinds[row.id] == "money" else _ratio_text(row)) for row in estimate.build_up]
    terms = [(term.label, _term_text(term)) for term in estimate.terms.inputs]
    page.table("How the price is made up", ("What", ">Amount"), rows)
    page.table("Terms", ("Term", ">Value"), terms)


def _ratio_text(row: BuildUp) -> str:
    """A share in percent, a factor or a number of steps as it is."""
    return share_text(float(row.amount)) if row.id in SHARE_ROWS else f"{row.amount.normalize():f}"


def _assumptions(page: Page, estimate: Estimate) -> None:
    rows = [(label_of(one.field), say_value(one.field, one.value), one.why) for one in estimate.assumptions]
    page.table("Assumed, because it was not measured", ("Field", "Taken as", "Why"), rows)


def _sources(page: Page, estimate: Estimate) -> None:
    """What was assumed, and which price lists were used."""
    lists = estimate.lists
    _assumptions(page, estimate)
    page.note(f"{whose_lists(lists)} {lists.company.region}, prices of {lists.company.dated}.")
    page.table("Files of the price lists", ("File", "Fingerprint"), [(file.name, file.sha256[:16]) for file in lists.files])


def _all_findings(page: Page, estimate: Estimate) -> None:
    _say_findings(page, "DECIDE FIRST", [(str(number), one) for number, one in number_findings(estimate.findings)])


PARTS: dict[str, Callable[[Page, Estimate], None]] = {
    "findings": _all_findings,
    "hours": _hours,
    "calendar": add_calendar,
    "buy": _purchases,
    "build-up": _build_up,
    "cash": add_payments,
    "risk": add_risk,
    "sources": _sources,
}
"""The parts of an estimate by the names that a command asks for them, in the order in which they are printed."""
