"""Loads placed equal loads that arrive at the floor; weights of members and counter by their volume, by hand."""

import sys
from pathlib import Path

import pytest
from design_jobs import lists, sheet_of

from kit.design.named_goods import counter_kind
from kit.design.place_room import GROUND
from kit.design.weights import follow_loads
from kit.solids import Model

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from random_jobs import random_job

from kit.design.design import design_job
from kit.job import fill_assumptions


def loads_of(design, job):
    return follow_loads(design.placed.model, design.load, counter_kind(job, lists()), GROUND)


def test_weights_of_a_platform_by_hand():
    """Lumber 1 1/2 x 3 1/2 in at 38 lb a cubic foot, plywood 3/4 in at 36, both from the residential design guide; stone 16 1/2 lb a square foot."""
    sheet = sheet_of({"sink.carried_at": "bowl"})
    found = loads_of(sheet.design, sheet.job)
    model = sheet.design.placed.model
    lumber_in = sum(body.length_in for body in model.members("lumber-2x4"))
    outlet = (3.5 + 2 * 0.5) ** 2  # the nut of the strainer and half an inch of air
    panel = model["platform panel"]
    hand_panel = (panel.size_in("x") * panel.size_in("y") - outlet) * 0.75 * 36 / 1728
    assert found.frame_lb == pytest.approx(lumber_in * 1.5 * 3.5 * 38 / 1728 + hand_panel)
    opening = sheet.design.placed.opening
    hand_counter = (96 * (24 - 0.125) - opening.width_in * opening.front_to_back_in - 1.375**2) * 16.5 / 144
    assert found.counter_lb == pytest.approx(hand_counter)
    assert found.hung_lb == pytest.approx(118 + 29.5 * 15.5 * 9 / 231 * 8.33 + 50)


@pytest.mark.parametrize(
    "changes",
    [{}, {"sink.carried_at": "bowl"}, {"sink.mount": "top"}, {"cabinet.width": "48 in"}, {"levelness.readings[2].low": "1 in", "cabinet.fixed": True}],
)
def test_all_that_is_placed_arrives(changes):
    """Cleats, platform, counter and platform together, a third post, packers and shims."""
    sheet = sheet_of(changes)
    found = loads_of(sheet.design, sheet.job)
    assert found.holds
    assert found.arrives_lb == pytest.approx(found.placed_lb)


def test_what_stands_on_nothing_does_not_arrive():
    """Posts taken away from below a platform: its load is missing at the floor."""
    sheet = sheet_of({"sink.carried_at": "bowl"})
    model = Model(tuple(body for body in sheet.design.placed.model if not body.name.startswith("post ")))
    found = follow_loads(model, sheet.design.load, counter_kind(sheet.job, lists()), GROUND)
    assert not found.holds
    assert found.arrives_lb < found.placed_lb - found.hung_lb


def test_loads_arrive_on_random_jobs():
    """Sixty jobs; where posts find no room above the cabinet floor the finding is a stop, and those are few."""
    broken = 0
    for seed in range(60):
        job, _ = fill_assumptions(random_job(seed))
        broken += not loads_of(design_job(job, lists()), job).holds
    assert broken < 10
