"""Sheet "Findings": what the checks say, and what was assumed."""

from kit.draw.marks import number_words
from kit.estimating import Estimate
from kit.export.sheet_cells import FIRST_ROW, Book, Column, Page, start_page
from kit.job.field_names import label_of
from kit.records import Finding, Level
from kit.sources import source_title

__all__ = ["NAME", "write_findings"]

NAME = "Findings"
_COLUMNS = (
    Column("No.", 4, figures=True),
    Column("Says", 9),
    Column("About", 24),
    Column("Have or assumed", 22),
    Column("Need", 20),
    Column("What to do", 36),
    Column("Margin", 9, figures=True),
    Column("Tape tolerance", 16, figures=True),
    Column("Unit", 8),
    Column("Chance that it fits", 20, figures=True),
    Column("Source", 34),
    Column("Working or reason", 120),
)
_NUMBER, _SAYS, _ABOUT, _VALUE, _LIMIT, _REMEDY, _MARGIN, _TOLERANCE, _UNIT, _CHANCE, _SOURCE, _WHY = range(12)
_GUIDE = (
    "Worst first: stop, unknown, caution; what was assumed; then, on screen, what is ok. Numbers are those of the flags in the drawings. "
    "Confirm code questions with the local authority; licensed work belongs to licensed trades."
)


def write_findings(book: Book, estimate: Estimate, title: str) -> None:
    """The sheet."""
    page = start_page(book, NAME, title, _COLUMNS, _GUIDE)
    numbered = list(zip(number_words(estimate.findings), estimate.findings, strict=True))
    opened = [one for one in numbered if one[1].level is not Level.OK]
    first_ok = FIRST_ROW + len(opened) + len(estimate.assumptions)
    for first, shown in ((FIRST_ROW, opened), (first_ok, [one for one in numbered if one[1].level is Level.OK])):
        for row, (number, finding) in enumerate(shown, first):
            if number:
                page.number(row, _NUMBER, int(number), "whole")
            _write_finding(page, row, finding)
    for row, assumed in enumerate(estimate.assumptions, FIRST_ROW + len(opened)):
        page.text(row, _SAYS, "assumed", bold=True)
        for column, text in (
            (_ABOUT, label_of(assumed.field)),
            (_VALUE, assumed.value),
        ):
            page.text(row, column, text, "words")
        _write_why(page, row, assumed.why, assumed.source)
    page.sheet.print_area(0, 0, first_ok - 1, _REMEDY)  # what comes below and after it is for the screen


def _write_why(page: Page, row: int, why: str, source: str) -> None:
    """In one line each, the longer last: it runs on over the empty cells beside it."""
    page.text(row, _WHY, why)
    page.text(row, _SOURCE, source_title(source))


def _write_finding(page: Page, row: int, finding: Finding) -> None:
    page.text(row, _SAYS, finding.level.word, bold=True)
    texts = ((_ABOUT, finding.check), (_VALUE, finding.measured), (_LIMIT, finding.limit), (_REMEDY, finding.remedy), (_UNIT, finding.unit))
    for column, text in texts:
        page.text(row, column, text, "words")
    _write_why(page, row, finding.basis, finding.source)
    if finding.margin is not None:
        page.number(row, _MARGIN, finding.margin, "quantity")
        page.number(row, _TOLERANCE, finding.tolerance, "quantity")
    if finding.chance is not None:
        page.number(row, _CHANCE, finding.chance, "chance")
