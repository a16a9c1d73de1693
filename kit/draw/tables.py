"""The estimate as HTML tables: one function a question, every text escaped, each row with a button that asks why."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from decimal import Decimal
from functools import partial
from html import escape

from kit.draw.level_marks import level_mark, level_sign
from kit.draw.spread import draw_cost_spread, draw_finish_spread
from kit.draw.widths import BOTH, OnShow, draw_for_widths
from kit.errors import Fault
from kit.labor.clock import last_day
from kit.labor.job_schedule import JobSchedule
from kit.lists import Lists
from kit.money import format_money, sum_money
from kit.outlook import JobRisk
from kit.pricing.build_up import SHARE_ROWS, row_kinds
from kit.pricing.job_terms import PriceTerms
from kit.records import BuildUp, Level, Line, Purchase, Task
from kit.steps import Step
from kit.takeoff.working import working_words
from kit.units import CHANCE_WORDS, format_day, format_days, format_half_day, format_need, format_quantity, format_trials, whole_pieces

__all__ = [
    "NOT_PROVEN",
    "count_words",
    "draw_build_up",
    "draw_dates",
    "draw_hours",
    "draw_lines",
    "draw_purchases",
    "draw_risk",
    "draw_table",
    "row_amount",
    "row_and_column",
    "signed_money",
    "why_button",
]

NOT_PROVEN = "<span class='sk-fact'>a cut plan is not proven cheapest</span>"
DRIVERS = 8
_MARKS = {level_sign(level): level_mark(level) for level in Level}


def draw_table(
    caption: str,
    columns: Sequence[str],
    rows: Iterable[Sequence[str]],
    *,
    numbers: Sequence[int] = (),
    why: Sequence[str] = (),
    named: slice = slice(2),
    heads: bool = False,
    total: bool = False,
    cards: bool = False,
) -> str:
    """A table with caption and column heads.

    Parameters
    ----------
    caption
        What the table shows.
    columns
        Head of each column.
    rows
        Cells as plain text.
    numbers
        Columns that stand to the right.
    why
        For each row what its button asks about, "" for none; such a button stands at the row's end.
    named
        Cells of a row by which its button names it.
    heads
        Whether the first cell of a row names it.
    total
        Whether the last row sums up.
    cards
        Whether rows become cards on a telephone, each cell under the head of its column.
    """
    right, body = set(numbers), []
    labels = columns if cards else [""] * len(columns)
    asks = iter(why)
    for row in rows:
        cells = [_cell(text, right=index in right, head=heads and index == 0, label=label) for index, (text, label) in enumerate(zip(row, labels, strict=True))]
        if why:
            about = next(asks)
            cells.append(f"<td>{why_button(about, ', '.join(row[named])) if about else ''}</td>")
        body.append(f"<tr>{''.join(cells)}</tr>")
    if total and body:
        body[-1] = f"<tr class='sk-sum'>{body[-1].removeprefix('<tr>')}"
    head = "".join(
        f"<th scope='col'{_RIGHT if index in right else ''}>{escape(column)}</th>" for index, column in enumerate([*columns, *(["Why"] if why else [])])
    )
    few = " sk-few" if cards else ""
    return (
        f"<table class='sk-table{few} mathjax_ignore'><caption>{escape(caption)}</caption><thead><tr>{head}</tr></thead><tbody>{''.join(body)}</tbody></table>"
    )


_RIGHT = " class='sk-number'"


def _cell(text: str, *, right: bool, head: bool, label: str = "") -> str:
    style, says = _RIGHT if right else "", _MARKS.get(text) or escape(text)
    under = f" data-label='{escape(label)}'" if label else ""
    return f"<th scope='row'{style}>{says}</th>" if head else f"<td{style}{under}>{says}</td>"


def count_words(count: int, word: str) -> str:
    """A number of things: 1 fault, 2 faults."""
    return f"{count:,} {word}{'' if count == 1 else 's'}"


def signed_money(amount: Decimal) -> str:
    """An amount with its sign, whichever it is: +$1.00."""
    return f"{'+' if amount > 0 else ''}{format_money(amount)}"


def row_and_column(fault: Fault) -> tuple[str, str]:
    """Where in a table a fault is; "" where it names no row or no column."""
    row, _, column = fault.place.removeprefix("row ").partition(", ") if fault.place.startswith("row ") else ("", "", fault.place)
    return row, column


def why_button(about: str, name: str) -> str:
    """A small button that asks why; `name` says of what."""
    return f"<button type='button' class='sk-why' data-why='{escape(about, quote=True)}' aria-label='Why? {escape(name, quote=True)}'>?</button>"


def draw_lines(lines: Sequence[Line], lists: Lists, step_names: Mapping[Step, str]) -> str:
    """The takeoff with its working."""
    rows = [
        (
            step_names[line.step],
            lists.name_of(line.item),
            f"{whole_pieces(line.quantity):,}" if line.unit == "each" else f"{line.quantity:,.2f}".removesuffix(".00"),
            line.unit,
            f"{line.waste:.0%}" if line.waste else "-",
            working_words(line.basis),
        )
        for line in lines
    ]
    return draw_table(
        f"{len(rows)} takeoff lines, in the order of the work",
        ("Step", "Item or work", "Quantity", "Unit", "Waste", "Working"),
        rows,
        numbers=(2, 4),
        why=[f"line:{line.id}" for line in lines],
        cards=True,
    )


def draw_purchases(purchases: Sequence[Purchase], lists: Lists, *, private: bool = False) -> str:
    """What is bought, from whom; with `private` without prices."""
    columns = ["Item", "Supplier", "Need", "Unit", "Packs", "Left over"]
    rows = []
    for one in purchases:
        said = format_need(one.need, one.unit)
        need = [said.removesuffix(" in"), "in"] if said.endswith(" in") else [said.removesuffix(f" {one.unit}"), one.unit]
        if one.unit == "USD":  # a sum, not so many dollars at a dollar each
            need = ["" if private else format_money(one.amount), ""]
        row = [lists.name_of(one.item), one.supplier, *need, str(one.packs) if one.packs else "-", one.left_over]
        each = f" per {format_quantity(one.pack, one.unit)}" if not one.packs and one.pack != 1.0 else ""
        price = "" if one.unit == "USD" else format_money(one.unit_price) + each
        rows.append(row if private else [*row, price, format_money(one.amount)])
    caption, why = count_words(len(rows), "purchase"), [f"buy:{one.id}" for one in purchases]
    if not private:
        columns += ["Price of a pack", "Amount"]
        rows.append(["Total, before sales tax", *[""] * 6, format_money(sum_money([one.amount for one in purchases]))])
        why.append("")
    return draw_table(caption, columns, rows, numbers=(2, 4, 6, 7), why=why, heads=True, total=not private, cards=True)


def draw_hours(tasks: Sequence[Task], labels: Mapping[Step, str]) -> str:
    """Worker-hours by step, low, likely and high, and what they cost."""
    rows = [
        (
            labels[task.step],
            str(task.crew),
            f"{task.hours_low:.2f}",
            f"{task.hours_likely:.2f}",
            f"{task.hours_high:.2f}",
            f"{task.duration_h:.2f}",
            format_money(task.amount),
        )
        for task in tasks
    ]
    likely, amount = sum(task.hours_likely for task in tasks), sum_money([task.amount for task in tasks])
    rows.append(("Total", "", "", f"{likely:.2f}", "", "", format_money(amount)))
    columns = ("Step", "Crew", "Low", "Likely", "High", "On the job [h]", "Cost")
    why = [*(f"task:{task.step}" for task in tasks), ""]
    return draw_table("Worker-hours by step", columns, rows, numbers=(1, 2, 3, 4, 5, 6), why=why, total=True)


def draw_dates(schedule: JobSchedule, signed: str) -> str:
    """The dates that people ask for, and how long the kitchen goes without a sink; `signed` says from which signature they count."""

    def days(count: float | None) -> str:
        return "-" if count is None else format_days(count)

    gone, lent = days(schedule.days_without_sink), days(schedule.days_with_temporary_sink)
    facts = [
        ("Ordered", _when(schedule.ordered)),
        ("Old sink out", _when(schedule.sink_out)),
        ("New sink tested", _when(schedule.sink_back)),
        ("Done", _when(schedule.finish)),
        ("Without a sink", gone),
        *([("Without a sink when one is lent", lent)] if lent != gone else []),
        ("Trips", str(schedule.trips_priced)),
    ]
    return draw_table(f"Dates, {signed}", ("What", "When"), facts, heads=True)


def _when(when: datetime | None) -> str:
    return "-" if when is None else format_half_day(when)


def row_amount(row: BuildUp, kinds: Mapping[str, str]) -> str:
    """The amount of a row: money with cents, a share in percent, a plain number without idle zeros."""
    if kinds[row.id] == "money":
        return f"{row.amount:,.2f}"
    return f"{(row.amount * 100).normalize():f}%" if row.id in SHARE_ROWS else f"{row.amount.normalize():f}"


def draw_build_up(rows: Sequence[BuildUp], terms: PriceTerms) -> str:
    """How the price comes together, row by row."""
    labels, kinds = {row.id: row.label for row in rows}, row_kinds(rows, terms)
    labels |= {term.id: term.label for term in terms.inputs}
    table = [(row.label, _shown_amount(row, kinds), _made_of(row, labels)) for row in rows]
    drawn = draw_table("Build-up of the price", ("What", "Amount", "Made of"), table, numbers=(1,), why=[f"row:{row.id}" for row in rows])
    return f"<div class='sk-build-up'>{drawn}</div>"


def _shown_amount(row: BuildUp, kinds: Mapping[str, str]) -> str:
    """As `row_amount`, money with its sign, and what is one amount as a share of another as a percentage."""
    if kinds[row.id] == "money":
        return format_money(row.amount)
    return f"{row.amount * 100:.1f}%" if row.op == "divide" else row_amount(row, kinds)


_SIGNS = {"sum": " + ", "times": " x ", "divide": " / "}
_FIRST = {"max": "the larger of ", "min": "the lesser of ", "round": "rounded from "}


def _made_of(row: BuildUp, labels: Mapping[str, str]) -> str:
    counted = [arg for arg in row.args if arg != "0"]
    if any(arg.startswith(("buy:", "task:")) for arg in counted):
        return f"sum of {count_words(len(counted), 'amount')}"
    named = [f"{'- ' if arg.startswith('-') else ''}{labels.get(arg.lstrip('-'), arg.lstrip('-').removeprefix('in:'))}" for arg in counted]
    return _FIRST.get(row.op, "") + _SIGNS.get(row.op, " and ").join(named).replace("+ - ", "- ") or "none on this job"


def draw_risk(risk: JobRisk, on_show: OnShow = BOTH) -> str:
    """How sure cost and finish are, and what drives the spread."""
    rows = [(words, format_money(risk.cost_at(chance)), format_day(last_day(risk.finish_at(chance)))) for chance, words in CHANCE_WORDS.items()]
    sure = draw_table(f"How sure: {risk.cost.trials:,} trials", ("How often", "Direct cost at most", "Done by"), rows, numbers=(1,), heads=True)
    chance = (
        f"<p>Chance that the job loses money {risk.chance_to_lose:.1%}; that it does not cover its overhead "
        f"{risk.chance_to_miss_overhead:.1%}. To be enough in {format_trials(risk.confidence)} the cost needs a contingency of "
        f"{escape(format_money(risk.contingency))}.</p>"
    )
    drivers = [
        (driver.label, f"{driver.share:.1%}", f"{format_money(effect.price_low)} to {format_money(effect.price_high)}")
        for driver, effect in risk.drivers[:DRIVERS]
    ]
    planned = last_day(risk.finish.base)
    dates = (
        f"<p>The calendar ends on {format_day(planned)}: each step and wait takes its likely time. "
        f"{risk.finish.share_by(planned):.0%} of the trials are done by then.</p>"
    )
    charts = "".join(f"<div>{draw_for_widths(partial(draw, risk), on_show)}</div>" for draw in (draw_cost_spread, draw_finish_spread))
    table = draw_table("What drives the spread", ("What", "Share", "Effect on price"), drivers, numbers=(1,), heads=True)
    return f"<div class='sk-charts'>{charts}</div>{sure}{dates}{chance}{table}"
