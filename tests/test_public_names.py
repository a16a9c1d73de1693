"""What a notebook user reaches as `kit.something`: every name is there, completed, and loaded only when it is used."""

import subprocess
import sys

import pytest

import kit
from kit.labor.network import Activity, Link, plan_network

PINNED_NAMES = (
    *("Estimate", "Job", "Lists"),
    *("read_job", "new_job", "change_job", "write_job", "load_lists", "change_lists", "shipped"),
    *("estimate", "revalue", "compare_options", "sweep", "batch", "plan_schedule", "assess_risk"),
    *("frame", "quantity_of", "why", "draw_job", "write_workbook", "write_papers", "issue"),
)
ROOMS = {path.stem for path in kit.shipped("examples").parent.joinpath("kit").iterdir()}


def test_every_public_name_is_there_and_completed():
    """Each can be reached and is offered by tab; the only room among them is `estimate`, whose function is loaded from the start."""
    assert set(kit.__all__) == set(PINNED_NAMES)
    assert dir(kit) == sorted(PINNED_NAMES), "Tab offers these and nothing else"
    for name in kit.__all__:
        assert getattr(kit, name) is not None
        assert name in dir(kit)
    assert not set(kit.__all__) & ROOMS
    with pytest.raises(AttributeError, match="module 'kit' has no attribute 'schedule_all'"):
        _ = kit.schedule_all


def test_what_an_estimate_does_not_need_is_loaded_when_it_is_used():
    """`import kit` loads no calendar and no trials."""
    lines = "import kit, sys; a = 'kit.outlook' in sys.modules; kit.assess_risk; print(a, 'kit.outlook' in sys.modules)"
    found = subprocess.run([sys.executable, "-c", lines], env={"PYTHONPATH": ":".join(sys.path)}, capture_output=True, text=True, check=True).stdout
    assert found.split() == ["False", "True"]


def test_the_critical_path_of_a_notebook():
    """Dig two days, pour one after it, posts five days: digging may slip by two days."""
    network = plan_network([Activity("dig", 2.0), Activity("pour", 1.0, (Link("dig"),)), Activity("post", 5.0)])
    hand_finish, hand_float = 5.0, 2.0
    assert (network.finish, network.times["dig"].total_float) == (hand_finish, hand_float)
