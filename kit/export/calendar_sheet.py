"""Sheet "Calendar": every step with its day, the dates that people ask for, and how sure cost and finish are."""

from dataclasses import replace
from datetime import date, datetime

from kit.estimating import Estimate
from kit.export.sheet_cells import FIRST_ROW, Book, Column, Page, start_page
from kit.labor.job_schedule import JobSchedule, signing_day
from kit.labor.schedule import performer_name
from kit.outlook import JobRisk
from kit.units import CHANCE_WORDS, format_day, format_days, format_half_day

__all__ = ["NAME", "write_calendar"]

NAME = "Calendar"
_COLUMNS = (
    Column("Step", 32),
    Column("Done by", 14),
    Column("People", 7, figures=True),
    Column("Begins", 21),
    Column("Ends", 21),
    Column("Begins at the latest", 20),
    Column("Hours to spare", 10, figures=True),
)
_STEP, _BY, _PEOPLE, _BEGINS, _ENDS, _LATEST, _SPARE = range(7)
_GUIDE = "worked out when this file was written: it does not follow the inputs. Dates are planned, not promised; bold steps set the day when all is done."
_GAP = 2
_LONGEST_DAY = 22  # letters of a day without its year, as "Wed, Dec 30, afternoon": they find room in the usual widths


def write_calendar(book: Book, estimate: Estimate, title: str, schedule: JobSchedule, risk: JobRisk) -> None:
    """The sheet."""
    visit = estimate.job.identity.visit_date
    signed = format_day(signing_day(estimate.job, estimate.lists.company), beside=visit)
    page = start_page(book, NAME, title, _columns(schedule, visit), f"Counted from the visit on {format_day(visit)} and a signature on {signed}, {_GUIDE}")
    end = _write_steps(page, estimate, schedule, FIRST_ROW)
    end = _write_dates(page, schedule, end + _GAP, visit)
    last = _write_spread(page, risk, end + _GAP, visit)
    page.sheet.print_area(0, 0, last, _LATEST)  # the hours to spare after it are for the screen
    page.sheet.fit_to_pages(1, 1)


def _columns(schedule: JobSchedule, visit: date) -> tuple[Column, ...]:
    """As wide as the longest day in them asks for: past the end of a year a day has its year."""
    days = {_BEGINS: "start", _ENDS: "finish", _LATEST: "latest_start"}
    longest = {column: max(len(_when(getattr(step, name), visit)) for step in schedule.schedule.steps) for column, name in days.items()}
    return tuple(replace(column, width=longest[number]) if longest.get(number, 0) > _LONGEST_DAY else column for number, column in enumerate(_COLUMNS))


def _write_steps(page: Page, estimate: Estimate, schedule: JobSchedule, first: int) -> int:
    """A row for each step from the row `first` on, those that set the finish bold; gives the last row."""
    visit = estimate.job.identity.visit_date
    for row, step in enumerate(schedule.schedule.steps, first):
        page.text(row, _STEP, estimate.step_names[step.step], "words", bold=step.critical)
        page.text(row, _BY, performer_name(step.trade), "words")
        page.number(row, _PEOPLE, step.crew, "whole")
        for column, when in ((_BEGINS, step.start), (_ENDS, step.finish), (_LATEST, step.latest_start)):
            page.text(row, column, _when(when, visit))
        page.number(row, _SPARE, round(step.float_h, 2), "hours")
    return first + len(schedule.schedule.steps) - 1


def _write_dates(page: Page, schedule: JobSchedule, head: int, visit: date) -> int:
    gone, lent = _days(schedule.days_without_sink), _days(schedule.days_with_temporary_sink)
    facts = [
        ("Ordered", _when(schedule.ordered, visit)),
        ("Old sink out", _when(schedule.sink_out, visit)),
        ("New sink tested", _when(schedule.sink_back, visit)),
        ("Done", _when(schedule.finish, visit)),
        ("Without a kitchen sink", gone),
        *([("With a temporary sink lent", lent)] if lent != gone else []),
        ("Trips", str(schedule.trips_priced)),
    ]
    page.text(head, _STEP, "Dates that people ask for", bold=True)
    for row, (what, when) in enumerate(facts, head + 1):
        page.text(row, _STEP, what, "words")
        page.text(row, _BEGINS, when)
    return head + len(facts)


def _write_spread(page: Page, risk: JobRisk, head: int, visit: date) -> int:
    """How sure cost and finish are, from the row `head` on; gives the last row."""
    page.text(head, _STEP, f"How sure, by {risk.cost.trials:,} trials", bold=True)
    page.text(head, _BEGINS, "Direct cost at most", bold=True, right=True)
    page.text(head, _ENDS, "Done by", bold=True)
    for row, (chance, words) in enumerate(CHANCE_WORDS.items(), head + 1):
        page.text(row, _STEP, words, "words")
        page.number(row, _BEGINS, risk.cost_at(chance), "money")
        page.text(row, _ENDS, _when(risk.finish_at(chance), visit))
    last = head + len(CHANCE_WORDS) + 1
    page.text(last, _STEP, "Chance that the job loses money", "words")
    page.number(last, _BEGINS, risk.chance_to_lose, "share")
    return last


def _when(when: datetime | None, visit: date) -> str:
    return "-" if when is None else format_half_day(when, beside=visit)


def _days(count: float | None) -> str:
    return "-" if count is None else format_days(count)
