"""What moves what: each field of the job, moved alone, against every line and everything else an estimate says."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache, partial
from typing import Any

import pytest
from job_moves import example_paths, field_of, fields_of, others, read_example
from takeoff_jobs import lists, other_jobs, plain_job

from kit.checks.check import check_job
from kit.design.design import Design, design_job
from kit.errors import KitError
from kit.estimating import Estimate, estimate
from kit.job import Job, change_job, fill_assumptions
from kit.records import Line
from kit.takeoff.sheet import ALLOWANCE
from kit.takeoff.takeoff import take_off

Change = tuple[str, Mapping[str, Any]]  # the place that is moved, and all that changes with it

ALLOWANCES_AT_MOST = 5
SHARE = 18  # of the changes of a field that is silent: one in so many is tried in every run, all of them in the long run

# fields that move no line, finding, hour or price, and why that is right
SILENT: Mapping[str, str] = {
    "identity.job_number": "a name on papers",
    "identity.customer": "a name on papers",
    "identity.address": "a name on papers",
    "identity.tax_place": "a name on papers; the rate is in the terms or the company file",
    "identity.measured_by": "a name on papers",
    "identity.note": "words for the crew",
    "counter.holes[].drilled": "counts where the countertop stays; test_drilled_in_place.py tries it there",
    "scope.asbestos.installed_by": "counts where a laboratory found asbestos; test_abatement.py tries it there",
    **dict.fromkeys(
        (f"plumbing.floor_{name}" for name in ("pipe_from_left", "pipe_from_wall", "pipe_top", "pipe_vent", "inlet", "vent")),
        "counts where the drain goes through the floor; test_findings.py, test_floor_drain.py and test_small_bodies.py try it there",
    ),
    "site.start_hour": "for the calendar of the work",
    "cabinet.corner.side": "for the drawing; a corner is as tight on either side",
    "terms.contingency_confidence": "says where the amount came from",
    "terms.contingency_seed": "says where the amount came from",
    "terms.deposit": "asked for on papers; no part of the price",
    "terms.hold": "held back from draws; no part of the price",
    "terms.handling": "counts where hired trades are charged with handling; tested with the price",
    "terms.material_markup": "counts where tax falls on the stated price of material; tested with the price",
    "terms.state_preset": "counts where a preset is named; tested with the price",
    "terms.validity_days": "stands on papers; no part of the price",
    "prices": "names the lists; whoever reads the file picks them",
    "to_measure": "names what is still to be measured; there is no price before",
}


@dataclass
class Sweep:
    """What was found: lines that a field moved, by job, and fields that moved something."""

    lines: dict[str, tuple[Line, ...]] = field(default_factory=dict)
    moved_lines: dict[str, set[str]] = field(default_factory=dict)
    loud_fields: set[str] = field(default_factory=set)
    all_fields: set[str] = field(default_factory=set)
    movers: dict[str, set[str]] = field(default_factory=dict)  # the changes that moved a line in one of the jobs

    def unmoved(self, name: str) -> set[str]:
        """Lines of a job that nothing moved so far and that are no allowance."""
        return {line.id for line in self.lines[name] if line.source != ALLOWANCE} - self.moved_lines[name]

    def is_silent(self, place: str, _typed: Any) -> bool:
        """Whether the field moved nothing so far, whatever the change."""
        return field_of(place) not in self.loud_fields

    def may_move(self, name: str, place: str, typed: Any) -> bool:
        """Whether the same change moved, in another job, a line that nothing moved so far in this one."""
        return any(wording(place, typed) in self.movers.get(line, ()) for line in self.unmoved(name))

    def any_unmoved(self, name: str, _place: str, _typed: Any) -> bool:
        """Whether there is any such line, whatever the change."""
        return bool(self.unmoved(name))


def wording(place: str, typed: Any) -> str:
    """A change by which it is known in every job."""
    return f"{field_of(place)} = {typed}"


def is_measure(typed: Any) -> bool:
    """Whether it is a number with a unit; there are many of these, and what comes and goes hangs on choices."""
    return isinstance(typed, str) and " " in typed and typed[0] in "-0123456789"


def jobs() -> dict[str, Job]:
    """The shipped examples, and a few jobs of the tests so that no field depends on which examples are shipped."""
    return {path.stem: read_example(path) for path in example_paths()} | {"plain": plain_job(), **other_jobs()}


JOBS = tuple(jobs())
SOME = JOBS[::3]  # whose every line is to be moved in every run, those of the others in the long run


TWO_CAUSES = {"old house": {"inspect/inspection-visit/be there", "inspect-final/final-visit/be there"}}
"""Lines that a lowered drain and a new cable each ask for: in a job with both no single field takes them away."""


def count_lines(job: Job) -> tuple[Design, tuple[Line, ...]] | None:
    """Design and lines of a job as typed; None where the lists don't hold what it names."""
    filled, _ = fill_assumptions(job)
    try:
        design = design_job(filled, lists())
        return design, take_off(filled, design, lists())
    except KitError:
        return None


def moved(before: tuple[Line, ...], after: tuple[Line, ...]) -> set[str]:
    """Ids of lines that came, went, or changed what or how much they ask for."""
    left, right = ({line.id: (line.quantity, line.waste, line.pieces) for line in lines} for lines in (before, after))
    return {name for name in left.keys() | right.keys() if left.get(name) != right.get(name)}


def rest(found: Estimate) -> Any:
    """Everything beside the lines that an estimate says: findings, hours, purchases, terms, price."""
    return (
        [(one.id, one.level, one.measured, one.limit, one.basis) for one in found.findings],
        [(task.step, task.hours_low, task.hours_likely, task.hours_high, task.crew, task.wait_h, task.amount) for task in found.tasks],
        [(purchase.id, purchase.packs, purchase.amount) for purchase in found.purchases],
        [(row.id, row.amount) for row in found.build_up],
    )


def speaks(before: Estimate, job: Job, design: Design) -> bool:
    """Whether a job whose lines are the same differs in anything else."""
    filled, _ = fill_assumptions(job)
    try:
        if not set(check_job(filled, design, lists())) <= set(before.findings):  # a shortcut; what is found later is in `rest`
            return True
        return rest(estimate(job, lists())) != rest(before)
    except KitError:  # no price on that day, or terms that leave no price
        return False


def try_change(found: Sweep, name: str, before: Estimate, place: str, changes: Mapping[str, Any]) -> None:
    """One change of one job: which lines it moves, and whether its field moves anything."""
    try:
        other = change_job(before.job_as_read, changes)
    except KitError:  # parts that contradict themselves are refused; that is tested elsewhere
        return
    after = count_lines(other)
    if after is None:
        return
    design, lines = after
    now = moved(found.lines[name], lines)
    found.moved_lines[name] |= now
    if now or (field_of(place) not in found.loud_fields and speaks(before, other, design)):
        found.loud_fields.add(field_of(place))
    for line in now:
        found.movers.setdefault(line, set()).add(wording(place, changes[place]))


def leave_out(changes: list[Change], share: int) -> list[Change]:
    """The changes without those of silent fields, of which one in `share` stays."""
    silent = [place for place, _ in changes if field_of(place) in SILENT]
    staying = iter(range(len(silent)))
    return [change for change in changes if field_of(change[0]) not in SILENT or next(staying) % share == 0]


@cache
def sweep(share: int) -> Sweep:
    """Every field of every job, moved alone to everything else that may stand in it, until it is known to move something and each line to be moved.

    A field that moves nothing is tried with one in `share` of its changes in all jobs. Lines that nothing moved so far are tried first with what
    moved them in another job, then with every change that is left, choices before measures; with a share, only those of some jobs.
    """
    found = Sweep()
    for name, job in jobs().items():
        before, after = estimate(job, lists()), count_lines(job)
        assert after is not None
        found.lines[name], found.moved_lines[name] = after[1], set()
        found.all_fields |= {field_of(place) for place, _, _ in fields_of(job)}
        left = sorted(leave_out(list(others(job, lists())), share), key=lambda change: is_measure(change[1][change[0]]))
        for_lines = (partial(found.may_move, name), partial(found.any_unmoved, name)) if share == 1 or name in SOME else ()
        for asked in (found.is_silent, *for_lines):
            for place, changes in tuple(left):
                if asked(place, changes[place]):
                    try_change(found, name, before, place, changes)
                    left.remove((place, changes))
    return found


@pytest.mark.parametrize(("name", "share"), [(name, SHARE) if name in SOME else pytest.param(name, 1, marks=pytest.mark.long) for name in JOBS])
def test_a_line_that_no_field_moves_is_an_allowance(name, share):
    """What nobody measured says so."""
    found = sweep(share)
    moving = found.moved_lines[name] | TWO_CAUSES.get(name, set())
    fixed = [line.id for line in found.lines[name] if line.id not in moving and line.source != ALLOWANCE]
    assert fixed == [], "these lines are the same whatever the job says: drive them by a field, or call them an allowance"


@pytest.mark.parametrize("name", JOBS)
def test_allowances_are_few(name):
    """At most five lines of a job are guesses."""
    assert len([line.id for line in sweep(SHARE).lines[name] if line.source == ALLOWANCE]) <= ALLOWANCES_AT_MOST


@pytest.mark.parametrize("share", [SHARE, pytest.param(1, marks=pytest.mark.long)])
def test_every_field_moves_something_or_says_why_not(share):
    """A field that moves no line, finding, hour or price in any job is in the list above, with its reason, and no other is."""
    found = sweep(share)
    silent = found.all_fields - found.loud_fields
    assert silent - set(SILENT) == set(), "these fields move nothing: use them, or say above why they are silent"
    assert set(SILENT) & found.loud_fields == set(), "these fields move something now: take them off the list above"


def test_moves_reach_both_sides_and_every_option():
    """The sweep itself is wide enough: more and less of every measure, each option of every choice."""
    path = example_paths()[0]
    job = read_example(path)
    tried: dict[str, list[Any]] = {}
    for place, changes in others(job, lists()):
        tried.setdefault(place, []).append(changes[place])
    for place, rule, value in fields_of(job):
        if rule.kind == "choice" or (rule.kind == "text" and rule.common):
            assert {*rule.options, *rule.common} - {value} <= set(tried[place]), place
        elif rule.kind == "flag":
            assert tried[place], place
        elif rule.kind in {"length", "weight", "distance", "time", "count"} and value is not None:
            numbers = [rule.read(typed) for typed in tried[place] if typed not in {None, "unknown"}]
            assert value == rule.high or max(numbers) > value, place
            assert value == rule.low or min(numbers) < value, place
