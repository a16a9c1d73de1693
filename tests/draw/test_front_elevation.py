"""The front elevation: the design's numbers, to scale, and what fails."""

import pytest
from drawn import STONE, TOP, box, boxes, estimated, foot, mark_boxes, marks, texts

from kit.draw.front import draw_front


@pytest.fixture(scope="module")
def front():
    """The front of the first example: 36 in face-frame base, 33 in overlay apron 10 in high, under mount."""
    return draw_front(estimated(STONE))


def test_the_designs_numbers_are_its_dimensions(front):
    """Widths and heights as worked by hand from the example's measures."""
    hand_cut_in = "32 in"  # 33 in apron, 1/2 in cover on each side
    hand_side_in = "2 in"  # (36 - 32) / 2
    hand_counter_top_in = "35 11/16 in"  # 34 1/2 + 1 3/16
    hand_down = ("5 1/2 in", "7 in", "10 in", "10 3/4 in")  # screw, false front, apron, doors, down from the box top
    found = texts(front)
    for wanted in ("36 in", "33 in", "34 1/2 in", "4 1/2 in", hand_cut_in, hand_counter_top_in, *hand_down):
        assert wanted in found
    assert found.count(hand_side_in) == 2
    assert "cut-out for the overlay" in found


def test_it_is_drawn_to_scale(front):
    """A 36 in base is drawn 36/33 as wide as a 33 in apron and three times as wide as the 12 in of the scale bar."""
    base, apron = box(front, "cabinet"), box(front, "apron")
    assert (base[2] - base[0]) / (apron[2] - apron[0]) == pytest.approx(36 / 33, rel=1e-3)
    assert (base[3] - base[1]) / (apron[3] - apron[1]) == pytest.approx(34.5 / 10, rel=1e-3)
    assert (base[2] - base[0]) / foot(front) == pytest.approx(36 / 12, rel=1e-3)


def test_a_cabinet_twice_as_wide_as_another_is_drawn_twice_as_wide():
    """One scale for all jobs."""
    narrow, wide = (box(draw_front(estimated(TOP, cabinet__width=width)), "cabinet") for width in ("24 in", "48 in"))
    assert (wide[2] - wide[0]) / (narrow[2] - narrow[0]) == pytest.approx(2.0, rel=1e-3)


def test_the_aprons_edge_lies_where_the_levels_say(front):
    """10 in below the box top, 3/4 in above the doors' upper edge."""
    base, apron, door = box(front, "cabinet"), box(front, "apron"), box(front, "doors")
    scale = (base[2] - base[0]) / 36
    assert (apron[3] - base[1]) / scale == pytest.approx(10.0, abs=0.02)
    assert (door[1] - apron[3]) / scale == pytest.approx(0.75, abs=0.02)


def test_an_apron_over_the_doors_is_marked_named_and_hatched():
    """Doors that begin 9 in below the box top under a 10 in apron: 1 in of overlap."""
    svg = draw_front(estimated(STONE, cabinet__door_top="9 in"))
    base, over = box(svg, "cabinet"), box(svg, "overlap")
    hand_overlap_in = 1.0
    assert (over[3] - over[1]) / ((base[2] - base[0]) / 36) == pytest.approx(hand_overlap_in, abs=0.02)
    assert {"apron", "doors"} <= {part for part, level in marks(svg).items() if level == "stop"}
    told = " ".join(texts(svg))
    assert "apron and doors overlap by 1 in" in told
    assert any(text.startswith("STOP") for text in texts(svg))


def test_no_overlap_is_drawn_where_there_is_none(front):
    """Doors clear of the apron."""
    assert boxes(front, "overlap") == []


def test_an_outline_goes_round_the_part_it_marks():
    """The mark of the apron holds the apron."""
    svg = draw_front(estimated(STONE, cabinet__door_top="9 in"))
    mark, apron = mark_boxes(svg, "apron")[0], box(svg, "apron")
    assert mark[0] < apron[0] < apron[2] < mark[2]
    assert mark[1] < apron[1] < apron[3] < mark[3]
    assert apron[0] - mark[0] < 10


def test_doors_nobody_measured_say_so():
    """Drawn where the false front ends, dotted, and named as not measured."""
    svg = draw_front(estimated(STONE, cabinet__door_top="unknown"))
    assert marks(svg)["doors"] == "unknown"
    assert "not measured" in " ".join(texts(svg))
    assert "10 3/4 in" not in texts(svg)


def test_what_comes_out_is_dotted_and_what_stays_is_not():
    """The false front goes with an apron, and stays with a sink in the counter."""
    cut, kept = " ".join(texts(draw_front(estimated(STONE)))), " ".join(texts(draw_front(estimated(TOP))))
    assert "false front, comes out" in cut
    assert "comes out" not in kept.replace("comes out or moves", "")
    assert "top rail 1 1/2 in, cut away" in cut


@pytest.mark.parametrize(
    ("kind", "wanted"), [("wall", "wall, gap"), ("open", "left side open"), ("range", "range, gap"), ("dishwasher", "dishwasher, gap"), ("door", "door, gap")]
)
def test_neighbours_are_named(kind, wanted):
    """Each kind of neighbour stands beside the base under its name."""
    svg = draw_front(estimated(STONE, cabinet__left={"kind": kind, "gap": "1/2 in"}))
    assert wanted in " ".join(texts(svg))
    assert boxes(svg, "left neighbour") or boxes(svg, "wall") or kind == "open"
