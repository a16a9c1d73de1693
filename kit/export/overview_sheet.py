"""Sheets "Overview" and "Findings": the job, its price and cost, the lists that the figures rest on; what the checks say and what was assumed."""

import datetime as dt

from kit.draw.marks import number_words
from kit.estimate import Estimate
from kit.export.lists_used import currency_of, price_days, says_invented
from kit.export.page import FIRST_ROW, Book, Column, Page, start_page
from kit.job.labels import label_of
from kit.records import Finding, Level
from kit.sources import source_title

__all__ = ["FINDINGS", "INVENTED", "NAME", "write_findings", "write_overview"]

NAME = "Overview"
FINDINGS = "Findings"
INVENTED = "Invented demo data: company, prices, rates and hours are made up. Put your own in before you charge by them."
_GUIDE = "On the other sheets boxed figures marked › are inputs: change them there and the price here follows."
_COLUMNS = (Column("", 44), Column("", 26), Column("", 66))
_FINGERPRINT = 12
_CONTENTS = (
    ("Takeoff", "every quantity with its working and waste"),
    ("Purchases", "packs, unit prices and amounts"),
    ("Labor", "hours of each step, factors, cost"),
    ("Calendar", "the day of each step, and how sure cost and finish are"),
    ("Build-up", "from direct cost to price"),
    ("Payments", "when the customer pays, and how much"),
    ("Charts", "price and hours as bars"),
    ("Terms and rates", "shares, wage, hours for one unit, factors"),
    ("Findings", "what the checks say, and what was assumed"),
    ("Cut plan", "which piece comes out of which stock"),
    ("Drawings", "what to set out, front elevation, side section, plan of the countertop, frame"),
    ("Import", "plain values for the books as estimated; they do not follow changes on other sheets"),
)
_FINDING_COLUMNS = (
    Column("No.", 5, figures=True),
    Column("Says", 10),
    Column("About", 38),
    Column("Measured or assumed", 24),
    Column("Limit", 24),
    Column("Margin", 9, figures=True),
    Column("Tape tolerance", 10, figures=True),
    Column("Unit", 8),
    Column("Chance that it fits", 10, figures=True),
    Column("Working or reason", 56),
    Column("What to do", 44),
    Column("Source", 18),
)
_NUMBER, _SAYS, _ABOUT, _VALUE, _LIMIT, _MARGIN, _TOLERANCE, _UNIT, _CHANCE, _WHY, _REMEDY, _SOURCE = range(12)
_FINDING_GUIDE = (
    "Worst first: stop, unknown, caution, ok; then what was assumed. Numbers are those of the flags in the drawings. "
    "Confirm code questions with the local authority; licensed work belongs to licensed trades."
)


def write_overview(book: Book, estimate: Estimate, title: str) -> None:
    """The sheet; call it first so that it opens first, its formulas look ahead."""
    page = start_page(book, NAME, title, _COLUMNS, _GUIDE)
    row = _write_result(page, estimate, FIRST_ROW - 1)
    row = _write_job(page, estimate, row + 1)
    row = _write_lists(page, estimate, row + 1)
    _write_contents(page, estimate, row + 1)
    page.sheet.set_portrait()
    page.sheet.fit_to_pages(1, 1)


def _head(page: Page, row: int, heading: str) -> int:
    for column in range(len(_COLUMNS)):
        page.text(row, column, heading if column == 0 else "", "head")
    return row + 1


def _write_result(page: Page, estimate: Estimate, row: int) -> int:
    row = _head(page, row, "Result")
    if says_invented(estimate):
        page.text(row, 0, INVENTED, bold=True)
        row += 1
    rows = {built.id: built for built in estimate.build_up}
    for name in ("price", "cost", "gross", "margin"):
        if name in rows:
            page.text(row, 0, rows[name].label, "words", bold=name == "price")
            place, share = page.book.places[f"row:{name}"], name == "margin"
            page.formula(row, 1, place.seen_from(NAME), rows[name].amount, "share" if share else "money", bold=name == "price")
            page.text(row, 2, "" if share else currency_of(estimate))
            row += 1
    page.text(row, 0, "The terms leave a price")
    page.formula(row, 1, page.book.places["all:checks"].seen_from(NAME), 1, "check")
    page.text(row, 2, "if not, see the foot of the sheet Build-up")
    row += 1
    page.text(row, 0, "Own worker-hours")
    page.formula(row, 1, page.book.places["all:hours"].seen_from(NAME), estimate.hours, "quantity")
    page.text(row, 2, "h")
    page.text(row + 1, 0, "Can be built as described")
    page.text(row + 1, 1, "yes" if estimate.buildable else "NO: a finding says stop", bold=not estimate.buildable, right=True)
    return _write_worst(page, estimate, row + 2)


def _write_worst(page: Page, estimate: Estimate, row: int) -> int:
    worst = estimate.worst
    page.text(row, 0, "Worst finding")
    page.text(row, 1, worst.level.word if worst else "nothing was checked", right=True, bold=worst is not None and worst.level is not Level.OK)
    if worst:
        page.text(row, 2, f"{worst.check}: {worst.measured}, limit {worst.limit}", "words")
    counts = [(sum(finding.level is level for finding in estimate.findings), level.word) for level in reversed(Level)]
    page.text(row + 1, 0, "Findings and assumptions")
    page.text(row + 1, 1, f"{len(estimate.findings)} and {len(estimate.assumptions)}", right=True)
    page.text(row + 1, 2, ", ".join(f"{count} {word}" for count, word in counts if count), "words")
    return row + 2


def _write_job(page: Page, estimate: Estimate, row: int) -> int:
    identity = estimate.job.identity
    row = _head(page, row, "Job")
    facts: list[tuple[str, str | dt.date]] = [
        ("Job number", identity.job_number),
        ("Customer", identity.customer),
        ("Address", identity.address),
        ("Place for tax and permits", identity.tax_place),
        ("Visit", identity.visit_date),
        ("Measured by", identity.measured_by),
    ]
    if identity.note:
        facts.append(("Note", identity.note))
    return _write_facts(page, row, facts)


def _write_facts(page: Page, row: int, facts: list[tuple[str, str | dt.date]]) -> int:
    for label, value in facts:
        page.text(row, 0, label)
        if isinstance(value, str):
            page.text(row, 1, value)
        else:
            page.date(row, 1, value)
        row += 1
    return row


def _write_lists(page: Page, estimate: Estimate, row: int) -> int:
    row = _head(page, row, "Lists used")
    company, days = estimate.lists.company, price_days(estimate)
    facts: list[tuple[str, str | dt.date]] = [
        ("Company", company.name),
        ("Region of the prices", company.region),
        ("Prices dated", company.dated),
        ("Currency", currency_of(estimate)),
    ]
    if days:
        facts += [("Oldest price used, from", days[0]), ("Newest price used, from", days[-1])]
    facts.append(("Folder", estimate.lists.folder))
    row = _write_facts(page, row, facts)
    for file in estimate.lists.files:
        page.text(row, 0, file.name)
        page.text(row, 1, f"fingerprint {file.sha256[:_FINGERPRINT]}")
        row += 1
    return row


def _write_contents(page: Page, estimate: Estimate, row: int) -> None:
    row = _head(page, row, "Sheets")
    planned = any(purchase.plan for purchase in estimate.purchases)
    for name, says in _CONTENTS:
        if name != "Cut plan" or planned:
            page.text(row, 0, name)
            page.text(row, 1, says)
            row += 1
    page.text(row, 0, "Sheets are locked but for their inputs, without a password: take the protection off to change more.", "guide")


def write_findings(book: Book, estimate: Estimate, title: str) -> None:
    """The sheet."""
    page = start_page(book, FINDINGS, title, _FINDING_COLUMNS, _FINDING_GUIDE)
    for row, (number, finding) in enumerate(zip(number_words(estimate.findings), estimate.findings, strict=True), FIRST_ROW):
        if number:
            page.number(row, _NUMBER, int(number), "whole")
        _write_finding(page, row, finding)
    for row, assumed in enumerate(estimate.assumptions, FIRST_ROW + len(estimate.findings)):
        page.text(row, _SAYS, "assumed", bold=True)
        for column, text in (
            (_ABOUT, label_of(assumed.field, part=True)),
            (_VALUE, assumed.value),
            (_WHY, assumed.why),
            (_SOURCE, source_title(assumed.source)),
        ):
            page.text(row, column, text, "words")


def _write_finding(page: Page, row: int, finding: Finding) -> None:
    page.text(row, _SAYS, finding.level.word, bold=True)
    texts = ((_ABOUT, finding.check), (_VALUE, finding.measured), (_LIMIT, finding.limit), (_UNIT, finding.unit))
    for column, text in (*texts, (_WHY, finding.basis), (_REMEDY, finding.remedy), (_SOURCE, source_title(finding.source))):
        page.text(row, column, text, "words")
    if finding.margin is not None:
        page.number(row, _MARGIN, finding.margin, "quantity")
        page.number(row, _TOLERANCE, finding.tolerance, "quantity")
    if finding.chance is not None:
        page.number(row, _CHANCE, finding.chance, "chance")
