"""Why does one alternate take longer than another? The steps and waits that decide the day on which it is done, held against each other."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import timedelta

from kit.compare.figures import PlannedFigures
from kit.compare.options import Option
from kit.compare.sink_out import why_sink_out
from kit.estimating import Estimate
from kit.labor.clock import count_working_hours
from kit.labor.schedule import Lead, ScheduledStep
from kit.units import format_amount, round_up_days

__all__ = ["Stretch", "WhyDays", "explain_alternates", "explain_days", "list_stretches", "say_stretch"]

_DAY = timedelta(days=1)
_DAY_H = 24.0
_OFF = "Nights and days off"
_WORTH_SAYING = 0.25  # days
_TOO_LONG_TO_HIDE = 1.95  # days: what rounds to two is said by its name
_FEW_STRETCHES = 3


@dataclass(frozen=True, slots=True)
class Stretch:
    """A step or a wait on the way to the last day: how many days of 24 hours it takes in one alternate and in another."""

    what: str
    before: float
    after: float

    @property
    def days(self) -> float:
        """By how many days it takes longer."""
        return self.after - self.before


@dataclass(frozen=True, slots=True)
class WhyDays:
    """How many days later than the job itself an alternate is done, as the days from ordering to done are shown, and in words because of what."""

    days: float
    because: tuple[str, ...]


def explain_alternates(options: Sequence[Option], figures: Mapping[str, PlannedFigures]) -> dict[str, WhyDays]:
    """Why the days of alternates differ from those of the job itself, by the alternate's id; without those that don't, or have no price.

    First why the sink is out for as long as it is, where that is for another reason than in the job.
    """
    own = next((option for option in options if option.chosen), None)
    if own is None or own.estimate is None:
        return {}
    reasons: dict[str, WhyDays] = {}
    before, usual = figures[own.id], why_sink_out(own.estimate)
    for option in options:
        if option.estimate is None or option.chosen:
            continue
        after, sink_out = figures[option.id], why_sink_out(option.estimate)
        first = (sink_out.rstrip("."),) if sink_out not in {"", usual} else ()
        if because := (*first, *explain_days(own.estimate, option.estimate, before, after)):
            reasons[option.id] = WhyDays(_more_days(before, after), because)
    return reasons


def list_stretches(old: Estimate, new: Estimate, old_figures: PlannedFigures, new_figures: PlannedFigures) -> tuple[Stretch, ...]:
    """Every step and wait by which two alternates differ, largest first; together the difference of their lead times, nights and weekends among them."""
    before, after = _sum_stretches(old, old_figures), _sum_stretches(new, new_figures)
    rows = [Stretch(what, before.get(what, 0.0), after.get(what, 0.0)) for what in {**before, **after}]
    return tuple(sorted((row for row in rows if row.days), key=lambda row: -abs(row.days)))


def explain_days(old: Estimate, new: Estimate, old_figures: PlannedFigures, new_figures: PlannedFigures) -> tuple[str, ...]:
    """In words what makes an alternate take longer, or less long: the stretches that count, each of two days or more, and the others in one sum.

    As they are shown they add up to the difference of the days from ordering to done, which are rounded up.
    """
    rows = list_stretches(old, new, old_figures, new_figures)
    long = sum(abs(row.days) >= _TOO_LONG_TO_HIDE for row in rows)
    said = [row for row in rows if abs(row.days) >= _WORTH_SAYING][: max(long, _FEW_STRETCHES)]
    rest = round(_more_days(old_figures, new_figures) - sum(round(row.after, 1) - round(row.before, 1) for row in said), 1)
    other = f"Everything else: {'adds' if rest > 0.0 else 'saves'} {_days(format_amount(abs(rest)))}"
    return (*(say_stretch(row) for row in said), *([other] if said and rest else []))


def _more_days(old: PlannedFigures, new: PlannedFigures) -> float:
    """The difference of the days from ordering to done, as both are shown."""
    return round_up_days(new.lead_days) - round_up_days(old.lead_days)


def say_stretch(row: Stretch) -> str:
    """One difference: "Fabrication of the countertop: 28 days, not 10"."""
    before, after = (format_amount(round(days, 1)) for days in (row.before, row.after))
    if not row.before:
        return f"{row.what}: adds {_days(after)}"
    return f"{row.what}: {_days(after)}, not {before}" if row.after else f"{row.what}: none, saves {_days(before)}"


def _days(number: str) -> str:
    return f"{number} day" if number == "1" else f"{number} days"


def _sum_stretches(estimate: Estimate, figures: PlannedFigures) -> dict[str, float]:
    days_of: dict[str, float] = {}
    for what, days in _chain(estimate, figures):
        days_of[what] = days_of.get(what, 0.0) + days
    return {what: round(days, 6) for what, days in days_of.items()}


def _chain(estimate: Estimate, figures: PlannedFigures) -> Iterator[tuple[str, float]]:
    """Back from the last step to ordering: each step that decides the end, and what is waited for before it [days]."""
    schedule, leads = figures.schedule.schedule, figures.schedule.plan.leads
    begins, calendar = figures.schedule.ordered or schedule.start, figures.schedule.calendar
    row: ScheduledStep | None = max(schedule.steps, key=lambda row: row.finish)
    while row is not None and row.finish > begins:
        start = max(row.start, begins)
        worked = count_working_hours(calendar, start, row.finish) / _DAY_H
        yield estimate.step_names[row.step], worked
        yield _OFF, (row.finish - start) / _DAY - worked
        held = schedule.find(row.held_by) if row.held_by else None
        if row.start > begins:
            yield _wait_name(estimate, held, leads.get(held.step, ()) if held else ()), (row.start - max(held.finish if held else begins, begins)) / _DAY
        row = held


def _wait_name(estimate: Estimate, held: ScheduledStep | None, leads: tuple[Lead, ...]) -> str:
    if held is None:
        return "Until work may start"
    if leads:
        return estimate.lists.lead_times[max(leads, key=lambda lead: lead.hours_likely).what].name
    waits = estimate.lists.steps[held.step].wait_h
    return f'Wait after "{estimate.step_names[held.step]}"' if waits else _OFF
