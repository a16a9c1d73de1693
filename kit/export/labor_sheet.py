"""Sheet "Labor": one row for each step (hours, factors, rate, amount), which a page holds; below, for the screen, how the hours of each are counted."""

import math
from collections.abc import Sequence

from kit.errors import Fault, PriceError
from kit.estimating import Estimate
from kit.export.sheet_cells import FIRST_ROW, Book, Column, Page, Place, add_up, start_page
from kit.export.terms_sheet import round_formula
from kit.labor.hours import HOURS_PLACES, factor_name
from kit.labor.schedule import performer_name
from kit.money import CENT_PLACES, sum_money
from kit.records import Line, Task

__all__ = ["NAME", "place_labor", "write_labor"]

NAME = "Labor"
_COLUMNS = (
    Column("Step", 40),
    Column("Hours before factors", 11, figures=True),
    Column("Factor", 6, figures=True),
    Column("Hours", 9, figures=True),
    Column("Hours as bars", 14),
    Column("Crew", 5, figures=True),
    Column("Cost per hour", 9, figures=True),
    Column("Amount", 11, figures=True),
    Column("Done by", 12),
    Column("Duration (h)", 9, figures=True),
    Column("Cost code", 8),
    Column("Factors that hold", 60),
)
_STEP, _BEFORE, _FACTOR, _HOURS, _BAR, _CREW, _RATE, _AMOUNT, _BY, _DURATION, _CODE, _WHY = range(12)
_WORK_HEADS = ("How the hours are counted", "Quantity", "Unit", "Hours for one", "Hours before factors")
_WORK, _QUANTITY, _UNIT, _ONE, _COUNTED = range(5)
_GUIDE = "Hours of a step: its work (counted below, on screen) times the factors. Hours for one unit and factors are inputs on the sheet Terms and rates."
_GAP = 2  # a blank row and the heads stand between the sum and the work


def _first_work(estimate: Estimate) -> int:
    return FIRST_ROW + len(estimate.tasks) + 1 + _GAP


def place_labor(estimate: Estimate) -> dict[str, Place]:
    """The cells of each step, `task:<step>` (its amount) and `hours:<step>`, and the sums `all:task` and `all:hours`."""
    places: dict[str, Place] = {}
    for row, task in enumerate(estimate.tasks, FIRST_ROW):
        places[f"task:{task.step}"] = Place(NAME, row, _AMOUNT)
        places[f"hours:{task.step}"] = Place(NAME, row, _HOURS)
    end = FIRST_ROW + len(estimate.tasks)
    return places | {"all:task": Place(NAME, end, _AMOUNT), "all:hours": Place(NAME, end, _HOURS)}


def write_labor(book: Book, estimate: Estimate, title: str) -> None:
    """The sheet. Raises PriceError if hours don't follow from the lists of the estimate, so that no formula could give them."""
    page = start_page(book, NAME, title, _COLUMNS, _GUIDE, keep_columns=1)
    by_id, row = {line.id: line for line in estimate.lines}, _first_work(estimate)
    for column, head in enumerate(_WORK_HEADS):
        page.text(row - 1, column, head, "head", right=column not in {_WORK, _UNIT})
    for task in estimate.tasks:
        lines = [by_id[line_id] for line_id in task.line_ids]
        page.text(row, _WORK, estimate.step_names[task.step], "words", bold=True)
        for number, line in enumerate(lines, row + 1):
            _write_work(page, number, estimate, line)
        _write_step(page, estimate, task, lines, row + 1)
        row += 1 + len(lines)
    _write_total(page, estimate)
    page.sheet.print_area(0, 0, book.places["all:task"].row, _BY)  # what comes below and after it is for the screen


def _hours_before(estimate: Estimate, lines: Sequence[Line]) -> float:
    return math.fsum(line.quantity * estimate.likely_hours(line.item) for line in lines)


def _write_step(page: Page, estimate: Estimate, task: Task, lines: Sequence[Line], first: int) -> None:
    """A step's row; the rows of its work begin at `first`."""
    row, names = page.book.places[f"task:{task.step}"].row, [name for name, _ in task.factors]
    before, factor = _hours_before(estimate, lines), math.prod(value for _, value in task.factors)
    if abs(before * factor - task.hours_likely) > 10.0**-HOURS_PLACES:
        raise PriceError(Fault(f"labor, {task.step}", "Hours don't follow from the lists. Change them with `revalue`, or the lists with `change_lists`."))
    cell = {column: Place(NAME, row, column).cell for column in (_BEFORE, _FACTOR, _HOURS, _CREW, _RATE)}
    page.text(row, _STEP, estimate.step_names[task.step], "one line")  # so that each bar stands in its row
    page.formula(row, _BEFORE, add_up([Place(NAME, first + number, _COUNTED) for number in range(len(lines))], NAME), before, "exact hours")
    page.text(row, _WHY, ", ".join(factor_name(estimate.lists, name) for name in names) if names else "none")
    page.formula(row, _FACTOR, "*".join(page.book.places[f"factor:{name}"].seen_from(NAME) for name in names) or "1", factor, "times")
    page.formula(row, _HOURS, round_formula(f"{cell[_BEFORE]}*{cell[_FACTOR]}", HOURS_PLACES, noisy=True), task.hours_likely, "kept hours", bold=True)
    page.number(row, _CREW, task.crew, "whole")
    page.formula(row, _DURATION, f"{cell[_HOURS]}/{cell[_CREW]}", task.duration_h, "hours")
    if task.trade == "crew":
        page.formula(row, _RATE, page.book.places["row:labor-rate"].seen_from(NAME), task.rate, "money")
    else:
        page.number(row, _RATE, task.rate, "money")
    page.formula(row, _AMOUNT, round_formula(f"{cell[_HOURS]}*{cell[_RATE]}", CENT_PLACES), task.amount, "money", bold=True)
    page.text(row, _BY, performer_name(task.trade), "words")
    page.text(row, _CODE, estimate.lists.steps[task.step].cost_code)


def _write_work(page: Page, row: int, estimate: Estimate, line: Line) -> None:
    hours, places = estimate.likely_hours(line.item), page.book.places
    page.text(row, _WORK, estimate.lists.rates[line.item].name, "words")
    page.formula(row, _QUANTITY, places[f"net:{line.id}"].seen_from(NAME), line.quantity, "factor")
    page.text(row, _UNIT, line.unit)
    page.formula(row, _ONE, places[f"rate:{line.item}"].seen_from(NAME), hours, "factor")
    page.formula(row, _COUNTED, f"{Place(NAME, row, _QUANTITY).cell}*{Place(NAME, row, _ONE).cell}", line.quantity * hours, "exact hours")


def _write_total(page: Page, estimate: Estimate) -> None:
    row, places = page.book.places["all:task"].row, page.book.places
    page.rule(row, len(_COLUMNS))
    page.text(row, _STEP, "All steps", bold=True, topped=True)
    for column, kind, value in ((_HOURS, "hours", estimate.hours), (_AMOUNT, "task", sum_money([task.amount for task in estimate.tasks]))):
        cells = [places[f"{kind}:{task.step}"] for task in estimate.tasks]
        page.formula(row, column, add_up(cells, NAME), value, "kept hours" if kind == "hours" else "money", bold=True, topped=True)
    page.bars("Own hours by step", Place(NAME, FIRST_ROW, _HOURS), len(estimate.tasks), _BAR, _BAR)
