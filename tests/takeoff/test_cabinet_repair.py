"""Wet floor and swollen sides."""

import pytest
from takeoff_jobs import lists, plain_job, sheet_of, step_lines

from kit.errors import JobError
from kit.estimating import estimate
from kit.job import change_job, job_document, parse_job
from kit.solids import Stage
from kit.takeoff.prepare_cabinet import count_cabinet_repair

PANEL, RENEW, SIDE, STIFFEN = (
    f"repair-cabinet/{part}" for part in ("plywood-1-2/cabinet floor", "cabinet-floor/replace", "plywood-1-2/swollen side", "cabinet-side/stiffen")
)


def test_sound_cabinet_needs_nothing():
    """Dry floor, firm sides."""
    assert step_lines(count_cabinet_repair) == {}


def test_wet_floor_by_its_area():
    """35 in between the sides, 24 in less 3/4 of face frame deep: measured, so no allowance; cut as one piece, as long as its body."""
    lines = step_lines(count_cabinet_repair, {"cabinet.wet_floor": True})
    hand_area = 35 * 23.25 / 144
    assert {name: line.quantity for name, line in lines.items()} == pytest.approx({PANEL: hand_area, RENEW: hand_area})
    assert {line.source for line in lines.values()} == {"job"}
    assert [(piece.length_in, piece.width_in, piece.count) for piece in lines[PANEL].pieces] == [(35.0, 23.25, 1)]
    assert lines[PANEL].waste == 0.0


@pytest.mark.parametrize(("thick", "item"), [("1/4 in", "plywood-1-4"), ("1/2 in", "plywood-1-2"), ("5/8 in", "plywood-3-4"), ("3/4 in", "plywood-3-4")])
def test_a_new_floor_is_as_thick_as_the_old_one(thick, item):
    """The nearest sheet, the thicker of two as near."""
    assert f"repair-cabinet/{item}/cabinet floor" in step_lines(count_cabinet_repair, {"cabinet.wet_floor": True, "cabinet.floor_thickness": thick})


@pytest.mark.parametrize(("side", "sides"), [("left", ["left"]), ("right", ["right"]), ("both", ["left", "right"])])
def test_swollen_sides_are_an_allowance(side, sides):
    """Nobody knows how far: a panel each, from the floor at 5 in to the cleat 5/8 + 3 1/2 in below 34 1/2, before the nailer."""
    changes = {"cabinet.swollen_side": side}
    lines = step_lines(count_cabinet_repair, changes)
    hand_high, hand_deep = 34.5 - 0.625 - 3.5 - 5, 24 - 0.75 - 0.75
    assert {name: line.quantity for name, line in lines.items()} == pytest.approx({SIDE: len(sides) * hand_deep * hand_high / 144, STIFFEN: len(sides)})
    assert {line.source for line in lines.values()} == {"allowance"}
    pieces = [(f"side doubler {side}", pytest.approx(hand_high), pytest.approx(hand_deep)) for side in sides]
    assert [(piece.name, piece.length_in, piece.width_in) for piece in lines[SIDE].pieces] == pieces
    model = sheet_of(changes).design.placed.model
    assert [body.name for body in model if body.name.startswith("side doubler")] == [f"side doubler {side}" for side in sides]
    assert all(model.gap(f"side {side}", f"side doubler {side}", "x").value_in == pytest.approx(0) for side in sides)


def test_nobody_looked_at_the_sides():
    """Left unknown they are taken as sound, and the result says so; the surprise has its agreed price."""
    found = estimate(change_job(plain_job(), {"cabinet.swollen_side": "unknown"}), lists())
    assert [(one.field, one.value) for one in found.assumptions if "swollen" in one.field] == [("cabinet.swollen_side", "none")]
    assert PANEL not in {line.id for line in found.lines}
    assert SIDE not in {line.id for line in found.lines}


OLDER = [
    ({"swollen_sides": False}, "none"),
    ({"swollen_sides": False, "swollen_side": "left"}, "none"),
    ({"swollen_sides": True}, "both"),
    ({"swollen_sides": True, "swollen_side": "unknown"}, "both"),
    ({"swollen_sides": True, "swollen_side": "right"}, "right"),
    ({"swollen_sides": "unknown", "swollen_side": "left"}, None),
]


@pytest.mark.parametrize(("cells", "hand"), OLDER)
def test_an_older_file_is_read(cells, hand):
    """It said yes or no, and which side in a field of its own; yes alone meant both. Saved again, it has the one field."""
    document = job_document(plain_job())
    document["cabinet"] = {key: cell for key, cell in document["cabinet"].items() if "swollen" not in key} | cells
    job = parse_job(document)
    assert job.cabinet.swollen_side == hand
    assert "swollen_sides" not in job_document(job)["cabinet"]


def test_an_older_key_that_says_neither_is_refused():
    """Text in the place of yes or no."""
    document = job_document(plain_job())
    document["cabinet"]["swollen_sides"] = "maybe"
    with pytest.raises(JobError, match=r'cabinet.swollen_sides is not a known key. Did you mean "swollen_side"'):
        parse_job(document)


@pytest.mark.parametrize("side", ["left", "right", "both"])
@pytest.mark.parametrize("changes", [{}, {"sink.carried_at": "bowl"}, {"sink.mount": "top"}, {"cabinet.width": "33 in"}])
def test_a_doubler_stands_beside_what_is_there(changes, side):
    """Cut around posts, below what hangs at the side; it shares no place with anything."""
    model = sheet_of({"cabinet.swollen_side": side, "cabinet.wet_floor": True, **changes}).design.placed.model
    doublers = {f"side doubler {one}" for one in ("left", "right") if side in {one, "both"}}
    assert doublers <= {body.name for body in model}
    assert not [found for found in model.overlaps(Stage.BUILT) if doublers & {found.first.name, found.second.name}]


def test_a_floor_nobody_tested_is_allowed_for():
    """Unknown counts as wet."""
    assert PANEL in step_lines(count_cabinet_repair, {"cabinet.wet_floor": "unknown"})
