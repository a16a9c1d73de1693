"""A job with a drain through the floor from end to end: what papers promise, who comes and when, what is bought and ordered."""

from functools import cache

import pytest
from floor_jobs import BY_NOBODY, BY_US, VENTED, lists
from paper_faults import said_twice

from kit.compare.differences import list_facts
from kit.draw.set_out_figures import list_figures
from kit.estimating import Estimate, estimate
from kit.export.papers import sentences
from kit.export.proposal import proposal_document
from kit.job import change_job, read_job
from kit.outlook import plan_schedule
from kit.records import Level
from kit.shipped_files import shipped
from kit.steps import Step

NO_VENT = {**VENTED, "plumbing.floor_pipe_vent": "none"}
BY_CUSTOMER = {"scope.drain_move.supplied_by": "customer", "scope.drain_move.installed_by": "customer"}
WAYS = {
    "joined by the plumber": VENTED,
    "joined by us": {**VENTED, **BY_US},
    "joined, pipe left alone": {**VENTED, **BY_NOBODY},
    "plumber called": NO_VENT,
    "the customer's plumber": {**NO_VENT, **BY_CUSTOMER},
}


@cache
def made(way: str) -> Estimate:
    """The stone example with its drain through the floor; its outlet lies where that of the plain job does, 18 in from the left and 14 3/4 from the wall."""
    return estimate(change_job(read_job(shipped("examples") / "stone_apron_single_bowl.toml"), WAYS[way]), lists())


def row_of(way: str) -> tuple[str, str, str] | None:
    """The scope's row of the drain: what, brought by, fitted by."""
    return next(((row["what"], row["brought"], row["fitted"]) for row in proposal_document(made(way))["scope"] if row["part"] == "Drain in the floor"), None)


@pytest.mark.parametrize("way", WAYS)
def test_papers_takeoff_and_calendar_say_the_same(way):
    """And no stop stands between the job and its proposal."""
    assert said_twice(made(way)) == []
    assert [one.id for one in made(way).findings if one.level is Level.STOP] == []


def test_the_scope_says_who_joins_the_drain():
    """Who brings and who fits; where the scope leaves the pipe alone it is excluded, and the trap is joined to it all the same."""
    assert row_of("joined by the plumber") == ("trap and arm joined to its pipe", "us", "licensed plumber")
    assert row_of("joined by us") == ("its pipe stays, trap and arm are joined to it", "us", "us")
    assert row_of("plumber called") == ("a plumber's service call", "licensed plumber", "licensed plumber")
    assert row_of("the customer's plumber") == ("joined by your licensed plumber", "you", "you")
    assert row_of("joined, pipe left alone") is None
    assert "Drain in the floor: not touched" in proposal_document(made("joined, pipe left alone"))["excluded"]


def test_what_the_call_out_does_not_hold_is_excluded():
    """Parts, vent, lower pipe: a change order first. Where the drain is designed nothing of it is; the customer's plumber is the customer's part."""
    excluded = {way: " ".join(proposal_document(made(way))["excluded"]) for way in WAYS}
    assert [way for way, text in excluded.items() if "beyond the plumber's service call" in text] == ["plumber called"]
    assert [way for way, text in excluded.items() if "goes down through the floor" in text] == ["the customer's plumber"]
    asked = [way for way in WAYS if any("licensed plumber look at the drain" in text for text in proposal_document(made(way))["yours"])]
    assert asked == ["the customer's plumber"]
    rights = [way for way in WAYS if any("plumber connects the sink to the drain in the floor" in text for text in proposal_document(made(way))["rights"])]
    assert rights == ["joined by the plumber", "plumber called"]


@pytest.mark.parametrize("way", ["joined by the plumber", "plumber called"])
def test_the_plumber_is_booked_and_comes_before_the_test(way):
    """His visit stands on the calendar as his, after the sink is set and before the bowls are filled."""
    found = made(way)
    assert "plumber" in next(line.basis for line in found.lines if line.item == "book-party")
    rows = {row.step: row for row in plan_schedule(found).schedule.steps}
    assert rows[Step.CONNECT_DRAIN].trade == "plumber"
    assert rows[Step.SET_SINK].finish <= rows[Step.CONNECT_DRAIN].start
    assert rows[Step.CONNECT_DRAIN].finish <= rows[Step.FILL_TEST].start


def test_the_crew_is_told():
    """Not to run water before the plumber has come; nothing of that where trap and arm are designed."""
    told = [way for way in WAYS if any("No water in the new sink" in text for text in sentences(made(way), "crew", "all"))]
    assert told == ["plumber called", "the customer's plumber"]
    (inlet,) = [one.words for one in list_figures(made("joined by us")) if one.what.startswith("Inlet of its tee")]
    assert inlet == "14 in, turned to the trap; arm 5 in from the weir"


def test_a_deeper_sink_may_leave_the_drain_to_a_plumber():
    """Options side by side say so: a bowl 5 in deeper lets out below an inlet of 15 in, where 19 9/16 in less 5 drains; the call-out buys no trap."""
    deeper = estimate(change_job(made("joined by the plumber").job_as_read, {"sink.bowls[1].depth": "14 in", "plumbing.floor_inlet": "15 in"}), lists())
    assert "its inlet stands too high: 15 in; the arm needs it no higher than 14 9/16 in" in deeper.design.drain.not_designed
    facts = {fact.what: (fact.before, fact.after) for fact in list_facts(made("joined by the plumber"), deeper)}
    assert facts["Drain in the floor"] == ("connected to its pipe", "left to a plumber")
    assert {line.id for line in deeper.lines if line.step is Step.CONNECT_DRAIN} == {"connect-drain/hire-plumber/call-out"}
