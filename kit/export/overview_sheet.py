"""Sheet "Overview", on which the workbook opens: one page with what is done, how much, when, and what to decide."""

from collections.abc import Iterable
from itertools import islice

from kit.design.named_goods import counter_name
from kit.draw.marks import number_findings
from kit.estimating import Estimate
from kit.export.lists_used import says_invented
from kit.export.proposal_words import summary_of
from kit.export.sheet_cells import FIRST_ROW, Book, Column, Page, start_page
from kit.labor.clock import last_day
from kit.labor.job_schedule import JobSchedule
from kit.money import format_dollars
from kit.outlook import JobRisk, cash_of, crew_days_of
from kit.pricing.draws import plan_draws
from kit.records import Finding, Level
from kit.units import format_day, format_days

__all__ = ["INVENTED", "NAME", "write_overview"]

NAME = "Overview"
INVENTED = "Invented demo data: company, prices, rates and hours are made up. Put your own in before you charge by them."
_GUIDE = "Figures follow the boxed inputs marked › on the other sheets; dates and words stay as they were when this file was written."
_COLUMNS = (Column("", 34), Column("", 20), Column("", 61))
_LAST = len(_COLUMNS) - 1
_AMOUNTS = {"price": "Price", "cost": "Direct cost", "gross": "Gross profit", "margin": "Gross margin"}
_PLURAL = {"stop": "stops", "caution": "cautions"}
_MOST_SHOWN = 8  # findings on the page


def write_overview(book: Book, estimate: Estimate, title: str, dated: Estimate, schedule: JobSchedule, risk: JobRisk) -> None:
    """The sheet, with the days of the estimate `dated`, its calendar and its trials; call it first so that it opens first, its formulas look ahead."""
    page = start_page(book, NAME, title, _COLUMNS, _GUIDE)
    row = _write_work(page, estimate, FIRST_ROW - 1)
    row = _write_money(page, estimate, risk, row + 1)
    row = _write_payments(page, dated, schedule, row)
    row = _write_days(page, dated, schedule, risk, row + 1)
    _write_decisions(page, estimate, row + 1)
    page.sheet.fit_to_pages(1, 1)


def _head(page: Page, row: int, heading: str) -> int:
    for column in range(len(_COLUMNS)):
        page.text(row, column, heading if column == 0 else "", "head")
    return row + 1


def _fact(page: Page, row: int, label: str, text: str, *, bold: bool = False) -> int:
    """A label with its words; gives the next row."""
    page.text(row, 0, label)
    page.across(row, 1, _LAST, text, bold=bold)
    return row + 1


def _write_work(page: Page, estimate: Estimate, row: int) -> int:
    identity, job = estimate.job.identity, estimate.job
    row = _head(page, row, "What")
    facts = [
        ("Work", summary_of(estimate)),
        ("Sink", estimate.lists.name_of(job.sink.item)),
        ("Countertop", counter_name(job, estimate.lists)),
        ("Job number", identity.job_number),
        ("Customer", identity.customer),
        ("Address", identity.address),
        ("Place for tax and permits", identity.tax_place),
        ("Measured", f"{format_day(identity.visit_date)}, by {identity.measured_by}"),
        ("Note", identity.note),
    ]
    for label, text in facts:
        if text:
            row = _fact(page, row, label, text)
    return row


def _write_money(page: Page, estimate: Estimate, risk: JobRisk, row: int) -> int:
    row = _head(page, row, "How much")
    if says_invented(estimate):
        page.text(row, 0, INVENTED, bold=True)
        row += 1
    notes = {"cost": f"4 times out of 5 no more than {format_dollars(risk.cost_at(0.8))}, as estimated", "margin": "of the price before tax"}
    rows = {built.id: built for built in estimate.build_up}
    for name, label in _AMOUNTS.items():
        if name in rows:
            page.text(row, 0, label, bold=name == "price")
            place, share = page.book.places[f"row:{name}"], name == "margin"
            page.formula(row, 1, place.seen_from(NAME), rows[name].amount, "tenths" if share else "money", bold=name == "price")
            page.text(row, 2, notes.get(name, ""))
            row += 1
    page.text(row, 0, "Can this price stand?")
    page.formula(row, 1, page.book.places["all:checks"].seen_from(NAME), 1, "check")
    page.text(row, 2, "if NO, see the sheet Build-up")
    return row + 1


def _write_payments(page: Page, estimate: Estimate, schedule: JobSchedule, row: int) -> int:
    """Each payment with its day as planned, and when most of our own money is out; without a price there are none."""
    if not estimate.price:
        return row
    cash, visit = cash_of(estimate, schedule), estimate.job.identity.visit_date
    for number, (draw, day) in enumerate(zip(plan_draws(estimate).draws, cash.draw_days, strict=True), 1):
        page.text(row, 0, f"Payment {number}, {format_day(day, beside=visit)}")
        page.formula(row, 1, page.book.places[f"due:{draw.id}"].seen_from(NAME), draw.due, "money")
        page.text(row, 2, draw.label)
        row += 1
    most = (
        f"{format_dollars(cash.most_fronted)} at most, on {format_day(cash.worst.day, beside=visit)}"
        if cash.most_fronted
        else "none: the customer's payments are always ahead"
    )
    return _fact(page, row, "Our money out", most)


def _write_days(page: Page, estimate: Estimate, schedule: JobSchedule, risk: JobRisk, row: int) -> int:
    row, visit = _head(page, row, "When"), estimate.job.identity.visit_date
    start, finish, sure = schedule.house_start, last_day(schedule.finish), last_day(risk.finish_at(0.8))
    days = [*([format_day(start, beside=visit)] if start and start != finish else []), format_day(finish)]
    row = _fact(page, row, "At the house", f"{' to '.join(days)}; 4 times out of 5 done by {format_day(sure, beside=visit)}", bold=True)
    if schedule.days_without_sink is not None:
        row = _fact(page, row, "Without a kitchen sink", _without_sink(schedule, schedule.days_without_sink))
    page.text(row, 0, "Own worker-hours")
    page.formula(row, 1, page.book.places["all:hours"].seen_from(NAME), estimate.hours, "hours")
    page.text(row, 2, f"{crew_days_of(estimate):.1f} crew-days, {schedule.trips_priced} {'trip' if schedule.trips_priced == 1 else 'trips'}")
    return row + 1


def _without_sink(schedule: JobSchedule, days: float) -> str:
    without, lent = (None if one is None else format_days(one) for one in (days, schedule.days_with_temporary_sink))
    return f"{without}; {lent} with a temporary sink" if lent not in {None, without} else f"{without}"


def _write_decisions(page: Page, estimate: Estimate, row: int) -> None:
    """Stops first, then what is unknown, then cautions, as many as the page takes; the rest is counted."""
    row, open_ones = _head(page, row, "What to decide"), number_findings(estimate.findings)
    row = _fact(page, row, "Can be built as described", "yes" if estimate.buildable else "NO: a finding says stop", bold=not estimate.buildable)
    counts = [(sum(one.level is level for one in estimate.findings), level.word) for level in reversed(Level)]
    said = ", ".join(f"{count} {_PLURAL.get(word, word) if count > 1 else word}" for count, word in counts if count) or "nothing was checked"
    row = _fact(page, row, "The checks say", f"{said}; {f'{len(estimate.assumptions)} assumed, not measured' if estimate.assumptions else 'nothing assumed'}")
    row = _write_open(page, islice(open_ones, _MOST_SHOWN), row)
    if len(open_ones) > _MOST_SHOWN:
        _fact(page, row, f"+ {len(open_ones) - _MOST_SHOWN} more", "on the sheet Findings")


def _write_open(page: Page, numbered: Iterable[tuple[int, Finding]], row: int) -> int:
    for number, one in numbered:
        known = f"{one.check}: {one.measured}{f'; need {one.limit}' if one.limit else ''}"
        row = _fact(page, row, f"{number}  {one.level.word.upper()}", f"{known.rstrip('.')}. {one.remedy}".rstrip())
    return row
