"""An assumption is listed where it can move something; what is not listed moves nothing, whatever is typed in its place."""

from collections.abc import Iterable, Iterator
from contextlib import suppress
from itertools import zip_longest

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

NOT_TYPED = object()
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


def unlisted(job: Job, before: Estimate) -> Iterator[tuple[str, object]]:
    """Each field of a job that no rule lists, with each other value that the job takes there."""
    for field in fields_of(Job, job_document(before.job)):
        rule = field.holds
        if not isinstance(rule, Rule) or not (rule.assume or rule.like) or field_matters(field.place, before.job, before.design):
            continue
        for typed in other_values(rule, field.table.get(field.key)):
            with suppress(KitError):  # contradicts another field
                change_job(job, {field.place: typed})
                yield field.place, typed


def turns(values: Iterable[tuple[str, object]]) -> list[dict[str, object]]:
    """The values shared out so that each of them is typed in one turn, and as many fields as can be in each."""
    by_place: dict[str, list[object]] = {}
    for place, typed in values:
        by_place.setdefault(place, []).append(typed)
    shared = zip_longest(*by_place.values(), fillvalue=NOT_TYPED)
    return [{place: typed for place, typed in zip(by_place, turn, strict=True) if typed is not NOT_TYPED} for turn in shared]


def what_moves(job: Job, lists_used: Lists, first: tuple[object, ...], changes: dict[str, object]) -> list[str]:
    """The fields of a turn that move something: all are typed at once, and each alone only where that moves something or is refused."""

    def is_still(typed: dict[str, object]) -> bool:
        return what_came_out(estimate(change_job(job, typed), lists_used, exact=False)) == first

    with suppress(KitError):  # each is taken alone, and two contradict each other
        if is_still(changes):
            return []
    return [f"{place}: {typed}" for place, typed in changes.items() if not is_still({place: typed})]


def assert_nothing_moves(job: Job, lists_used: Lists) -> set[str]:
    """And the fields that were tried."""
    before = estimate(job, lists_used, exact=False)
    first, tried = what_came_out(before), turns(unlisted(job, before))
    assert [moved for changes in tried for moved in what_moves(job, lists_used, first, changes)] == []
    return {place for changes in tried for place in changes}


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
