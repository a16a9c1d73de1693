"""Flat boxes, and where counter and boxes end: each finding at every level, either side of its limit."""

import pytest
from work_jobs import STONE, example, lists

from kit.checks.check import check_job
from kit.checks.overlaps import check_overlaps
from kit.design.design import design_job
from kit.job import change_job, fill_assumptions

BOXES = ({"side": "left", "kind": "drawer", "width": "24 in"}, {"side": "right", "kind": "dishwasher", "width": "24 in"})
"""Of the stone job: a base of 36 in from 24 to 60 of 96 in, between a drawer and a dishwasher."""


def finding(name, changes):
    """The finding of that name for the stone job with some fields changed."""
    job, _ = fill_assumptions(change_job(example(STONE), changes))
    return {found.id: found for found in check_job(job, design_job(job, lists()), lists())}.get(name)


def readings(*typed):
    """Readings as typed: place, in front, and at the rear where it was read."""
    return {"levelness.readings": [dict(zip(("at", "low", "rear_low"), reading, strict=False)) for reading in typed]}


@pytest.mark.parametrize(
    ("typed", "level", "hand_off"),
    [
        ([("0 in", "0 in", "0 in"), ("96 in", "1/4 in", "1/4 in")], "ok", "0"),
        ([("0 in", "0 in", "1/16 in")], "ok", "1/16"),
        ([("0 in", "0 in", "5/64 in")], "caution", "3/32"),
        ([("0 in", "1/8 in", "0 in")], "caution", "1/8"),
        ([("0 in", "1/8 in", "1/8 in"), ("48 in", "0 in", "0 in"), ("96 in", "1/8 in", "1/8 in")], "caution", "1/8"),
        ([("0 in", "0 in", "0 in"), ("32 in", "1/8 in", "1/8 in"), ("96 in", "3/8 in", "3/8 in")], "ok", "0"),
        # 1/8 less 46/96 of 1/8 in is 0.0651 in: at 64ths it reads as the limit does
        ([("0 in", "0 in", "0 in"), ("46 in", "1/8 in", "1/8 in"), ("96 in", "1/8 in", "1/8 in")], "ok", "1/16"),
        ([("0 in", "0 in"), ("96 in", "1/16 in")], "unknown", "0"),
        ([("0 in", "1/8 in"), ("48 in", "0 in"), ("96 in", "1/8 in")], "caution", "1/8"),
    ],
)
def test_boxes_are_flat_within_a_sixteenth(typed, level, hand_off):
    """Front against rear, and each reading against the line between its neighbors; unknown where nobody read the rear. Here nobody of ours shims them."""
    found = finding("surface/flat", {**readings(*typed), "scope.counter.installed_by": "customer"})
    assert found.level.name.lower() == level
    assert found.measured.startswith(f"{hand_off} in out of flat")
    assert (found.margin is not None and found.margin >= 0.0) is (level == "ok")


def test_without_readings_only_the_level_is_asked_for():
    """One unknown is enough."""
    assert finding("surface/flat", {"levelness.readings": None}) is None
    assert finding("surface/level", {"levelness.readings": None}).level.name == "UNKNOWN"


@pytest.mark.parametrize(
    ("boxes", "name", "level", "hand_words"),
    [
        (BOXES, "surface/past-boxes-left", "ok", "flush with"),
        ((*BOXES, {"side": "left", "kind": "filler", "width": "2 in"}), "surface/past-boxes-left", "caution", "2 in short of"),
        (({"side": "left", "kind": "drawer", "width": "20 in"},), "surface/past-boxes-left", "caution", "4 in past"),
        # at a wall what a gap between boxes may be, 1/16, and an eighth for the tape
        (({"side": "left", "kind": "drawer", "width": "23 13/16 in"},), "surface/past-boxes-left", "ok", "3/16 in past"),
        (({"side": "left", "kind": "drawer", "width": "23 3/4 in"},), "surface/past-boxes-left", "caution", "1/4 in past"),
        (({"side": "left", "kind": "drawer", "width": "24 3/16 in"},), "surface/past-boxes-left", "ok", "3/16 in short of"),
        (({"side": "left", "kind": "drawer", "width": "24 1/4 in"},), "surface/past-boxes-left", "caution", "1/4 in short of"),
        # at an open end the overhang, and an eighth for the tape both ways
        ((*BOXES, {"side": "right", "kind": "door", "width": "10 3/8 in"}), "surface/past-boxes-right", "ok", "1 5/8 in past"),
        ((*BOXES, {"side": "right", "kind": "door", "width": "10 5/16 in"}), "surface/past-boxes-right", "caution", "1 11/16 in past"),
        ((*BOXES, {"side": "right", "kind": "door", "width": "12 1/8 in"}), "surface/past-boxes-right", "ok", "1/8 in short of"),
        ((*BOXES, {"side": "right", "kind": "door", "width": "12 3/16 in"}), "surface/past-boxes-right", "caution", "3/16 in short of"),
        (BOXES, "surface/past-boxes-right", "caution", "12 in past"),
        ((*BOXES, {"side": "right", "kind": "door", "width": "12 in"}), "surface/past-boxes-right", "ok", "flush with"),
        ((*BOXES, {"side": "right", "kind": "door", "width": "10 1/2 in"}), "surface/past-boxes-right", "ok", "1 1/2 in past"),
    ],
)
def test_counter_and_listed_boxes_end_together(boxes, name, level, hand_words):
    """At the wall with the last box, at the open end by no more than the overhang of 1 1/2 in."""
    found = finding(name, {"cabinet.boxes": list(boxes)})
    assert (found.level.name.lower(), found.measured) == (level, f"the countertop ends {hand_words} the last box")


@pytest.mark.parametrize(
    ("gaps", "wide", "level", "hand_words"),
    [
        (("0 in", "1 in"), "23 in", "caution", "1 in past"),
        (("1 in", "0 in"), "22 in", "ok", "1 in past"),
        (("1 in", "0 in"), "24 in", "ok", "1 in short of"),  # the drawers reach the wall, the gap lies over them
        (("1 in", "0 in"), "24 1/8 in", "ok", "1 1/8 in short of"),
        (("1 in", "0 in"), "24 3/16 in", "caution", "1 3/16 in short of"),
        (("0 in", "1 in"), "25 in", "caution", "1 in short of"),
    ],
)
def test_a_gap_at_the_other_end_excuses_nothing(gaps, wide, level, hand_words):
    """Past the drawers on the left or short of them: as far as a gap at that end goes, not one at the other."""
    (run,) = change_job(example(STONE), {}).counter.runs
    run = {"length": "96 in", "depth": f"{run.depth_in} in", "left_end": run.left_end, "right_end": run.right_end, "left_gap": gaps[0], "right_gap": gaps[1]}
    found = finding("surface/past-boxes-left", {"cabinet.boxes": [{"side": "left", "kind": "drawer", "width": wide}], "counter.runs": [run]})
    assert (found.level.name.lower(), found.measured) == (level, f"the countertop ends {hand_words} the last box")


def test_the_first_box_is_the_neighbor():
    """A list that says something else is a caution; a filler between the two is none."""
    filler = {"side": "left", "kind": "filler", "width": "1 in"}
    assert finding("neighbors/listed-left", {"cabinet.boxes": [filler, *BOXES]}) is None
    assert finding("neighbors/listed-left", {"cabinet.boxes": [{**BOXES[0], "kind": "door"}]}).level.name == "CAUTION"
    apart = finding("neighbors/listed-left", {"cabinet.boxes": [{**BOXES[0], "kind": "open"}]})
    assert apart.measured == "drawers entered beside it, open space first in the list of cabinets"


def test_a_sink_that_reaches_into_the_box_beside_it_is_a_stop():
    """A body of 38 in in a base of 36: the drawers beside it want the same place."""
    changes = {"cabinet.boxes": list(BOXES), "sink.body_width": "38 in", "sink.apron_width": "38 in"}
    job, assumed = fill_assumptions(change_job(example(STONE), changes))
    found = {one.check: one.level.name for one in check_overlaps(design_job(job, lists()), assumed)}
    assert found["Drawer box 1 on the left and sink rim are in the same place"] == "STOP"
