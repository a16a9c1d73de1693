"""Sheet "Build-up": from cost to price; each formula is written from the row that computed the amount."""

from collections.abc import Mapping

from kit.estimate import Estimate
from kit.export.page import Book, Column, start_page
from kit.export.places import FIRST_ROW, Place, add_up
from kit.export.terms_sheet import cell_name, round_formula
from kit.records import BuildUp

__all__ = ["NAME", "place_build_up", "row_formula", "row_words", "write_build_up"]

NAME = "Build-up"
_COLUMNS = (Column("Row", 46), Column("Amount", 14, figures=True), Column("Worked out as", 96))
_LABEL, _AMOUNT, _WORDS = range(3)
_KEY_ROWS = ("cost", "price")
_SHARE_PLACES = 4  # a row that keeps four decimals is a share, shown in percent


def place_build_up(estimate: Estimate) -> dict[str, Place]:
    """The amount of each row, `row:<id>`."""
    return {f"row:{row.id}": Place(NAME, number, _AMOUNT) for number, row in enumerate(estimate.build_up, FIRST_ROW)}


def write_build_up(book: Book, estimate: Estimate, title: str) -> None:
    """The sheet."""
    page = start_page(book, NAME, title, _COLUMNS, "Markup is a share of cost, margin a share of the price.")
    labels = {"0": "nothing"} | {term.id: term.label for term in estimate.terms.inputs} | {row.id: row.label for row in estimate.build_up}
    for number, row in enumerate(estimate.build_up, FIRST_ROW):
        key = row.id in _KEY_ROWS
        page.text(number, _LABEL, row.label, "words", bold=key, topped=key)
        page.formula(number, _AMOUNT, row_formula(row, book.places), row.amount, "share" if row.places == _SHARE_PLACES else "money", bold=key, topped=key)
        page.text(number, _WORDS, row_words(row, labels), "words")


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
    return formula if row.places is None else round_formula(formula, row.places)


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
    bought, done = (sum(arg.startswith(kind) for arg in row.args) for kind in ("buy:", "task:"))
    if bought or done:
        counts = [f"{count} {word}{'' if count == 1 else 's'}" for count, word in ((bought, "purchase"), (done, "step")) if count]
        return f"sum of {' and '.join(counts)}"
    names = [labels.get(arg.removeprefix("-"), arg.removeprefix("-")) for arg in row.args]
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
    return words if row.places is None else f"{words}, rounded to {row.places} decimals"
