"""What do the finished jobs of a folder teach about the lists in use, and how sure is it? Proposals only: a person decides."""

import datetime as dt
import math
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from kit.job.prices import are_of_the_kit
from kit.learning.belief import Belief, Interval, Of, update_belief
from kit.learning.decisions import Decision, read_decisions
from kit.learning.job_rows import JobRow, list_jobs
from kit.learning.list_cells import CellChange, changes_of, stands_in
from kit.learning.observations import Observation, Subject, SubjectKind, observe_jobs
from kit.learning.outliers import find_outliers
from kit.lists import Lists
from kit.lists.company import Company

__all__ = ["Flagged", "Learning", "Lesson", "MovedRate", "Status", "believe", "learn_from_jobs", "prior_of", "teaching_jobs"]

Status = Literal["proposed", "not clear", "as listed", "too few jobs", "refused"]
_ORDER: tuple[Status, ...] = ("proposed", "refused", "not clear", "as listed", "too few jobs")


@dataclass(frozen=True, slots=True)
class Flagged:
    """A job that stands out by Grubbs's test and is left out: its G, and the limit that it passes."""

    observation: Observation
    distance: float
    limit: float


@dataclass(frozen=True, slots=True)
class MovedRate:
    """A kind of work whose hours a lesson moves: row of rates.csv, name, its share of the hours of the jobs that count, how many of them had it."""

    driver: str
    name: str
    share: float
    jobs: int


@dataclass(frozen=True, slots=True)
class Lesson:
    """What finished jobs say of one subject.

    `used` are the jobs that count now, `earlier` those that taught the figure in the lists already; `flagged` ones are left out until a person takes
    them in. `prior` and `belief` are of the logarithm of what it took over what the lists say; `listed` is the lists' own figure: 1 for hours (the
    rates as they are), the share of waste, likely days. It is `proposed` where that figure lies outside the 90 % interval of the rate, `not clear` where
    it lies within: then a person can take it over, too. `changes` are the cells that taking it over would move; `refused` is the refusal that stands.
    Of hours, `moves` are the rates that would move, all by the same ratio; `stays` names the kinds of work of the step that would not: no job of these had it.
    """

    subject: Subject
    status: Status
    listed: float
    used: tuple[Observation, ...]
    earlier: tuple[str, ...]
    flagged: tuple[Flagged, ...]
    prior: Belief
    belief: Belief
    changes: tuple[CellChange, ...]
    refused: Decision | None = None
    moves: tuple[MovedRate, ...] = ()
    stays: tuple[str, ...] = ()

    @property
    def jobs(self) -> int:
        """How many jobs it rests on."""
        return len({*self.earlier, *(one.job for one in self.used)})

    @property
    def ratio(self) -> float:
        """What it takes for each unit that the lists say: middle of the belief, as many jobs above as below."""
        return math.exp(self.belief.mean)

    @property
    def ratio_of_jobs(self) -> float | None:
        """What the jobs that count now took for each unit that the lists say, the lists left aside: their geometric mean; None where none counts."""
        return math.exp(math.fsum(one.value for one in self.used) / len(self.used)) if self.used else None

    @property
    def spread(self) -> float:
        """The factor by which single jobs usually lie above or below that."""
        return math.exp(self.belief.spread)

    def interval(self, of: Of) -> Interval:
        """The 90 % interval of the ratio: of the rate itself, or of what the next job takes."""
        factors = self.belief.interval(of)
        return Interval(math.exp(factors.low), math.exp(factors.high), of)

    def figure(self, ratio: float) -> float:
        """A ratio as the figure that would stand in the lists: times the rates, share of waste, days."""
        whole = 0 if self.subject.kind == "hours" else 1
        return (self.listed + whole) * ratio - whole

    @property
    def open(self) -> bool:
        """Whether a person can accept or refuse it now."""
        return self.status in {"proposed", "not clear"}


@dataclass(frozen=True, slots=True)
class Learning:
    """What a folder's jobs teach on a day: `lessons` with the clearest first; whether they are an `invented` demonstration; what is to be said first.

    `decided` counts the decisions that were known.
    """

    folder: Path
    day: dt.date
    lists: Lists
    jobs: tuple[JobRow, ...]
    invented: bool
    lessons: tuple[Lesson, ...]
    notes: tuple[str, ...]
    decided: int = 0

    @property
    def finished(self) -> int:
        """How many finished jobs are among those that count."""
        return sum(job.stage == "finished" for job in self.jobs)


def learn_from_jobs(folder: Path, lists: Lists, day: dt.date) -> Learning:
    """What the finished jobs of a folder teach about lists.

    Parameters
    ----------
    folder
        Where issued estimates and the ledger lie.
    lists
        The lists in use. Their company file says how many jobs the lists' own figures weigh, from how many jobs on something is proposed, how far
        single jobs usually scatter, and how strict the test of outliers is.
    day
        What was known at the end of this day.

    Raises
    ------
    LedgerError
        If the ledger can't be read.

    Notes
    -----
    Invented jobs teach only the kit's own invented lists, and only in a folder that has no other jobs.
    """
    job_list, known = list_jobs(folder, day), read_decisions(folder)
    jobs, invented, notes = teaching_jobs(job_list.rows, lists)
    decisions = [decision for decision in known if decision.invented == invented]
    taken_in = {job for decision in decisions if decision.kind == "took-in" for job in decision.jobs}
    lessons = [_lesson(subject, seen, lists, decisions, taken_in) for subject, seen in observe_jobs(jobs, lists).items()]
    ranked = sorted(lessons, key=lambda lesson: (_ORDER.index(lesson.status), -abs(lesson.belief.mean), lesson.subject.id))
    return Learning(folder, day, lists, jobs, invented, tuple(ranked), (*notes, *job_list.unreadable), len(known))


def teaching_jobs(rows: Sequence[JobRow], lists: Lists) -> tuple[tuple[JobRow, ...], bool, tuple[str, ...]]:
    """The jobs that may teach these lists, whether they are invented, and what is to be said about those left out."""
    real, invented = tuple(row for row in rows if not row.invented), tuple(row for row in rows if row.invented)
    if not invented:
        return real, False, ()
    if not real and are_of_the_kit(lists):
        return invented, True, (f"All {len(invented)} jobs of this folder are invented: a demonstration. Nothing here says anything about your own work.",)
    return real, False, (f"{len(invented)} invented jobs of a demonstration are left out: they teach no lists of yours.",)


def prior_of(company: Company, kind: SubjectKind) -> Belief:
    """The lists' own figure, as if so many jobs as the company says had come out at it with the usual spread of its kind."""
    spreads = {"hours": company.learn_spread_hours, "waste": company.learn_spread_waste, "days": company.learn_spread_days}
    return Belief(0.0, company.learn_prior_jobs, company.learn_prior_jobs, math.log1p(spreads[kind]) ** 2)


def believe(
    prior: Belief, seen: Sequence[Observation], chance: float, *, taken_in: Collection[str] = (), earlier: Collection[str] = ()
) -> tuple[Belief, tuple[Observation, ...], tuple[Flagged, ...]]:
    """The belief after some jobs, those that count, and those that stand out at this chance and are left out unless a person took them in.

    What `earlier` jobs said is in the prior already: they only stand beside the others in the test of outliers.
    """
    known = {*taken_in, *earlier}
    outliers = {one.place: one for one in find_outliers([observation.value for observation in seen], chance) if seen[one.place].job not in known}
    used = tuple(observation for place, observation in enumerate(seen) if place not in outliers and observation.job not in earlier)
    flagged = tuple(Flagged(seen[place], one.distance, one.limit) for place, one in outliers.items())
    return update_belief(prior, [observation.value for observation in used]), used, flagged


def _lesson(subject: Subject, seen: Sequence[Observation], lists: Lists, decisions: Sequence[Decision], taken_in: Collection[str]) -> Lesson:
    company = lists.company
    own = [decision for decision in decisions if decision.subject == subject.id or f"{decision.subject}/".startswith(f"{subject.step}/")]
    prior, earlier = _known_before(subject, [one for one in reversed(own) if one.kind == "accepted"], lists)
    belief, used, flagged = believe(prior, seen, company.outlier_chance, taken_in=taken_in, earlier=earlier)
    jobs = {*earlier, *(one.job for one in used)}
    refused = next((one for one in reversed(own) if one.kind == "refused" and jobs <= {*one.jobs}), None)
    changes = changes_of(subject, math.exp(belief.mean), lists)
    status: Status = "not clear" if 0.0 in belief.interval("rate") else "proposed"
    if len(jobs) < company.learn_from_jobs:
        status = "too few jobs"
    elif not changes or not used:
        status = "as listed"
    elif refused is not None:
        status = "refused"
    moves, stays = _moved_rates(subject, used, lists)
    return Lesson(subject, status, _listed(subject, lists), used, earlier, flagged, prior, belief, changes, refused, moves, stays)


def _known_before(subject: Subject, accepted: Sequence[Decision], lists: Lists) -> tuple[Belief, tuple[str, ...]]:
    """What accepted decisions, the newest first, say of a subject while their cells stand in the lists, and the jobs that taught it: they don't teach again.

    Kinds of work that were learned apart and meet since have several such decisions: the one that rests on the fewest jobs is believed, and where
    a rate of the subject has none, the lists' own figure.
    """
    open_rates = {*subject.rates}
    standing: list[Decision] = []
    for one in accepted:
        cells = [cell for cell in one.cells if cell.key in open_rates] if subject.rates else list(one.cells)
        if cells and all(stands_in(lists, cell) for cell in cells) and (open_rates or one.subject == subject.id):
            standing.append(one)
            open_rates -= {cell.key for cell in cells}
        if standing and not open_rates:
            break
    jobs = tuple(dict.fromkeys(job for one in standing for job in one.jobs))
    if not standing or open_rates:
        return prior_of(lists.company, subject.kind), jobs
    least = min(standing, key=lambda one: one.weight)
    return Belief(least.mean, least.weight, least.freedom, least.variance), jobs


def _moved_rates(subject: Subject, used: Sequence[Observation], lists: Lists) -> tuple[tuple[MovedRate, ...], tuple[str, ...]]:
    """The rates that a lesson of hours moves, those with most of the hours first, and the names of the step's other kinds of work."""
    hours = {driver: [h for one in used for kind, h in one.work if kind == driver] for driver in subject.rates}
    whole = math.fsum(h for own in hours.values() for h in own)
    jobs = {driver: sum(driver in dict(one.work) for one in used) for driver in hours}
    moves = [MovedRate(driver, lists.rates[driver].name, math.fsum(own) / whole if whole else 0.0, jobs[driver]) for driver, own in hours.items()]
    stays = [
        rate.name
        for driver, rate in lists.rates.items()
        if subject.rates and f"hours/{rate.step}" == subject.step and driver not in hours and not rate.is_policy
    ]
    return tuple(sorted(moves, key=lambda one: -one.share)), tuple(stays)


def _listed(subject: Subject, lists: Lists) -> float:
    if subject.kind == "waste":
        return lists.items[subject.row].waste
    return lists.lead_times[subject.row].likely_days if subject.kind == "days" else 1.0
