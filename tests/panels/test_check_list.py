"""The Check step's list."""

import re

import pytest

import kit
from kit.panels.check_list import draw_check_list
from kit.panels.visit_steps import leads_to
from kit.records import Level


def test_have_and_need_read_as_on_the_command_line():
    """ "10 in; need at most 7 1/8 in": one form for screen and command."""
    found = kit.estimate(kit.read_job(kit.shipped("examples") / "stone_apron_single_bowl.toml"), kit.load_lists(kit.shipped("price_lists")))
    said = re.sub("<[^>]+>", "", draw_check_list(found))
    for one in found.findings:
        if one.level is Level.CAUTION:
            assert f"{one.check}: {one.measured}; need {one.limit}" in said


def test_the_numbers_of_the_list_run_on():
    """A drawing says "7": it is looked for between 6 and 8. A new house of which little is known has things to measure and to decide."""
    job = kit.read_job(kit.shipped("examples") / "stone_apron_single_bowl.toml")
    unseen = kit.change_job(job, {"cabinet.door_top": None, "cabinet.false_front_bottom": None, "terms.crew": 1})
    found = kit.estimate(unseen, kit.load_lists(kit.shipped("price_lists")))
    open_ones = [one for one in found.findings if one.level is not Level.OK]
    assert {one.level for one in open_ones} == {Level.STOP, Level.UNKNOWN, Level.CAUTION}
    assert re.findall(r"<li><span>(\d+)</span>", draw_check_list(found)) == [str(number) for number in range(1, len(open_ones) + 1)]


@pytest.mark.parametrize(
    ("check", "hand_leads"),
    [
        ("support/platform-height", "sink"),  # the underside of the sink is typed there
        ("support/below-posts", "cabinet/cabinet.floor_material"),
        ("surface/level", "level/levelness.readings"),
        ("cabinet/apron-above-doors", "cabinet/cabinet.door_top"),
        ("lift/crew", "papers/terms.crew"),
    ],
)
def test_a_finding_leads_to_where_it_is_typed(check, hand_leads):
    """Nobody is sent to Level, where the readings of the boxes are typed, for the sink's underside; nor to Countertop for these readings."""
    found = kit.estimate(kit.read_job(kit.shipped("examples") / "stone_apron_single_bowl.toml"), kit.load_lists(kit.shipped("price_lists")))
    assert leads_to(next(one for one in found.findings if one.id == check)) == hand_leads
