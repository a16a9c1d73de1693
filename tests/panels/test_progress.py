"""How far the visit is: what is counted adds up, and Check carries the flag of whatever is found anywhere."""

import re

import pytest

import kit
from kit.panels.progress import follow_steps, progress_words


@pytest.mark.parametrize(("width", "hand_mark", "hand_words"), [("36 in", "decide", "to decide"), ("33 in", "stop", "stop")])
def test_check_carries_the_worst_flag_and_the_counts_add_up(width, hand_mark, hand_words):
    """A base of 36 in leaves two decisions at the sink, one of 33 in is too narrow for its body; measured, assumed and unknown are all that can be measured."""
    job = kit.change_job(kit.read_job(kit.shipped("examples") / "stone_apron_single_bowl.toml"), {"cabinet.width": width})
    made = kit.estimate(job, kit.load_lists(kit.shipped("price_lists")))
    steps = follow_steps(job, made)
    assert (steps["check"].mark, steps["check"].says) == (hand_mark, hand_words)
    assert steps["level"].mark == "done"
    measured, of, assumed, unknown = map(int, re.findall(r"\d+", progress_words(steps)))
    assert measured + assumed + unknown == of
