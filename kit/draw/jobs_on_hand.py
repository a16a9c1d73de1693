"""Which jobs are on hand? Each with its state, its price, what it was to leave and what it left, its hours and the days that were promised."""

from html import escape

from kit.draw.tables import draw_table
from kit.job.field_names import mount_words
from kit.learning.job_rows import FolderJobs, JobRow
from kit.money import format_money
from kit.units import format_day

__all__ = ["draw_jobs_on_hand"]

_STAGES = {"offered": "offered, not signed", "signed": "signed, at work", "finished": "finished", "canceled": "canceled"}
_COLUMNS = ("Job", "State", "What", "Price", "Margin promised", "Margin real", "Hours promised", "Hours so far", "Starts", "Done by", "Done")


def draw_jobs_on_hand(found: FolderJobs) -> str:
    """The jobs of a folder, the one offered last first; below it what can't be read. A sentence where there are none."""
    if not found.rows and not found.unreadable:
        return "<p>No job of this folder has been issued yet. Issue an estimate on the estimator's screen, and it stands here.</p>"
    table = draw_table(f"Jobs on hand: {len(found.rows)}", _COLUMNS, [_cells(row) for row in found.rows], numbers=(3, 4, 5, 6, 7), heads=True)
    return table + "".join(f"<p>{escape(sentence)}</p>" for sentence in found.unreadable)


def _cells(row: JobRow) -> tuple[str, ...]:
    margins = ("-" if margin is None else f"{margin:.1%}" for margin in (row.margin_promised, row.margin_real))
    invented = " (invented)" if row.invented else ""
    return (
        f"{row.number}{invented}",
        _state(row),
        f"{mount_words(row.mount)}, {row.counter_name}",
        format_money(row.price),
        *margins,
        f"{row.hours_promised:.1f}",
        f"{row.hours_real:.1f}" if row.hours_real else "-",
        *("-" if day is None else format_day(day) for day in (row.starts_promised, row.done_promised, row.done)),
    )


def _state(row: JobRow) -> str:
    """Where it stands, and the day that matters there: until when the offer holds, or when it was signed or ended."""
    day = {"offered": ("holds until", row.valid_until), "signed": ("on", row.signed)}.get(row.stage, ("on", row.ended))
    return f"{_STAGES[row.stage]}, {day[0]} {format_day(day[1])}" if day[1] else _STAGES[row.stage]
