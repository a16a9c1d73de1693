"""Mounts side by side: what the lists allow, why, and figures that are the estimate's own."""

from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from types import MappingProxyType

import pytest

from kit import Lists, estimate, read_job, shipped
from kit.compare import compare_mounts
from kit.job import change_job
from kit.records import Level

EXAMPLE = shipped("examples") / "stone_apron_single_bowl.toml"


def test_each_allowed_mount_is_the_estimate_of_the_job_so_mounted(example: Path, lists: Lists) -> None:
    """Same scope, counter and sizes; only the mount differs."""
    job = read_job(example)
    found = compare_mounts(job, lists)
    assert [one.mount for one in found] == ["top", "flush", "under"]
    for one in found:
        assert one.reason
        assert one.source
        assert (one.estimate is None) == (one.level is Level.STOP)
        if one.estimate is not None:
            assert one.estimate == estimate(change_job(job, {"sink.mount": one.mount}), lists)


def test_the_kind_of_sink_rules_before_the_material(lists: Lists) -> None:
    """The example's kind is not made for a top mount, although stone takes one."""
    top = compare_mounts(read_job(EXAMPLE), lists)[0]
    assert (top.level, top.source, top.estimate) == (Level.STOP, "sinks.csv", None)
    assert top.reason == "this kind of sink is made for flush or under mount only"


def test_a_sink_of_no_known_kind_is_ruled_by_the_material_alone(lists: Lists) -> None:
    """A sink that the customer brings."""
    job = change_job(read_job(EXAMPLE), {"sink.item": "their-own", "scope.sink.supplied_by": "customer"})
    found = compare_mounts(job, lists)
    assert [one.reason for one in found] == [lists.mounts[one.mount, "stone"].reason for one in found]


def test_a_pair_that_the_list_does_not_have_is_unknown_and_priced(lists: Lists) -> None:
    """Nothing is ruled out that nobody ruled on, and it is said."""
    fewer = replace(lists, mounts=MappingProxyType({key: row for key, row in lists.mounts.items() if key != ("flush", "stone")}))
    flush = compare_mounts(read_job(EXAMPLE), fewer)[1]
    assert (flush.level, flush.source) == (Level.UNKNOWN, "mounts.csv")
    assert flush.reason == "mounts.csv says nothing of flush mount in stone"
    assert flush.estimate is not None


def test_gross_per_crew_day_by_hand(lists: Lists) -> None:
    """Price less cost over the crew's days on the job."""
    under = compare_mounts(read_job(EXAMPLE), lists)[2]
    found = under.estimate
    assert found is not None
    hand_days = sum(task.hours_likely / task.crew for task in found.tasks) / 8.0
    assert under.crew_days == pytest.approx(hand_days)
    assert float(under.gross_per_crew_day or 0) == pytest.approx(float(found.price - found.cost) / hand_days, abs=0.01)
    assert under.gross_per_crew_day == round(under.gross_per_crew_day or Decimal(0), 2)
    nothing = replace(under, estimate=None)
    assert (nothing.crew_days, nothing.gross_per_crew_day) == (None, None)
