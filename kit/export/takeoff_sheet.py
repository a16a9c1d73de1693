"""Sheet "Takeoff": every line with its working, quantity and waste."""

from collections import Counter

from kit.estimating import Estimate
from kit.export.lists_used import size_words
from kit.export.sheet_cells import FIRST_ROW, Book, Column, Page, Place, look_of_count, start_page
from kit.job.field_names import part_name
from kit.records import CostType, Kind, Line
from kit.sources import source_title
from kit.steps import Step
from kit.takeoff.working import working_words
from kit.units import whole_pieces

__all__ = ["NAME", "place_takeoff", "write_takeoff"]

NAME = "Takeoff"
_COLUMNS = (
    Column("Step", 40),
    Column("What", 47),
    Column("Net quantity", 9, figures=True),
    Column("Unit", 6),
    Column("Waste", 6, figures=True),
    Column("With waste", 8, figures=True),
    Column("Kind", 6),
    Column("Net, not rounded up", 9, figures=True),
    Column("With waste, not rounded up", 10, figures=True),
    Column("Pieces", 34),
    Column("Source", 34),
    Column("Line", 38),
    Column("Working", 120),
)
_GUIDE = (
    "Net quantities come from the job as measured. Pieces to cut carry no waste: the cut plan of the sheet Purchases shows theirs. A piece is whole here; "
    "what is bought together is added up before it is rounded up."
)
_STEP, _WHAT, _NET, _UNIT, _WASTE, _NEED, _KIND, _EXACT_NET, _EXACT, _PIECES, _SOURCE, _LINE, _WORKING = range(13)


def place_takeoff(estimate: Estimate) -> dict[str, Place]:
    """The cells of each line: `net:<line>` and, waste added, `need:<line>`, of pieces before they are rounded up."""
    places: dict[str, Place] = {}
    for row, line in enumerate(estimate.lines, FIRST_ROW):
        places[f"net:{line.id}"] = Place(NAME, row, _NET)
        places[f"need:{line.id}"] = Place(NAME, row, _EXACT if _is_pieces(line) else _NEED)
    return places


def write_takeoff(book: Book, estimate: Estimate, title: str) -> None:
    """The sheet."""
    page = start_page(book, NAME, title, _COLUMNS, _GUIDE)
    alike = Counter(f"{line.step}/{line.item}" for line in estimate.lines if line.step is not Step.TRIPS)
    for row, line in enumerate(estimate.lines, FIRST_ROW):
        page.text(row, _STEP, estimate.step_names[line.step], "words")
        where = f": {part_name(line.id.rpartition('/')[2])}" if alike[f"{line.step}/{line.item}"] > 1 else ""
        page.text(row, _WHAT, f"{_what(estimate, line)}{where}", "words")
        page.text(row, _KIND, CostType.LABOR if line.kind is Kind.DO else estimate.lists.item(line.item).cost_type)
        page.text(row, _UNIT, line.unit)
        page.number(row, _WASTE, line.waste, "waste")
        _write_quantity(page, row, line)
        page.text(row, _WORKING, working_words(line.basis))  # in one line, last: long ones run on over the empty cells beside them
        pieces = "; ".join(f"({piece.count}) {size_words(piece)} {piece.name}" for piece in line.pieces)
        page.text(row, _PIECES, pieces)
        page.text(row, _SOURCE, source_title(line.source))
        page.text(row, _LINE, line.id)
    page.sheet.print_area(0, 0, FIRST_ROW - 1 + len(estimate.lines), _NEED)  # what comes after it is for the screen
    page.sheet.autofilter(FIRST_ROW - 1, 0, FIRST_ROW - 1 + len(estimate.lines), len(_COLUMNS) - 1)


def _is_pieces(line: Line) -> bool:
    """Whether what is bought is counted by the piece, of which nobody uses a part."""
    return line.kind is not Kind.DO and line.unit == "each"


def _write_quantity(page: Page, row: int, line: Line) -> None:
    """The net quantity, and the same with waste; pieces whole, with the exact figures, which sums need, to the right of the print."""
    net, waste = (Place(NAME, row, column).cell for column in (_NET, _WASTE))
    if not _is_pieces(line):
        page.number(row, _NET, line.quantity, look_of_count(line.quantity, line.unit))
        page.formula(row, _NEED, f"{net}*(1+{waste})", line.need, look_of_count(line.need, line.unit))
        return
    exact_net, exact = (Place(NAME, row, column).cell for column in (_EXACT_NET, _EXACT))
    page.number(row, _EXACT_NET, line.quantity, look_of_count(line.quantity, line.unit))
    page.formula(row, _EXACT, f"{exact_net}*(1+{waste})", line.need, look_of_count(line.need, line.unit))
    page.formula(row, _NET, f"ROUNDUP(ROUND({exact_net},6),0)", whole_pieces(line.quantity), "whole")
    page.formula(row, _NEED, f"ROUNDUP(ROUND({exact},6),0)", whole_pieces(line.need), "whole")


def _what(estimate: Estimate, line: Line) -> str:
    if line.kind is Kind.DO:
        return estimate.lists.rates[line.item].name
    return estimate.lists.item(line.item).name
