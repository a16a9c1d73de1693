"""Sheet "Build-up": from cost to price; each formula is written from the row that computed the amount. Payments and what the price is made of follow.

What the kit refuses the sheet refuses too: where a divisor is 0 or less, or material is stated above the price, the cell shows #N/A in
place of a price, and the checks at the foot say which terms don't hold.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from kit.buying.minimums import is_idle
from kit.estimating import Estimate
from kit.export.sheet_cells import FIRST_ROW, Book, Column, Page, Place, Style, add_up, start_page
from kit.export.terms_sheet import cell_name, round_formula
from kit.money import CENT_PLACES, NOISE_PLACES
from kit.pricing.build_up import SHARE_ROWS, row_kinds
from kit.records import BuildUp

__all__ = ["NAME", "TermCheck", "check_terms", "place_build_up", "price_parts", "row_formula", "row_words", "write_build_up", "write_parts"]

NAME = "Build-up"
_COLUMNS = (
    Column("What", 42),
    Column("Amount", 13, figures=True),
    Column("Worked out as", 10),
    Column("", 12),
    Column("", 12),
    Column("", 13),
    Column("", 12),
    Column("", 74),  # how payments are counted, for the screen
)
_LABEL, _AMOUNT, _WORDS, _LAST = 0, 1, 2, 6
_KEY_ROWS = ("cost", "price")
_ROUNDED_TO = {0: "a whole number", CENT_PLACES: "the cent"}
_MANY = 12  # rows in a sum of which only the first and the last are named
_GAP = 2  # a blank row and a title stand between rows and checks
_PARTS_TITLE = "What the price is made of"
_PARTS_GAP = 3  # a blank row and the title stand between what comes before and the table
# what the price is the sum of, in the order of the build-up
_PARTS = ("material", "hired", "fees", "other", "tax-paid", "labor", "handling", "contingency", "warranty", "overhead", "profit", "tax-collected")


@dataclass(frozen=True, slots=True)
class TermCheck:
    """What must hold for there to be a price: its name, what it says, what to do where it doesn't, and the condition as a formula writes it."""

    id: str
    says: str
    remedy: str
    condition: str


def check_terms(rows: tuple[BuildUp, ...], places: Mapping[str, Place], labels: Mapping[str, str]) -> list[TermCheck]:
    """The conditions under which the kit gives a price for these rows."""
    checks = [
        TermCheck(row.id, f"{labels.get(row.args[1], row.args[1])}: above 0", f"Without it there is no {row.label}: change the terms.", _divides(row, places))
        for row in rows
        if row.op == "divide"
    ]
    stated = next((row for row in rows if row.id == "stated-material"), None)
    if stated:
        checks.append(TermCheck(stated.id, f"{stated.label}: not above the price before tax", "Lower the markup in it.", _is_stated_within(places)))
    return checks


def place_build_up(estimate: Estimate) -> dict[str, Place]:
    """The amount of each row, `row:<id>`, and `all:checks`: 1 where the terms leave a price, else 0."""
    rows = estimate.build_up
    places = {f"row:{row.id}": Place(NAME, number, _AMOUNT) for number, row in enumerate(rows, FIRST_ROW)}
    return places | {"all:checks": Place(NAME, FIRST_ROW + len(rows) + _GAP + sum(row.op == "divide" or row.id == "stated-material" for row in rows), _AMOUNT)}


def write_build_up(book: Book, estimate: Estimate, title: str) -> Page:
    """The sheet, down to the checks."""
    page = start_page(book, NAME, title, _COLUMNS, "Markup is a share of cost, margin a share of the price.")
    labels = {"0": "nothing"} | {term.id: term.label for term in estimate.terms.inputs} | {row.id: row.label for row in estimate.build_up}
    kinds = row_kinds(estimate.build_up, estimate.terms)
    idle = {f"buy:{one.id}" for one in estimate.purchases if is_idle(one)}
    for number, row in enumerate(estimate.build_up, FIRST_ROW):
        key = row.id in _KEY_ROWS
        page.text(number, _LABEL, row.label, "words", bold=key, topped=key)
        page.formula(number, _AMOUNT, row_formula(row, book.places), row.amount, _style(row, kinds[row.id]), bold=key, topped=key)
        charged = tuple(arg for arg in row.args if arg not in idle) or ("0",)  # a minimum that is reached is no purchase
        page.across(number, _WORDS, _LAST, row_words(replace(row, args=charged), labels))
    first = FIRST_ROW + len(estimate.build_up) + _GAP
    checks = check_terms(estimate.build_up, book.places, labels)
    page.text(first - 1, _LABEL, "Can this price stand?", bold=True)
    for number, check in enumerate(checks, first):
        page.text(number, _LABEL, check.says, "words")
        page.formula(number, _AMOUNT, f"IF({check.condition},1,0)", 1, "check")
        page.across(number, _WORDS, _LAST, check.remedy)
    place = book.places["all:checks"]
    page.text(place.row, _LABEL, "All of them hold", "words", bold=True, topped=True)
    answers = f"{Place(NAME, first, _AMOUNT).cell}:{Place(NAME, place.row - 1, _AMOUNT).cell}"
    page.formula(place.row, _AMOUNT, f"IF(ISNUMBER(SUM({answers})),MIN({answers}),0)", 1, "check", bold=True, topped=True)
    page.across(place.row, _WORDS, _LAST, "Where one does not hold, price and what follows from it show #N/A.")
    return page


def _style(row: BuildUp, kind: str) -> Style:
    if kind == "money":
        return "money"
    if row.id == "margin":
        return "tenths"
    return "whole" if row.places == 0 else "share" if row.id in SHARE_ROWS else "factor"


def _divides(row: BuildUp, places: Mapping[str, Place]) -> str:
    """Whether a row's divisor is above 0, the noise of floats left aside."""
    return f"ROUND({_operand(row.args[1], places)},{NOISE_PLACES})>0"


def _is_stated_within(places: Mapping[str, Place]) -> str:
    return f"{_operand('stated-material', places)}<={round_formula(_operand('net', places), CENT_PLACES)}"


def row_formula(row: BuildUp, places: Mapping[str, Place]) -> str:
    """The cell formula of a row of the build-up."""
    match row.op:
        case "sum":
            formula = _sum(row, places)
        case "times":
            formula = "*".join(_operand(arg, places) for arg in row.args)
        case "divide":
            formula = "/".join(_operand(arg, places) for arg in row.args)
        case "max" | "min":
            formula = f"{row.op.upper()}({','.join(_operand(arg, places) for arg in row.args)})"
        case "round":
            formula = _operand(row.args[0], places)
    formula = formula if row.places is None else round_formula(formula, row.places)
    if row.op == "divide":
        return f"IF({_divides(row, places)},{formula},NA())"
    return f"IF({_is_stated_within(places)},{formula},NA())" if row.id == "price" and "row:stated-material" in places else formula


def _place(arg: str, places: Mapping[str, Place]) -> Place:
    return places[arg] if arg.startswith(("buy:", "task:")) else places[f"row:{arg}"]


def _operand(arg: str, places: Mapping[str, Place]) -> str:
    if arg.startswith("-"):
        return f"(-{_operand(arg[1:], places)})"
    if arg in {"0", "1"}:
        return arg
    return cell_name(arg) if arg.startswith("in:") else _place(arg, places).seen_from(NAME)


def _sum(row: BuildUp, places: Mapping[str, Place]) -> str:
    """Cells that are added go into one SUM; terms, constants and what is taken off stand beside it."""
    named = [arg for arg in row.args if arg.startswith("in:") or arg in {"0", "1"}]
    less = [arg[1:] for arg in row.args if arg.startswith("-")]
    cells = [_place(arg, places) for arg in row.args if arg not in named and not arg.startswith("-")]
    added = [_operand(arg, places) for arg in named] + ([add_up(cells, NAME)] if cells else [])
    return ("+".join(added) or "0") + "".join(f"-{_operand(arg, places)}" for arg in less)


def row_words(row: BuildUp, labels: Mapping[str, str]) -> str:
    """How a row is worked out, in words."""
    if row.args == ("0",):
        return "none on this job"
    bought, done = (sum(arg.startswith(kind) for arg in row.args) for kind in ("buy:", "task:"))
    if row.op == "sum" and (bought or done):
        counts = [f"{count} {word}{'' if count == 1 else 's'}" for count, word in ((bought, "purchase"), (done, "step")) if count]
        return f"sum of {' and '.join(counts)}"
    if row.op == "sum" and len(row.args) > _MANY:
        return f"sum of {len(row.args)} rows, {labels[row.args[0]]} the first and {labels[row.args[-1]]} the last"
    names = [labels.get(arg.removeprefix("-"), arg.removeprefix("-").removeprefix("buy:")) for arg in row.args]
    values = [f"minus {name}" if arg.startswith("-") else name for arg, name in zip(row.args, names, strict=True)]
    signs = ["less" if arg.startswith("-") else "plus" for arg in row.args]
    match row.op:
        case "sum":
            words = ("less " if signs[0] == "less" else "") + names[0] + "".join(f" {sign} {name}" for sign, name in zip(signs[1:], names[1:], strict=True))
        case "times":
            words = " times ".join(values)
        case "divide":
            words = " divided by ".join(values)
        case "max":
            words = f"the larger of: {'; '.join(values)}"
        case "min":
            words = f"the smaller of: {'; '.join(values)}"
        case "round":
            words = values[0]
    if row.places is None:
        return words
    return f"{words}, rounded to {_ROUNDED_TO.get(row.places, f'{row.places} decimals')}"


def price_parts(estimate: Estimate) -> list[BuildUp]:
    """The rows of the build-up that together are the price, those that are nothing left out."""
    rows = {row.id: row for row in estimate.build_up}
    return [rows[name] for name in _PARTS if name in rows and rows[name].amount]


def write_parts(page: Page, estimate: Estimate, row: int) -> None:
    """What the price is made of, as live figures with a bar chart beside them: the end of what is printed."""
    parts = price_parts(estimate)
    row += _PARTS_GAP
    page.text(row - 1, _LABEL, _PARTS_TITLE, "words", bold=True)
    for number, part in enumerate(parts, row):
        page.text(number, _LABEL, part.label, "words")
        page.formula(number, _AMOUNT, page.book.places[f"row:{part.id}"].cell, part.amount, "money")
    last = row + len(parts) - 1
    page.sheet.print_area(0, 0, last, _LAST)
    if parts:
        page.bars(_PARTS_TITLE, Place(page.name, row, _AMOUNT), len(parts), _WORDS, _LAST)
