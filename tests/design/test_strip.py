"""The strip of counter behind a flush apron sink: a cleat along the rear of the base, in two where the faucet's nut hangs; by hand."""

import pytest
from design_jobs import lists, sheet_of

from kit.checks.surface import check_surface
from kit.records import Level
from kit.sources import value
from kit.takeoff.build_frame import count_frame

# base 36 in wide, sides 1/2 in: 35 in between them; sink 18 in deep, so that its back stands 24 + 3/4 - 18 in from the wall
FLUSH = {"sink.mount": "flush", "sink.carried_at": "bowl"}
NO_HOLE = {**FLUSH, "counter.holes": []}


def cleats(changes):
    return [body for body in sheet_of(changes).design.placed.model.members() if body.name.startswith("strip cleat")]


def held(changes):
    sheet = sheet_of(changes)
    return {finding.id: finding for finding in check_surface(sheet.job, sheet.design, lists())}.get("surface/rear-strip-held")


def test_one_piece_between_the_sides_against_back_and_nailer():
    """Back panel 1/4 and nailer 3/4 in; 35 in less 1/8 in of play; on edge, level with the base's top."""
    (cleat,) = cleats(NO_HOLE)
    job = sheet_of(NO_HOLE).job
    back_in = job.cabinet.back_panel_in * (not job.cabinet.clear_back) + job.cabinet.nailer_in
    assert cleat.span("x") == pytest.approx((0.5 + 1 / 16, 35.5 - 1 / 16))
    assert cleat.span("y") == pytest.approx((back_in, back_in + 1.5))
    assert cleat.span("z") == pytest.approx((job.cabinet.height_in - 3.5, job.cabinet.height_in))


def test_a_nut_in_its_way_parts_it():
    """Nut 2 1/2 in wide on the center line at 18 in, 2 1/2 in from the wall."""
    left, right = cleats({**FLUSH, "counter.holes[1].setback": "2 1/2 in", "counter.holes[1].offset": "0 in"})
    assert (left.span("x")[1], right.span("x")[0]) == pytest.approx((18 - 1.25, 18 + 1.25))


@pytest.mark.parametrize(("inside", "pieces"), [("24 in", 0), ("24 1/16 in", 1)])
def test_a_strip_up_to_two_feet_holds_itself(inside, pieces):
    """Between sides of 1/2 in; 24 in by the practice table, the limit included."""
    whole, _, part = inside.removesuffix(" in").partition(" ")
    assert len(cleats({**NO_HOLE, "cabinet.width": f"{int(whole) + 1} {part} in".replace("  ", " ")})) == pieces


@pytest.mark.parametrize(("rim", "pieces"), [("1 in", 1), ("2 1/2 in", 0)])
def test_a_rim_that_hangs_into_the_base_leaves_no_room_behind_it(rim, pieces):
    """22 1/2 in deep: its back 2 1/4 in from the wall, where the cleat ends, its bowl farther off. A rim thinner than the counter passes above the cleat."""
    assert len(cleats({**NO_HOLE, "sink.depth": "22 1/2 in", "sink.rear_rim": "4 in", "sink.rim_thickness": rim})) == pieces


def test_it_is_bought_and_cut_with_the_frame():
    """In the pieces of the lumber, at its length."""
    pieces = [piece for line in count_frame(sheet_of(NO_HOLE)) for piece in line.pieces if piece.name == "strip cleat"]
    assert [(piece.length_in, piece.count) for piece in pieces] == [(pytest.approx(35 - 1 / 8), 1)]


def test_nothing_stands_in_its_place():
    """Sink, frame, pipes, nuts."""
    model = sheet_of(FLUSH).design.placed.model
    assert not [pair for pair in model.overlaps(model["counter"].stages) if "strip cleat" in pair.first.name + pair.second.name]


@pytest.mark.parametrize(
    "changes",
    [
        {"sink.mount": "under", "sink.carried_at": "bowl"},
        {"sink.mount": "flush", "sink.style": "standard", "sink.apron_width": None, "sink.apron_height": None},
        {**NO_HOLE, "cabinet.width": "24 in"},
    ],
)
def test_other_strips_need_none(changes):
    """Under the counter the sink's rim carries on; without an apron the counter is whole in front; 23 in holds itself."""
    assert cleats(changes) == []


def test_how_far_the_strip_goes_without_support_is_said():
    """Held all along; in two pieces the nut's width is free."""
    assert (held(NO_HOLE).level, held(NO_HOLE).measured) == (Level.OK, "1/16 in")
    assert held({"sink.mount": "under"}) is None


def test_a_sink_that_leaves_no_room_behind_it_is_a_caution():
    """Back of a sink 23 in deep stands 1 3/4 in from the wall, its bowl no further: the strip goes free over all of 35 in, more than 24."""
    found = held({**NO_HOLE, "sink.depth": "23 in", "sink.rear_rim": "1/2 in"})
    assert value("practice", "counter/strip-span") == 24
    assert (found.level, found.measured) == (Level.CAUTION, "35 in")
    assert "steel angle" in found.remedy
