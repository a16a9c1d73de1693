"""The owner's screen, driven from Python."""

from decimal import Decimal
from pathlib import Path

import pytest

import kit
from kit.errors import KitError
from kit.money import format_money
from kit.panels import Owner


@pytest.fixture
def screen(tmp_path: Path) -> Owner:
    """The alternates of the first example, writing into a folder of its own."""
    return Owner(folder=tmp_path / "jobs")


def test_every_alternate_stands_with_its_price_or_its_reason(screen):
    """Prices are the kit's own; what is not allowed stays with why."""
    for option in screen.options:
        assert option.name in screen.table.value
        if option.estimate is None:
            assert "no: " in screen.table.value
        else:
            assert format_money(kit.estimate(option.job, option.estimate.lists).price) in screen.table.value


def test_profit_and_overhead_act_on_all(screen):
    """Higher overhead raises every price; the button puts the job's own terms back."""
    before = {name: found.price for name, found in screen.figures.items()}
    screen.overhead.value = 40
    assert all(screen.figures[name].price > price for name, price in before.items())
    screen.profit.value = 30
    screen._as_in_job()
    assert {name: found.price for name, found in screen.figures.items()} == before


def test_moved_terms_give_what_a_job_with_these_terms_gives(screen):
    """The figures of a slider are those of a job that holds these terms itself."""
    screen.profit.value, screen.overhead.value = 20, 30
    for option in [option for option in screen.options if option.estimate is not None][:3]:
        job = kit.job.change_job(option.job, {"terms.profit": "20 %", "terms.overhead": "30 %"})
        made = kit.estimate(job, option.estimate.lists)
        assert (screen.figures[option.id].price, screen.figures[option.id].margin) == (made.price, made.margin)


def test_picking_two_tells_what_changes(screen):
    """Drain, cabinet, hours and money of the pair stand there, summed to the difference of their prices."""
    screen.first.value, screen.second.value = "under_stone-3cm", "top_stone-3cm"
    assert "Front of the cabinet" in screen.changes.value
    made = {option.id: option.estimate for option in screen.options}
    difference = made["top_stone-3cm"].price - made["under_stone-3cm"].price
    assert f"-{format_money(abs(difference))}" in screen.changes.value


def test_working_back_gives_the_wanted_margin(screen):
    """At the price shown the margin is reached, and a cent less misses it."""
    screen.margin.value = 35
    option = screen.options[0]
    price = screen._price_at(option.id, Decimal("0.35"))
    assert format_money(price) in screen.back.value
    cost = option.estimate.cost
    assert (price - cost) / price >= Decimal("0.35") > (price - Decimal("0.01") - cost) / (price - Decimal("0.01"))


def test_a_job_that_is_none_leaves_the_screen(screen):
    """A wrong name is refused and the alternates stay."""
    before = screen.table.value
    with pytest.raises(KitError, match="is not a plain file name"):
        screen.open("../../x")
    screen.note.guard(lambda: screen.open("missing.toml"))(None)
    assert "alert" in screen.note.box.value
    assert screen.table.value == before


def test_an_alternate_is_saved_as_a_job(screen):
    """The saved file prices as the alternate on the screen."""
    screen.first.value, screen.second.value = "under_stone-3cm", "flush_stone-3cm"
    screen.save()
    saved = kit.read_job(screen.files.folder / "stone_apron_single_bowl_flush_stone-3cm.toml")
    option = next(option for option in screen.options if option.id == "flush_stone-3cm")
    assert kit.estimate(saved, option.estimate.lists).price == option.estimate.price
