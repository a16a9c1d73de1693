"""The dishwasher freed and fastened."""

import dataclasses

import pytest
from takeoff_jobs import changed, lists, sheet_of, step_quantities

from kit.takeoff.connect_dishwasher import count_dishwasher_fastened, count_dishwasher_freed

FREE, OUT = "free-dishwasher/free-bracket/undo", "free-dishwasher/old-dishwasher/slide out"
SIDES, COUNTER, BRACKETS, SCREWS = (
    f"connect-dishwasher/{part}"
    for part in ("fasten-bracket/to the sides", "fasten-bracket/to the countertop", "side-bracket/brackets", "screw-bracket/brackets")
)
STAYS = {"scope.counter": {"supplied_by": "stays", "installed_by": "nobody"}, "counter.made_by": "stays"}
NEW = {"scope.dishwasher": {"supplied_by": "us", "installed_by": "us"}}


@pytest.mark.parametrize(
    ("changes", "hand_lines"),
    [
        ({}, {FREE: 2}),
        ({"old.dishwasher_fixing": "sides"}, {}),
        ({"old.dishwasher_fixing": "none"}, {}),
        ({"plumbing.dishwasher": False}, {}),
        (STAYS, {}),
        (NEW, {FREE: 2, OUT: 1}),
        ({**NEW, "old.dishwasher_fixing": "sides"}, {OUT: 1}),
        ({**NEW, "old.dishwasher_fixing": "none"}, {}),
    ],
)
def test_freed_where_it_hangs_on_the_counter(changes, hand_lines):
    """Fastened to sides, or under a counter that stays, it is not touched; an old one that is changed slides out."""
    assert step_quantities(count_dishwasher_freed, changes) == hand_lines


@pytest.mark.parametrize("material", ["stone", "solid-surface", "tile", "concrete", "steel", "porcelain"])
def test_to_the_sides_under_stone_and_the_like(material):
    """Two brackets with two screws each, bought."""
    sheet = dataclasses.replace(sheet_of(), job=with_counter(material))
    found = {line.id: line.quantity for line in count_dishwasher_fastened(sheet)}
    assert found == {SIDES: 2, BRACKETS: 2, SCREWS: 4}


@pytest.mark.parametrize("material", ["laminate", "wood"])
def test_to_the_counter_where_it_takes_screws(material):
    """The old brackets are used again; only screws are new."""
    sheet = dataclasses.replace(sheet_of(), job=with_counter(material))
    found = {line.id: line.quantity for line in count_dishwasher_fastened(sheet)}
    assert found == {COUNTER: 2, SCREWS: 4}


@pytest.mark.parametrize(
    ("changes", "fastened"),
    [({}, True), ({"old.dishwasher_fixing": "sides"}, False), (STAYS, False), ({**NEW, "old.dishwasher_fixing": "sides"}, True)],
)
def test_fastened_again_only_if_it_was_freed_or_is_new(changes, fastened):
    """What was never loose needs no bracket."""
    assert bool(step_quantities(count_dishwasher_fastened, changes)) == fastened


def with_counter(material):
    """The plain job with another counter of the list."""
    job, kind = changed(), next(kind for kind in lists().counters.values() if kind.material == material)
    return job.model_copy(update={"counter": job.counter.model_copy(update={"material": material, "item": kind.item})})
