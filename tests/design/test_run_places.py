"""Runs of counter in the plan, by hand: the corner's square belongs to the earlier run, the run of the sink has its wall at the top."""

import pytest
from design_jobs import changed

from kit.design.run_places import joined_runs, place_runs


def counter_of(*runs, sink_run):
    """A counter of runs given as length, depth and what their ends meet."""
    typed = [{"length": f"{long} in", "depth": f"{deep} in", "left_end": left, "right_end": right} for long, deep, left, right in runs]
    return changed({"counter.runs": typed, "counter.sink_run": sink_run, "counter.sink_center": "42 in"}).counter


def test_a_u_with_the_sink_at_its_bottom():
    """Up the left wall for 60 in, along the top from its front edge at 25 for 96, down the right wall from there; fronts look inward."""
    counter = counter_of((60, 25, "wall", "corner"), (96, 25.5, "corner", "corner"), (40, 24, "corner", "open"), sink_run=2)
    first, sink, last = place_runs(counter)
    hand = [((0, 0), (0, 60), (25, 60), (25, 0)), ((25, 60), (121, 60), (121, 34.5), (25, 34.5)), ((121, 34.5), (121, -5.5), (97, -5.5), (97, 34.5))]
    assert [place.corners for place in (first, sink, last)] == hand
    assert [place.lies_across for place in (first, sink, last)] == [False, True, False]
    assert [place.faces_left for place in (first, sink, last)] == [False, False, True]
    assert [place.side_of(way) for place in (first, sink, last) for way in (-1, 1)] == ["left", "left", "left", "right", "right", "right"]
    assert (sink.joint_with(first), last.joint_with(sink)) == (((25, 60), (25, 34.5)), ((121, 34.5), (97, 34.5)))
    assert joined_runs(counter) == (1, 3)


def test_runs_listed_to_the_left_and_one_that_stands_apart():
    """Below the left end of the sink's run, 50 in of another end at its front; a third run touches neither and stands 14 in below all."""
    counter = counter_of((96, 25.5, "corner", "open"), (50, 24, "open", "corner"), (36, 30, "open", "open"), sink_run=1)
    sink, left, apart = place_runs(counter)
    assert left.corners == ((0, -75.5), (0, -25.5), (24, -25.5), (24, -75.5))
    assert left.joint_with(sink) == ((0, -25.5), (24, -25.5))
    assert (apart.joint_with(left), apart.along, apart.origin[1]) == (None, (1, 0), pytest.approx(-75.5 - 14))
    assert joined_runs(counter) == (2,)
