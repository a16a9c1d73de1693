"""What a notebook user reaches as `kit.something`: every name is there, completed, and loaded only when it is used."""

import ast
import subprocess
import sys
from pathlib import Path

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


def test_a_name_is_public_where_it_is_defined():
    """A file offers what it defines and hands on no other file's names; the openings of rooms (`__init__.py`) may, and hold nothing else then."""
    handed_on = {}
    for path in sorted(Path(kit.__file__).parent.rglob("*.py")):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        public = [
            node.value for node in tree.body if isinstance(node, ast.Assign) and isinstance(node.targets[0], ast.Name) and node.targets[0].id == "__all__"
        ]
        offered = {str(ast.literal_eval(name)) for names in public if isinstance(names, ast.List) for name in names.elts}
        imported = {name.asname or name.name for node in tree.body if isinstance(node, ast.ImportFrom) for name in node.names}
        if path.name != "__init__.py" and offered & imported:
            handed_on[path.name] = sorted(offered & imported)
    assert handed_on == {}
