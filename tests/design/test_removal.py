"""What comes out of the old kitchen, and who takes it out: said once, read by quantities, hours, risks and papers."""

import pytest
from design_jobs import lists, sheet_of

from kit.design.asbestos import list_untested
from kit.estimating import estimate
from kit.export.proposal_words import summary_of
from kit.job import change_job
from kit.labor.conditions import holding_conditions

CUSTOMER_SETS = {"scope.counter": {"supplied_by": "customer", "installed_by": "customer"}}
STAYS = {"scope.counter": {"supplied_by": "stays", "installed_by": "nobody"}, "counter.made_by": "stays"}
SPLASH_STAYS = {"scope.splash": {"supplied_by": "stays", "installed_by": "nobody"}}
SINK_STAYS = {"scope.sink": {"supplied_by": "stays", "installed_by": "nobody"}}
OLD_COUNTER_AND_SPLASH = {"old-counter-off", "glued-counter", "screwed-counter", "glued-splash"}


def by(supplied_by, installed_by):
    return {"scope.counter": {"supplied_by": supplied_by, "installed_by": installed_by}}


def conditions(changes):
    """Conditions of the changed plain job."""
    sheet = sheet_of(changes)
    return set(holding_conditions(sheet.job, sheet.design, sheet.lists))


@pytest.mark.parametrize(
    ("changes", "hand_counter", "hand_splash", "hand_sink"),
    [
        ({}, "us", "us", "us"),
        (by("us", "us"), "us", "us", "us"),
        (by("us", "trade"), "us", "us", "us"),
        (CUSTOMER_SETS, "customer", "us", "us"),
        ({**CUSTOMER_SETS, **SPLASH_STAYS}, "customer", "nobody", "us"),
        ({**CUSTOMER_SETS, "scope.splash": {"supplied_by": "excluded", "installed_by": "nobody"}}, "customer", "customer", "us"),
        ({**CUSTOMER_SETS, **SINK_STAYS}, "customer", "us", "customer"),
        (STAYS, "nobody", "us", "us"),
        ({**STAYS, **SPLASH_STAYS}, "nobody", "nobody", "us"),
        ({**STAYS, **SINK_STAYS}, "nobody", "us", "nobody"),
        (SINK_STAYS, "us", "us", "us"),
        ({**STAYS, "scope.sink": {"supplied_by": "us", "installed_by": "customer"}}, "nobody", "us", "customer"),
        ({"old.splash": "none", "old.sink_kind": "none"}, "us", "nobody", "nobody"),
        (by("us", "nobody"), "nobody", "us", "us"),
    ],
)
def test_who_takes_out_what(changes, hand_counter, hand_splash, hand_sink):
    """Whoever sets the new part expects the place cleared by us; a customer who sets it clears it too."""
    removal = sheet_of(changes).design.removal
    assert (removal.counter_by, removal.splash_by, removal.sink_by) == (hand_counter, hand_splash, hand_sink)
    assert removal.counter_comes_off == (hand_counter != "nobody")


def test_a_customer_who_sets_the_counter_pays_no_hours_for_its_glue():
    """The splash alone is ours: ten feet of it, and no foot of a glue line that we never touch."""
    job = change_job(sheet_of().job, {**CUSTOMER_SETS, "old.counter_fixing": "glued"})
    (task,) = [task for task in estimate(job, lists()).tasks if task.step == "remove-counter"]
    assert task.line_ids == ("remove-counter/splash-glued/pull off",)


@pytest.mark.parametrize(
    ("changes", "hand_ours", "hand_theirs"),
    [({}, ("counter", "splash"), ()), (CUSTOMER_SETS, ("splash",), ("counter",)), (CUSTOMER_SETS | SPLASH_STAYS, (), ("counter",)), (STAYS, ("splash",), ())],
)
def test_untested_glue_is_a_matter_of_whoever_tears_that_part_out(changes, hand_ours, hand_theirs):
    """Each of counter and splash by itself; what stays is nobody's."""
    sheet = sheet_of({"old.counter_fixing": "glued", "old.splash": "glued", **changes})
    found = [list_untested(sheet.job, sheet.lists, sheet.design.removal, who) for who in ("us", "customer")]
    assert found == [hand_ours, hand_theirs]


@pytest.mark.parametrize("fixing", ["glued", "screwed"])
def test_a_customer_who_sets_the_counter_brings_no_risk_of_it(fixing):
    """Glue behind the screws, torn board, a piece made again, a spoiled blank: whoever does the work carries it."""
    changes = {**CUSTOMER_SETS, **SPLASH_STAYS, "old.counter_fixing": fixing}
    assert not conditions(changes) & (OLD_COUNTER_AND_SPLASH | {"own-counter", "fabricated-counter", "counter-stays"})
    assert conditions({"old.counter_fixing": fixing}) >= {"old-counter-off", f"{fixing}-counter", "glued-splash", "fabricated-counter"}


def test_the_wall_behind_a_splash_is_a_risk_of_whoever_pulls_it_off():
    """A splash that stays tears nothing; one that we pull off a counter that stays may."""
    assert "glued-splash" not in conditions(SPLASH_STAYS)
    assert "glued-splash" in conditions(STAYS)
    assert "glued-splash" not in conditions({"old.splash": "loose"})


def test_blanks_that_the_customer_fits_are_not_spoiled_by_us():
    """We only bring them."""
    wood = {"counter.item": "wood-maple-own", "counter.material": "wood", "counter.species": "hard-maple", "counter.made_by": "us"}
    assert "own-counter" in conditions({**wood, **by("us", "us")})
    assert "own-counter" not in conditions({**wood, **by("us", "customer")})


def test_the_proposal_says_whether_a_new_counter_comes():
    """Also one that the customer sets."""
    job = sheet_of().job
    for changes, words in ((CUSTOMER_SETS, "a new stone countertop"), ({}, "a new stone countertop"), (STAYS, "your present countertop stays")):
        assert words in summary_of(estimate(change_job(job, changes), lists()))
