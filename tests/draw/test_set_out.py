"""The sheet to set out with: figures by hand, each with the measures that fix it."""

import re

import pytest
from drawn import EXAMPLES, FLUSH, STONE, SVG, TOP, WOOD, box, estimated, extent, job, lists, root, texts, touching, view, words

import kit
from kit.draw.front_elevation import draw_front
from kit.draw.set_out import draw_set_out
from kit.draw.set_out_figures import list_figures
from kit.sources import value
from kit.units import format_length

LENGTH = re.compile(r"[\d /]+ in")


def figures(made):
    return {(figure.heading, figure.what): figure.words for figure in list_figures(made)}


def test_front_cut_and_opening_are_those_worked_by_hand():
    """Cut: body 32 1/2 and 1/16 on each side, apron 10 less 1/2 cover. Opening: bowl inside and reveal; its rear edge at 24 3/4 - 18 + 2 - 1/8."""
    hand = {
        ("Front cut", "Left edge, from the base's left end"): "1 11/16 in",
        ("Front cut", "Width"): "32 5/8 in",
        ("Front cut", "Height, down from the top of the base"): "9 1/2 in",
        ("Countertop opening", "Left edge, from the left end of the run"): "27 1/8 in",
        ("Countertop opening", "Rear edge, from the finished wall"): "8 5/8 in",
        ("Countertop opening", "Width"): "29 3/4 in",
        ("Countertop opening", "Rear edge to the countertop's front edge"): "16 7/8 in",
        ("Countertop opening", "Gap between countertop and wall"): "1/8 in",
        ("Frame", "Top of the cleats, above the floor"): "33 7/8 in",
        ("Frame", "Top of the cleats, above the cabinet floor"): "28 7/8 in",
        ("Drain", "Stub, center above the floor"): "stays at 17 in",
        ("Drain", "Stub, center from the base's left end"): "18 in",
    }
    found = figures(estimated(STONE, plumbing__stub_offset="0 in"))
    assert {place: found.get(place) for place in hand} == hand


def test_a_platform_is_set_out_by_its_height():
    """34 1/2 less bowl 9 and bottom 5/8."""
    assert figures(estimated(STONE, sink__carried_at="bowl"))["Frame", "Top of the platform, above the floor"] == format_length(34.5 - 9.625)


def test_a_wood_top_has_its_slots_and_its_gap():
    """Front row in round holes, rear row in slots; one figure for the gap at the wall, no less than its growth asks for."""
    made = estimated(WOOD)
    found = figures(made)
    front, rear = made.design.top.fasteners
    assert found["Wood top", "Screws, front row"].endswith("round holes")
    assert f"slots {format_length(rear.slot_in)} long" in found["Wood top", "Screws, rear row"]
    assert f"{format_length(rear.from_front_in)} from the front edge" in found["Wood top", "Screws, rear row"]
    assert front.from_front_in < rear.from_front_in
    assert [(what, words) for (_, what), words in found.items() if "wall" in what and "ap" in what] == [("Gap between countertop and wall", "1/4 in")]
    assert made.design.top.wall_gap_in <= 1 / 4
    assert not [heading for heading, _ in figures(estimated(STONE)) if heading == "Wood top"]


def test_a_sink_in_the_counter_has_no_cut_and_no_frame():
    """What is not built is not set out; the opening is."""
    headings = {heading for heading, _ in figures(estimated(TOP))}
    assert not headings & {"Front cut", "Frame"}
    assert {"Countertop opening", "Drain"} <= headings
    assert "Template of the front cut" not in texts(draw_set_out(estimated(TOP))[0])


def test_where_an_apron_fits_between_the_stiles_nothing_is_called_a_cut():
    """A frameless base without rails: the sheet and the front say what room the apron has, with the same measures."""
    made = estimated(WOOD)
    rooms = {what: words for (heading, what), words in figures(made).items() if heading == "Room for the apron"}
    assert rooms["Width"] == "30 1/8 in"
    assert "Front cut" not in {heading for heading, _ in figures(made)}
    sheet, front = (" ".join(texts(svg)) for svg in (draw_set_out(made)[0], draw_front(made)))
    assert "Template of the apron" in sheet
    assert "room for the inset" in sheet
    assert "room for the inset" in front
    assert not re.search("cut ?out for the inset|front cut", f"{sheet} {front}")


def test_every_figure_is_written_with_the_measures_that_fix_it(example_estimate):
    """In the sheet each figure of the table knows its fields, and stands beside what it means."""
    (svg,) = draw_set_out(example_estimate)
    known = " ".join("".join(group.itertext()) for group in root(svg).iter(f"{SVG}g") if group.get("data-fields"))  # long words take two lines
    listed = list(list_figures(example_estimate))
    assert len(listed) > 6
    for figure in listed:
        assert figure.words in known
        assert figure.what in texts(svg)


def test_a_platform_is_set_out_from_the_wall():
    """Body 32 1/2 in wide, front at 24 3/4 in, bowl's rear inside at 8 3/4 in; the hole is the gap that the panel leaves around what hangs through it."""
    made = estimated(STONE, sink__carried_at="bowl")
    found, model = figures(made), made.design.placed.model
    assert found["Frame", "Panel, rear edge from the wall"] == format_length(model["platform panel"].span("y")[0])
    assert found["Frame", "Joists, rear faces from the wall"] == found["Frame", "Posts, rear faces from the wall"]
    size, where = found["Frame", "Hole in the panel for the strainer"].split(", ", 1)
    wide = (model["strainer"].span("x")[1] - model["strainer"].span("x")[0], model["strainer"].span("y")[1] - model["strainer"].span("y")[0])
    hand_air_in = 2 * value("practice", "frame/outlet-air")
    assert size == " x ".join(format_length(side + hand_air_in) for side in wide)
    assert where.endswith("from its rear edge")


def test_what_is_trimmed_off_the_doors_is_set_out():
    """Doors from 9 in below the box top under a 10 in apron with 1/8 in of reveal."""
    hand_in = "1 1/8 in"
    made = estimated(STONE, cabinet__door_top="9 in", cabinet__door_height="19 1/2 in", cabinet__door_kind="slab", cabinet__hinge_bore="4 in")
    assert figures(made)["Doors", "Trim off the upper edge"] == hand_in


def test_the_center_line_is_set_out_from_the_runs_end():
    """As the job says: 42 in."""
    assert figures(estimated(STONE))["Countertop opening", "Sink's center line, from the left end of the run"] == "42 in"


def test_a_rabbet_is_drawn_round_the_opening_that_is_dimensioned():
    """By hand: a rim of 30 in leaves 28 3/4 in open of a rabbet 30 1/4 in wide; both are drawn, the figures are those of the opening."""
    made = estimated(FLUSH)
    (svg,) = draw_set_out(made)
    inner, counter = box(svg, "cut-out"), extent(svg, "counter")
    scale = (counter[2] - counter[0]) / 150
    assert (inner[2] - inner[0]) / scale == pytest.approx(28.75, abs=0.1)
    assert figures(made)["Countertop opening", "Width"] == "28 3/4 in"
    assert figures(made)["Countertop opening", "Rabbet, rear edge from the finished wall"] == "3 3/8 in"  # sink 19 deep in the middle of 26, joint 1/8
    assert "The inner line is the opening, the outer one the rabbet for the rim." in texts(svg)


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_layout_is_whole_on_a_telephone(name):
    """It fits 320 px of screen beside its margins, letters as large as ever, no words that meet or are cut short; all that the sheet says, it says."""
    made = kit.estimate(job(name), lists())
    (narrow,) = draw_set_out(made, narrow=True)
    left, upper, right, lower = view(narrow)
    assert right - left <= 280
    assert {float(text.get("font-size", 11)) for text in root(narrow).iter(f"{SVG}text")} == {11.0, 14.0}
    assert [word for word in words(narrow) if not (left <= word.box[0] <= word.box[2] <= right and upper <= word.box[1] <= word.box[3] <= lower)] == []
    assert touching(words(narrow)) == []
    said, at_desk = texts(narrow), [word for sheet in draw_set_out(made) for word in texts(sheet)]
    assert "..." not in " ".join(said)
    assert [figure for figure in list_figures(made) if figure.what not in " ".join(said) or figure.words not in " ".join(said)] == []
    assert {word for word in said if LENGTH.fullmatch(word)} >= {word for word in at_desk if LENGTH.fullmatch(word)}
