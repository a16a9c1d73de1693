"""Numbers that can't be a measure are refused together."""

import math

import pytest

from kit.design.require import require
from kit.errors import JobError


def test_sound_numbers_pass():
    """At the limits nothing is raised."""
    require(positive={"a": 1e-9}, not_negative={"b": 0.0}, within={"c": (1.0, 1.0, 2.0), "d": (2.0, 1.0, 2.0)})
    require()


@pytest.mark.parametrize("wrong", [0.0, -1.0, math.nan, math.inf, -math.inf])
def test_what_is_not_positive(wrong):
    """Zero, negative, not a number and infinite are no positive measures."""
    with pytest.raises(JobError, match=rf"a: {wrong:g} was given; give a number, more than 0\."):
        require(positive={"a": wrong})


@pytest.mark.parametrize("wrong", [-1e-9, math.nan, math.inf])
def test_what_is_negative(wrong):
    """Below zero, not a number, infinite."""
    with pytest.raises(JobError, match=r"b: .* was given; give a number, 0 or more"):
        require(not_negative={"b": wrong})


@pytest.mark.parametrize("wrong", [0.999, 2.001, math.nan, math.inf])
def test_what_is_not_between(wrong):
    """Just outside either limit, not a number, infinite."""
    with pytest.raises(JobError, match=r"c: .* was given; give a number, 1 to 2"):
        require(within={"c": (wrong, 1.0, 2.0)})


def test_all_faults_come_in_one_report():
    """One fault for each number, each with its place."""
    with pytest.raises(JobError, match="a: 0 was given") as caught:
        require(positive={"a": 0.0}, not_negative={"b": -1.0}, within={"c": (5.0, 1.0, 2.0)})
    assert [fault.place for fault in caught.value.faults] == ["a", "b", "c"]
