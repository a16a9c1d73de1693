"""A change order on the command line: what is asked for, the order itself, and it as JSON, as a report for the owner, as files."""

import datetime as dt
import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, get_args

from kit.change.effect import change_draws
from kit.change.priced_change import KIND_WORDS, ChangeRow, price_change
from kit.cli.job_source import JobSource, collect_faults
from kit.cli.out_folder import Writer, file_writers
from kit.cli.report_text import Page, hours_text, share_text
from kit.document import plain, plain_fields
from kit.draw.tables import signed_money
from kit.errors import Fault, KitError, PriceError
from kit.export.change_files import change_contents
from kit.export.change_order import ChangeOrderSource
from kit.export.change_words import changed_words
from kit.issued import office_day
from kit.lists.money_rows import ChangeFalls
from kit.money import EXACT, format_money, parse_money
from kit.units import format_amount, format_day, format_days

__all__ = ["ChangeRequest", "change_document", "change_files", "change_report", "order_change", "read_request"]


@dataclass(frozen=True, slots=True)
class ChangeRequest:
    """What the options ask for: which change order of the contract, what was paid (None: the deposit), what was found, by which rule, day and reason.

    `falls` says which payments it moves, None as agreed with the signature.
    """

    number: int
    paid: tuple[Decimal, ...] | None
    finds: dict[str, float]
    rule: str | None
    contract: Decimal | None
    day: dt.date | None
    reason: str
    falls: ChangeFalls | None = None


def read_request(
    *,
    number: int,
    paid: Sequence[str],
    finds: Sequence[str],
    rule: str | None,
    contract: str | None,
    day: str | None,
    reason: str | None,
    falls: str | None,
) -> ChangeRequest:
    """What the options say.

    Raises KitError with every one that can't be read; or a later change order without the contract sum that it starts from and what was paid by then.
    """
    faults: list[Fault] = []
    counted = _counted(finds, faults)
    amounts: list[Decimal] = []
    for text in paid:
        with collect_faults(faults, "--paid"):
            amounts.append(parse_money(text))
    amount = None
    with collect_faults(faults, "--contract"):
        amount = None if contract is None else parse_money(contract)
    paper_day = None
    try:
        paper_day = None if day is None else dt.date.fromisoformat(day)
    except ValueError:
        faults.append(Fault("--day", f'"{day}" is not a day. Give year, month and day, such as 2026-03-31.'))
    chosen = next((one for one in get_args(ChangeFalls) if one == falls), None)
    if falls and not chosen:
        faults.append(Fault("--falls", f'"{falls}" is not a choice for payments. Give one of {", ".join(get_args(ChangeFalls))}.'))
    if number > 1 and contract is None:
        faults.append(Fault("--number", f"Change order {number} starts where the one before it ended: give that sum with --contract."))
    if number > 1 and not paid:
        faults.append(Fault("--number", f"By change order {number} payments may have been made: give each with --paid, or --paid with 0 USD."))
    if faults:
        raise KitError(faults)
    return ChangeRequest(number, tuple(one for one in amounts if one) if paid else None, counted, rule, amount, paper_day, reason or "", chosen)


def _counted(finds: Sequence[str], faults: list[Fault]) -> dict[str, float]:
    """Quantities by what was found."""
    counted: dict[str, float] = {}
    for find in finds:
        name, _, text = find.partition("=")
        try:
            quantity = float(text)
        except ValueError:
            quantity = math.nan
        if not (name and math.isfinite(quantity) and quantity > 0):
            faults.append(Fault("--find", f'"{find}" is not a find and how many. Give it as short-stub=2.'))
        elif name in counted:
            faults.append(Fault("--find", f'"{name}" is given twice.'))
        else:
            counted[name] = quantity
    return counted


def order_change(old: JobSource, new: JobSource, request: ChangeRequest) -> ChangeOrderSource:
    """The change order from a contract to a changed job. Raises PriceError as `kit.change.price_change`; or its day lies before the contract was issued."""
    if request.day and old.issued and request.day < old.issued.issued:
        raise PriceError(Fault("--day", f"{format_day(request.day)} is before the day of issue, {format_day(old.issued.issued)}."))
    contract = request.contract or (old.issued.price if old.issued else None)  # what was promised, whatever today's rules give
    order = price_change(old.estimate, new.estimate, number=request.number, contract=contract, rule=request.rule, finds=request.finds)
    day = request.day or (new.issued.issued if new.issued else office_day())
    draws = change_draws(order, old.estimate, new.estimate, paid=request.paid)
    return ChangeOrderSource(order, old.estimate, new.estimate, day, draws, old.issued, new.issued, request.reason)


def change_document(changing: ChangeOrderSource, old: JobSource, new: JobSource) -> dict[str, Any]:
    """The change order as plain data: sums, `rows`, takeoff `lines` that differ, `draws` and `days` before and after."""
    order, days = changing.order, changing.days
    return {
        "job": changing.new.job.identity.job_number,
        "number": order.number,
        "day": changing.day.isoformat(),
        "reason": changing.reason,
        "rule": order.rule,
        "falls": changing.falls,
        **plain_fields(order, "contract_before", "amount", "contract_after", "cost"),
        "hours": order.hours,
        "buildable": changing.new.buildable,
        "rows": [{**plain(row), "markup": float(row.markup)} for row in order.rows],
        "lines": plain(order.lines),
        "draws": plain(changing.draws),
        "days": {**plain(days), "later": days.later},
        "from": old.document,
        "to": new.document,
    }


def change_files(changing: ChangeOrderSource) -> dict[str, Writer]:
    """Name and writer of each, all of them made before anything is written; errors as in `change_contents`."""
    return file_writers(change_contents(changing))


def change_report(changing: ChangeOrderSource, old: JobSource, new: JobSource) -> str:
    """What it changes in words, row by row, and what becomes of contract, payments and days; with cost and markup, so not for the customer."""
    order, page = changing.order, Page()
    who = changing.new.job.identity
    rule = order.rule.replace("-", " ")
    page.title(
        f"Change order {order.number} to {who.job_number}: {who.customer}", f"From {old.name} to {new.name}. Rule: {rule}. Dated {format_day(changing.day)}."
    )
    if not order.rows:
        page.note("Nothing changes: there is nothing to charge or credit.")
        return page.text()
    words = changed_words(changing.old, changing.new)
    page.table("What changes, as the paper says it to the customer", ("What", "Before", "After"), [(row["what"], row["before"], row["after"]) for row in words])
    page.table("Rows", ("What", "Kind", ">Before", ">After", "Unit", ">Our cost", ">Markup", ">Amount"), [_row(row) for row in order.rows])
    page.note(
        f"Contract sum {format_money(order.contract_before)}, this change {format_money(order.amount)}, new contract sum {format_money(order.contract_after)}."
    )
    hours = f"{hours_text(abs(order.hours))} {'fewer' if order.hours < 0 else 'more'}" if round(order.hours, 2) else "as before"
    uncosted = " (what was found at an agreed price has no cost here)" if any(row.kind == "find" for row in order.rows) else ""
    page.note(
        f"Our cost: {signed_money(order.cost)}; gross profit: {signed_money(EXACT.subtract(order.amount, order.cost))}{uncosted}; own hours: {hours}. "
        f"Lines of the takeoff that differ: {len(order.lines)}."
    )
    _payments(page, changing)
    _days(page, changing)
    if not changing.new.buildable:
        page.note("NOT BUILDABLE with this change: a finding says stop. Run sinkset check before anybody signs.")
    if old.issued is None:
        page.note("The contract is still a draft: issue it first (sinkset issue), so that nothing in it can move.")
    if new.issued is None:
        page.note("Rows for the books are marked draft until the changed job is issued, too.")
    return page.text()


def _row(row: ChangeRow) -> tuple[str, ...]:
    write = hours_text if row.unit == "h" else format_amount
    before, after = (write(row.before), write(row.after)) if row.unit else ("", "")
    cost, markup = (format_money(row.cost), share_text(float(row.markup))) if row.kind in {"add", "credit"} else ("", "")
    return row.label, KIND_WORDS[row.kind], before, after, row.unit, cost, markup, format_money(row.amount)


def _payments(page: Page, changing: ChangeOrderSource) -> None:
    rows = [
        (draw.label, "paid" if draw.paid else "billed" if draw.billed else "", format_money(draw.before), format_money(draw.after)) for draw in changing.draws
    ]
    page.table("Customer's payments", ("When", "", ">Before", ">After"), rows)
    page.note(f"On the change order, to the customer: {changing.falls_words}")


def _days(page: Page, changing: ChangeOrderSource) -> None:
    days = changing.days
    rows = [("Work complete", format_day(days.done_before), format_day(days.done_after))]
    if days.without_sink_before is not None or days.without_sink_after is not None:
        before, after = ("" if one is None else format_days(one) for one in (days.without_sink_before, days.without_sink_after))
        rows.append(("Without a kitchen sink", before, after))
    page.table("Days", ("What", ">Before", ">After"), rows)
