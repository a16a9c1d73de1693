"""Bare geometry: blocks, rods, what is carved out, what overlaps and how deep, gaps and the way of a load."""

import itertools
import math
import random

import pytest

from kit.shapes import Block, Rod, carve, overlap_depth
from kit.solids import Body, Model, Stage
from kit.spans import free_spans, lies_inside

approx = pytest.approx


def cube(at: float = 0.0, size: float = 2.0) -> Block:
    return Block((at, at + size), (at, at + size), (at, at + size))


def volume(block: Block) -> float:
    return math.prod(high - low for low, high in (block.x, block.y, block.z))


def test_two_blocks_overlap_by_the_least_way_out():
    """Two inches along x, half an inch along z: half an inch gets them apart."""
    assert overlap_depth(Block((0, 4), (0, 4), (0, 4)), Block((2, 6), (1, 3), (3.5, 9))) == 0.5


def test_faces_that_touch_do_not_overlap():
    """A cleat against a side is no overlap; a thousandth into it is."""
    side, cleat = Block((0, 0.5), (0, 24), (0, 34.5)), Block((0.5, 2), (0, 22), (31, 34.5))
    assert overlap_depth(side, cleat) == 0.0
    assert overlap_depth(side, Block((0.499, 2), (0, 22), (31, 34.5))) == approx(0.001)


def test_a_rod_reaches_into_a_block_by_its_radius_less_the_distance():
    """A 4 in pipe whose axis lies 1.5 in beside a board stands half an inch in it; beside the corner the distance runs on the slant."""
    board = Block((0, 10), (0, 1), (0, 10))
    assert overlap_depth(Rod((2, 2.5, 1), (8, 2.5, 1), 2.0), board) == approx(0.5)
    hand_slant = math.hypot(1.0, 1.0)
    assert overlap_depth(Rod((2, 2, 11), (8, 2, 11), 2.0), board) == approx(2.0 - hand_slant)
    assert overlap_depth(Rod((2, 2.5, 11.5), (8, 2.5, 11.5), 2.0), board) == 0.0


def test_the_ends_of_a_rod_are_flat():
    """A pipe that ends at a wall doesn't reach into it."""
    wall = Block((-10, 10), (-4, 0), (0, 96))
    assert overlap_depth(Rod((0, 0, 17), (0, 16, 17), 0.95), wall) == 0.0
    assert overlap_depth(Rod((0, -1, 17), (0, 16, 17), 0.95), wall) == approx(0.95)


def test_two_rods_overlap_by_their_radii_less_the_distance_of_their_axes():
    """Two crossing pipes, their axes 1 in apart."""
    one, other = Rod((0, 0, 0), (10, 0, 0), 0.75), Rod((5, 1, -5), (5, 1, 5), 0.75)
    assert overlap_depth(one, other) == approx(0.5)
    assert overlap_depth(one, Rod((5, 2, -5), (5, 2, 5), 0.75)) == 0.0


def test_a_slanting_rod_spans_what_its_ends_reach():
    """At 45 degrees each end disk reaches radius x cos 45 past its center."""
    low, high = Rod((0, 0, 0), (10, 0, 10), 1.0).x
    assert (low, high) == (approx(-math.sqrt(0.5)), approx(10 + math.sqrt(0.5)))


def test_strips_around_a_hole_hold_what_the_block_had_less_the_hole():
    """Random blocks and holes: volumes add up, strips don't overlap each other nor the hole."""
    chance = random.Random(12)
    for _ in range(300):
        block, hole = (Block(*(tuple(sorted(chance.sample(range(12), 2))) for _ in range(3))) for _ in range(2))
        strips = carve([block], hole)
        common = math.prod(max(0, min(a[1], b[1]) - max(a[0], b[0])) for a, b in zip((block.x, block.y, block.z), (hole.x, hole.y, hole.z), strict=True))
        assert sum(volume(strip) for strip in strips) == approx(volume(block) - common)
        assert all(overlap_depth(one, other) == 0.0 for one, other in itertools.combinations((*strips, hole), 2))
        assert not any(strip.empty for strip in strips)


def test_a_gap_runs_between_near_faces_and_names_the_measures():
    """Whichever is named first; negative where they pass each other."""
    model = Model(
        (
            Body("box", "cabinet", (Block((0, 36), (0, 24), (0, 34.5)),), fields=("cabinet.depth",)),
            Body("apron", "sink", (Block((1, 35), (25, 26), (24, 34.5)),)),
        )
    )
    assert model.gap("box", "apron", "y").value_in == model.gap("apron", "box", "y").value_in == 1.0
    assert model.gap("box", "apron", "y").fields == ("cabinet.depth",)
    assert model.gap("box", "apron", "z").value_in == -10.5


def test_overlaps_are_of_one_stage_and_leave_rooms_to_cross():
    """What comes out doesn't hinder what is new; a swing and a hand may cross, a solid in a swing is told."""
    old, new = Body("old", "sink", (cube(),), Stage.TODAY), Body("new", "sink", (cube(1.0),), Stage.BUILT)
    swing, hand = Body("swing", "door", (cube(1.5),), room=True), Body("hand", "door", (cube(1.5),), room=True)
    model = Model((old, new, swing, hand))
    assert {(found.first.name, found.second.name) for found in model.overlaps(Stage.BUILT)} == {("new", "swing"), ("new", "hand")}
    assert {(found.first.name, found.second.name, found.depth_in) for found in model.overlaps(Stage.TODAY)} == {("old", "swing", 0.5), ("old", "hand", 0.5)}


def test_overlaps_are_those_of_every_pair():
    """The sweep finds what trying all pairs finds."""
    chance = random.Random(5)
    for _ in range(40):
        bodies = [
            Body(f"b{n}", "p", tuple(Block(*((at := chance.uniform(0, 9), at + chance.uniform(0.5, 3)) for _ in range(3))) for _ in range(2)))
            for n in range(12)
        ]
        swept = {frozenset((found.first.name, found.second.name)) for found in Model(tuple(bodies)).overlaps(Stage.BUILT)}
        tried = {
            frozenset((one.name, other.name))
            for one, other in itertools.combinations(bodies, 2)
            if any(overlap_depth(a, b) > 0.0 for a in one.shapes for b in other.shapes)
        }
        assert swept == tried


def test_a_rod_along_an_axis_is_as_deep_as_one_that_leans_a_hair():
    """What is worked out at once for rods along the axes is what the search finds for those that lean by a hair."""
    chance = random.Random(12)
    deep = 0
    for _ in range(200):
        start = tuple(chance.uniform(0, 6) for _ in range(3))
        axis, far = chance.randrange(3), chance.uniform(1, 6)
        end = tuple(at + (far if number == axis else 0.0) for number, at in enumerate(start))
        leaning = tuple(at + (far if number == axis else 1e-7) for number, at in enumerate(start))
        other = chance.choice([cube(chance.uniform(0, 6)), Rod((3, 3, 0), (3, 3, 6), 1.0), Rod((0, 3, 3), (6, 3, 3), 1.0)])
        found = overlap_depth(Rod(start, end, 0.75), other)
        assert found == approx(overlap_depth(Rod(start, leaning, 0.75), other), abs=1e-5)
        deep += found > 0.0
    assert deep > 20


def test_what_a_room_serves_may_stand_in_it():
    """A wrench room around a valve: the valve by right, a post by none; two rooms cross."""
    valve, post = Body("valve", "supply", (cube(),)), Body("post", "frame", (cube(1.0),))
    room = Body("wrench", "wrench", (cube(),), room=True, stands_on=("valve",))
    other = Body("hand", "hand", (cube(),), room=True, stands_on=("valve", "post"))
    assert {(found.first.name, found.second.name) for found in Model((valve, room, other)).overlaps(Stage.BUILT)} == set()
    assert [{found.first.name, found.second.name} for found in Model((room, other, post)).overlaps(Stage.BUILT)] == [{"wrench", "post"}]


def test_two_bodies_of_one_name_are_refused():
    """A name is what findings and the cut list go by."""
    with pytest.raises(ValueError, match='Two bodies are called "post"'):
        Model((Body("post", "frame", (cube(),)), Body("post", "frame", (cube(5.0),))))


def test_a_load_finds_its_way_down_or_shows_where_it_ends():
    """Sink on cleat on post on the floor."""
    model = Model(
        (
            Body("sink", "sink", (cube(6),), stands_on=("cleat",)),
            Body("cleat", "frame", (cube(4),), stands_on=("post",), item="lumber-2x4"),
            Body("post", "frame", (cube(2),), stands_on=("subfloor",), item="lumber-2x4", along="z"),
        )
    )
    assert model.path_down("sink", ("subfloor",)) == ("sink", "cleat", "post", "subfloor")
    assert [body.name for body in model.members("lumber-2x4")] == ["cleat", "post"]
    assert model["post"].length_in == 2.0


def test_a_seam_at_the_edge_of_what_is_kept_clear_is_not_in_it():
    """Where a stretch begins by the sum of floats a hair before the seam that was placed at its edge; a sixteenth further it is in it."""
    assert not lies_inside(12.0, (11.999999999999996, 78.0))
    assert lies_inside(12.0625, (11.999999999999996, 78.0))


def test_what_is_left_between_spans_that_overlap_or_reach_beyond():
    """Nothing taken, all taken, and a gap no wider than a touch."""
    assert free_spans((0.0, 4.0), []) == [(0.0, 4.0)]
    assert free_spans((0.0, 4.0), [(-1.0, 2.0), (1.0, 5.0)]) == []
    assert free_spans((0.0, 4.0), [(1e-9, 3.0)]) == [(3.0, 4.0)]
