"""Which jobs are on hand? Each with its state, its price, what it was to leave and what it left, its hours and the days that were promised."""

import datetime as dt
from collections.abc import Sequence
from html import escape

from kit.draw.folds import draw_fold
from kit.draw.tables import draw_table
from kit.job.field_names import mount_words
from kit.learning.job_rows import FolderJobs, JobRow
from kit.money import format_money
from kit.units import format_day

__all__ = ["draw_jobs_on_hand"]

_FOLDED = {"offered": "Offered, not signed", "finished": "Finished", "canceled": "Canceled"}
_COLUMNS = ("Job", "What", "State", "Price", "Margin", "Hours", "Starts", "Done by")


def draw_jobs_on_hand(jobs: FolderJobs) -> str:
    """The jobs of a folder, those at work first, the others folded, then what can't be read. A sentence where there are none."""
    if not jobs.rows and not jobs.unreadable:
        return "<p>No job of this folder has been issued yet. Issue an estimate on the estimator's screen, and it shows up here.</p>"
    by_stage = {stage: [row for row in jobs.rows if row.stage == stage] for stage in ("signed", *_FOLDED)}
    working = by_stage["signed"]
    table = _draw_rows(f"Jobs under way: {len(working)}", working) if working else "<p><b>No job is under way.</b></p>"
    folds = "".join(draw_fold(f"{words}: {len(rows)}", _draw_rows(words, rows)) for stage, words in _FOLDED.items() if (rows := by_stage[stage]))
    return table + folds + "".join(f"<p>{escape(sentence)}</p>" for sentence in jobs.unreadable)


def _draw_rows(caption: str, rows: Sequence[JobRow]) -> str:
    return draw_table(caption, _COLUMNS, [_cells(row) for row in rows], numbers=(3, 4, 5), heads=True, cards=True)


def _cells(row: JobRow) -> tuple[str, ...]:
    canceled = row.stage == "canceled"  # what was promised of it is owed no more
    margins = [f"{margin:.1%} {which}" for margin, which in ((row.margin_promised, "promised"), (row.margin_real, "actual")) if margin is not None]
    real = "so far" if row.stage == "signed" else "actual"
    hours = [f"{hours:.1f} {which}" for hours, which in ((0.0 if canceled else row.hours_promised, "promised"), (row.hours_real, real)) if hours]
    days = (None, None) if canceled else (row.starts_promised, row.done or row.done_promised)
    return (
        f"{row.customer}, {row.number}{' (invented)' if row.invented else ''}",
        f"{row.counter_name}, {mount_words(row.mount)}",
        _state(row),
        format_money(row.price),
        ", ".join(margins) or "-",
        ", ".join(hours) or "-",
        *(_promised(day, row) for day in days),
    )


def _promised(day: dt.date | None, row: JobRow) -> str:
    """A day as it was offered; one that had passed when the customer signed is no longer a promise, and is told as such."""
    if day is None:
        return "-"
    passed = row.stage == "signed" and row.signed is not None and day < row.signed
    return f"{_hold_day(day)}, as offered; signed later" if passed else _hold_day(day)


def _state(row: JobRow) -> str:
    """Where it stands, and the day that matters there: until when the offer holds, or when it was signed or ended."""
    if row.stage == "offered":
        return f"offered, not signed{f'; holds until {_hold_day(row.valid_until)}' if row.valid_until else ''}"
    day = row.signed if row.stage == "signed" else row.ended
    return f"{row.stage} {_hold_day(day)}" if day else row.stage


def _hold_day(day: dt.date) -> str:
    """A day in whose words no line ends between the month and its day."""
    weekday, month, *rest = format_day(day).split(" ")
    return f"{weekday} {month}\N{NO-BREAK SPACE}{' '.join(rest)}"
