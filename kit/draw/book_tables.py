"""What the bookkeeper sees, as HTML tables: the issued estimate, control totals, bills, what was spent and what it taught."""

import datetime as dt
from collections.abc import Iterable, Sequence
from functools import partial
from html import escape

from kit.archive.compare_spent import CodeResult, SpentComparison
from kit.change.effect import ChangedDraw
from kit.change.priced_change import ChangeOrder
from kit.contract.event_words import entry_words
from kit.contract.events import Event
from kit.contract.job_cost import JobCost
from kit.contract.state import BillState, ContractState
from kit.draw.contract_top import NOTHING_DUE, payments_head
from kit.draw.folds import draw_fold
from kit.draw.level_marks import level_sign
from kit.draw.spent_bars import draw_spent_bars
from kit.draw.tables import count_words, draw_table, row_and_column, signed_money
from kit.draw.widths import BOTH, OnShow, draw_for_widths
from kit.errors import Fault
from kit.issued import Issued
from kit.learning.learn import Learning
from kit.learning.words import INTERVAL_WORDS, MOVED_COLUMNS, RATIO_WORDS, figure_words, interval_words, lesson_words, moved_rows, took_words, weight_words
from kit.money import format_money
from kit.records import Level
from kit.units import format_day

__all__ = [
    "draw_change",
    "draw_columns",
    "draw_control",
    "draw_cost",
    "draw_events",
    "draw_issued",
    "draw_lessons",
    "draw_payments",
    "draw_spent",
    "draw_spent_faults",
]

MOST_FAULTS = 300
LONGEST = 24
LAST_ENTRIES = 8
AGREES, DIFFERS = "✓ agrees", "■ differs"


def draw_issued(issued: Issued) -> str:
    """Number, revision, customer, price and what is to know before it is booked."""
    result, differences = issued.content["result"], issued.differences()
    worst = result["findings"][0] if result["findings"] else None
    facts = [
        ("Estimate", f"{issued.number}, revision {issued.revision}, issued {format_day(issued.issued)}"),
        ("Customer", issued.customer),
        ("Price", format_money(issued.price)),
        ("Direct cost, tax paid included", format_money(issued.cost)),
        ("Own hours", f"{result['hours']:.2f}"),
        ("Worst finding", f"{level_sign(Level[worst['level'].upper()])}: {worst['check']}: {worst['measured']}" if worst is not None else "nothing checked"),
        ("Issued anyway because" if issued.overruled else "Note", issued.stop_reason or ""),
        ("Changes since the last revision", "; ".join(issued.changes)),
        ("Today", differences.words if differences else ""),
    ]
    return draw_table("The issued estimate", ("What", "As issued"), [fact for fact in facts if fact[1]], heads=True)


def draw_control(rows: Sequence[tuple[str, str, str, bool]]) -> str:
    """Control totals: for each what is held against what, what was said, what the file's own text gives, and whether they agree."""
    wrong = sum(not agrees for *_, agrees in rows)
    verdict = f"{AGREES}: all {len(rows)} totals match the file" if not wrong else f"{DIFFERS}: {wrong} of {len(rows)} totals. Do not import"
    table = [(what, _short(said), _short(sum_of_rows), AGREES if agrees else DIFFERS) for what, said, sum_of_rows, agrees in rows]
    totals = draw_table("Control totals", ("What", "Said", "Recounted", "Result"), table, numbers=(1, 2), heads=True)
    return f"<p><b>{verdict}.</b></p>{draw_fold('Control totals, one by one', totals, opened=bool(wrong))}"


def _short(text: str) -> str:
    """A fingerprint by its first signs; it was compared whole."""
    return text if len(text) <= LONGEST else f"{text[:LONGEST]}…"


def draw_payments(state: ContractState, today: dt.date) -> str:
    """Each payment of the contract: billed, paid, overdue `today`, or still to come."""
    bills = {one.bill.draw: one for one in state.bills}
    rows = []
    for draw in state.draws:
        one = bills.get(draw.draw)
        waits = "next to bill" if draw == next(iter(state.left), None) else "not due yet"
        billed = f"bill {one.bill.number}, {_bill_status(state, one, today)}" if one else waits
        rows.append((draw.label, format_money(one.bill.amount if one else draw.due), billed, format_money(one.paid) if one else ""))
    return draw_table(payments_head(state), ("When", "Amount", "Status", "Paid"), rows, numbers=(1, 3))


def _bill_status(state: ContractState, one: BillState, today: dt.date) -> str:
    due = state.due_on(one)
    until = f"{'overdue, was due' if one in state.overdue(today) else 'pay by'} {format_day(one.bill.pay_by)}"
    if due == one.open:
        return until if due else "paid or credited" if state.credits else "paid"
    return f"{format_money(due)} of it, {until}" if due else NOTHING_DUE


def draw_events(events: Sequence[Event]) -> str:
    """What was written into the ledger, the last day first, earlier entries folded; nothing where there is nothing."""
    latest = sorted(events, key=lambda event: (event.day, event.id), reverse=True)  # of a day what was written last
    rows = [(format_day(event.day), _as_sentence(entry_words(event, events))) for event in latest]
    last = draw_table("What happened, latest first", ("Day", "What"), rows[:LAST_ENTRIES]) if rows else ""
    earlier = draw_table("Before that", ("Day", "What"), rows[LAST_ENTRIES:])
    return last + (draw_fold(f"Earlier entries: {len(rows) - LAST_ENTRIES}", earlier) if rows[LAST_ENTRIES:] else "")


def _as_sentence(words: str) -> str:
    return words[:1].upper() + words[1:]


def draw_change(order: ChangeOrder, draws: Sequence[ChangedDraw]) -> str:
    """What a change order charges and credits, and every payment before and after it."""
    kinds = {"add": "added", "credit": "credit", "find": "found", "tax": "sales tax"}
    rows = [(row.label, kinds[row.kind], format_money(row.amount)) for row in order.rows]
    sums = [("Contract sum before", "", format_money(order.contract_before)), ("Contract sum after", "", format_money(order.contract_after))]
    payments = [(draw.label, "billed" if draw.billed else "", format_money(draw.before), format_money(draw.after)) for draw in draws]
    priced = draw_table(f"Change order {order.number}: {format_money(order.amount)}", ("What", "Kind", "Amount"), [*rows, *sums], numbers=(2,), heads=True)
    return priced + draw_table("Payments with the change", ("When", "Status", "Before", "After"), payments, numbers=(2, 3))


def draw_cost(cost: JobCost) -> str:
    """What a contract costs and leaves, and the budget of its steps."""
    outcome = draw_table(
        "What it costs and what is left", ("What", "Amount"), [(what, format_money(amount)) for what, amount in cost.outcome], numbers=(1,), heads=True
    )
    steps = []
    for one in cost.steps:
        spent, hours = cost.spent_on(one)
        steps.append((one.name, *map(format_money, (one.budget, one.planned, one.earned)), spent, f"{one.hours_estimated:.2f}", hours))
    columns = ("Step", "Budget", "Planned by now", "Billed", "Own work spent", "Hours estimated", "Hours spent")
    table = draw_table("Earned value by step", columns, steps, numbers=range(1, len(columns)), heads=True)
    return outcome + draw_fold("Step by step", f"{table}{f'<p>{escape(cost.without_step)}</p>' if cost.without_step else ''}")


def draw_columns(columns: Iterable[tuple[str, str, str]]) -> str:
    """What the columns of a table that comes in mean."""
    return draw_table("Columns of the table of what was spent", ("Column", "Required", "What stands in it"), columns, heads=True)


def draw_spent_faults(faults: Sequence[Fault]) -> str:
    """Every fault by row and column, in one report."""
    rows = [(*(part or "-" for part in row_and_column(fault)), fault.message) for fault in faults[:MOST_FAULTS]]
    return draw_table(f"{count_words(len(faults), 'fault')}, by row of the file", ("Row", "Column", "What is wrong"), rows, numbers=(0,))


def draw_spent(comparison: SpentComparison, on_show: OnShow = BOTH, *, beside_margin: bool = False) -> str:
    """Estimated, spent and the difference by cost code and by kind of cost; what to look at. A margin that stands beside is not said again, but for a loss."""
    codes = _draw_results(f"Estimated and spent by cost code, job {comparison.job_number}", (*comparison.codes, comparison.total))
    kinds = _draw_results("The same by kind of cost", (*comparison.types, comparison.total))
    left = comparison.left_spent
    sentences = [
        ""
        if beside_margin and left >= 0
        else f"Over direct cost the price leaves {format_money(left)}; {format_money(comparison.left_estimated)} was estimated."
        + (" That is a loss before overhead." if left < 0 else ""),
        _named("Nothing spent on", comparison.not_spent),
        _named("Spent without an estimate on", comparison.not_estimated),
        *(f"Rows {first} and {second} say the same about the same document: was one bill entered twice?" for first, second in comparison.doubled),
    ]
    bars = draw_for_widths(partial(draw_spent_bars, "Estimated and spent", comparison.codes), on_show)
    said = "".join(f"<p>{escape(sentence)}</p>" for sentence in sentences if sentence)
    return f"{bars}{said}{draw_fold('By cost code, with hours', codes)}{draw_fold('By kind of cost', kinds)}"


def _draw_results(caption: str, results: Sequence[CodeResult]) -> str:
    columns = ("Cost", "Estimated", "Spent", "Difference", "%", "Hours estimated", "Hours spent", "Hours +/-")
    return draw_table(caption, columns, map(_row, results), numbers=range(1, len(columns)), heads=True)


def _row(result: CodeResult) -> tuple[str, ...]:
    hours = bool(result.hours_estimated or result.hours_spent)
    return (
        " ".join(part for part in (result.code, result.name) if part),
        format_money(result.estimated),
        format_money(result.spent),
        signed_money(result.difference),
        "not estimated" if not result.planned else "-" if result.share is None else f"{result.share:+.1%}",
        f"{result.hours_estimated:.2f}" if hours else "-",
        f"{result.hours_spent:.2f}" if hours else "-",
        f"{result.hours_difference:+.2f}" if hours else "-",
    )


def _named(words: str, results: Sequence[CodeResult]) -> str:
    return f"{words}: {', '.join(f'{result.code} {result.name}'.strip() for result in results)}." if results else ""


def draw_lessons(learning: Learning) -> str:
    """What finished jobs teach: what is proposed first; what may be right as it stands, and what has too few jobs, is counted."""
    shown = [lesson for lesson in learning.lessons if lesson.status in {"proposed", "refused"}]
    rows = [
        (
            lesson_words(lesson),
            str(lesson.jobs),
            figure_words(lesson, 1.0),
            took_words(lesson),
            figure_words(lesson, lesson.ratio),
            *(interval_words(lesson, lesson.interval(of)) for of in ("rate", "next job")),
            f"x {lesson.spread:.2f}",
            lesson.status,
        )
        for lesson in shown
    ]
    columns = ("About", "Jobs", "Lists", "Took", "Learned", "Rate itself, 90%", "Next job, 90%", "Scatter", "State")
    caption = f"What finished jobs teach ({count_words(learning.finished, 'job')}); nothing changes by itself"
    few = sum(lesson.status == "too few jobs" for lesson in learning.lessons)
    alike = len(learning.lessons) - len(shown) - few
    left_out = [words for count, words in ((alike, f"{alike} that may be right as listed"), (few, f"{few} with too few jobs")) if count]
    moved = moved_rows(shown)
    sentences = [
        *learning.notes,
        *([weight_words(learning.lists), INTERVAL_WORDS] if shown else ["Nothing is proposed."]),
        *([f"Not shown: {', '.join(left_out)}."] if left_out else []),
    ]
    said = "".join(f"<p>{escape(sentence)}</p>" for sentence in sentences)
    folded = draw_fold(
        "Rates that each would move", f"<p>{escape(RATIO_WORDS)}</p>{draw_table('Rates that move', MOVED_COLUMNS, moved, heads=True, cards=True)}"
    )
    table = draw_table(caption, columns, rows, numbers=range(1, 8), heads=True, cards=True) if rows else f"<p><b>{escape(caption)}</b></p>"
    return table + (folded if moved else "") + said
