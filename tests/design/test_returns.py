"""Runs that meet the run of the sink round a corner stand in the axes of the model, by hand; what meets them there is a finding."""

import pytest
from work_jobs import estimated

from kit.checks.overlaps import check_overlaps

LAMINATE = "laminate_top_mount"  # run 1: 110 in, sink's middle at 50; base 36 in: it begins at 18 - 50 = -32 and ends at 78; run 2: 54 in, at its right


def placed(changes=None, stem=LAMINATE):
    return estimated(stem, changes or {}).design.placed.model


def test_the_return_run_begins_at_the_front_edge_round_the_corner():
    """25 1/2 in deep from the wall at 78 in, with the gap of 1/8 there; 54 in forward from the front edge of run 1; splash of 3/4 at the wall."""
    model = placed()
    counter, splash, side = model["countertop of run 2"], model["backsplash of run 2"], model["side splash of run 1 right"]
    assert (counter.span("x"), counter.span("y")) == (pytest.approx((78 - 25.5, 78 - 0.125)), pytest.approx((25.5, 25.5 + 54)))
    assert counter.span("z") == model["counter"].span("z")
    assert (splash.span("x"), splash.span("y")) == (pytest.approx((77.25, 78)), pytest.approx((25.5, 79.5)))
    assert (side.span("x"), side.span("y")) == (pytest.approx((77.25, 78)), pytest.approx((0.75, 25.5)))
    assert model["boxes of run 2"].span("x") == pytest.approx((54, 78))


def test_a_return_run_at_the_left():
    """Run 2 has the sink, its left end meets run 1: that begins at its front edge and runs forward along the wall at the left."""
    runs = [
        {"length": "54 in", "depth": "25 1/2 in", "left_end": "open", "right_end": "corner"},
        {"length": "110 in", "depth": "25 1/2 in", "left_end": "corner", "right_end": "open"},
    ]
    model = placed({"counter.runs": runs, "counter.sink_run": 2})
    counter, sinks = model["countertop of run 1"], model["counter"]
    assert counter.span("y")[1] - counter.span("y")[0] == pytest.approx(54)
    assert counter.span("x") == pytest.approx((-32 - 25.5 + 0.125, -32))  # the corner's square is its own: run 2 begins at its front edge
    assert sinks.span("x")[0] == pytest.approx(-32)
    assert counter.span("y")[0] == pytest.approx(0)


def test_a_run_that_stands_apart_has_no_place():
    """Nobody measured where an island stands."""
    runs = [
        {"length": "110 in", "depth": "25 1/2 in", "left_end": "open", "right_end": "wall"},
        {"length": "48 in", "depth": "36 in", "left_end": "open", "right_end": "open"},
    ]
    assert "countertop of run 2" not in placed({"counter.runs": runs})


def test_a_box_that_reaches_into_the_return_run_is_a_stop():
    """A run of 20 in before boxes 24 in deep that reach to the wall at the right: 4 in of the last one stand in the return's boxes."""
    changes = {
        "counter.runs[1].depth": "20 in",
        "cabinet.boxes": [{"side": "right", "kind": "door", "width": "42 in"}],
    }
    made = estimated(LAMINATE, changes)
    found = {one.id: one for one in check_overlaps(made.design, made.assumptions)}
    assert found["place/boxes-of-run-2-door-box-1-on-the-right"].level.word == "stop"
    assert found["place/boxes-of-run-2-door-box-1-on-the-right"].measured == "4 in deep"
