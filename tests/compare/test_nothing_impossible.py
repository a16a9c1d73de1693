"""What is offered as usable can be built: each alternate is designed anew, on the examples and on random jobs."""

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from long_run import one_in
from random_jobs import lists, random_job
from work_jobs import EXAMPLES

import kit
from kit.compare.options import compare_alternates
from kit.records import Level
from kit.solids import Overlap, Stage
from kit.sources import table, value

USUAL = {"stored", "dishwasher", "supply", "faucet", "clips"}  # stand in a usual size that nobody measured: a caution
JOINTS = [sorted(name.replace("-", " ").split("/")) for name in table("joints")]  # of two bowls or tubes, whichever number they have


def impossible(job: kit.Job) -> tuple[int, list[object]]:
    """How many alternates are offered as usable, and what can't be in them."""
    offered = [option for option in compare_alternates(job, lists()) if option.usable]
    found: list[object] = []
    for option in offered:
        design, findings = option.estimate.design, option.estimate.findings
        model = design.placed.model
        found += [(option.id, finding.check) for finding in findings if finding.level is Level.STOP]
        cleats = [body for body in model.members() if body.name.startswith(("side cleat", "cleat packer"))]
        found += [(option.id, body.name) for body in cleats if body.span("z")[1] > design.levels.box_top_in + 1e-9]
        found += [(option.id, overlap) for overlap in model.overlaps(Stage.BUILT) if is_solid(overlap)]
    return len(offered), found


def is_solid(overlap: Overlap) -> bool:
    """Two bodies, neither of a usual size, deeper in each other than a tape may be off."""
    pair = (overlap.first, overlap.second)
    if any(body.room or body.part in USUAL for body in pair) or sorted(body.name.rstrip(" 0123456789") for body in pair) in JOINTS:
        return False
    return overlap.depth_in >= value("checks", "tape/tolerance")


@pytest.mark.parametrize("path", one_in(3, EXAMPLES), ids=lambda path: path.stem)
def test_nothing_impossible_is_offered_for_an_example(path: Path):
    """Some can be had for each; no stop, no cleats above the box, no two bodies in one place."""
    offered, found = impossible(kit.read_job(path))
    assert found == []
    assert offered > 0


@pytest.mark.parametrize("first", [0, *(pytest.param(at, marks=pytest.mark.long) for at in (3, 12, 21))])
def test_nothing_impossible_is_offered_for_random_jobs(first: int):
    """Three, and twenty-seven more in the long run; something is offered in each lot."""
    tried = [impossible(random_job(seed)) for seed in range(first, first + (3 if first == 0 else 9))]
    assert [found for _, found in tried if found] == []
    assert sum(offered for offered, _ in tried) > 0
