"""How far the visit is: what is counted adds up, and Check carries the flag of whatever is found anywhere."""

import datetime as dt
import re

import pytest

import kit
from kit.compare.new_job import job_kinds, new_job
from kit.panels.progress import follow_steps, progress_words


@pytest.mark.parametrize(("width", "hand_mark", "hand_words"), [("36 in", "decide", "to decide"), ("33 in", "stop", "stop")])
def test_check_carries_the_worst_flag_and_the_counts_add_up(width, hand_mark, hand_words):
    """A base of 36 in leaves two decisions at the sink, one of 33 in is too narrow for its body; known, assumed and unknown are all there is to know."""
    job = kit.change_job(kit.read_job(kit.shipped("examples") / "stone_apron_single_bowl.toml"), {"cabinet.width": width})
    made = kit.estimate(job, kit.load_lists(kit.shipped("price_lists")))
    steps = follow_steps(job, made)
    assert (steps["check"].mark, steps["check"].says) == (hand_mark, hand_words)
    assert steps["level"].mark == "done"
    assert steps["plumbing"].says == "1 assumed, 4 unknown"
    assert progress_words(steps).endswith(f"known, {steps['plumbing'].says}")  # the same words beside the step and in the sum
    assert _adds_up(progress_words(steps))


def test_a_step_whose_entry_was_not_accepted_has_no_tick():
    """Whatever else is known of it; the other steps keep their marks."""
    job = kit.read_job(kit.shipped("examples") / "stone_apron_single_bowl.toml")
    made = kit.estimate(job, kit.load_lists(kit.shipped("price_lists")))
    before, after = follow_steps(job, made), follow_steps(job, made, ["site.year_built", "cabinet.width", "cabinet.depth"])
    assert (before["house"].mark, after["house"].mark, after["house"].says) == ("done", "refused", "1 not accepted")
    assert (after["cabinet"].mark, after["cabinet"].says) == ("refused", "2 not accepted")
    assert {name for name in after if after[name].mark != before[name].mark} == {"house", "cabinet"}


def test_a_new_job_says_how_many_answers_are_to_come():
    """Twelve decide the price, none of them is given; nothing that its kind presets is called measured."""
    job = new_job(job_kinds()[0], kit.load_lists(kit.shipped("price_lists")), number="2026-001", day=dt.date(2026, 3, 2))
    steps = follow_steps(job, None)
    assert (steps["cabinet"].says, steps["sink"].says) == ("4 to answer", "3 assumed")
    said = progress_words(steps)
    assert "12 to answer" in said
    assert sum(step.open for step in steps.values()) == 12
    assert steps["start"].says == "4 to fill in"  # number, customer, address and the like: the price does not wait for them
    assert "measured" not in said
    assert _adds_up(said)


def _adds_up(said: str) -> bool:
    known, of, *rest = map(int, re.findall(r"\d+", said))
    return known + sum(rest) == of
