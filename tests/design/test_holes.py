"""Where the faucet stands: in a hole of the counter, or in the sink's own ledge, which then lies over the opening; places by hand."""

import pytest
from design_jobs import changed, lists, sheet_of

from kit.checks.faucet_holes import check_faucet_holes
from kit.compare.options import compare_alternates
from kit.design.place_holes import count_ledge_holes
from kit.job import fill_assumptions
from kit.lists.older import bring_up_to_date
from kit.records import Level
from kit.takeoff.fixtures import count_faucet
from kit.takeoff.set_counter import count_counter

# 33 in wide, 31 in of bowls, 22 in deep: 1 in of rim at the sides and in front, 5 in of ledge behind bowls 16 in long with walls of 1/2 in
DROP_IN = {
    "sink.style": "standard",
    "sink.apron_width": None,
    "sink.apron_height": None,
    "sink.item": "steel-top-33",
    "sink.mount": "top",
    "sink.body_width": "33 in",
    "sink.bowl_width": "31 in",
    "sink.rim_thickness": "1/16 in",
    "sink.depth": "22 in",
    "sink.rear_rim": "5 in",
    "sink.bowls": [{"width": "30 in", "front_to_back": "16 in", "depth": "9 in"}],
    "sink.weight": "24 lb",
}
COUNTER = {**DROP_IN, "sink.ledge_holes": 0}
APRON = {"sink.mount": "top", "sink.ledge_holes": 3, "sink.rear_rim": "5 in", "sink.depth": "22 1/2 in"}


def number_of(changes):
    """The finding on the number of holes."""
    sheet = sheet_of(changes)
    return {finding.id: finding for finding in check_faucet_holes(sheet.job, sheet.design, sheet.lists)}["mounts/faucet-holes"]


def test_a_drop_in_takes_its_faucet_in_its_own_ledge():
    """Back of the sink at (24 - 22) / 2 = 1; 7/8 of flange on the counter; the middle of the ledge up to the bowl's wall at 1 + 4 1/2."""
    placed = sheet_of(DROP_IN).design.placed
    hand_back, hand_bowl = 1, 1 + 5 - 0.5
    (hole,) = placed.holes
    assert (hole.in_sink, hole.x_in, hole.diameter_in) == (True, 18, 1.375)
    assert hole.y_in == pytest.approx((hand_back + 0.875 + hand_bowl) / 2)
    assert placed.opening.y[0] == pytest.approx(hand_back + 0.875)
    assert placed.faucet_in_sink
    assert placed.counter_holes == ()


def test_nut_and_faucet_find_room_in_the_ledge():
    """The nut below the rim, the faucet on it, both hanging on the sink; nothing in their way."""
    model = sheet_of(DROP_IN).design.placed.model
    rim = model["sink rim"].span("z")
    assert model["faucet nut"].span("z")[1] == rim[0]
    assert model["faucet"].span("z")[0] == rim[1]
    assert model["faucet nut"].stands_on == model["faucet"].stands_on == ("sink rim",)
    assert not [pair for pair in model.overlaps(model["sink rim"].stages) if {"faucet", "faucet nut"} & {pair.first.name, pair.second.name}]


def test_three_holes_lie_four_inches_apart():
    """A faucet with handles of its own; the fourth hole of the ledge is not its."""
    holes = sheet_of({**DROP_IN, "sink.ledge_holes": 4, "plumbing.faucet_holes": 3}).design.placed.holes
    assert [hole.x_in for hole in holes] == [14, 18, 22]


def test_an_apron_sink_laid_on_the_counter_may_have_a_ledge():
    """Its holes hold the faucet; the ledge lies over the opening."""
    placed = sheet_of(APRON).design.placed
    assert [hole.in_sink for hole in placed.holes] == [True]
    assert placed.opening.y[0] < placed.model["faucet nut"].span("y")[0]


def test_other_holes_stay_in_the_counter():
    """An air gap as listed, the faucet not twice."""
    holes = [{"use": use, "diameter": "1 3/8 in", "offset": f"{at} in", "setback": "1 in"} for use, at in (("faucet", 0), ("air-gap", 18))]
    placed = sheet_of({**DROP_IN, "counter.holes": holes}).design.placed
    assert [(hole.use, hole.in_sink) for hole in placed.holes] == [("faucet", True), ("air-gap", False)]


def test_nobody_drills_the_counter_for_a_faucet_in_the_ledge():
    """Neither our drill nor the shop's bill."""
    ours = {"counter.material": "laminate", "counter.item": "laminate-own", "counter.made_by": "us"}
    scope = {"scope.counter": {"supplied_by": "us", "installed_by": "us"}}
    for changes, count, item in ((ours | scope, count_faucet, "drill-hole"), ({}, count_counter, lists().counters["stone-3cm"].hole_item)):
        assert [line.quantity for line in count(sheet_of({**COUNTER, **changes})) if line.item == item] == [1]
        assert not [line for line in count(sheet_of({**DROP_IN, **changes})) if line.item == item]


@pytest.mark.parametrize(
    ("changes", "level", "measured"),
    [
        (DROP_IN, Level.OK, "1 of 3 in the sink's faucet deck"),
        (COUNTER, Level.OK, "1 in the countertop"),
        ({**COUNTER, "counter.holes": []}, Level.UNKNOWN, "none listed"),
        ({**COUNTER, "counter.holes": [], "plumbing.faucet_holes": 0}, Level.OK, "none listed"),
        ({**COUNTER, "plumbing.faucet_holes": 0}, Level.CAUTION, "1 in the countertop"),
        ({**COUNTER, "plumbing.faucet_holes": 3}, Level.CAUTION, "1 in the countertop"),
        ({**DROP_IN, "sink.ledge_holes": 1, "plumbing.faucet_holes": 3}, Level.CAUTION, "1 in the sink's faucet deck"),
    ],
)
def test_the_number_of_holes_is_what_the_faucet_takes(changes, level, measured):
    """In ledge, counter, nowhere, from the wall; one too few."""
    found = number_of(changes)
    assert (found.level, found.measured) == (level, measured)
    assert bool(found.remedy) == (level is not Level.OK or "to close" in found.basis)


def test_what_stays_open_in_the_ledge_is_said():
    """The row's three holes, a faucet of one; nothing that closes the others is bought, and whoever fits the faucet is told."""
    assert number_of(DROP_IN).remedy == "Bring a plate or covers for the open holes: none are in the price."
    assert "has 3, 2 of them to close with a plate or a cover" in number_of(DROP_IN).basis
    theirs = {**DROP_IN, "scope.faucet": {"supplied_by": "customer", "installed_by": "customer"}}
    assert number_of(theirs).remedy == "The customer brings a plate or covers for the open holes."


def test_a_faucet_that_is_no_part_of_the_job_is_not_asked():
    """Nor counted."""
    sheet = sheet_of({**DROP_IN, "scope.faucet": {"supplied_by": "excluded", "installed_by": "nobody"}})
    assert "mounts/faucet-holes" not in {finding.id for finding in check_faucet_holes(sheet.job, sheet.design, sheet.lists)}


@pytest.mark.parametrize(("changes", "holes"), [({}, 3), ({"sink.ledge_holes": 1}, 1), ({"sink.mount": "under"}, 0), ({"sink.item": "their-own"}, 0)])
def test_the_job_says_it_or_its_row_does(changes, holes):
    """A ledge under the counter is covered; a sink that nobody lists has none."""
    assert count_ledge_holes(fill_assumptions(changed({**DROP_IN, **changes}))[0], lists()) == holes


def test_a_ledge_that_nobody_measured_is_all_but_a_front_rim_as_wide_as_the_sides():
    """22 - 16 - 1; half of it without holes."""
    assert fill_assumptions(changed({**DROP_IN, "sink.ledge_holes": 1, "sink.rear_rim": "unknown"}))[0].sink.rear_rim_in == 5
    assert fill_assumptions(changed({**COUNTER, "sink.rear_rim": "unknown"}))[0].sink.rear_rim_in == 3


def test_a_swapped_sink_takes_the_holes_of_its_own_row():
    """Apron under the counter to a drop-in: into its ledge. A drop-in to one under the counter: a hole in the counter, and it is said."""
    top = next(option for option in compare_alternates(changed({}), lists()) if option.mount == "top" and option.counter_kept)
    assert lists().sinks[top.sink].ledge_holes == 1
    assert top.estimate.design.placed.faucet_in_sink
    under = next(option for option in compare_alternates(changed({**DROP_IN, "counter.holes": []}), lists()) if option.mount == "under" and option.counter_kept)
    assert [hole.use for hole in under.estimate.design.placed.counter_holes] == ["faucet"]
    assert "the faucet in a hole of the countertop in place of the sink's faucet deck" in under.swapped


def test_lists_of_old_promises_have_no_holes_in_the_ledge():
    """The column is added with nothing in it; one of today stays as it is."""
    header = "item,name,material,style,apron_width,body_width,bowl_width,depth,apron_height,rim_width,rim_thickness,bottom_thickness,bowls,"
    header += "bowl_front_to_back,bowl_depth,outlet_setback,weight,size_tolerance,mounts\n"
    old = header + "steel,a sink,stainless,standard,,33 in,31 in,22 in,,1 in,1/16 in,1/16 in,1,16 in,9 in,9 in,24 lb,1/16 in,top\n"
    brought = bring_up_to_date("sinks.csv", old)
    assert brought.splitlines()[1].split(",")[brought.splitlines()[0].split(",").index("ledge_holes")] == "0"
    assert bring_up_to_date("sinks.csv", brought) == brought
