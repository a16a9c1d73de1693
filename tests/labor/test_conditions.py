"""Conditions of a job at their limits."""

import pytest
from work_jobs import estimated, lists

from kit.design.design import design_job
from kit.job import change_job
from kit.labor.conditions import holding_conditions


@pytest.mark.parametrize(
    ("name", "field", "hand_last", "hand_first"),
    [
        ("stairs", "site.stair_steps", 6, 7),  # more than six steps
        ("tight-access", "site.narrowest_door", "30 in", "29 15/16 in"),  # a sink 18 in deep and 12 in of hands and arms
        ("tight-access", "site.narrowest_turn", "30 in", "29 15/16 in"),
        ("upper-floor", "site.floor", 1, 2),
    ],
)
def test_access_at_its_limits(name, field, hand_last, hand_first):
    """The last job without the condition and the first with it."""
    job = change_job(estimated("stone_apron_single_bowl").job, {"sink.depth": "18 in", "site.narrowest_door": "36 in", "site.narrowest_turn": "36 in"})
    for typed, holds in ((hand_last, False), (hand_first, True)):
        now = change_job(job, {field: typed})
        assert (name in holding_conditions(now, design_job(now, lists()), lists())) == holds
