"""The picture of the frame: members numbered as in the cut list, each leader at an edge that is seen."""

import math
import re
from collections import Counter

import pytest
from drawn import CORNER, STONE, TOP, WOOD, estimated, root, texts, words

from kit.draw.frame_picture import SCALE, SMALL, draw_frame_picture, number_members
from kit.draw.project import ISOMETRIC, project
from kit.export.lists_used import counted_pieces

FRAMES = (
    {"name": STONE},
    {"name": STONE, "sink__carried_at": "bowl"},
    {"name": WOOD},
    {"name": STONE, "cabinet__width": "42 in"},  # cleats far from the rim are packed out
)


def leaders(svg):
    """For each number the point its leader ends at [px]: a leader begins at the height of its words."""
    ends = [re.fullmatch(r"M\S+ (\S+)L\S+ \S+L(\S+) (\S+)", element.get("d")) for element in root(svg).iter() if element.get("stroke-width") == ".55"]
    found = {}
    for word in words(svg):
        number = re.match(r"(\d+): ", word.words)
        if number:
            middle = (word.box[1] + word.box[3]) / 2
            end = min((one for one in ends if one), key=lambda one: abs(float(one[1]) - middle))
            found[int(number[1])] = (float(end[2]), float(end[3]))
    return found


def distance(point, start, end):
    """From a point to a stretch between two."""
    along = [b - a for a, b in zip(start, end, strict=True)]
    share = sum((at - a) * way for at, a, way in zip(point, start, along, strict=True)) / sum(way * way for way in along)
    share = min(1.0, max(0.0, share))
    return math.dist(point, [a + share * way for a, way in zip(start, along, strict=True)])


@pytest.mark.parametrize("changes", FRAMES)
def test_every_leader_ends_at_an_edge_that_is_seen_of_its_kind(changes):
    """Within a fiftieth of an inch; a kind that stands behind all others is named in a note."""
    made = estimated(**changes)
    svg = draw_frame_picture(made)
    seen = [stroke for stroke in project(made.design.placed.frame.bodies, ISOMETRIC) if not stroke.hidden]
    points = leaders(svg)
    for number, member in enumerate(made.design.frame.members, 1):
        mine = [stroke for stroke in seen if stroke.body.name in member.bodies]
        if not mine:
            assert number not in points
            assert any(text.startswith(f"{number}: ") for text in texts(svg))
            continue
        x, y = points[number]
        assert min(distance((x / SCALE, -y / SCALE), stroke.start, stroke.end) for stroke in mine) < 0.02


@pytest.mark.parametrize("changes", [{"name": CORNER}, {"name": STONE, "sink__carried_at": "bowl"}, {"name": WOOD}])
def test_no_leader_crosses_a_post(changes):
    """Where no member lies between posts, as a front tie does, a leader ends at an edge with posts on one side of it only."""
    made = estimated(**changes)
    svg = draw_frame_picture(made)
    seen = [stroke for stroke in project(made.design.placed.frame.bodies, ISOMETRIC) if not stroke.hidden]
    posts = [(stroke.start, stroke.end) for stroke in seen if stroke.body.name.startswith("post") and stroke.start[0] == pytest.approx(stroke.end[0])]
    for end_x, end_y in leaders(svg).values():
        level = [x * SCALE for (x, low), (_, high) in posts if min(-low, -high) * SCALE + 1 < end_y < max(-low, -high) * SCALE - 1]
        assert not (any(x < end_x - 1 for x in level) and any(x > end_x + 1 for x in level))


@pytest.mark.parametrize("changes", FRAMES)
def test_taken_apart_every_kind_is_seen(changes):
    """All kinds have a leader, none a note."""
    made = estimated(**changes)
    svg = draw_frame_picture(made, exploded=True)
    assert set(leaders(svg)) == set(range(1, len(made.design.frame.members) + 1))
    assert SMALL < SCALE


@pytest.mark.parametrize("changes", FRAMES)
def test_numbers_and_lengths_are_those_of_the_cut_list(changes):
    """The pieces with a number in the cut list of the crew are as many as the members, of the same name and length."""
    made = estimated(**changes)
    numbers = number_members(made)
    cut = Counter()
    for purchase in made.purchases:
        for part in purchase.plan:
            for pieces in counted_pieces(part, numbers).split("; "):
                found = re.fullmatch(r"\((\d+)\) (.*) \[(\d+)\]", pieces)
                if found:
                    cut[int(found[3])] += int(found[1])
    members = dict(enumerate(made.design.frame.members, 1))
    assert cut == {number: member.count for number, member in members.items()}
    told = " ".join(texts(draw_frame_picture(made)))
    for number, member in members.items():
        assert f"{number}: {f'{member.count} x ' if member.count > 1 else ''}{member.name}" in told


def test_nothing_is_drawn_where_the_counter_carries_the_sink():
    """A top mount has no frame."""
    assert draw_frame_picture(estimated(TOP)) == ""


def test_the_cleat_of_the_strip_behind_a_flush_sink_is_taken_apart_too():
    """It has its layer, as every other member."""
    made = estimated(STONE, sink__mount="flush", sink__carried_at="bowl")
    assert any("strip cleat" in member.name for member in made.design.frame.members)
    assert any("strip cleat" in text for text in texts(draw_frame_picture(made, exploded=True)))
