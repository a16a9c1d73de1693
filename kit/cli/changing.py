"""A change order on the command line: what is asked for, the order itself as plain data, and its files."""

import datetime as dt
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Any

from kit.change import change_days, change_draws, price_change
from kit.cli.given import Given, issued_document
from kit.document import money_text, plain
from kit.errors import Fault, KitError, PriceError
from kit.export.change_order import Changing, change_order_bytes
from kit.export.handoff import row_files
from kit.export.handoff_change import change_rows
from kit.export.papers import mark_of
from kit.issued import office_day
from kit.money import parse_money

__all__ = ["Asked", "change_document", "change_files", "order_change", "read_asked"]


@dataclass(frozen=True, slots=True)
class Asked:
    """What is asked for: which change order of the contract it is, what was paid (None: the deposit), what was found, by which rule, its day, and why."""

    number: int
    paid: tuple[Decimal, ...] | None
    finds: dict[str, float]
    rule: str | None
    contract: Decimal | None
    day: dt.date | None
    reason: str


def read_asked(*, number: int, paid: Sequence[str], finds: Sequence[str], rule: str | None, contract: str | None, day: str | None, reason: str | None) -> Asked:
    """What the options say.

    Raises
    ------
    KitError
        With every one that can't be read; or a later change order without the contract sum that it starts from and what was paid by then.
    """
    faults: list[Fault] = []
    counted = _counted(finds, faults)
    amounts = [_amount("--paid", text, faults) for text in paid]
    amount = None if contract is None else _amount("--contract", contract, faults)
    since = None
    try:
        since = None if day is None else dt.date.fromisoformat(day)
    except ValueError:
        faults.append(Fault("--day", f'"{day}" is not a day. Give it as 2026-03-31.'))
    if number > 1 and contract is None:
        faults.append(Fault("--number", f"change order {number} starts where the one before it ended: give that sum with --contract."))
    if number > 1 and not paid:
        faults.append(Fault("--number", f"by change order {number} payments may have been made: give each with --paid, or --paid with 0 USD."))
    if faults:
        raise KitError(faults)
    return Asked(number, tuple(one for one in amounts if one) if paid else None, counted, rule, amount, since, reason or "")


def _amount(option: str, text: str, faults: list[Fault]) -> Decimal:
    """Money of an option; 0 and a fault where it can't be read."""
    try:
        return parse_money(text)
    except KitError as error:
        faults += [Fault(option, fault.message) for fault in error.faults]
        return Decimal(0)


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
            faults.append(Fault("--find", f'"{find}" is not a find with its quantity. Give it as stop-valve=2.'))
        elif name in counted:
            faults.append(Fault("--find", f'"{name}" is given twice.'))
        else:
            counted[name] = quantity
    return counted


def order_change(old: Given, new: Given, asked: Asked) -> Changing:
    """The change order between two of them.

    Raises
    ------
    PriceError
        As `kit.change.price_change`; or its day lies before the contract was issued.
    """
    if asked.day and old.issued and asked.day < old.issued.issued:
        raise PriceError(Fault("--day", f"{asked.day} lies before the day of issue, {old.issued.issued}."))
    order = price_change(old.estimate, new.estimate, number=asked.number, contract=asked.contract, rule=asked.rule, finds=asked.finds)
    day = asked.day or (new.issued.issued if new.issued else office_day())
    return Changing(order, old.estimate, new.estimate, day, old.issued, new.issued, asked.paid, asked.reason)


def change_document(changing: Changing, old: Given, new: Given) -> dict[str, Any]:
    """The change order as plain data: sums, `rows`, takeoff `lines` that differ, `draws` and `days` before and after."""
    order = changing.order
    draws = change_draws(order, changing.old, changing.new, paid=changing.paid)
    days = change_days(changing.old, changing.new)
    return {
        "job": changing.new.job.identity.job_number,
        "number": order.number,
        "day": changing.day.isoformat(),
        "reason": changing.reason,
        "rule": order.rule,
        "contract_before": money_text(order.contract_before),
        "amount": money_text(order.amount),
        "contract_after": money_text(order.contract_after),
        "cost": money_text(order.cost),
        "hours": order.hours,
        "buildable": changing.new.buildable,
        "rows": [{**plain(row), "markup": float(row.markup)} for row in order.rows],
        "lines": plain(order.lines),
        "draws": plain(draws),
        "days": {**plain(days), "later": days.later},
        "from": issued_document(old),
        "to": issued_document(new),
    }


def change_files(changing: Changing) -> dict[str, Callable[[Path], object]]:
    """Name and writer of the paper to sign and of the rows for the books, all of them made before anything is written.

    Raises
    ------
    PriceError
        If nothing changes.
    IssueError
        If a finding of the changed job says stop, and it was not issued with a reason.
    """
    order, stem = changing.order, f"{mark_of(changing.old, changing.old_issued).file_stem}-change-{changing.order.number}"
    rows = change_rows(order, changing.old, changing.new, day=changing.day, issued=changing.new_issued)
    contents = {f"{stem}.pdf": change_order_bytes(changing), **row_files(rows, f"{stem}-books")}

    def writer(content: bytes) -> Callable[[Path], object]:
        return lambda path: path.write_bytes(content)

    return {name: writer(content) for name, content in contents.items()}
