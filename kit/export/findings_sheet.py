"""Sheet "Findings": what the checks say, worst first, and what was assumed because the visit could not tell."""

from kit.estimate import Estimate
from kit.export.page import Book, Column, Page, start_page
from kit.export.places import FIRST_ROW
from kit.records import Finding

__all__ = ["NAME", "write_findings"]

NAME = "Findings"
_COLUMNS = (
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
_SAYS, _ABOUT, _VALUE, _LIMIT, _MARGIN, _TOLERANCE, _UNIT, _CHANCE, _WHY, _REMEDY, _SOURCE = range(11)
_GUIDE = (
    "Worst first: stop, unknown, caution, ok; then what was assumed. Confirm code questions with the local authority; licensed work belongs to licensed trades."
)


def write_findings(book: Book, estimate: Estimate, title: str) -> None:
    """The sheet."""
    page = start_page(book, NAME, title, _COLUMNS, _GUIDE)
    for row, finding in enumerate(estimate.findings, FIRST_ROW):
        _write_finding(page, row, finding)
    for row, assumed in enumerate(estimate.assumptions, FIRST_ROW + len(estimate.findings)):
        page.text(row, _SAYS, "assumed", bold=True)
        for column, text in ((_ABOUT, assumed.field), (_VALUE, assumed.value), (_WHY, assumed.why), (_SOURCE, assumed.source)):
            page.text(row, column, text, "words")


def _write_finding(page: Page, row: int, finding: Finding) -> None:
    page.text(row, _SAYS, finding.level.word, bold=True)
    texts = ((_ABOUT, finding.check), (_VALUE, finding.measured), (_LIMIT, finding.limit), (_UNIT, finding.unit))
    for column, text in (*texts, (_WHY, finding.basis), (_REMEDY, finding.remedy), (_SOURCE, finding.source)):
        page.text(row, column, text, "words")
    if finding.margin is not None:
        page.number(row, _MARGIN, finding.margin, "quantity")
        page.number(row, _TOLERANCE, finding.tolerance, "quantity")
    if finding.chance is not None:
        page.number(row, _CHANCE, finding.chance, "chance")
