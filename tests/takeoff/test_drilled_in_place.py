"""A hole in a counter that stays, still to be drilled: by us where a crew cuts it, by its shop on a trip where only that does. By hand."""

import dataclasses

import pytest
from work_jobs import example, lists

from kit.compare.options import compare_alternates
from kit.design.design import design_job
from kit.errors import ListError
from kit.job import change_job, fill_assumptions
from kit.takeoff.takeoff import take_off

STAYS = example("counter_stays_sink_only")
NO_LEDGE = {"sink.ledge_holes": 0}
HOLE = {"use": "faucet", "diameter": "1 3/8 in", "offset": "0 in", "setback": "2 1/2 in"}


def lines_of(changes, with_lists=None):
    filled, _ = fill_assumptions(change_job(STAYS, {**NO_LEDGE, **changes}))
    held = with_lists or lists()
    return {line.id: line.quantity for line in take_off(filled, design_job(filled, held), held) if "hole" in line.id or "drill" in line.id}


def test_a_hole_that_is_there_costs_nothing():
    """Left out: it is there."""
    assert lines_of({"counter.holes": [HOLE]}) == {}


def test_we_drill_what_a_crew_can_cut():
    """Laminate: one hole drilled and sealed."""
    assert lines_of({"counter.holes": [{**HOLE, "drilled": "to-drill"}]}) == {"fit-top/drill-hole/drill and seal": 1}


def test_the_shop_drills_stone_in_place_on_a_trip_of_its_own():
    """One hole; the trip is billed with the opening where that is enlarged too, and here once with the hole."""
    stone = {"counter.item": "stone-3cm", "counter.material": "stone", "counter.thickness": "1 3/16 in"}
    found = lines_of({**stone, "counter.holes": [{**HOLE, "drilled": "to-drill"}]})
    assert found["set-counter/stone-hole/drill in place"] == 1


def test_a_counter_whose_row_has_no_hole_is_refused():
    """Nobody can be had for it: said, not left out of the price."""
    stone = lists().counters["stone-3cm"]
    bare = dataclasses.replace(lists(), counters={**lists().counters, "stone-3cm": dataclasses.replace(stone, hole_item=None)})
    changes = {"counter.item": "stone-3cm", "counter.material": "stone", "counter.thickness": "1 3/16 in", "counter.holes": [{**HOLE, "drilled": "to-drill"}]}
    with pytest.raises(ListError, match="has no hole_item for the hole to drill"):
        lines_of(changes, bare)


def test_an_alternate_that_moves_the_faucet_has_the_hole_in_its_price():
    """Drop-in with a ledge against a flush sink without one, in the counter that stays."""
    flush = next(option for option in compare_alternates(STAYS, lists()) if option.mount == "flush")
    assert "drilled in the countertop that stays" in flush.swapped[-1]
    assert [line.quantity for line in flush.estimate.lines if line.item == "drill-hole"] == [1]
