"""Sheet "Terms and rates": every share, wage, hour and factor that the price depends on, each in one input cell."""

import re

from kit.estimating import Estimate
from kit.export.lists_used import currency_of
from kit.export.sheet_cells import FIRST_ROW, INPUT_GUIDE, Book, Column, Page, Place, start_page
from kit.labor.hours import HOURS_PLACES
from kit.money import CENT_PLACES, CHARGED_PLACES, NOISE_PLACES

__all__ = ["NAME", "cell_name", "decimals_used", "drivers_used", "factors_used", "place_terms", "round_formula", "write_terms"]

NAME = "Terms and rates"
_COLUMNS = (
    Column("What", 52),
    Column("Value", 11, figures=True),
    Column("Unit", 10),
    Column("Low", 8, figures=True),
    Column("High", 8, figures=True),
    Column("Used for", 26),
    Column("Name", 34),
)
_WHAT, _VALUE, _UNIT, _LOW, _HIGH, _USED, _NAME = range(7)
_ROUNDED = {CENT_PLACES: "amounts of money", HOURS_PLACES: "hours, quantities charged, shares"}
_GAP = 2  # a blank row and the section's own title stand between sections


def drivers_used(estimate: Estimate) -> tuple[str, ...]:
    """The drivers whose hours the tasks use, in the order of the work."""
    items = {line.id: line.item for line in estimate.lines}
    return tuple(dict.fromkeys(items[line_id] for task in estimate.tasks for line_id in task.line_ids))


def factors_used(estimate: Estimate) -> dict[str, float]:
    """The factors on hours that hold for this job."""
    return {name: value for task in estimate.tasks for name, value in task.factors}


def decimals_used(estimate: Estimate) -> tuple[int, ...]:
    """The numbers of decimals to which something is rounded."""
    return tuple(sorted({CENT_PLACES, HOURS_PLACES, CHARGED_PLACES} | {row.places for row in estimate.build_up if row.places is not None}))


def cell_name(key: str) -> str:
    """The name of a cell: `term_overhead` for `in:overhead`, `rate_set_sink` for `rate:set-sink`, `decimals_2` for `decimals:2`."""
    return re.sub(r"\W", "_", key.replace("in:", "term_", 1))


def round_formula(formula: str, places: int, *, noisy: bool = False) -> str:
    """The formula rounded half up to decimals that stand in a named cell.

    What comes from measured quantities is `noisy`: it is rounded to twelve places first, because floats may hold 3.01875
    as a hair less, which would not be rounded up. The kit does the same.
    """
    inner = f"ROUND({formula},{NOISE_PLACES})" if noisy else formula
    return f"ROUND({inner},{cell_name(f'decimals:{places}')})"


def _sections(estimate: Estimate) -> dict[str, list[str]]:
    """The titles of the sections, and the keys of their rows."""
    sections = {
        "Terms of this job": [term.id for term in estimate.terms.inputs],
        "Factors on hours that hold for this job": [f"factor:{name}" for name in factors_used(estimate)],
        "Rounding (half up)": [f"decimals:{places}" for places in decimals_used(estimate)],
        "Hours for one unit of work": [f"rate:{driver}" for driver in drivers_used(estimate)],
    }
    return {title: keys for title, keys in sections.items() if keys}


def place_terms(estimate: Estimate) -> dict[str, Place]:
    """The cell of each value, by `in:<term>`, `rate:<driver>`, `factor:<name>` and `decimals:<number>`."""
    places: dict[str, Place] = {}
    row = FIRST_ROW + 1
    for keys in _sections(estimate).values():
        places |= {key: Place(NAME, row + number, _VALUE) for number, key in enumerate(keys)}
        row += len(keys) + _GAP
    return places


def write_terms(book: Book, estimate: Estimate, title: str) -> None:
    """The sheet."""
    page = start_page(book, NAME, title, _COLUMNS, INPUT_GUIDE)
    for heading, keys in _sections(estimate).items():
        page.text(book.places[keys[0]].row - 1, _WHAT, heading, bold=True)
    _write_inputs(page, estimate)
    _write_hours(page, estimate)
    for name, value in factors_used(estimate).items():
        listed = estimate.lists.factors.get(name)
        row = book.places[f"factor:{name}"].row
        page.text(row, _WHAT, f"{listed.name}: {listed.says}" if listed else "all hours of this job", "words")
        page.enter(row, _VALUE, value, "quantity")
        page.text(row, _UNIT, "times")
        page.across(row, _LOW, _USED, _step_names(estimate, listed.steps) if listed else "every step")
        _write_name(page, f"factor:{name}")
    for places in decimals_used(estimate):
        row = book.places[f"decimals:{places}"].row
        page.text(row, _WHAT, "Decimals that are kept")
        page.number(row, _VALUE, places, "whole")
        page.text(row, _USED, _ROUNDED.get(places, "build-up"), "words")
        _write_name(page, f"decimals:{places}")
    page.sheet.print_area(0, 0, book.places[f"decimals:{decimals_used(estimate)[-1]}"].row, _USED)  # the hours below it are for the screen


def _step_names(estimate: Estimate, steps: tuple[str, ...]) -> str:
    names = {str(step): name for step, name in estimate.step_names.items()}
    return ", ".join(names.get(step, "every step") for step in steps)


def _write_inputs(page: Page, estimate: Estimate) -> None:
    for term in estimate.terms.inputs:
        row = page.book.places[term.id].row
        page.text(row, _WHAT, term.label, "words")
        if term.kind == "share":
            page.enter(row, _VALUE, term.value, "share", most=1, guide="Type a percent, such as 12%.")
        elif term.kind == "hours":
            page.enter(row, _VALUE, term.value, "quantity", guide="Type hours of one year.")
        else:
            page.enter(row, _VALUE, term.value, "money", guide="Type an amount.")
        page.text(row, _UNIT, {"share": "share", "hours": "h"}.get(term.kind, currency_of(estimate)))
        page.text(row, _USED, "build-up")
        _write_name(page, term.id)


def _write_hours(page: Page, estimate: Estimate) -> None:
    lists = estimate.lists
    for driver in drivers_used(estimate):
        rate, row = lists.rates[driver], page.book.places[f"rate:{driver}"].row
        page.text(row, _WHAT, rate.name, "words")
        page.enter(row, _VALUE, estimate.likely_hours(driver), "quantity")
        page.text(row, _UNIT, "h" if rate.unit == "h" else f"h / {rate.unit}")
        page.number(row, _LOW, rate.low_h, "quantity")
        page.number(row, _HIGH, rate.high_h, "quantity")
        page.text(row, _USED, lists.steps[rate.step].name)
        _write_name(page, f"rate:{driver}")


def _write_name(page: Page, key: str) -> None:
    """Give the cell its name, and say it beside the cell."""
    place = page.book.places[key]
    page.text(place.row, _NAME, cell_name(key))
    letters, number = place.cell.rstrip("0123456789"), place.row + 1
    page.book.workbook.define_name(cell_name(key), f"='{place.sheet}'!${letters}${number}")
