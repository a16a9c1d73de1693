"""What `check` and `estimate` say: findings, price and what it is made of, in plain trade words."""

from collections.abc import Sequence

from kit.cli.outlook_report import add_outlook, add_payments, outlook_note
from kit.cli.page import Page, hours_text, share_text
from kit.draw.marks import number_words
from kit.estimate import Estimate
from kit.issued import Issued
from kit.job.prices import whose_lists
from kit.money import format_money
from kit.outlook import risk_of, schedule_of
from kit.pricing.build_up import row_kinds
from kit.pricing.terms import Input
from kit.records import Finding, Kind, Level, Purchase, Task

__all__ = ["check_report", "estimate_report"]

CAUTION = (
    "Confirm what touches plumbing, electricity, structure or permits with the local authority and the licensed trades; "
    "nothing here says that the work complies with a code."
)
_LEVEL_WORDS = {Level.STOP: "STOP", Level.UNKNOWN: "unknown", Level.CAUTION: "caution", Level.OK: "ok"}


def check_report(estimate: Estimate, *, everything: bool = False) -> str:
    """What needs a decision, worst first; what is ok and good to know, or all that is ok; then what was assumed."""
    page = Page()
    _head(page, estimate)
    page.note(_verdict(estimate.findings))
    _findings(page, [finding for finding in estimate.findings if everything or finding.level is not Level.OK])
    if not everything:
        notes = [(one.check, one.measured, one.remedy) for one in estimate.findings if one.level is Level.OK and one.remedy]
        page.table("Good to know; nothing to decide", ("What was checked", "Found", "Note"), notes)
    _assumptions(page, estimate)
    _close(page, estimate)
    return page.text()


def estimate_report(estimate: Estimate, *, issued: Issued | None = None) -> str:
    """Price, finish, what is not ok worst first, hours by step, calendar, risk, payments, cash, purchases, build-up, assumptions, lists used."""
    page = Page()
    _head(page, estimate)
    if issued:
        page.note(f"Issued {issued.issued} as revision {issued.revision}, with the prices of that day.")
    page.note(issued.lists_words if issued else whose_lists(estimate.lists))
    page.note(
        f"Price {format_money(estimate.price)}   direct cost {format_money(estimate.cost)}   "
        f"margin {share_text(float(estimate.margin))}   hours {hours_text(estimate.hours)}"
    )
    schedule, risk = schedule_of(estimate), risk_of(estimate)
    page.note(outlook_note(schedule, risk))
    page.note(_verdict(estimate.findings))
    _findings(page, [finding for finding in estimate.findings if finding.level is not Level.OK])
    _hours(page, estimate)
    add_outlook(page, estimate, schedule, risk)
    add_payments(page, estimate)
    _purchases(page, estimate)
    _build_up(page, estimate)
    _assumptions(page, estimate)
    _close(page, estimate)
    return page.text()


def _head(page: Page, estimate: Estimate) -> None:
    who, sink, name_of = estimate.job.identity, estimate.job.sink, estimate.lists.name_of
    page.title(
        f"{who.job_number}: {who.customer}, {who.address}",
        f"{name_of(sink.item)}, {sink.mount} mount, in {name_of(estimate.job.counter.item)}; measured {who.visit_date} by {who.measured_by}",
        *([who.note] if who.note else []),
    )


def _verdict(findings: Sequence[Finding]) -> str:
    count = {level: sum(finding.level is level for finding in findings) for level in sorted(Level, reverse=True)}
    numbers = ", ".join(f"{number} {_LEVEL_WORDS[level]}" for level, number in count.items() if number)
    if count[Level.STOP]:
        return f"NOT BUILDABLE as measured and chosen. Findings: {numbers}."
    return f"Nothing says stop. Findings: {numbers or 'none'}."


def _findings(page: Page, findings: Sequence[Finding]) -> None:
    rows = [
        (number, _LEVEL_WORDS[one.level], one.check, one.measured, one.limit, one.remedy) for number, one in zip(number_words(findings), findings, strict=True)
    ]
    page.table("Findings, worst first", (">No.", "Level", "What was checked", "Found", "Wanted", "What to do"), rows)


def _hours(page: Page, estimate: Estimate) -> None:
    steps = estimate.lists.steps

    def row(task: Task) -> tuple[str, ...]:
        span = f"{hours_text(task.hours_low)} to {hours_text(task.hours_high)}"
        return steps[task.step].name, hours_text(task.hours_likely), span, str(task.crew), hours_text(task.duration_h), format_money(task.amount)

    columns = ("Step", ">Worker-hours", ">Low to high", ">Crew", ">On the job, h", ">Cost")
    page.table("Hours by step", columns, [row(task) for task in estimate.tasks])


def _purchases(page: Page, estimate: Estimate) -> None:
    goods = {line.item for line in estimate.lines if line.kind is Kind.BUY}
    bought = [one for one in estimate.purchases if one.item in goods]
    others = [one for one in estimate.purchases if one.item not in goods]
    columns = ("Item", "Supplier", ">Needed", ">Packs", "Sold as", ">Price each", ">Amount", "Left over")
    page.table("Purchases", columns, [_purchase(estimate, one) for one in bought])
    page.table("Hired trades, fabricator, fees", ("Item", "Supplier", ">Quantity", ">Price each", ">Amount"), [_hired(estimate, one) for one in others])


def _purchase(estimate: Estimate, one: Purchase) -> tuple[str, ...]:
    name = estimate.lists.item(one.item).name
    need, sold_as = f"{one.need:.4g} {one.unit}", one.price_row.rsplit("@", 1)[-1]
    return name, one.supplier, need, str(one.packs), sold_as, format_money(one.unit_price), format_money(one.amount), one.left_over


def _hired(estimate: Estimate, one: Purchase) -> tuple[str, ...]:
    return estimate.lists.item(one.item).name, one.supplier, f"{one.need:.4g} {one.unit}", format_money(one.unit_price), format_money(one.amount)


def _term_text(term: Input) -> str:
    """A term's value as people write it."""
    if term.kind == "hours":
        return f"{float(term.value):g} h"
    return format_money(term.value) if term.kind == "money" else share_text(float(term.value))


def _build_up(page: Page, estimate: Estimate) -> None:
    kinds = row_kinds(estimate.build_up, estimate.terms)
    rows = [(row.label, format_money(row.amount) if kinds[row.id] == "money" else f"{float(row.amount):.4f}") for row in estimate.build_up]
    terms = [(term.label, _term_text(term)) for term in estimate.terms.inputs]
    page.table("How the price is made up", ("Row", ">Amount"), rows)
    page.table("Terms", ("Term", ">Value"), terms)


def _assumptions(page: Page, estimate: Estimate) -> None:
    rows = [(one.field, one.value, one.why) for one in estimate.assumptions]
    page.table("Assumed, because it was not measured", ("Field", "Taken as", "Why"), rows)


def _close(page: Page, estimate: Estimate) -> None:
    lists = estimate.lists
    files = ", ".join(f"{file.name} ({file.sha256[:8]})" for file in lists.files)
    page.note(f'Price lists: folder "{lists.folder}", {lists.company.region}, prices of {lists.company.price_date}. Files and fingerprints: {files}.')
    page.note(CAUTION)
