"""An assumption is listed where it can move something; what is not listed moves nothing, whatever is typed in its place."""

from collections.abc import Iterator

import pytest
from random_jobs import fields_of, random_job, random_lists
from work_jobs import STEMS, example, lists

from kit.checks.overlaps import check_overlaps
from kit.design.what_matters import _BY_FIELD, field_matters
from kit.errors import KitError
from kit.estimating import Estimate, estimate
from kit.job import Job, change_job, job_document
from kit.job.fields import Rule
from kit.lists import Lists

UNITS = {"length": "in", "weight": "lb", "time": "h", "distance": "ft"}


def what_came_out(found: Estimate) -> tuple[object, ...]:
    """Findings, overlaps, lines, purchases, hours, trips and the price."""
    parts = (found.lines, found.purchases, found.tasks, found.hired, found.trips, found.build_up, found.price)
    return (found.findings, check_overlaps(found.design, found.assumptions), *parts)


def other_values(rule: Rule, now: object) -> list[object]:
    """What else could be typed: every other word, or three sizes of the range."""
    if rule.kind == "flag":
        return [not now]
    if rule.options:
        return [option for option in rule.options if option != now]
    assert rule.low is not None
    assert rule.high is not None
    if rule.kind == "count":
        return [int(rule.low), int(rule.high)]
    return [f"{rule.low + (rule.high - rule.low) * share:.3f} {UNITS[rule.kind]}" for share in (0.03, 0.3, 0.9)]


def unlisted(job: Job, lists_used: Lists, before: Estimate) -> Iterator[tuple[str, Estimate]]:
    """Each field of a job that no rule lists, with the estimate after another value is typed."""
    for field in fields_of(Job, job_document(before.job)):
        rule = field.holds
        if not isinstance(rule, Rule) or not (rule.assume or rule.like) or field_matters(field.place, before.job, before.design):
            continue
        for typed in other_values(rule, field.table.get(field.key)):
            try:
                changed = change_job(job, {field.place: typed})
            except KitError:  # contradicts another field
                continue
            yield field.place, estimate(changed, lists_used, exact=False)


def assert_nothing_moves(job: Job, lists_used: Lists) -> set[str]:
    tried, before = set(), estimate(job, lists_used, exact=False)
    first = what_came_out(before)
    for place, after in unlisted(job, lists_used, before):
        assert what_came_out(after) == first, place
        tried.add(place)
    return tried


@pytest.mark.parametrize("stem", STEMS)
def test_what_is_not_listed_moves_nothing(stem):
    """For the shipped examples."""
    assert_nothing_moves(example(stem), lists())


@pytest.mark.long
def test_what_is_not_listed_moves_nothing_in_random_jobs():
    """For 150 random jobs; every rule is met."""
    tried = {place for seed in range(150) for place in assert_nothing_moves(random_job(seed), random_lists(seed))}
    assert tried >= set(_BY_FIELD)


@pytest.mark.parametrize(
    ("field", "unlisted_if", "listed_if"),
    [
        ("plumbing.disposer_weight", {"plumbing.disposer": "none"}, {"plumbing.disposer": "keep"}),
        ("counter.splash_height", {"counter.splash": "none"}, {"counter.splash": "same"}),
        ("plumbing.clean_stub", {"plumbing.stops_to_renew": 0}, {"plumbing.stops_to_renew": 2}),
    ],
)
def test_listed_only_where_it_says_something(field, unlisted_if, listed_if):
    """Left out of the job, a field is among the assumptions only where the job asks for it."""
    for changes, listed in ((unlisted_if, False), (listed_if, True)):
        found = estimate(change_job(example("stone_apron_single_bowl"), {field: "unknown"} | changes), lists(), exact=False)
        assert (field in {assumed.field for assumed in found.assumptions}) is listed
        assert getattr(found.job, field.partition(".")[0]) is not None


def test_rules_name_fields_that_can_be_assumed():
    """A field that was renamed would lose its rule."""
    fields = {field.place for stem in STEMS for field in fields_of(Job, job_document(example(stem))) if isinstance(field.holds, Rule)}
    known = {field.place for seed in range(30) for field in fields_of(Job, job_document(random_job(seed))) if isinstance(field.holds, Rule)} | fields
    assert known >= set(_BY_FIELD)
