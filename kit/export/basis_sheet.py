"""Sheet "Lists", the last one: what the figures rest on, each list with its fingerprint, and what stands on which sheet."""

import datetime as dt
from collections.abc import Iterable

from kit.estimating import Estimate
from kit.export.lists_used import currency_of, price_days
from kit.export.sheet_cells import FIRST_ROW, Book, Column, Page, leave_unprinted, start_page
from kit.lists.load import ListFile

__all__ = ["NAME", "write_basis"]

NAME = "Lists"
_COLUMNS = (Column("What", 30), Column("Says", 85))
_GUIDE = "The fingerprint of a list changes with every change of it: the same fingerprint means the same list."
_FINGERPRINT = 12
_CONTENTS = (
    ("Overview", "what, how much, when, what to decide"),
    ("Takeoff", "every quantity with its working and waste"),
    ("Purchases", "packs, unit prices and amounts; which piece comes out of which stock"),
    ("Labor", "hours of each step, factors, cost"),
    ("Calendar", "the day of each step, and how sure cost and finish are"),
    ("Build-up", "from direct cost to price; payments; what the price is made of"),
    ("Terms and rates", "shares, wage, hours for one unit, factors"),
    ("Findings", "what the checks say, and what was assumed"),
    ("Drawings", "front elevation, side section, plan of the countertop, the frame if there is one, what to set out"),
    ("Import", "plain values for the books as estimated; they do not follow changes on other sheets"),
)


def write_basis(book: Book, estimate: Estimate, title: str) -> None:
    """The sheet."""
    page = start_page(book, NAME, title, _COLUMNS, _GUIDE)
    row = _write_facts(page, FIRST_ROW, _facts(estimate))
    row = _write_facts(page, row + 1, [(file.name, _fingerprint(estimate, file)) for file in estimate.lists.files])
    page.text(row + 1, 0, "Sheets", bold=True)
    row = _write_facts(page, row + 2, _CONTENTS)
    page.text(row, 0, "Sheets are locked but for their inputs, without a password: take the protection off to change more.", "guide")
    leave_unprinted(page)


def _facts(estimate: Estimate) -> list[tuple[str, str | dt.date]]:
    company, days = estimate.lists.company, price_days(estimate)
    facts: list[tuple[str, str | dt.date]] = [
        ("Company", company.name),
        ("Region of the prices", company.region),
        ("Lists dated", company.dated),
        ("Currency", currency_of(estimate)),
    ]
    if days:
        facts += [("Oldest price used, from", days[0]), ("Newest price used, from", days[-1])]
    return [*facts, ("Folder", estimate.lists.folder_words), *[("Changed in memory", words) for words in estimate.changed_in_memory]]


def _fingerprint(estimate: Estimate, file: ListFile) -> str:
    said = estimate.lists.fingerprint(file)
    return f"fingerprint {said[:_FINGERPRINT]}" if said == file.sha256 else said


def _write_facts(page: Page, first: int, facts: Iterable[tuple[str, str | dt.date]]) -> int:
    """A row for each fact; gives the next row."""
    row = first
    for label, value in facts:
        page.text(row, 0, label)
        if isinstance(value, str):
            page.text(row, 1, value)
        else:
            page.date(row, 1, value)
        row += 1
    return row
