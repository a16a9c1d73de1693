"""Would learning have helped? Each finished job is predicted from those that had ended before it was offered, and held against what it took."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from kit.learning.belief import Belief
from kit.learning.job_rows import JobRow
from kit.learning.learn import Learning, believe, prior_of
from kit.learning.observations import Observation, Subject, SubjectKind, observe_jobs
from kit.lists.company import Company

__all__ = ["BackTest", "Score", "back_test"]

_GROUPS: tuple[tuple[SubjectKind, str], ...] = (("hours", "Hours of a step"), ("waste", "Quantity used of an item"), ("days", "Days of a wait"))


@dataclass(frozen=True, slots=True)
class Score:
    """How predictions came out: mean error (above 0 too much), mean absolute error, which is never less, share of 90 % intervals that held."""

    bias: float
    mean_error: float
    coverage: float


@dataclass(frozen=True, slots=True)
class BackTest:
    """One kind of figure, how many predictions of it, as listed (`before`) and learned (`after`). Errors are shares of what it took."""

    name: str
    predictions: int
    before: Score
    after: Score


@dataclass(frozen=True, slots=True)
class _Prediction:
    actual: float
    before: Belief
    after: Belief


def back_test(learning: Learning) -> tuple[BackTest, ...]:
    """Hours and cost of whole jobs, then hours by step, quantities and waits: predicted by the lists alone, and with what was learned by then.

    A job is predicted only where as many jobs had ended before its offer as the company asks for. Nothing is known of it but what was promised; lists
    and prior are those in use, learned figures start from them again.
    """
    company = learning.lists.company
    jobs = {job.number: job for job in learning.jobs if job.stage == "finished"}
    by_subject = observe_jobs(learning.jobs, learning.lists)
    series: list[tuple[str, SubjectKind, list[Sequence[Observation]]]] = [
        ("Hours of a whole job", "hours", [_whole_hours(by_subject, jobs)]),
        ("Direct cost of a whole job", "hours", [_whole_cost(jobs)]),
        *((name, kind, list(_of_kind(by_subject, kind))) for kind, name in _GROUPS),
    ]
    tests = []
    for name, kind, groups in series:
        predictions = [one for seen in groups for one in _predict(seen, jobs, prior_of(company, kind), company)]
        if predictions:
            tests.append(BackTest(name, len(predictions), _score(predictions, learned=False), _score(predictions, learned=True)))
    return tuple(tests)


def _of_kind(by_subject: Mapping[Subject, Sequence[Observation]], kind: SubjectKind) -> Iterator[Sequence[Observation]]:
    yield from (seen for subject, seen in by_subject.items() if subject.kind == kind)


def _predict(seen: Sequence[Observation], jobs: Mapping[str, JobRow], prior: Belief, company: Company) -> list[_Prediction]:
    predictions = []
    for one in seen:
        earlier = [other for other in seen if other.ended < jobs[one.job].offered]
        if len(earlier) >= company.learn_from_jobs:
            predictions.append(_Prediction(one.value, prior, believe(prior, earlier, company.outlier_chance)[0]))
    return predictions


def _score(predictions: Sequence[_Prediction], *, learned: bool) -> Score:
    beliefs = [one.after if learned else one.before for one in predictions]
    away = [belief.mean - one.actual for belief, one in zip(beliefs, predictions, strict=True)]
    held = [one.actual in belief.interval("next job") for belief, one in zip(beliefs, predictions, strict=True)]
    errors, count = [math.expm1(one) for one in away], len(predictions)
    return Score(math.fsum(errors) / count, math.fsum(map(abs, errors)) / count, sum(held) / count)


def _whole_hours(by_subject: Mapping[Subject, Sequence[Observation]], jobs: Mapping[str, JobRow]) -> list[Observation]:
    """Hours of all steps of a job that have hours on both sides, as one figure."""
    parts: dict[str, list[Observation]] = {number: [] for number in jobs}
    for subject, seen in by_subject.items():
        if subject.kind == "hours":
            for one in seen:
                parts[one.job].append(one)
    sums = [(own[0], math.fsum(one.expected for one in own), math.fsum(one.actual for one in own)) for own in parts.values() if own]
    return sorted((Observation(first.job, first.ended, expected, actual) for first, expected, actual in sums), key=lambda one: (one.ended, one.job))


def _whole_cost(jobs: Mapping[str, JobRow]) -> list[Observation]:
    costs = [(job, float(job.cost_promised), float(job.cost_real)) for job in jobs.values()]
    observations = [Observation(job.number, job.ended, promised, real) for job, promised, real in costs if job.ended and promised > 0 and real > 0]
    return sorted(observations, key=lambda one: (one.ended, one.job))
