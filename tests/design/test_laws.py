"""Laws of the model, on random jobs near and far: no job raises, no overlap goes unreported, every load arrives, every member has its place."""

import math
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from design_jobs import sheet_of
from hypothesis import given
from hypothesis import strategies as st
from random_jobs import lists, random_job

from kit.checks.overlaps import check_earlier_overlaps, check_overlaps
from kit.checks.support import check_support
from kit.design.design import Design, design_job
from kit.design.place_room import GROUND
from kit.job import fill_assumptions
from kit.records import Finding, Level
from kit.shapes import Rod
from kit.solids import Model, Stage
from kit.sources import table

JOINTS = {frozenset(name.replace("-", " ").split("/")) for name in table("joints")}


PIPES = {"tailpiece", "arm", "stub", "riser"}


def reported(model: Model, findings: list[Finding], stage: Stage) -> None:
    """Every overlap of a stage has its finding, with words for people; a room's own has the one of what it serves."""
    overlaps = {frozenset((found.first.name, found.second.name)): found for found in model.overlaps(stage)}
    ids = {finding.id for finding in findings}
    told = 0
    for names, found in overlaps.items():
        room = found.first if found.first.room else found.second
        first, second = sorted(names)
        if frozenset(name.rstrip(" 0123456789") for name in names) in JOINTS:
            continue
        if f"place/{first}-{second}".replace(" ", "-").replace(",", "").replace("'", "") in ids:
            told += 1
        else:
            assert room.room, names
            assert any(frozenset((served, *(names - {room.name}))) in overlaps for served in room.stands_on), names
    assert told == len(findings)
    assert all(finding.level is not Level.OK and finding.remedy for finding in findings)
    assert not any("_" in finding.check + finding.measured + finding.basis + finding.remedy for finding in findings)


def as_long_as_placed(design: Design) -> None:
    """What is bought of drain and riser, between centers, is as long together as its bodies."""
    pipes = (*design.drain.pipes, *(design.drain.riser.pipes if design.drain.riser else ()))
    for kind in {pipe.name.partition(" to the ")[0].partition(" between the ")[0] for pipe in pipes}:
        bought = math.fsum(pipe.count * pipe.centers_in for pipe in pipes if pipe.name.startswith(kind))
        bodies = [body for body in design.placed.model.at(Stage.BUILT) if body.name.startswith(kind) and body.part in PIPES]
        placed = math.fsum(math.dist(rod.start, rod.end) for body in bodies for rod in body.shapes if isinstance(rod, Rod))
        assert bought == pytest.approx(placed), kind


def hold(seed: int) -> tuple[list[Finding], list[Finding]]:
    """The laws on one job; gives what is said of its overlaps, as built and before that."""
    filled, assumptions = fill_assumptions(random_job(seed))
    design = design_job(filled, lists())
    model, built = design.placed.model, check_overlaps(design, assumptions)
    reported(model, built, Stage.BUILT)
    for stage in (Stage.TODAY, Stage.OPENED):
        reported(model, check_overlaps(design, assumptions, stage), stage)
    early = check_earlier_overlaps(design, assumptions)
    assert len({finding.id for finding in (*early, *built)}) == len(early) + len(built)
    for body in model:
        for shape in body.shapes:
            for low, high in (shape.x, shape.y, shape.z):
                assert low <= high + 1e-9, body.name
                assert math.isfinite(low), body.name
                assert math.isfinite(high), body.name
    as_long_as_placed(design)
    members = model.members()
    assert sum(member.count for member in design.frame.members) == len([body for body in members if body.part == "frame"])
    for member in design.frame.members:
        assert all(model[name].length_in == pytest.approx(member.length_in) for name in member.bodies)
    broken = [body.name for body in (*members, model["sink rim"]) if not set(model.path_down(body.name, GROUND)) & set(GROUND)]
    if broken:  # no room for posts above the cabinet floor: said, and never built
        levels = {finding.id: finding.level for finding in check_support(filled, design, lists())}
        assert levels["support/load-path"] is Level.STOP, broken
    return built, early


def test_the_laws_hold_on_random_jobs():
    """Thirty jobs; some have overlaps, so that the law on them is tried."""
    assert sum(bool(hold(seed)[0]) for seed in range(30)) > 3


@pytest.mark.long
@pytest.mark.parametrize("first", range(0, 300, 50))
def test_the_laws_hold_on_three_hundred_jobs(first):
    """Fifty at a time."""
    for seed in range(first, first + 50):
        hold(seed)


@given(st.floats(28, 33), st.floats(0, 2))
def test_a_wider_sink_of_the_same_rim_never_needs_more_packers(width, more):
    """Rim of 1 in on both sides of the bowl."""

    def packers(body):
        changes = {"sink.body_width": f"{body:.4f} in", "sink.bowl_width": f"{body - 2:.4f} in", "sink.bowls[1].width": "24 in"}
        frame = sheet_of(changes).design.frame
        return sum(member.count for member in frame.members if member.name == "cleat packer"), frame.cleat_reach_in

    narrow, wide = packers(width), packers(width + more)
    assert wide[0] <= narrow[0]
    assert wide[1] <= narrow[1] + 1e-9
