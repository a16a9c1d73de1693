"""The Check step's list."""

import re

import kit
from kit.panels.check_list import draw_check_list
from kit.records import Level


def test_have_and_need_read_as_on_the_command_line():
    """ "10 in; need at most 7 1/8 in": one form for screen and command."""
    found = kit.estimate(kit.read_job(kit.shipped("examples") / "stone_apron_single_bowl.toml"), kit.load_lists(kit.shipped("price_lists")))
    said = re.sub("<[^>]+>", "", draw_check_list(found))
    for one in found.findings:
        if one.level is Level.CAUTION:
            assert f"{one.check}: {one.measured}; need {one.limit}" in said
