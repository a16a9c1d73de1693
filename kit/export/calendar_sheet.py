"""Sheet "Calendar": every step with its day, the dates that people ask for, and how sure cost and finish are."""

from datetime import datetime

from kit.estimating import Estimate
from kit.export.sheet_cells import FIRST_ROW, Book, Column, Page, start_page
from kit.labor.job_schedule import JobSchedule
from kit.labor.schedule import performer_name
from kit.outlook import JobRisk, assess_risk, plan_schedule
from kit.units import format_days, format_half_day

__all__ = ["NAME", "write_calendar"]

NAME = "Calendar"
CHANCES = (0.1, 0.5, 0.8, 0.9)
_COLUMNS = (
    Column("Step", 46),
    Column("Done by", 14),
    Column("People", 8, figures=True),
    Column("Begins", 27),
    Column("Ends", 27),
    Column("Begins at the latest", 27),
    Column("Hours to spare", 10, figures=True),
)
_STEP, _BY, _PEOPLE, _BEGINS, _ENDS, _LATEST, _SPARE = range(7)
_GUIDE = "As worked out when this file was written, counted from the visit: it does not follow the inputs. Dates are planned, not promised."
_GAP = 2


def write_calendar(book: Book, estimate: Estimate, title: str) -> None:
    """The sheet.

    Raises
    ------
    KitError
        As `kit.outlook.plan_schedule`.
    """
    page, schedule = start_page(book, NAME, title, _COLUMNS, _GUIDE), plan_schedule(estimate)
    end = _write_steps(page, estimate, schedule, FIRST_ROW)
    end = _write_dates(page, schedule, end + _GAP)
    _write_spread(page, assess_risk(estimate), end + _GAP)
    page.sheet.fit_to_pages(1, 1)


def _write_steps(page: Page, estimate: Estimate, schedule: JobSchedule, first: int) -> int:
    """A row for each step from the row `first` on, those that set the finish bold; gives the last row."""
    for row, step in enumerate(schedule.schedule.steps, first):
        page.text(row, _STEP, estimate.lists.steps[step.step].name, "words", bold=step.critical)
        page.text(row, _BY, performer_name(step.trade), "words")
        page.number(row, _PEOPLE, step.crew, "whole")
        for column, when in ((_BEGINS, step.start), (_ENDS, step.finish), (_LATEST, step.latest_start)):
            page.text(row, column, _when(when))
        page.number(row, _SPARE, round(step.float_h, 2), "hours")
    return first + len(schedule.schedule.steps) - 1


def _write_dates(page: Page, schedule: JobSchedule, head: int) -> int:
    facts = [
        ("Ordered", _when(schedule.ordered)),
        ("Old sink out", _when(schedule.sink_out)),
        ("New sink tested", _when(schedule.sink_back)),
        ("Done", _when(schedule.finish)),
        ("Days without a kitchen sink", _days(schedule.days_without_sink)),
        ("Days without one when a temporary sink is lent", _days(schedule.days_with_temporary_sink)),
        ("Trips", str(schedule.trips_priced)),
    ]
    page.text(head, _STEP, "Dates that people ask for", bold=True)
    for row, (what, when) in enumerate(facts, head + 1):
        page.text(row, _STEP, what, "words")
        page.text(row, _BEGINS, when)
    return head + len(facts)


def _write_spread(page: Page, risk: JobRisk, head: int) -> None:
    page.text(head, _STEP, f"How sure, by {risk.cost.trials:,} trials", bold=True)
    page.text(head, _BEGINS, "Direct cost", bold=True, right=True)
    page.text(head, _ENDS, "Done", bold=True)
    for row, chance in enumerate(CHANCES, head + 1):
        page.text(row, _STEP, f"Enough {chance * 10:.0f} {'time' if chance == CHANCES[0] else 'times'} in 10", "words")
        page.number(row, _BEGINS, risk.cost_at(chance), "money")
        page.text(row, _ENDS, _when(risk.finish_at(chance)))
    last = head + len(CHANCES) + 1
    page.text(last, _STEP, "Chance that the job costs more than it brings in", "words")
    page.number(last, _BEGINS, risk.chance_to_lose, "share")


def _when(when: datetime | None) -> str:
    return "-" if when is None else format_half_day(when)


def _days(count: float | None) -> str:
    return "-" if count is None else format_days(count)
