"""The estimator's screen, driven from Python: no browser needed."""

from pathlib import Path

import pytest

import kit
from kit.money import format_money
from kit.panels import Estimator

EXAMPLE = kit.shipped("examples") / "stone_apron_single_bowl.toml"


@pytest.fixture
def screen(tmp_path: Path) -> Estimator:
    """A screen with the first example, writing into an empty folder."""
    return Estimator(EXAMPLE, folder=tmp_path)


def test_price_on_screen_is_the_kits_own(screen):
    """What stands on the screen is what `kit.estimate` gives for the job on the screen."""
    assert screen.shown_price == format_money(kit.estimate(screen.job, screen.state.lists).price)


def test_a_typed_fraction_changes_job_and_price(screen):
    """A tape reading typed as a fraction reaches the job, and a wider run costs more."""
    before = screen.estimate.price
    screen.control("counter.runs[1].length").value = 120.5
    screen.control("cabinet.width").value = "36 1/2"
    assert screen.job.cabinet.width_in == 36.5
    assert screen.estimate.price > before
    assert screen.shown_price == format_money(screen.estimate.price)


def test_a_wrong_entry_is_told_and_changes_nothing(screen):
    """An entry that breaks its rule leaves price and job alone and says why, beside the entry."""
    before = screen.job, screen.shown_price
    screen.control("cabinet.width").value = "5 lb"
    assert (screen.job, screen.shown_price) == before
    assert "cabinet.width" in screen.faults_text
    screen.control("cabinet.width").value = "36 in"
    assert screen.faults_text == ""


def test_undo_and_redo_walk_the_history(screen):
    """Undo gives the job before back, controls included; redo the job after."""
    first = screen.job
    screen.control("cabinet.width").value = "39 in"
    second = screen.job
    screen.state.undo()
    assert screen.job == first
    assert screen.control("cabinet.width").value == "36 in"
    screen.state.redo()
    assert screen.job == second


def test_every_field_of_the_job_has_a_control(screen):
    """No field of the record is left off the screen; moving none of them changes nothing."""
    from kit.panels.controls import walk_fields

    places = [place for place, _, _ in walk_fields(screen.job)]
    assert len(places) == len(set(places)) > 90
    for place in places:
        assert screen.control(place).description


def test_saved_job_gives_the_same_price(screen, tmp_path):
    """The file that Save writes is read back to the job on the screen."""
    screen.control("sink.weight").value = 140.0
    screen.save()
    assert kit.read_job(tmp_path / "my_job.toml") == screen.job


def test_unknown_is_accepted_where_the_visit_may_not_tell(screen):
    """Emptying a field that may be unknown falls back to the assumption, which is listed."""
    screen.control("cabinet.depth").value = ""
    assert screen.job.cabinet.depth_in is None
    assert "cabinet.depth" in {assumed.field for assumed in screen.estimate.assumptions}


def test_cost_is_hidden_while_the_customer_looks_on(screen):
    """With one key neither hours, nor cost, nor margin stand on the screen; the price stays."""
    screen.show_view("Price")
    assert "Overhead" in screen.view_text
    screen.hide_cost(hidden=True)
    assert "Overhead" not in screen.view_text
    screen.show_view("Purchases")
    assert "Amount" not in screen.view_text
    assert screen.shown_price == format_money(screen.estimate.price)


def test_hostile_text_is_shown_as_text(screen):
    """A customer name with markup in it reaches the page escaped."""
    screen.control("identity.note").value = "<img src=x onerror=alert(1)>"
    screen.control("cabinet.width").value = "<img src=x onerror=alert(1)>"
    assert "<img" not in screen.faults_text
    assert "<img" not in screen.view_text


@pytest.mark.parametrize("view", ["Findings", "Drawings", "Takeoff", "Purchases", "Cut plan", "Hours", "Calendar", "Price", "Assumptions"])
def test_every_view_shows_the_job_on_the_screen(screen, view):
    """Each view has something in it, and something else after the job has changed."""
    screen.show_view(view)
    before = screen.view_text
    assert len(before) > 200
    screen.control("sink.weight").value = 150.0
    screen.control("counter.runs[1].length").value = 60.5
    screen.control("counter.sink_center").value = "30 in"
    screen.control("cabinet.aisle").value = ""
    screen.control("cabinet.depth").value = ""
    screen.control("cabinet.side_thickness").value = "5/8"
    assert screen.view_text != before
