"""The table of all jobs of a folder, on the command line: where each stands, its margin, hours and days, promised and real."""

from typing import Any

from kit.cli.page import Page, hours_text, share_text
from kit.document import money_text
from kit.learning.job_rows import FolderJobs, JobRow
from kit.money import format_money

__all__ = ["job_row_document", "show_job_rows"]

_STAGES = {"offered": "not signed", "signed": "signed", "finished": "finished", "canceled": "canceled"}


def job_row_document(row: JobRow) -> dict[str, Any]:
    """What a job was to cost and take, and what it did, as plain data."""
    return {
        "stage": row.stage,
        "invented": row.invented,
        "mount": row.mount,
        "counter": row.counter,
        "price": money_text(row.price),
        "cost_promised": money_text(row.cost_promised),
        "cost_real": money_text(row.cost_real),
        "margin_promised": row.margin_promised,
        "margin_real": row.margin_real,
        "hours_promised": row.hours_promised,
        "hours_real": row.hours_real,
        "days": row.days,
        "days_worked": row.days_worked,
    }


def show_job_rows(page: Page, found: FolderJobs) -> None:
    """One line for each job; what can't be read is told below."""
    columns = ("Job", "State", "Mount", "Counter", ">Price", ">Margin est.", ">real", ">Hours est.", ">real", ">Days")
    page.table("Jobs", columns, [_cells(row) for row in found.rows])
    invented = sum(row.invented for row in found.rows)
    if invented:
        page.note(f"{invented} of these jobs are invented: a demonstration.")
    for sentence in found.unreadable:
        page.note(sentence)


def _cells(row: JobRow) -> tuple[str, ...]:
    return (
        row.number,
        _STAGES[row.stage],
        row.mount,
        row.counter_name,
        format_money(row.price),
        *("-" if margin is None else share_text(margin) for margin in (row.margin_promised, row.margin_real)),
        hours_text(row.hours_promised),
        hours_text(row.hours_real) if row.hours_real else "-",
        "-" if row.days is None else str(row.days),
    )
