"""A counter laid in the house from small pieces, and one that is cast: their own steps, goods and prices."""

import pytest
from takeoff_jobs import PLAIN, changed, lines_of, lists, sheet_of, step_quantities

from kit.compare.figures import weigh_option
from kit.compare.swaps import changes_for_counter
from kit.design.duties import Duties
from kit.estimating import Estimate, estimate
from kit.job import change_job, parse_job
from kit.steps import Step
from kit.takeoff.set_counter import count_counter
from kit.takeoff.visits import count_template

# the plain job's counter: 96 x 24 in, one open end, splash 96 + 24 in of 4 in, apron opening 29 1/2 in wide and 15 3/8 in deep, one hole
HAND_BASE = 96 * 24 / 144
HAND_SEEN = HAND_BASE + (96 + 24) * 4 / 144
HAND_EDGES_IN = 96 - 29.5 + 24
HAND_TRIM = (HAND_EDGES_IN + 96 + 24) / 12
HAND_OPENING = (29.5 + 2 * 15.375) / 12


def made(item: str) -> dict[str, object]:
    """The plain job's counter changed to a row of the list, as `compare` changes it."""
    return changes_for_counter(changed(), lists().counters[item])


def priced(item: str) -> Estimate:
    """The plain job with another counter."""
    return estimate(change_job(parse_job(PLAIN), made(item)), lists())


def test_goods_and_work_of_our_own_tile_by_hand():
    """Two beds of mortar: one below the backer, one below all that is seen; the opening is not deducted."""
    hand = {
        "lay-backer/backer-board/backer": HAND_BASE,
        "lay-backer/backer-screw/backer": HAND_BASE * 2.25,
        "lay-backer/thinset/beds": (HAND_BASE + HAND_SEEN) * 0.6,
        "set-counter/counter-tile/tile": HAND_SEEN,
        "set-counter/counter-trim/trim": HAND_TRIM,
        "grout/joint-grout/joints": HAND_SEEN * 0.3,
        "seal/grout-sealer/joints": HAND_SEEN * 0.6,
        "lay-backer/lay-backer/cut, bed and screw": HAND_BASE,
        "set-counter/lay-piece/tile": HAND_SEEN,
        "set-counter/lay-trim/trim": HAND_TRIM,
        "set-counter/lay-round-opening/around the sink": HAND_OPENING,
        "grout/grout-joints/joints": HAND_SEEN,
        "seal/seal-grout/joints": HAND_SEEN,
        "set-counter/lay-round-hole/holes": 1,
    }
    assert step_quantities(count_counter, made("tile-own")) == pytest.approx(hand)


def test_a_tile_setter_bills_each_step_by_area():
    """Backer, tile and grout by the 16 sq ft of the counter; he comes to set and to grout, nobody takes a template."""
    hand = {
        "lay-backer/tile-backer/backer": 16,
        "set-counter/tile-area/area": 16,
        "grout/tile-grout/grout": 16,
        "set-counter/tile-cut-out-apron/sink cutout": 1,
        "set-counter/tile-edge/front edge": HAND_EDGES_IN / 12,
        "set-counter/tile-hole/holes": 1,
        "set-counter/tile-splash/splash": 10,
        "set-counter/tile-trip/set": 1,
        "grout/tile-trip/grout": 1,
    }
    assert step_quantities(count_counter, made("tile-set")) == pytest.approx(hand)
    assert count_template(sheet_of(made("tile-set"))) == []


def test_concrete_is_cast_and_set():
    """Casting and setting are billed by the same area, each in its step; both ways of the shop as for stone."""
    found = step_quantities(count_counter, made("concrete-1-1-2"))
    assert (found["cast/concrete-cast/form and cast"], found["set-counter/concrete-area/area"]) == (16, 16)
    assert found["template/concrete-trip/template"] == found["set-counter/concrete-trip/set"] == 1


def test_what_is_laid_in_the_house_is_carried_in_as_goods():
    """(16 + 3 1/3 sq ft) x 9 psf is 174 lb: four loads of at most 50 lb, no blank that two must carry."""
    walks = lines_of(made("tile-own"))["receive/carry-in-foot/walks"].quantity
    hand_people = 3 + 1 + 4  # with the sink, with the small goods, with tile, backer and mortar
    assert walks == hand_people * 2 * 40


def test_cutting_our_own_tile_raises_silica():
    """A hired setter's dust is his; the old laminate raises none."""
    duties: dict[str, Duties] = {item: sheet_of(made(item)).design.duties for item in ("tile-own", "tile-set", "stone-3cm")}
    assert [duties[item].silica for item in duties] == [True, False, False]


def test_the_waits_between_the_steps_are_those_of_the_lists():
    """Mortar sets before grout, grout cures before sealer; a cast counter cures before it is set."""
    for item, steps in {"tile-own": (Step.SET_COUNTER, Step.GROUT), "tile-set": (Step.SET_COUNTER, Step.GROUT)}.items():
        work = {task.step: task for task in (*priced(item).tasks, *priced(item).hired)}
        assert work[Step.GROUT].after == (Step.SET_COUNTER,)
        assert Step.LAY_BACKER in work[Step.SET_COUNTER].after
        assert set(steps) <= set(work)
    cast = {task.step: task for task in priced("concrete-1-1-2").hired}
    assert cast[Step.CAST].after == (Step.TEMPLATE,)
    assert Step.CAST in cast[Step.SET_COUNTER].after
    likely = {name: lists().lead_times[name].likely_days for name in ("bed-sets", "grout-cures", "curing")}
    assert likely == {"bed-sets": 1, "grout-cures": 3, "curing": 28}  # as the lists say, in days round the clock


def test_stone_tile_and_concrete_differ_because_the_work_differs():
    """Our own tile takes most of our hours and a trip more, to grout; a tile setter needs no template, but our sub-top below it; concrete waits for weeks."""
    made = {item: priced(item) for item in ("stone-3cm", "concrete-1-1-2", "tile-set", "tile-own")}
    stone, concrete, hired, own = (weigh_option(one) for one in made.values())
    assert own.own_hours > max(stone.own_hours, hired.own_hours) + 8
    hours = {item: {task.step: task.hours_likely for task in one.tasks} for item, one in made.items()}
    assert Step.TEMPLATE in hours["stone-3cm"]
    assert Step.TEMPLATE not in hours["tile-set"]
    assert hours["tile-set"][Step.LEVEL] > hours["stone-3cm"][Step.LEVEL] + 1
    assert (own.trips, stone.trips) == (stone.trips + 1, concrete.trips)
    laid, cut, cast = (found.days_without_sink or 0.0 for found in (own, stone, concrete))
    assert 0 < laid < cut
    assert cast < cut  # measured while the old kitchen works: its weeks of cure are no days without a sink
    assert concrete.lead_days > stone.lead_days + 14
