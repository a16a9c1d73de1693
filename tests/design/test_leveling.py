"""Readings, levels, box top: what a low base does to counter, rim and posts, and what fills the floor below them; by hand."""

import pytest
from design_jobs import sheet_of

from kit.design.place_room import GROUND
from kit.design.shims import design_shims, floor_fall_in, leaning_sides

FIXED, FREE = {"cabinet.fixed": True}, {"cabinet.fixed": False}
LOW = {"levelness.readings": [{"at": "0 in", "low": "0 in"}, {"at": "96 in", "low": "1 in"}]}  # the base stands from 24 to 60 in: 1/4 to 5/8 in low
BOWL = {"sink.carried_at": "bowl"}
STAYS = {"scope.counter": {"supplied_by": "stays", "installed_by": "nobody"}, "counter.made_by": "stays"}


def design(*changes):
    return sheet_of({key: value for change in changes for key, value in change.items()}).design


def test_packers_raise_box_top_and_rim_of_a_base_that_stays_fixed():
    """A quarter inch where the base stands highest: 34 3/4 in; the front stays, so the apron covers a quarter less of it."""
    found, level = design(LOW, FIXED), design(FIXED, {"levelness.readings": None})
    assert (found.levels.cabinet_top_in, found.levels.packed_top_in, found.levels.box_top_in) == (34.5, 34.75, 34.75)
    assert found.levels.rim_in == found.placed.sink.rim_z[1] == 34.75
    assert found.cut.height_in == pytest.approx(level.cut.height_in - 0.25)


def test_the_packers_are_bodies_that_carry_the_counter():
    """From the base's top to the counter, on both sides; the way of the load goes through them."""
    model = design(LOW, FIXED).placed.model
    assert all(model[f"box packer {side}"].span("z") == (34.5, 34.75) for side in ("left", "right"))
    assert model.gap("box packer left", "counter", "z").value_in == pytest.approx(0)
    assert model["counter"].stands_on == ("box packer left", "box packer right")
    assert set(model.path_down("counter", GROUND)) & set(GROUND)


def test_posts_grow_where_the_rim_comes_up_and_the_cabinet_floor_does_not():
    """Fixed: a quarter inch longer. Free: the floor comes up too, and the blocks below it are longer."""
    level, fixed, free = (design(BOWL, way).frame for way in ({"levelness.readings": None}, LOW | FIXED, LOW | FREE))
    assert (fixed.of("post").length_in, free.of("post").length_in) == pytest.approx((level.of("post").length_in + 0.25, level.of("post").length_in))
    block = level.of("block below post").length_in
    assert (fixed.of("block below post").length_in, free.of("block below post").length_in) == pytest.approx((block, block + 0.25))


def test_free_boxes_are_shimmed_at_the_floor_and_come_up_as_a_whole():
    """Top and floor of the base a quarter higher, no packers, the apron hangs over its front as before."""
    found = design(LOW, FREE)
    assert (found.levels.cabinet_top_in, found.levels.box_top_in) == (34.75, 34.75)
    assert found.placed.model["cabinet floor"].span("z")[1] == pytest.approx(5.25)
    assert not found.placed.model.of_part("shims") or all(
        body.name.startswith(("shims below post", "packer of the run")) for body in found.placed.model.of_part("shims")
    )


@pytest.mark.parametrize(
    ("low", "hand_packed"),
    [("1/2 in", 0.0), ("17/32 in", 17 / 128)],  # a quarter of the run's drop at the base's left side: 1/8 in is the tape's own error
)
def test_what_a_tape_cannot_tell_is_nothing(low, hand_packed):
    """Either side of an eighth."""
    levels = design(FIXED, {"levelness.readings": [{"at": "0 in", "low": "0 in"}, {"at": "96 in", "low": low}]}).levels
    assert levels.packed_top_in - levels.cabinet_top_in == pytest.approx(hand_packed)


def read(*lows):
    return {"levelness.readings": [{"at": at, "low": low} for at, low in lows]}


@pytest.mark.parametrize(("low", "hand_pairs"), [("1/32 in", 0), ("3/64 in", 2)])
def test_a_support_that_is_hardly_low_gets_no_shims(low, hand_pairs):
    """A thirty-second stays as it is; a hair more takes a pair in front and one at the rear."""
    job = sheet_of({**FIXED, **read(("0 in", "0 in"), ("96 in", low))}).job
    assert design_shims(job).supports[-1].pairs == hand_pairs


@pytest.mark.parametrize(("low", "hand_fall"), [("1/32 in", 0.0), ("3/64 in", 3 / 64)])
def test_a_floor_that_hardly_falls_is_level(low, hand_fall):
    """From one side of the base, 24 in along the run, to the other at 60 in."""
    assert floor_fall_in(sheet_of({**FREE, **read(("24 in", "0 in"), ("60 in", low))}).job, 36.0) == hand_fall


@pytest.mark.parametrize(("low", "hand_packers"), [("7/16 in", {}), ("15/32 in", {}), ("9/16 in", {"right": 1 / 8})])
def test_a_side_that_a_pair_does_not_bring_level_gets_a_packer(low, hand_packers):
    """A pair of shims, 3/8 and 1/16 in, fills 7/16 in; nobody rips a packer of 1/32 in."""
    assert leaning_sides(sheet_of({**FIXED, **read(("24 in", "0 in"), ("60 in", low))}).job) == hand_packers


@pytest.mark.parametrize("changes", [STAYS, {"levelness.readings": None}, {"scope.counter": {"supplied_by": "customer", "installed_by": "customer"}}])
def test_nothing_is_packed_where_we_level_nothing_or_nobody_has_read(changes):
    """A counter that stays, one that the customer clears and sets, no readings."""
    levels = design(LOW, FIXED, changes).levels
    assert levels.box_top_in == levels.cabinet_top_in == 34.5


def test_the_highest_place_may_be_a_reading_between_the_sides():
    """0 at 42 in, in the middle of the base: nothing is packed, though both its sides are low."""
    readings = [{"at": "0 in", "low": "1 in"}, {"at": "42 in", "low": "0 in"}, {"at": "96 in", "low": "1 in"}]
    assert design(FIXED, {"levelness.readings": readings}).levels.packed_top_in == 34.5


def test_shims_fill_what_the_floor_has_fallen_below_a_post():
    """Right rear post: middle at 36 - 1/2 - 1 3/4 = 33 3/4, 9 3/4 in beyond 48: 33 3/4 / 96 of an inch below the base's left side."""
    found = design(LOW, BOWL, FIXED)
    model, hand_fall = found.placed.model, 33.75 / 96
    assert model["shims below post rear right"].span("z") == pytest.approx((-hand_fall, 0))
    assert model["block below post rear right"].stands_on == ("shims below post rear right",)
    assert "shims below post rear left" not in model  # 2 1/4 / 96 in is less than 1/32
    assert not [overlap for overlap in model.overlaps(model["counter"].stages) if "shims" in {overlap.first.part, overlap.second.part}]


def test_a_packer_stands_below_the_shims_of_a_post_where_a_pair_is_too_little():
    """2 in over 96: 33 3/4 / 48 in below the right rear post; a pair fills 3/8 + 1/16, the packer the rest, as large as the post, on the subfloor."""
    found = design({"levelness.readings": [{"at": "0 in", "low": "0 in"}, {"at": "96 in", "low": "2 in"}]}, BOWL, FIXED)
    model, hand_fall, pair = found.placed.model, 33.75 / 48, 3 / 8 + 1 / 16
    shims, packer = model["shims below post rear right"], model["packer below post rear right"]
    assert (shims.span("z"), packer.span("z")) == (pytest.approx((-pair, 0)), pytest.approx((-hand_fall, -pair)))
    assert (shims.stands_on, packer.stands_on) == ((packer.name,), ("subfloor",))
    assert [packer.span(axis) for axis in "xy"] == [model["post rear right"].span(axis) for axis in "xy"]
    assert "packer below post rear left" not in model
    assert not [one for one in model.overlaps(model["counter"].stages) if {shims.name, packer.name} & {one.first.name, one.second.name}]
