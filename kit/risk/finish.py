"""When may the job be done in the end? The schedule's forward pass over many trials, on the same draws as the cost."""

from array import array
from bisect import bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from functools import reduce
from typing import TYPE_CHECKING

from kit.labor.calendar import WorkCalendar
from kit.labor.clock import HOUR, TrialClock
from kit.labor.network import pass_forward
from kit.labor.schedule import OWN, LeadTimes, StepLink, link_steps, plan_early
from kit.lists.work_rows import SiteRiskRow
from kit.records import Task
from kit.risk.outcome import rank_of
from kit.risk.sampling import Block, PointTable, check_settings, draw_event, draw_item, trial_blocks
from kit.risk.uncertain import RiskItem, task_item
from kit.steps import Step

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

__all__ = ["FinishRisk", "finish_risk"]


@dataclass(frozen=True, slots=True)
class FinishRisk:
    """The trials of a job's finish.

    `base` is the finish of the plain schedule; `hours` are the finishes of the trials, sorted, in elapsed hours since `midnight`.
    """

    base: datetime
    midnight: datetime
    seed: int
    trials: int
    correlation: float
    hours: "array[float]"

    def quantile(self, chance: float) -> datetime:
        """Get the instant, to the minute, by which this share of the trials is done (0 to 1): 0.8 gives P80. It is one trial's own finish."""
        return self.midnight + timedelta(minutes=round(self.hours[rank_of(chance, self.trials)] * 60))

    def share_by(self, day: date) -> float:
        """The share of the trials that are done by the end of a day (0 to 1)."""
        end = datetime.combine(day, time()) + timedelta(days=1)
        return bisect_right(self.hours, (end - self.midnight) / HOUR) / self.trials


def finish_risk(
    tasks: Sequence[Task],
    calendar: WorkCalendar,
    start: date,
    site_risks: Sequence[SiteRiskRow] = (),
    *,
    seed: int,
    trials: int,
    correlation: float,
    leads: LeadTimes | None = None,
    not_before: Mapping[Step, datetime] | None = None,
    base: datetime | None = None,
) -> FinishRisk:
    """Try the finish of a job many times, through the same network and calendar as its schedule.

    Parameters
    ----------
    tasks, calendar, start, leads, not_before
        As `kit.labor.schedule.plan_tasks`. A task lasts its duration, in proportion to its worker-hours; a lead is drawn from its
        three points, each by itself.
    site_risks
        Those that apply to this job: their hours, shared by the step's crew, lengthen their step, their delay follows it.
    seed, trials, correlation
        As `kit.risk.cost.simulate_cost`; the same seed draws the same hours there and here.
    base
        The finish of the plain schedule, where that was planned already.

    Raises
    ------
    KitError
        As `plan_tasks` and `simulate_cost`.
    """
    import numpy as np

    items = [task_item(task) for task in tasks]
    check_settings(items, site_risks, seed=seed, trials=trials, correlation=correlation)
    begin = start if isinstance(start, datetime) else datetime.combine(start, calendar.start_of_day)
    if base is None:
        _, early = plan_early(tasks, calendar, begin, leads=leads, not_before=not_before)
        base = max((end for _, end in early.values()), default=begin)
    links = link_steps(tasks, leads)
    midnight = datetime.combine(begin.date(), time())
    earliest = {step: (max(begin, (not_before or {}).get(step, begin)) - midnight) / HOUR for step in links}
    spread = _spread_leads(leads or {})
    check_settings(spread, (), seed=seed, trials=trials, correlation=correlation)

    def try_block(clock: TrialClock, block: Block) -> "NDArray[np.float64]":
        drawn = [_draw_duration(task, item, seed=seed, block=block, correlation=correlation) for task, item in zip(tasks, items, strict=True)]
        durations = {task.step: hours for task, hours in zip(tasks, drawn, strict=True)}
        waits = {lead.label: draw_item(lead, seed=seed, block=block, correlation=correlation) for lead in spread}
        delays = _add_events(tasks, links, site_risks, durations, seed=seed, block=block)
        ends = _find_ends(clock, links, earliest, durations, waits, delays)
        return reduce(np.maximum, ends, np.full(block.size, (begin - midnight) / HOUR))

    days = (base - midnight).days + 366
    while True:
        try:
            clock = TrialClock(calendar, midnight.date(), days)
            hours = np.concatenate([try_block(clock, block) for block in trial_blocks(trials)])
            break
        except IndexError:  # a trial ran off the days laid out
            days *= 2
    return FinishRisk(base, midnight, seed, trials, correlation, array("d", np.sort(hours).tobytes()))


def _spread_leads(leads: LeadTimes) -> list[RiskItem]:
    """Each lead with spread [h], once for all steps that wait for it."""
    known = {lead.what: lead for waits in leads.values() for lead in waits if lead.hours_low != lead.hours_high}
    return [RiskItem(f"lead:{what}", what, lead.hours_low, lead.hours_likely, lead.hours_high) for what, lead in known.items()]


def _draw_duration(task: Task, item: RiskItem, *, seed: int, block: Block, correlation: float) -> "NDArray[np.float64]":
    import numpy as np

    if task.hours_low == task.hours_high:
        return np.full(block.size, task.duration_h)
    drawn = draw_item(item, seed=seed, block=block, correlation=correlation)
    drawn /= task.crew
    return drawn


def _add_events(
    tasks: Sequence[Task],
    links: Mapping[Step, tuple[StepLink, ...]],
    site_risks: Sequence[SiteRiskRow],
    durations: "dict[Step, NDArray[np.float64]]",
    *,
    seed: int,
    block: Block,
) -> "dict[Step, NDArray[np.float64]]":
    """Lengthen the steps that site risks strike; give the elapsed hours that follow each struck step."""
    import numpy as np

    by_step = {task.step: task for task in tasks}
    last = next((step for step in reversed(tuple(links)) if by_step[step].trade == OWN), next(reversed(tuple(links)), None))
    delays: dict[Step, NDArray[np.float64]] = {}
    for risk in site_risks:
        step = risk.step if risk.step in by_step else last
        if step is None:
            continue
        where, normals = draw_event(risk, seed=seed, block=block)
        durations[step][where] += PointTable(risk.hours_low, risk.hours_likely, risk.hours_high).read(normals) / by_step[step].crew
        if risk.delay_days:
            delays.setdefault(step, np.zeros(block.size))[where] += 24 * risk.delay_days
    return delays


def _find_ends(
    clock: TrialClock,
    links: Mapping[Step, tuple[StepLink, ...]],
    earliest: Mapping[Step, float],
    durations: "Mapping[Step, NDArray[np.float64]]",
    waits: "Mapping[str, NDArray[np.float64]]",
    delays: "Mapping[Step, NDArray[np.float64]]",
) -> "list[NDArray[np.float64]]":
    """End of each step in every trial, in hours since midnight of the clock's first day."""
    import numpy as np

    def wait(end: "NDArray[np.float64]", link: StepLink) -> "NDArray[np.float64]":
        lag = waits.get(link.lead, link.lag)
        if not link.lead and not link.lag:
            return end
        return end + lag if link.clock == "elapsed" else clock.add_working_hours(end, lag)

    def work(step: Step, ready: "NDArray[np.float64]") -> "NDArray[np.float64]":
        end = clock.add_working_hours(ready, durations[step]) if durations[step].max() > 0 else clock.attend(ready)
        return end + delays[step] if step in delays else end

    early = pass_forward(links, lambda step: np.full(len(durations[step]), earliest[step]), wait, work, np.maximum)
    return [end for _, end in early.values()]
