"""The front elevation: the design's numbers, to scale, and what fails."""

import re

import pytest
from drawn import STONE, SVG, TOP, boxes, estimated, extent, flag_at, foot, marks, numbers, root, texts

from kit.draw.front_elevation import draw_front
from kit.draw.marks import number_findings


@pytest.fixture(scope="module")
def front():
    """The front of the first example: 36 in face-frame base, 33 in overlay apron 10 in high, under mount."""
    return draw_front(estimated(STONE))


def test_the_designs_numbers_are_its_dimensions(front):
    """Widths and heights as worked by hand from the example's measures."""
    hand_cut_in = "32 5/8 in"  # the body of 32 1/2 in and 1/16 in on each side, wider than the apron less its cover
    hand_side_in = "1 11/16 in"  # (36 - 32 5/8) / 2
    hand_counter_top_in = "35 11/16 in"  # 34 1/2 + 1 3/16
    hand_down = ("10 in", "10 3/4 in", "3/4 in")  # apron and doors, down from the box top; between them
    found = texts(front)
    for wanted in ("36 in", "33 in", "34 1/2 in", hand_cut_in, hand_side_in, hand_counter_top_in, *hand_down):
        assert wanted in found
    assert "cutout for the overlay" in " ".join(found)


def test_every_dimension_knows_the_measures_that_fix_it(front):
    """The cut names body and apron, the gap above the doors apron and doors; no dimension stands without its measures, and words know the choice they say."""
    choices = {"cabinet.left.kind", "cabinet.right.kind", "cabinet.construction", "counter.material"}
    fields = {"".join(group.itertext()): group.get("data-fields").split() for group in root(front).iter(f"{SVG}g") if group.get("data-fields")}
    assert {"sink.apron_width", "sink.body_width"} <= set(fields["32 5/8 in"])
    assert {"sink.apron_height", "cabinet.door_top"} <= set(fields["3/4 in"])
    assert choices == {field for named in fields.values() for field in named if field in choices}
    assert {words for words in fields if re.fullmatch(r"[\d /]+ in", words) and not choices & set(fields[words])} == {
        "36 in",
        "33 in",
        "34 1/2 in",
        "32 5/8 in",
        "1 11/16 in",
        "35 11/16 in",
        "10 in",
        "10 3/4 in",
        "3/4 in",
        "9 1/2 in",  # the second line of the cut's own words
    }


def test_an_apron_without_thickness_is_drawn_as_its_face():
    """A bowl that reaches the front as measured (2 1/2 in of rear rim and 15 1/2 in are the sink's 18 in) leaves the apron no body."""
    thin = draw_front(estimated(STONE, sink__rear_rim="2 1/2 in"))
    base, apron = extent(thin, "cabinet"), extent(thin, "apron")
    assert (base[2] - base[0]) / (apron[2] - apron[0]) == pytest.approx(36 / 33, rel=1e-3)
    assert "apron" in texts(thin)


def test_it_is_drawn_to_scale(front):
    """A 36 in base is drawn 36/33 as wide as a 33 in apron and three times as wide as the 12 in of the scale bar."""
    base, apron = extent(front, "cabinet"), extent(front, "apron")
    assert (base[2] - base[0]) / (apron[2] - apron[0]) == pytest.approx(36 / 33, rel=1e-3)
    assert (base[3] - base[1]) / (apron[3] - apron[1]) == pytest.approx(34.5 / 10, rel=1e-3)
    assert (base[2] - base[0]) / foot(front) == pytest.approx(36 / 12, rel=1e-3)


def test_a_cabinet_twice_as_wide_as_another_is_drawn_twice_as_wide():
    """One scale for all jobs."""
    narrow, wide = (extent(draw_front(estimated(TOP, cabinet__width=width)), "cabinet") for width in ("24 in", "48 in"))
    assert (wide[2] - wide[0]) / (narrow[2] - narrow[0]) == pytest.approx(2.0, rel=1e-3)


def test_the_aprons_edge_lies_where_the_levels_say(front):
    """10 in below the box top, 3/4 in above the doors' upper edge."""
    base, apron, door = extent(front, "cabinet"), extent(front, "apron"), extent(front, "doors")
    scale = (base[2] - base[0]) / 36
    assert (apron[3] - base[1]) / scale == pytest.approx(10.0, abs=0.02)
    assert (door[1] - apron[3]) / scale == pytest.approx(0.75, abs=0.02)


@pytest.mark.parametrize(("kind", "words"), [("slab", "doors trimmed by 1 1/8 in"), ("five-piece", "new doors, 18 3/8 in high")])
def test_doors_that_become_lower_are_drawn_as_they_will_be(kind, words):
    """Doors 19 1/2 in high that begin 9 in below the box top, under a 10 in apron with 1/8 in of reveal: 1 1/8 in go."""
    made = estimated(STONE, cabinet__door_top="9 in", cabinet__door_height="19 1/2 in", cabinet__door_kind=kind, cabinet__hinge_bore="4 in")
    svg = draw_front(made)
    apron, door = extent(svg, "apron"), extent(svg, "doors")
    scale = (apron[3] - apron[1]) / 10
    assert (door[1] - apron[3]) / scale == pytest.approx(1 / 8, abs=0.02)
    assert words in " ".join(texts(svg))
    assert {"apron", "doors"} <= {part for part, level in marks(svg).items() if level in {"caution", "unknown"}}
    over_doors = next(number for number, finding in number_findings(made.findings) if finding.id == "cabinet/apron-above-doors")
    assert over_doors in numbers(svg)["apron"]
    assert over_doors in numbers(svg)["doors"]


def test_a_flag_stands_at_the_part_it_marks():
    """The sign of the apron's flag lies on the apron or within five inches of it, joined by a line."""
    svg = draw_front(estimated(STONE, cabinet__door_top="9 in"))
    (x, y), apron, near = flag_at(svg, "apron"), extent(svg, "apron"), foot(svg) * 5 / 12
    assert apron[0] - near < x < apron[2] + near
    assert apron[1] - near < y < apron[3] + near


def test_doors_nobody_measured_say_so():
    """Marked and named as not measured; no dimension speaks of them."""
    svg = draw_front(estimated(STONE, cabinet__door_top="unknown"))
    assert marks(svg)["doors"] == "unknown"
    assert "doors: not measured" in " ".join(texts(svg))
    assert "10 3/4 in" not in texts(svg)


def test_what_comes_out_is_named_and_what_stays_is_not():
    """The false front goes with an apron, and stays with a sink in the counter; what goes is a thin line, not a dashed one."""
    svg = draw_front(estimated(STONE))
    cut, kept = " ".join(texts(svg)), " ".join(texts(draw_front(estimated(TOP))))
    assert "false front, comes out" in cut
    assert "comes out" not in kept
    assert "top rail, cut away" in cut
    gone = [element for element in root(svg).iter() if element.get("data-part") == "false front"]
    assert gone
    assert all(element.get("stroke-dasharray") is None and float(element.get("stroke-width")) < 0.7 for element in gone)


@pytest.mark.parametrize(
    ("kind", "wanted"), [("wall", "wall, gap"), ("open", "left side open"), ("range", "range, gap"), ("dishwasher", "dishwasher, gap"), ("door", "door, gap")]
)
def test_neighbors_are_named(kind, wanted):
    """Each kind of neighbor stands beside the base under its name."""
    svg = draw_front(estimated(STONE, cabinet__left={"kind": kind, "gap": "1/2 in"}))
    assert wanted in " ".join(texts(svg))
    assert boxes(svg, "left neighbor") or boxes(svg, "wall") or kind == "open"


def test_a_customer_sees_what_will_stand_there_and_nothing_of_the_shop():
    """No cut, nothing that comes out or hides, no gap, stile or number of a finding; countertop, apron, doors and neighbors all the same."""
    made = estimated(STONE)
    crew, customer = (" ".join(texts(draw_front(made, for_crew=for_crew))) for for_crew in (True, False))
    shop = ("cut away", "comes out", "cutout", "underside", "stile", "gap 1/8 in", "behind or below")
    assert [words for words in shop if words not in crew] == []
    assert [words for words in shop if words in customer] == []
    assert marks(draw_front(made, for_crew=False)) == {}
    for words in ("countertop, stone", "apron", "door", "dishwasher", "33 in", "36 in"):
        assert words in customer
