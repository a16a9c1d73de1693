"""The table of all jobs of a folder, on the command line: where each stands, its margin, hours and days, promised and real."""

import datetime as dt
from typing import Any

from kit.cli.report_text import Page, hours_text, share_text
from kit.document import money_text
from kit.job.field_names import mount_words
from kit.learning.job_rows import FolderJobs, JobRow
from kit.money import format_money
from kit.units import format_day

__all__ = ["job_row_document", "show_job_rows"]


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
        **{name: day.isoformat() if day else None for name, day in _days(row).items()},
    }


def _days(row: JobRow) -> dict[str, dt.date | None]:
    return {name: getattr(row, name) for name in ("starts_promised", "started", "done_promised", "done")}


def show_job_rows(page: Page, jobs: FolderJobs) -> None:
    """One line for each job, one for the days of each that is signed and not canceled; what can't be read is told below."""
    columns = ("Job", "State", "Mount and countertop", ">Price", ">Margin est.", ">actual", ">Hours est.", ">actual", ">Days since signing")
    page.table("Jobs", columns, [_cells(row) for row in jobs.rows])
    page.table(
        "Promised days",
        ("Job", ">Start est.", ">actual", ">Done est.", ">actual", ">Days late"),
        [_day_cells(row) for row in jobs.rows if row.signed and row.stage != "canceled"],
    )
    invented = sum(row.invented for row in jobs.rows)
    if invented:
        page.note(f"{invented} of these jobs are invented: a demonstration.")
    for sentence in jobs.unreadable:
        page.note(sentence)


def _cells(row: JobRow) -> tuple[str, ...]:
    return (
        row.number,
        row.stage,
        f"{mount_words(row.mount).capitalize()}: {row.counter_name}",
        format_money(row.price),
        *("-" if margin is None else share_text(margin) for margin in (row.margin_promised, row.margin_real)),
        hours_text(row.hours_promised),
        hours_text(row.hours_real) if row.hours_real else "-",
        "-" if row.days is None else str(row.days),
    )


def _day_cells(row: JobRow) -> tuple[str, ...]:
    """Days on the papers beside those of the time sheets; late is counted from the promised end to the real one, below 0 for early."""
    late = (row.done - row.done_promised).days if row.done and row.done_promised else None
    return row.number, *("-" if day is None else format_day(day) for day in _days(row).values()), "-" if late is None else str(late)
