"""Asbestos that a laboratory found: a certified firm of ours or of the customer's takes it out before we tear out, and every paper says which."""

import html
from decimal import Decimal
from itertools import pairwise

import pytest
from paper_faults import change_said_twice, said_twice
from random_jobs import random_job, random_lists
from work_jobs import STONE, estimated, example, lists

from kit.change.priced_change import price_change
from kit.checks.scope_conflicts import find_conflicts
from kit.compare.options import compare_alternates
from kit.draw.walk import draw_walk
from kit.estimating import Estimate, estimate
from kit.job import change_job
from kit.outlook import plan_schedule
from kit.records import Level
from kit.steps import Step

TRADE, OURS = {"supplied_by": "trade", "installed_by": "trade"}, {"supplied_by": "us", "installed_by": "us"}
NOBODY = {"supplied_by": "excluded", "installed_by": "nobody"}
GLUED = {"site.year_built": 1960, "old.counter_fixing": "glued", "old.splash": "glued"}
LABORATORY = {"old.counter_glue_tested": "asbestos", "old.splash_glue_tested": "asbestos"}
FOUND = GLUED | LABORATORY
FLOOR = {"site.floor_tested": "asbestos", "cabinet.wet_floor": True}


STAYS = {"supplied_by": "stays", "installed_by": "nobody"}
KEPT = {"counter.made_by": "stays", "scope.counter": STAYS, "scope.splash": STAYS}


def items(found: Estimate) -> dict[str, float]:
    """Quantity of each item of the takeoff."""
    return {line.item: line.quantity for line in found.lines}


def test_the_firm_is_priced_by_the_square_foot_with_its_minimum():
    """A counter of 96 x 25 1/2 in, its splash 4 in high along wall and end, the floor in a base of 35 x 24 in; 46 USD a square foot, at least 1,800."""
    found = estimated(STONE, FOUND | FLOOR | {"scope.asbestos": TRADE})
    hand_area = (96 * 25.5 + (96 + 25.5) * 4 + 35 * 24) / 144
    assert items(found)["abatement"] == pytest.approx(hand_area)
    amounts = {one.item: one.amount for one in found.purchases}
    hand_firm = Decimal("1205.58")  # 26.208 sq ft x 46.00
    assert (amounts["abatement"], amounts["minimum-abatement"]) == (hand_firm, Decimal("1800.00") - hand_firm)
    assert items(found)["clearance-test"] == 1


@pytest.mark.parametrize(
    ("answers", "hand_samples", "hand_parts"),
    [
        ((None, None), ("countertop", "backsplash"), ()),
        (("none-found", None), ("backsplash",), ()),
        ((None, "none-found"), ("countertop",), ()),
        ((None, "asbestos"), ("countertop",), ("splash",)),
        (("none-found", "asbestos"), (), ("splash",)),
        (("asbestos", None), (), ("counter", "splash")),  # the splash on it goes with it: nobody tests what the firm takes anyway
    ],
)
def test_two_materials_two_samples_two_answers(answers, hand_samples, hand_parts):
    """Glue of a countertop and of a backsplash: a sample and its paper each, and each goes by its own answer."""
    counter, splash = answers
    found = estimated(STONE, GLUED | {"old.counter_glue_tested": counter, "old.splash_glue_tested": splash, "scope.asbestos": TRADE})
    assert items(found).get("floor-test", 0) == len(hand_samples)
    papers = next((line.basis for line in found.lines if line.item == "paper-set"), "")
    assert papers.count("chain of custody") == len(hand_samples)
    said = next((one.measured for one in found.findings if one.id == "duties/glue"), "")
    for part in ("countertop", "backsplash"):
        assert (f"glue of the old {part}" in said) == (f"sample of the old {part}" in papers) == (part in hand_samples)
    assert found.design.abatement.parts == hand_parts
    assert said_twice(found) == []


def test_what_the_laboratory_found_goes_to_the_firm_however_it_is_fixed():
    """A counter on screws and a loose splash come out too: what was found in them is no less in them."""
    found = estimated(STONE, FOUND | {"old.counter_fixing": "screwed", "old.splash": "loose", "scope.asbestos": TRADE})
    assert found.design.abatement.parts == ("counter", "splash")
    assert not [one.id for one in found.findings if one.id == "duties/asbestos-left"]


def test_a_firm_of_the_customers_costs_no_hour_of_ours():
    """His contract: on the calendar, waited for, without a line, an hour or a price; trips are those of our own work."""
    ours, theirs = (estimated(STONE, FOUND | {"scope.asbestos": scope}) for scope in (TRADE, NOBODY))
    assert not [line.id for line in theirs.lines if line.step is Step.ABATE]
    assert not [task for task in theirs.tasks if task.step is Step.ABATE]
    assert [(task.trade, task.hours_likely, task.amount) for task in theirs.hired if task.step is Step.ABATE] == [("customer's firm", 0, 0)]
    assert ours.hours - theirs.hours > 0.5  # half an hour to let the firm in and take its papers, and its booking
    first_after = next(trip for trip in theirs.trips if trip.waits_for is Step.ABATE)
    assert first_after.lead == "customer-firm"
    assert "The customer's firm: no hour and no price of ours" in html.unescape(draw_walk(theirs))


def test_what_the_firm_takes_nobody_else_tears_out_or_hauls():
    """Hours and debris of counter, splash and wet floor are the firm's; the wall board behind the splash is still ours."""
    found, untested = (estimated(STONE, changes | FLOOR | {"scope.asbestos": TRADE}) for changes in (FOUND, GLUED))
    assert {line.step for line in untested.lines} >= {Step.REMOVE_COUNTER}
    assert not [line.id for line in found.lines if line.step is Step.REMOVE_COUNTER]
    assert items(found)["haul-pound"] < items(untested)["haul-pound"] - 100
    assert items(found)["patch-board"] == items(untested)["patch-board"]
    assert "floor-test" not in items(found)


@pytest.mark.parametrize("scope", [TRADE, NOBODY])
def test_it_comes_after_the_water_is_back_and_before_anything_is_torn_out(scope):
    """Sink out, stubs shut, firm, clearance; then cabinet, level, wall. Our people come back for it."""
    found = estimated(STONE, GLUED | FLOOR | {"old.splash": "loose", "old.counter_fixing": "screwed", "scope.asbestos": scope})
    rows = {row.step: row for row in plan_schedule(found).schedule.steps}
    order = [Step.REMOVE_SINK, Step.KEEP_WATER, Step.ABATE, Step.REMOVE_COUNTER, Step.REPAIR_CABINET, Step.LEVEL, Step.PATCH_WALL]
    order = [step for step in order if step in rows]
    assert order[:5] == [Step.REMOVE_SINK, Step.KEEP_WATER, Step.ABATE, Step.REMOVE_COUNTER, Step.REPAIR_CABINET]
    assert all(rows[first].finish <= rows[then].start for first, then in pairwise(order))
    assert rows[Step.REMOVE_COUNTER].start.date() > rows[Step.ABATE].finish.date()
    assert Step.REMOVE_COUNTER in {trip.first for trip in found.trips}


@pytest.mark.parametrize("answer", [None, "none-found"])
def test_where_nothing_was_found_nobody_is_hired(answer):
    """Whoever the scope names: untested, the test is priced and what it may find is a change order; tested clear, neither."""
    found = estimated(STONE, GLUED | {"old.counter_glue_tested": answer, "old.splash_glue_tested": answer, "scope.asbestos": TRADE})
    assert not {"abatement", "clearance-test", "meet-abatement"} & set(items(found))
    assert ("floor-test" in items(found)) == (answer is None)
    assert said_twice(found) == []


def test_a_later_house_that_was_tested_is_taken_at_its_word():
    """The laboratory's answer goes before the year."""
    found = estimated(STONE, FOUND | {"site.year_built": 1995, "scope.asbestos": TRADE})
    assert items(found)["abatement"] > 0


@pytest.mark.parametrize("scope", [TRADE, NOBODY, {"supplied_by": "customer", "installed_by": "customer"}])
@pytest.mark.parametrize("changes", [FOUND, FOUND | {"old.counter_material": "tile", "old.splash": "tile", "old.sink_kind": "tiled-in"}, GLUED | FLOOR])
def test_every_paper_says_whose_firm_it_is(scope, changes):
    """Priced and promised, or excluded and asked of the customer: never both, never neither; one finding says which."""
    found = estimated(STONE, changes | {"scope.asbestos": scope})
    assert said_twice(found) == []
    (said,) = (one for one in found.findings if one.id == "duties/asbestos")
    assert said.level is Level.CAUTION
    assert said.remedy.startswith("Priced" if scope is TRADE else "Not in the price")
    assert not [one.id for one in found.findings if one.id.startswith("scope/")]


def test_a_tiled_counter_goes_with_the_sink_that_is_tiled_into_it():
    """We disconnect it; the firm breaks nothing of ours loose, and no silica work of ours is left in it."""
    found = estimated(STONE, FOUND | {"old.counter_material": "tile", "old.splash": "tile", "old.sink_kind": "tiled-in", "scope.asbestos": TRADE})
    assert not {"tiled-edge-foot", "old-sink-pound", "splash-tile", "old-counter-tile"} & set(items(found))
    assert "disconnect-joint" in items(found)


def test_a_customer_who_tears_out_what_was_found_is_warned():
    """His firm, his cost: no firm of ours, and the finding says what the laboratory said."""
    theirs = {"supplied_by": "customer", "installed_by": "customer"}
    found = estimated(STONE, FOUND | {"scope.counter": theirs, "scope.splash": theirs, "scope.asbestos": TRADE, "site.year_built": 1995})
    (said,) = (one for one in found.findings if one.id == "duties/glue-yours-found")
    assert "the laboratory found asbestos" in said.measured
    assert "abatement" not in items(found)


def test_an_answer_that_comes_later_is_a_change_order():
    """From the tested offer to the firm's work: the change is what the firm and the laboratory cost, less what we no longer tear out."""
    old, new = (estimated(STONE, changes) for changes in (GLUED, FOUND | {"scope.asbestos": TRADE}))
    rows = {row.id: row for row in price_change(old, new).rows}
    assert rows["buy:abatement"].before == 0.0
    assert rows["buy:clearance-test"].cost == Decimal("340.00")
    assert rows["task:remove-counter"].cost < 0


def test_every_alternate_has_the_firm_too():
    """Nothing that can be had leaves out what must come out."""
    options = compare_alternates(change_job(example("laminate_top_mount"), FOUND | {"scope.asbestos": TRADE}), lists())
    priced = [option.estimate for option in options if option.estimate is not None]
    assert len(priced) > 3
    assert all("abatement" in items(found) for found in priced)


@pytest.mark.parametrize(("old", "new"), [(GLUED, FOUND | {"scope.asbestos": TRADE}), (GLUED, FOUND), (FOUND, FOUND | {"scope.asbestos": TRADE})])
def test_its_change_order_says_whose_firm_it_is(old, new):
    """What is newly excluded, asked of the customer or an allowance stands in the paper that is signed."""
    assert change_said_twice(estimated(STONE, old), estimated(STONE, new)) == []


def try_found(seeds: range) -> int:
    """Random jobs in which a laboratory found asbestos wherever one would look: papers and scopes say one thing; how many had some of it in the way."""
    there = 0
    for seed in seeds:
        scope = TRADE if seed % 3 else NOBODY
        job = change_job(random_job(seed), {**LABORATORY, "site.floor_tested": "asbestos", "scope.asbestos": scope})
        found = estimate(job, random_lists(seed), exact=False)
        there += bool(found.design.abatement.parts)
        if not find_conflicts(found.job):
            assert said_twice(found) == [], seed
    return there


def test_random_houses_with_asbestos():
    """The first few."""
    assert try_found(range(8)) >= 3


@pytest.mark.long
def test_many_random_houses_with_asbestos():
    """A hundred more."""
    assert try_found(range(8, 108)) >= 40


@pytest.mark.parametrize(
    ("changes", "hand_places"),
    [
        ({"site.floor_tested": "asbestos"}, "floor"),
        (FOUND | KEPT, "glue or backer of the old countertop and glue or backer of the old backsplash"),
        (FOUND, None),
        (FOUND | FLOOR, None),
    ],
)
def test_what_is_in_nobodys_way_stays_and_is_said(changes, hand_places):
    """Nothing is priced for it; the crew is told to leave it whole. What a firm takes out does not stay."""
    found = estimated(STONE, changes | {"scope.asbestos": TRADE})
    said = [one.measured for one in found.findings if one.id == "duties/asbestos-left"]
    assert said == ([] if hand_places is None else [hand_places])
    assert ("abatement" in items(found)) == (hand_places is None)
