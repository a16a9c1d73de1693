"""Why is this number what it is? Its working, what it is made of, and who says so."""

import math
from collections.abc import Callable, Iterator, Sequence
from decimal import Decimal
from html import escape
from itertools import groupby

from kit.buying.price_ages import price_row_of
from kit.draw.tables import row_amount
from kit.errors import KitError
from kit.estimating import Estimate
from kit.job.field_names import label_of, lower_first, say_value
from kit.labor.hours import factor_name
from kit.money import CENT_PLACES, CHARGED_PLACES, format_money, split_cents, sum_money, to_decimal
from kit.pricing.build_up import SHARE_ROWS, row_kinds
from kit.pricing.job_terms import Input
from kit.records import BuildUp, Finding, Line, Purchase
from kit.sources import row, source
from kit.takeoff.working import counted, working_words
from kit.units import format_amount, format_day, format_length, format_worked, whole_pieces

__all__ = ["explain_in_words", "explain_number"]

HIDDEN = "Costs are hidden in the customer's view."
Fact = tuple[str, str]


def explain_number(estimate: Estimate, about: str, *, private: bool = False) -> str:
    """HTML that answers "why?" for one number of an estimate.

    Parameters
    ----------
    estimate
        The estimate on the screen.
    about
        What is asked about: `line:<id>`, `buy:<id>`, `task:<step>`, `row:<id>` of the build-up, `finding:<id>` or `assume:<id>`.
    private
        Whether cost, wage and margin stay hidden.

    Returns
    -------
    A heading and a table; a sentence when the estimate no longer holds such a number.
    """
    answer = _answer(estimate, about, private=private)
    if answer is None:
        return "<p>This number is no longer part of the estimate.</p>"
    title, facts = answer
    rows = "".join(f"<tr><th scope='row'>{escape(name)}</th><td>{escape(text)}</td></tr>" for name, text in facts if text)
    return f"<table class='sk-table sk-answer'><caption>Why? {escape(title)}</caption><tbody>{rows}</tbody></table>"


def explain_in_words(estimate: Estimate, about: str) -> str | None:
    """The same as plain text, a line for each fact; None when the estimate holds no such number."""
    answer = _answer(estimate, about)
    if answer is None:
        return None
    title, facts = answer
    return "\n".join([f"Why? {title}", *(f"  {name}: {text}" for name, text in facts if text)])


def _answer(estimate: Estimate, about: str, *, private: bool = False) -> tuple[str, list[Fact]] | None:
    kind, _, name = about.partition(":")
    explain = _EXPLAINERS.get(kind)
    return None if explain is None else explain(estimate, name, private)


def _source_text(key: str, number: str = "") -> str:
    """Title and status of a source that is not our own; `number` is the row of the sources that was used, for where in it that stands."""
    try:
        cited = source(key)
    except KitError:
        return key.replace("-", " ")
    table, _, name = number.partition("/")
    locator = row(table, name).locator if number else ""
    status = "" if cited.status == "own" or cited.title.startswith(cited.status) else f" ({cited.status})"
    return f"{cited.title}{f', {locator}' if locator else ''}{status}"


def _line(estimate: Estimate, name: str, private: bool) -> tuple[str, list[Fact]] | None:  # noqa: FBT001 - one shape for all explainers
    line = next((line for line in estimate.lines if line.id == name), None)
    if line is None:
        return None
    bought = [_bought(estimate, purchase, private=private) for purchase in estimate.purchases if line.id in purchase.line_ids]
    return f"{estimate.lists.name_of(line.item)}: {_quantity(line.quantity, line.unit)}", [
        ("Working", working_words(line.basis)),
        ("Waste", f"{line.waste:.0%} of {_quantity(line.quantity, line.unit)} makes {_quantity(line.need, line.unit)} to buy" if line.waste else ""),
        ("Pieces", ", ".join(f"{piece.count} x {piece.name} {format_length(piece.length_in)}" for piece in line.pieces)),
        ("Bought", "; ".join(bought)),
        ("Source", _source_text(line.source)),
    ]


def _bought(estimate: Estimate, purchase: Purchase, *, private: bool) -> str:
    amount = format_money(purchase.amount)
    if purchase.unit == "USD":  # a sum, not so many dollars at a dollar each
        return f"from {purchase.supplier}" if private else f"{amount} from {purchase.supplier}"
    row = price_row_of(purchase, estimate.lists)
    sold = f", sold as {row.sold_as}," if row is not None and row.sold_as != purchase.unit else ""
    packs = f"{purchase.packs}{sold}" if purchase.packs else f"{format_amount(purchase.charged)} {purchase.unit}"
    return f"{packs} from {purchase.supplier}" + ("" if private else f" at {format_money(purchase.unit_price)}: {amount}")


def _purchase(estimate: Estimate, name: str, private: bool) -> tuple[str, list[Fact]] | None:  # noqa: FBT001
    one = next((purchase for purchase in estimate.purchases if purchase.id == name), None)
    if one is None:
        return None
    lines = [line for line in estimate.lines if line.id in one.line_ids]
    if one.least is not None:
        return f"{estimate.lists.name_of(one.item)}, {one.supplier}", [] if private else _minimum_charge(estimate, one, one.least)
    need = _quantity(one.need, one.unit)
    return f"{estimate.lists.name_of(one.item)}, {one.supplier}", [
        ("Needed", _needed(estimate, one, lines) if lines else f"{need}, one for each shop"),
        ("Packs", f"{need} / {one.pack:g}, rounded up: {one.packs}" if one.packs and not one.plan else ""),
        ("Cut plan", _plan(one, private=private)),
        ("Amount", "" if private else f"{_exact(one.charged)} x {format_money(one.unit_price)} = {format_money(one.amount)}"),
        ("Price row", "" if private else _price_row(estimate, one)),
        ("Used", f"{one.used:.0%}; left over: {one.left_over or 'nothing'}"),
    ]


def _needed(estimate: Estimate, one: Purchase, lines: Sequence[Line]) -> str:
    """What each step takes, and the sum, which is that of the parts as they stand there; what of it this size of stock gives, what is counted as a whole."""
    whole = to_decimal(math.fsum(line.need for line in lines), CENT_PLACES)
    parts = split_cents(whole, [line.need for line in lines])
    steps = groupby(zip(lines, parts, strict=True), key=lambda pair: pair[0].step)
    each = [(lower_first(estimate.step_names[step]), " + ".join(_bare(part) for _, part in group)) for step, group in steps]
    words = f"{' + '.join(f'{needs} ({step})' for step, needs in each)} = {_bare(whole)}"
    if one.unit == "each":
        return words if whole == whole.to_integral_value() else f"{words}, so {whole_pieces(one.need):,}"
    stock = "" if math.isclose(one.need, float(whole), abs_tol=0.01) else f"; {_quantity(one.need, one.unit)} of it here"
    return f"{words} {one.unit}{stock}"


def _bare(amount: Decimal) -> str:
    return format_worked(float(amount))


def _quantity(amount: float, unit: str) -> str:
    """An amount with its unit; what is counted is whole and has none."""
    return f"{whole_pieces(amount):,}" if unit == "each" else f"{format_worked(amount)} {unit}"


def _exact(amount: float) -> str:
    """As it is multiplied with a price."""
    return f"{amount:,.{CHARGED_PLACES}f}".rstrip("0").rstrip(".")


def _minimum_charge(estimate: Estimate, minimum: Purchase, least: Decimal) -> list[Fact]:
    """What a supplier bills at least, and what the work itself comes to."""
    charged = sum_money([purchase.amount for purchase in estimate.purchases if purchase.id in minimum.tops_up])
    return [
        ("Minimum charge for a job", format_money(least)),
        ("Amount", f"{format_money(least)} - {format_money(charged)} charged otherwise = {format_money(minimum.amount)}"),
    ]


def _price_row(estimate: Estimate, purchase: Purchase) -> str:
    row = price_row_of(purchase, estimate.lists)
    if row is None:
        return purchase.price_row.replace("@", ", ")
    age = row.age_days(estimate.job.identity.visit_date)
    return f"{row.sold_as} from {row.supplier}; holds since {format_day(row.effective_from)}, {age} days before the visit"


def _plan(purchase: Purchase, *, private: bool) -> str:
    if not purchase.plan:
        return ""
    proof = "" if private or purchase.bound is None else "; no cheaper purchase of this item exists"
    return f"{len(purchase.plan)} to cut{proof}" if purchase.proven else f"{len(purchase.plan)} to cut, not proven cheapest"


def _task(estimate: Estimate, name: str, private: bool) -> tuple[str, list[Fact]] | None:  # noqa: FBT001
    task = next((task for task in estimate.tasks if task.step == name), None)
    if task is None or private:
        return None if task is None else (estimate.step_names[task.step], [("Hours", HIDDEN)])
    return f"{estimate.step_names[task.step]}: {task.hours_likely:.2f} worker-hours", [
        ("Working", working_words(task.basis)),
        ("Low to high", f"{task.hours_low:.2f} to {task.hours_high:.2f} h"),
        ("Conditions", ", ".join(f"{factor_name(estimate.lists, name)} x {value:g}" for name, value in task.factors)),
        ("On the job", f"{task.hours_likely:.2f} h / {counted(task.crew, 'person', 'people').text} = {task.duration_h:.2f} h"),
        ("Cost", f"{_exact(task.hours_likely)} h x {format_money(task.rate)} = {format_money(task.amount)}"),
        ("Source", "rates.csv and factors.csv of the price lists in use"),
    ]


_OPS = {"sum": " + ", "times": " x ", "divide": " / ", "max": " or ", "min": " or ", "round": ""}


def _row(estimate: Estimate, name: str, private: bool) -> tuple[str, list[Fact]] | None:  # noqa: FBT001
    row = next((row for row in estimate.build_up if row.id == name), None)
    if row is None:
        return None
    if private:
        return row.label, [("Amount", HIDDEN)]
    facts = list(_args(estimate, row))
    word = {"max": "the largest of these", "min": "the least of these", "divide": "the first divided by the second"}.get(row.op, "")
    working = _OPS[row.op].join(text for _, text in facts).replace(" + -", " - ") if len(facts) <= 8 else f"sum of {len(facts)} amounts"
    return f"{row.label}: {_amount(estimate, row)}", [
        ("Working", f"{working}{f', {word}' if word else ''} = {_amount(estimate, row)}"),
        *facts,
        ("Rounded", f"half up to {row.places} places" if row.places is not None else ""),
    ]


def _amount(estimate: Estimate, row: BuildUp) -> str:
    kinds = row_kinds(estimate.build_up, estimate.terms)
    return format_money(row.amount) if kinds[row.id] == "money" else row_amount(row, kinds)


def _input_text(term: Input) -> str:
    if term.kind == "money":
        return format_money(term.value)
    return f"{(term.value * 100).normalize():f}%" if term.kind == "share" else f"{term.value.normalize():f} h"


def _args(estimate: Estimate, row: BuildUp) -> Iterator[Fact]:
    rows = {row.id: row for row in estimate.build_up}
    inputs = {term.id: term for term in estimate.terms.inputs}
    purchases = {f"buy:{purchase.id}": purchase for purchase in estimate.purchases}
    tasks = {f"task:{task.step}": task for task in estimate.tasks}
    for arg in row.args:
        sign, key = ("-", arg[1:]) if arg.startswith("-") else ("", arg)
        if key in rows:
            yield rows[key].label, f"{sign}{_amount(estimate, rows[key])}"
        elif key in inputs:
            yield inputs[key].label, f"{sign}{_input_text(inputs[key])}"
        elif key in purchases:
            yield estimate.lists.name_of(purchases[key].item), f"{sign}{format_money(purchases[key].amount)}"
        elif key in tasks:
            yield estimate.step_names[tasks[key].step], f"{sign}{format_money(tasks[key].amount)}"
        elif key != "0":
            yield "The whole", "100%" if row.id in SHARE_ROWS and key == "1" else f"{sign}{key}"


def _finding(estimate: Estimate, name: str, _: bool) -> tuple[str, list[Fact]] | None:  # noqa: FBT001
    finding: Finding | None = next((one for one in estimate.findings if one.id == name), None)
    if finding is None:
        return None
    return f"{finding.check}: {finding.level.word}", [
        ("Have", finding.measured),
        ("Need", finding.limit),
        ("To spare" if (finding.margin or 0.0) >= 0.0 else "Short by", _spare(finding)),
        ("Chance that it fits", "" if finding.chance is None else f"{finding.chance:.0%}"),
        ("Working", finding.basis),
        ("What to do", finding.remedy),
        ("Source", _source_text(finding.source, finding.row)),
    ]


def _spare(finding: Finding) -> str:
    if finding.margin is None:
        return ""
    return _measured(abs(finding.margin), finding.unit) + (f", tape good to {_measured(finding.tolerance, finding.unit)}" if finding.tolerance else "")


def _measured(value: float, unit: str) -> str:
    if unit == "1":  # of what it may be
        return f"{value:.0%}"
    return format_length(value) if unit == "in" else f"{format_amount(value)} {unit}"


def _assumption(estimate: Estimate, name: str, _: bool) -> tuple[str, list[Fact]] | None:  # noqa: FBT001
    assumed = next((one for one in estimate.assumptions if one.id == name), None)
    if assumed is None:
        return None
    return f"{label_of(assumed.field)}: {say_value(assumed.field, assumed.value)}", [
        ("Why", assumed.why),
        ("Source", _source_text(assumed.source)),
        ("Better", "Measure it and type it in."),
    ]


_EXPLAINERS: dict[str, Callable[[Estimate, str, bool], tuple[str, list[Fact]] | None]] = {
    "line": _line,
    "buy": _purchase,
    "task": _task,
    "row": _row,
    "finding": _finding,
    "assume": _assumption,
}
