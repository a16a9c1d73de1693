"""What is seen of blocks from somewhere: lengths of seen and hidden edges by hand, and against rays cast one by one."""

import itertools
import math
import random

import pytest

from kit.draw.project import FROM_ABOVE, FROM_FRONT, ISOMETRIC, project
from kit.shapes import Block, carve
from kit.solids import Body

approx = pytest.approx


def lengths(strokes, *, hidden):
    return sum(math.dist(stroke.start, stroke.end) for stroke in strokes if stroke.hidden is hidden)


def body(name, *blocks):
    return Body(name, "p", blocks)


def test_a_cube_from_the_front_is_a_square():
    """Four edges, those behind lie on the same lines; those that run towards the eye are points."""
    strokes = project([body("cube", Block((0, 2), (0, 2), (0, 2)))], FROM_FRONT)
    assert lengths(strokes, hidden=False) == approx(8)
    assert lengths(strokes, hidden=True) == 0


def test_a_cube_in_depth_shows_nine_of_its_twelve_edges():
    """Each as long as the other: 2 x the root of 2/3 (isometric)."""
    strokes = project([body("cube", Block((0, 2), (0, 2), (0, 2)))], ISOMETRIC)
    hand_edge = 2 * math.sqrt(2 / 3)
    assert lengths(strokes, hidden=False) == approx(9 * hand_edge, abs=0.01)
    assert lengths(strokes, hidden=True) == approx(3 * hand_edge, abs=0.01)


def test_a_board_behind_a_narrower_one_is_seen_beside_it():
    """Four inches wide behind two: its upper and lower edges are hidden over two inches each."""
    behind, before = body("behind", Block((0, 4), (0, 1), (0, 3))), body("before", Block((1, 3), (2, 3), (-1, 4)))
    mine = [stroke for stroke in project([behind, before], FROM_FRONT) if stroke.body is behind]
    front = [stroke for stroke in mine if not stroke.hidden]
    assert lengths(front, hidden=False) == approx(2 * 3 + 2 * (4 - 2), abs=0.01)


def test_blocks_of_one_body_show_no_joint():
    """Two halves of a board are drawn as one; a hole in it has its edges."""
    halves = body("board", Block((0, 2), (0, 1), (0, 1)), Block((2, 5), (0, 1), (0, 1)))
    assert lengths(project([halves], FROM_ABOVE), hidden=False) == approx(12, abs=0.01)
    drilled = body("board", *carve([Block((0, 5), (0, 5), (0, 1))], Block((2, 3), (2, 3), (0, 1))))
    assert lengths(project([drilled], FROM_ABOVE), hidden=False) == approx(20 + 4, abs=0.01)


def test_no_look_slips_through_between_the_strips_around_a_hole():
    """Seen from the front, a drilled board shows its front face and nothing of the hole in its middle."""
    drilled = body("board", *carve([Block((0, 5), (0, 5), (0, 1))], Block((2, 3), (2, 3), (0, 1))))
    assert lengths(project([drilled], FROM_FRONT), hidden=False) == approx(12, abs=0.01)


def test_strokes_are_seen_or_hidden_as_single_looks_say():
    """Random blocks that don't touch: from a point of an edge a look goes to the eye in small steps and meets a block just where it is hidden."""
    chance, checked = random.Random(7), {True: 0, False: 0}
    for _ in range(8):
        cells = chance.sample(list(itertools.product(range(3), repeat=3)), 6)
        blocks = [Block(*((at * 3.0, at * 3.0 + chance.uniform(1.0, 2.9)) for at in cell)) for cell in cells]
        strokes = project([body(f"b{number}", block) for number, block in enumerate(blocks)], ISOMETRIC)
        for number, block in enumerate(blocks):
            for start, end in _edges(block):
                share = chance.uniform(0.05, 0.95)
                point = tuple(a + share * (b - a) for a, b in zip(start, end, strict=True))
                near = [stroke for stroke in strokes if stroke.body.name == f"b{number}" and _lies_on(ISOMETRIC.flat(point), stroke)]
                if len(near) == 1:
                    checked[near[0].hidden] += 1
                    assert _meets(blocks, point, ISOMETRIC.eye) is near[0].hidden
    assert min(checked.values()) > 60


def _edges(block):
    spans = (block.x, block.y, block.z)
    for axis in range(3):
        for a, b in itertools.product(spans[(axis + 1) % 3], spans[(axis + 2) % 3]):
            ends = []
            for along in spans[axis]:
                point = [0.0, 0.0, 0.0]
                point[axis], point[(axis + 1) % 3], point[(axis + 2) % 3] = along, a, b
                ends.append(tuple(point))
            yield ends


def _lies_on(flat, stroke):
    whole = math.dist(stroke.start, stroke.end)
    return math.dist(stroke.start, flat) + math.dist(flat, stroke.end) < whole + 1e-6 and 0.02 < math.dist(stroke.start, flat) < whole - 0.02


def _meets(blocks, point, eye):
    for step in range(1, 900):
        at = [a + step * 0.02 * e for a, e in zip(point, eye, strict=True)]
        if any(all(low + 1e-3 < a < high - 1e-3 for a, (low, high) in zip(at, (block.x, block.y, block.z), strict=True)) for block in blocks):
            return True
    return False
