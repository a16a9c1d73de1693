"""The estimate as HTML tables: one function a question, every text escaped."""

from collections.abc import Iterable, Sequence
from html import escape

from kit.estimate import Estimate
from kit.money import format_money
from kit.records import Assumption, BuildUp, Finding, Level, Line, Purchase, Task

__all__ = [
    "draw_assumptions",
    "draw_build_up",
    "draw_findings",
    "draw_headline",
    "draw_hours",
    "draw_lines",
    "draw_purchases",
    "draw_table",
]

FIRST_PLAN = "<span class='sk-fact'>first cut plan; the proven one follows at rest</span>"
_SIGN = {Level.OK: "\u2713 ok", Level.CAUTION: "\u25b3 caution", Level.UNKNOWN: "? unknown", Level.STOP: "\u25a0 stop"}


def draw_table(caption: str, columns: Sequence[str], rows: Iterable[Sequence[str]], *, numbers: Sequence[int] = ()) -> str:
    """A table with caption and column heads; the columns numbered in `numbers` stand to the right."""
    right = set(numbers)

    def cell(index: int, text: str) -> str:
        return f"<td class='sk-number'>{escape(text)}</td>" if index in right else f"<td>{escape(text)}</td>"

    head = "".join(f"<th scope='col'>{escape(column)}</th>" for column in columns)
    body = "".join(f"<tr>{''.join(cell(index, text) for index, text in enumerate(row))}</tr>" for row in rows)
    return f"<table class='sk-table'><caption>{escape(caption)}</caption><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"


def draw_headline(estimate: Estimate, *, private: bool = False) -> str:
    """Price, own hours and the worst finding; with `private` the hours stay hidden too."""
    worst = estimate.worst
    told = f"{_SIGN[worst.level]}: {worst.check}" if worst is not None else "nothing checked"
    hours = "" if private else f"<span class='sk-fact'>Own hours <b>{estimate.hours:.1f}</b></span>"
    return (
        "<div class='sk-headline' role='status'>"
        f"<span class='sk-fact'>Price <b class='sk-price'>{escape(format_money(estimate.price))}</b></span>{hours}"
        f"<span class='sk-fact'>Worst finding <b>{escape(told)}</b></span>{'' if estimate.proven else FIRST_PLAN}</div>"
    )


def draw_findings(findings: Sequence[Finding]) -> str:
    """Every finding, worst first."""
    rows = [(_SIGN[found.level], found.check, found.measured, found.limit, found.remedy or "-", found.basis) for found in findings]
    return draw_table(f"{len(rows)} findings, worst first", ("Level", "Question", "Measured", "Limit", "What to do", "Working"), rows)


def draw_lines(lines: Sequence[Line]) -> str:
    """The takeoff with its working."""
    rows = [(str(line.step), line.item, f"{line.quantity:,.2f}", line.unit, f"{line.waste:.0%}" if line.waste else "-", line.basis) for line in lines]
    return draw_table(f"{len(rows)} takeoff lines", ("Step", "Item or work", "Quantity", "Unit", "Waste", "Working"), rows, numbers=(2, 4))


def draw_purchases(purchases: Sequence[Purchase], *, private: bool = False) -> str:
    """What is bought, from whom; with `private` without prices."""
    columns = ["Item", "Supplier", "Need", "Unit", "Packs", "Left over"]
    rows = []
    for bought in purchases:
        row = [bought.item, bought.supplier, f"{bought.need:,.2f}", bought.unit, str(bought.packs) if bought.packs else "-", bought.left_over]
        rows.append(row if private else [*row, format_money(bought.unit_price), format_money(bought.amount)])
    if not private:
        columns += ["Price of a pack", "Amount"]
    return draw_table(f"{len(rows)} purchases", columns, rows, numbers=(2, 4, 6, 7))


def draw_hours(tasks: Sequence[Task], *, private: bool = False) -> str:
    """Worker-hours by step, low, likely and high."""
    columns = ["Step", "Crew", "Low", "Likely", "High", "Working"]
    rows = []
    for task in tasks:
        row = [str(task.step), str(task.crew), f"{task.hours_low:.2f}", f"{task.hours_likely:.2f}", f"{task.hours_high:.2f}", task.basis]
        rows.append(row if private else [*row, format_money(task.amount)])
    return draw_table("Worker-hours by step", columns if private else [*columns, "Amount"], rows, numbers=(1, 2, 3, 4, 6))


def draw_build_up(rows: Sequence[BuildUp]) -> str:
    """How the price comes together, row by row."""

    def shown(row: BuildUp) -> str:
        return f"{row.amount:,.2f}" if row.places == 2 or row.op == "sum" else f"{row.amount}"

    said = {"sum": "sum of", "times": "product of", "divide": "first divided by second of", "max": "largest of", "min": "least of", "round": "rounded from"}
    table = [(row.label, shown(row), f"{said[row.op]} {_args(row)}") for row in rows]
    return draw_table("Build-up of the price, USD", ("Row", "Amount", "Made of"), table, numbers=(1,))


def _args(row: BuildUp) -> str:
    counted = [arg for arg in row.args if arg != "0"]
    return ", ".join(counted) if len(counted) <= 6 else f"{len(counted)} amounts ({counted[0]} and on)"


def draw_assumptions(assumptions: Sequence[Assumption]) -> str:
    """Every value that the visit could not tell."""
    rows = [(assumed.field, assumed.value, assumed.why) for assumed in assumptions]
    return draw_table(f"{len(rows)} assumptions: measure them, or say them in the offer", ("Field", "Taken as", "Why"), rows)
