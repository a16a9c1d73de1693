"""Every field of every part: its help, its range, and what is taken when nobody could measure it."""

import datetime as dt
import math
from collections.abc import Iterator
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from job_records import parts

from kit import read_job, shipped
from kit.errors import JobError
from kit.job import Job, change_job, fill_assumptions, job_document, parse_job
from kit.job.fields import Record, Rule
from kit.job.file import format_value, record_at

EXAMPLE = shipped("examples") / "stone_apron_single_bowl.toml"


RULES = [(f"{record.__name__}.{record.key(name)}", rule) for record in parts(Job, set()) for name, rule in record.rules.items()]
RANGED = [(place, rule) for place, rule in RULES if rule.low is not None]


def typed(rule: Rule, value: float) -> Any:
    """A value as a person types it."""
    if rule.kind == "count":
        return int(value)
    return f"{value:.2f} USD" if rule.kind == "money" else format_value(rule, value)


def test_there_are_fields() -> None:
    """The tables below are not empty."""
    assert len(RULES) > 100
    assert {rule.kind for _, rule in RULES} == {"length", "weight", "time", "distance", "share", "money", "count", "choice", "flag", "text", "day"}


@pytest.mark.parametrize(("place", "rule"), RULES, ids=[place for place, _ in RULES])
def test_every_field_has_help_and_a_reason_for_what_it_assumes(place: str, rule: Rule) -> None:
    """Help for people; a why beside every value that is taken unmeasured; a range for every number."""
    assert len(rule.help) > 5
    assert not rule.help.endswith(".")
    assert bool(rule.why) == (rule.assume is not None or rule.like is not None)
    assert (rule.low is not None) == (rule.kind in {"length", "weight", "time", "distance", "share", "money", "count"})
    assert bool(rule.options) == (rule.kind == "choice")


@pytest.mark.parametrize(("place", "rule"), RANGED, ids=[place for place, _ in RANGED])
def test_both_ends_of_a_range_are_taken_and_what_lies_just_outside_is_refused(place: str, rule: Rule) -> None:
    """The limit itself, and a step beyond it; zero below nothing."""
    assert rule.low is not None
    assert rule.high is not None
    assert rule.low < rule.high
    step = 1 if rule.kind == "count" else 0.01
    for end in (rule.low, rule.high):
        assert float(rule.read(typed(rule, end))) == pytest.approx(end)
    with pytest.raises(ValueError, match="is outside the range"):
        rule.read(typed(rule, rule.high + step))
    below = typed(rule, rule.low - step)
    with pytest.raises(ValueError, match=r"is outside the range|is negative|has a sign"):
        rule.read(below)


@pytest.mark.parametrize(("place", "rule"), RULES, ids=[place for place, _ in RULES])
def test_what_is_assumed_is_what_a_person_could_type(place: str, rule: Rule) -> None:
    """The value taken unmeasured lies within the field's own range."""
    if rule.assume is None:
        return
    value = {"true": True, "false": False}.get(rule.assume, rule.assume) if rule.kind == "flag" else rule.assume
    assert rule.read(int(value) if rule.kind == "count" else value) is not None


@pytest.mark.parametrize(("place", "rule"), RULES, ids=[place for place, _ in RULES])
def test_wrong_kinds_are_refused(place: str, rule: Rule) -> None:
    """A list, a table and a truth where they don't belong, and a bare number where a unit is wanted."""
    for wrong in ([], {}, ["36 in"]):
        with pytest.raises(ValueError, match=r"a list|a dict|is not one of"):
            rule.read(wrong)
    if rule.kind in {"length", "weight", "time", "distance", "share", "money"}:
        for bare in (36, 0.5, math.nan, "36", "0.5"):
            with pytest.raises(ValueError, match=r"has no unit|has no currency"):
                rule.read(bare)
        for wrong in ("nan in", "inf in", "1e400 in", "about 3 in", "", " ", "in", "12 apples"):
            with pytest.raises(ValueError, match='"'):
                rule.read(wrong)
    if rule.kind != "flag":
        with pytest.raises(ValueError, match="True"):
            rule.read(True)


def test_words_of_a_field(tmp_path: Any) -> None:
    """Each kind's own sentence."""
    job = read_job(EXAMPLE)
    for place, value, wanted in (
        ("site.occupied", "yes", '"yes" is neither true nor false'),
        ("site.year_built", 1994.5, '"1994.5" is not a whole number'),
        ("site.code_family", "mine", '"mine" is not one of: irc, ipc, upc'),
        ("identity.visit_date", "1999-12-31", "1999-12-31 is outside the years 2000 to 2100. Check the year."),
        ("terms.signed_on", "2101-01-01", "2101-01-01 is outside the years 2000 to 2100. Check the year."),
        ("identity.visit_date", "2026-02-30", '"2026-02-30" is not a date. Give it as 2026-11-25'),
        ("identity.visit_date", dt.datetime(2026, 2, 3, 4, 5, tzinfo=dt.UTC), "is not a date|a datetime"),
        ("identity.customer", "a\x1b[31m", "has a control character in it"),
        ("terms.profit", "95 %", '"95 %" is outside the range 0 to 90 %'),
        ("site.carry", "501 ft", '"501 ft" is outside the range 0 to 500 ft'),
        ("sink.weight", "401 lb", '"401 lb" is outside the range 5 to 400 lb'),
    ):
        with pytest.raises(JobError, match=wanted):
            change_job(job, {place: value})


# --- what nobody could measure ---


def places(record: Record, way: str = "") -> Iterator[tuple[str, Rule]]:
    """Every field that the example has, by its place."""
    for name in type(record).model_fields:
        key, value = f"{way}.{record.key(name)}".lstrip("."), getattr(record, name)
        if name in type(record).rules:
            yield key, type(record).rules[name]
        elif isinstance(value, Record):
            yield from places(value, key)
        elif isinstance(value, tuple):
            for number, part in enumerate(value, 1):
                yield from places(part, f"{key}[{number}]")


PLACES = list(places(read_job(EXAMPLE)))


@pytest.mark.parametrize(("place", "rule"), PLACES, ids=[place for place, _ in PLACES])
def test_unknown_is_assumed_and_flagged_or_refused(place: str, rule: Rule) -> None:
    """Said unknown or left out: taken with a flag where the rule says so, left open, or refused - never silent."""
    job = read_job(EXAMPLE)
    if not rule.may_be_unknown:
        with pytest.raises(JobError, match='"unknown" is not accepted here'):
            change_job(job, {place: "unknown"})
        return
    said, left_out = change_job(job, {place: "unknown"}), change_job(job, {place: None})
    assert said == left_out
    filled, assumed = fill_assumptions(said)
    found = [one for one in assumed if one.field == place]
    if rule.assume is None and rule.like is None:
        assert found == []
        return
    assert len(found) == 1
    assert found[0].id == f"assume/{place}"
    assert found[0].why == rule.why
    assert found[0].source
    if rule.assume is not None:
        assert found[0].value == rule.assume
        document: Any = job_document(filled)
        for part in place.replace("]", "").replace("[", ".").split("."):
            document = document[int(part) - 1] if isinstance(document, list) else document[part]
        shown = {"flag": str(document).lower(), "count": str(document)}.get(rule.kind, document)
        assert rule.read(document) == rule.read({"true": True, "false": False}.get(rule.assume, rule.assume) if rule.kind == "flag" else document)
        assert shown == rule.assume or rule.kind in {"length", "weight", "time", "distance"}


def test_a_filled_job_has_nothing_left_to_assume() -> None:
    """Filling twice finds nothing new."""
    filled, assumed = fill_assumptions(change_job(read_job(EXAMPLE), {"cabinet.height": "unknown"}))
    assert "cabinet.height" in {one.field for one in assumed}
    again, more = fill_assumptions(filled)
    assert (again, more) == (filled, ())


def test_the_record_of_a_place_is_found() -> None:
    """Used by the error report and the screens."""
    found = record_at(("cabinet", "left"))
    assert found is not None
    assert found.__name__ == "Neighbor"
    assert record_at(("counter", "runs", 0)) is not None
    assert record_at(("roof",)) is None


# --- there and back, for any value ---

CASES = {kind: next(rule for _, rule in RULES if rule.kind == kind and (rule.low or 0) >= 0) for kind in ("length", "weight", "time", "distance", "share")}


@pytest.mark.parametrize("kind", list(CASES))
@given(part=st.floats(0.0, 1.0))
def test_a_value_is_written_and_read_back_the_same(kind: str, part: float) -> None:
    """Any value within the range, however it came about: what is written reads back to the same float."""
    rule = CASES[kind]
    value = rule.low + part * (rule.high - rule.low)
    if kind == "distance":
        value = round(value, 9)
    assert rule.read(format_value(rule, value)) == value


@given(metres=st.integers(1, 9_000))
def test_a_walk_in_metric_is_read_back_the_same(metres: int) -> None:
    """Typed in metres, kept in feet, written in feet."""
    job = change_job(read_job(EXAMPLE), {"site.carry": f"{metres / 100} m"})
    assert parse_job(job_document(job)) == job


def test_money_is_written_with_its_currency() -> None:
    """To the cent."""
    rule = next(rule for _, rule in RULES if rule.kind == "money")
    assert rule.read(format_value(rule, Decimal("1234.50"))) == Decimal("1234.50")
