"""The change order in a report for the owner: rows with cost and markup, sums, hours, payments, days."""

from kit.change import ChangeRow, change_days, change_draws
from kit.cli.given import Given
from kit.cli.page import Page, days_text, hours_text, share_text
from kit.export.change_order import Changing
from kit.export.change_words import changed_words
from kit.money import EXACT, format_money

__all__ = ["change_report"]

_KINDS = {"add": "added", "credit": "credit", "find": "found", "tax": "sales tax"}


def change_report(changing: Changing, old: Given, new: Given) -> str:
    """What it changes in words, row by row, and what becomes of contract, payments and days; with cost and markup, so not for the customer."""
    order, page = changing.order, Page()
    who = changing.new.job.identity
    page.title(f"Change order {order.number} to {who.job_number}: {who.customer}", f"From {old.name} to {new.name}, rule {order.rule}, {changing.day}")
    if not order.rows:
        page.note("Nothing changes: there is no row to charge or to credit.")
        return page.text()
    words = changed_words(changing.old, changing.new)
    page.table("What changes", ("What", "Until now", "From now on"), [(row["what"], row["before"], row["after"]) for row in words])
    page.table("Rows", ("What", "Kind", ">Before", ">After", "Unit", ">Our cost", ">Markup", ">Amount"), [_row(row) for row in order.rows])
    page.note(
        f"Contract sum {format_money(order.contract_before)}, this change {format_money(order.amount)}, new contract sum {format_money(order.contract_after)}."
    )
    page.note(
        f"It costs us {format_money(order.cost)} and leaves {format_money(EXACT.subtract(order.amount, order.cost))} (what was found at an agreed price "
        f"has no cost here); own hours {hours_text(order.hours)} more or, below 0, fewer. Lines of the takeoff that differ: {len(order.lines)}."
    )
    _payments(page, changing)
    _days(page, changing)
    if not changing.new.buildable:
        page.note("NOT BUILDABLE with this change: a finding says stop. Look with sinkset check before anybody signs.")
    if old.issued is None:
        page.note("The contract is a draft: issue it first (sinkset issue), so that it stays what was signed.")
    if new.issued is None:
        page.note("Rows for the books are of a draft until the changed job is issued as well.")
    return page.text()


def _row(row: ChangeRow) -> tuple[str, ...]:
    counted = bool(row.unit)
    return (
        row.label,
        _KINDS[row.kind],
        f"{row.before:.4g}" if counted else "",
        f"{row.after:.4g}" if counted else "",
        row.unit,
        format_money(row.cost) if row.kind in {"add", "credit"} else "",
        share_text(float(row.markup)) if row.kind in {"add", "credit"} else "",
        format_money(row.amount),
    )


def _payments(page: Page, changing: Changing) -> None:
    rows = [
        (draw.label, "paid" if draw.paid else "", format_money(draw.before), format_money(draw.after))
        for draw in change_draws(changing.order, changing.old, changing.new, paid=changing.paid)
    ]
    page.table("Payments of the customer", ("When", "", ">Until now", ">From now on"), rows)


def _days(page: Page, changing: Changing) -> None:
    days = change_days(changing.old, changing.new)
    rows = [("All is done", f"{days.done_before:%a %Y-%m-%d}", f"{days.done_after:%a %Y-%m-%d}")]
    if days.without_sink_before is not None or days.without_sink_after is not None:
        before, after = ("" if one is None else days_text(one) for one in (days.without_sink_before, days.without_sink_after))
        rows.append(("Days without a kitchen sink", before, after))
    page.table("Days", ("What", ">Until now", ">From now on"), rows)
