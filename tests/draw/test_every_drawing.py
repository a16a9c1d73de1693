"""What holds for every drawing of every job: well formed, self-contained, legible, the same bytes again."""

import re
import xml.etree.ElementTree as ET
from collections.abc import Callable

import pytest
from drawn import SVG, estimated, job, lists, marks, root, texts, touching, view, words
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import kit
from kit.draw.drawings import list_drawings
from kit.draw.front import draw_front
from kit.draw.marks import PARTS, UNDRAWN, find_part
from kit.draw.plan import draw_plan
from kit.draw.section import draw_section
from kit.estimate import Estimate
from kit.job import change_job
from kit.records import Finding, Level

Draw = Callable[[Estimate], str]
THREE: tuple[Draw, ...] = (draw_front, draw_section, draw_plan)
three = pytest.mark.parametrize("draw", THREE)


def all_of(estimate: Estimate) -> list[str]:
    return [drawing for _, drawing in list_drawings(estimate)]


def test_it_is_well_formed_and_says_what_it_is(example_estimate):
    """An image with an accessible name, a title and a description of what it shows."""
    for svg in all_of(example_estimate):
        element = root(svg)
        assert element.tag == f"{SVG}svg"
        assert element.get("role") == "img"
        assert element.get("aria-label") == element.findtext(f"{SVG}title")
        assert len(element.findtext(f"{SVG}desc")) > 20


def test_it_refers_to_nothing_outside_itself(example_estimate):
    """No link, no style sheet, no script, no picture: only patterns and clips of its own."""
    for svg in all_of(example_estimate):
        ids = {element.get("id") for element in root(svg).iter() if element.get("id")}
        for element in root(svg).iter():
            assert element.tag.removeprefix(SVG) in {"svg", "title", "desc", "defs", "pattern", "clipPath", "path", "circle", "g", "text"}
            for name, value in element.attrib.items():
                assert "href" not in name
                assert "http" not in value
                assert all(target in ids for target in re.findall(r"url\(#([^)]*)\)", value))
                assert value.count("url(") == value.count("url(#")


def test_no_colour_carries_meaning(example_estimate):
    """Every line and face takes the colour of the text around it."""
    for svg in all_of(example_estimate):
        for element in root(svg).iter():
            for name in ("fill", "stroke", "color"):
                value = element.get(name)
                assert value is None or value in {"none", "currentColor"} or value.startswith("url(#")


def test_no_text_lies_on_another_and_none_leaves_the_sheet(example_estimate):
    """Every two texts stand apart, and all stand on the sheet."""
    for svg in all_of(example_estimate):
        found = words(svg)
        assert len(found) > 3
        assert touching(found) == []
        left, upper, right, lower = view(svg)
        for word in found:
            assert left <= word.box[0]
            assert upper <= word.box[1]
            assert word.box[2] <= right
            assert word.box[3] <= lower


def test_it_is_the_same_again(example_estimate):
    """Same input, same bytes; ids differ between drawings, so that several stand on one page."""
    first, second = all_of(example_estimate), all_of(example_estimate)
    assert first == second
    clips = [next(root(svg).iter(f"{SVG}clipPath")).get("id") for svg in first]
    assert len(set(clips)) == len(clips)


def test_every_part_that_is_named_is_known(example_estimate):
    """What findings and lines call their parts is a part that drawings know, or one that none can show."""
    named = {part for record in (*example_estimate.findings, *example_estimate.lines) for part in record.parts}
    assert len(named) > 5
    assert {part for part in named if find_part(part) is None and part not in UNDRAWN} == set()


@pytest.mark.parametrize("part", PARTS)
def test_part_names_are_found_however_they_are_written(part):
    """Capitals, blanks and underscores make no difference."""
    assert find_part(f" {part.upper().replace(' ', '_')} ") == part


def test_an_unknown_part_is_none():
    """A name that no drawing knows."""
    assert find_part("flying buttress") is None


def test_what_is_not_ok_is_marked_and_told_in_the_drawing_that_shows_it(example_estimate):
    """Each finding that names a drawn part stands below a drawing, with its level, and its part is outlined there."""
    drawings = [draw(example_estimate) for draw in THREE]
    for finding in example_estimate.findings:
        if finding.level is Level.OK or not any(find_part(part) for part in finding.parts):
            continue
        told = [svg for svg in drawings if f" {finding.level.word}: {finding.check}:"[:60] in root(svg).findtext(f"{SVG}desc")]
        assert told, finding.id
        assert all(marks(svg) for svg in told)


@three
@pytest.mark.parametrize("level", [Level.STOP, Level.UNKNOWN, Level.CAUTION])
def test_each_level_has_its_own_line_and_its_word(draw, level):
    """The same finding at each level: the outline's kind differs, and the word stands beside the name."""
    made = estimated()
    finding = Finding("test/one", "One thing", level, "1 in", "at least 2 in", "in", -1.0, 0.125, 0.0, "", "job", "Mend it.", ("counter",))
    svg = draw(replaced(made, (finding,)))
    assert marks(svg) == {"counter": level.word}
    assert f"{level.word.upper()} 1" in texts(svg)
    assert f"1 {level.word}: One thing: 1 in; at least 2 in. Mend it." in texts(svg)
    element = next(element for element in root(svg).iter() if element.get("data-mark"))
    hand_kinds = {Level.STOP: ("3", None), Level.UNKNOWN: ("2.6", "2.6 3.6"), Level.CAUTION: ("1.6", "9 4")}
    assert (element.get("stroke-width"), element.get("stroke-dasharray")) == hand_kinds[level]


@three
def test_nothing_is_marked_when_all_is_well(draw):
    """An ok finding leaves the drawing as it is."""
    made = estimated()
    fine = Finding("test/one", "One thing", Level.OK, "3 in", "at least 2 in", "in", 1.0, 0.125, 1.0, "", "job", "", ("counter", "sink"))
    assert marks(draw(replaced(made, (fine,)))) == {}


@three
def test_two_parts_marked_on_each_other_keep_two_outlines(draw):
    """Sink, counter, cabinet and rim lie on each other: no two outlines run on the same line."""
    made = estimated()
    names = ("sink", "counter", "cabinet", "rim", "apron", "frame", "bowl")
    found = tuple(Finding(f"test/{name}", f"About the {name}", Level.STOP, "1 in", "2 in", "in", -1.0, 0.1, 0.0, "", "job", "", (name,)) for name in names)
    svg = draw(replaced(made, found))
    assert len(marks(svg)) >= 3
    paths = [element.get("d") for element in root(svg).iter() if element.get("data-mark")]
    assert len(set(paths)) == len(paths)
    assert touching(words(svg)) == []


@three
def test_a_hostile_name_is_only_text(draw):
    """Markup, quotes, control characters and a turned writing direction in a finding stay words."""
    made = estimated()
    name = "</text><script>alert('x')</script> & \"q\" \x00 \u202e ]]>"
    finding = Finding("test/one", name, Level.STOP, name, name, "in", -1.0, 0.1, 0.0, "", "job", name, ("counter",))
    svg = draw(replaced(made, (finding,)))
    assert not list(root(svg).iter(f"{SVG}script"))
    assert "<script" not in svg
    assert "\u202e" not in svg
    assert any("<script>alert('x')</script>" in text for text in texts(svg))


def replaced(made: Estimate, findings: tuple[Finding, ...]) -> Estimate:
    from dataclasses import replace

    return replace(made, findings=findings)


changes = st.fixed_dictionaries(
    {},
    optional={
        "cabinet.width": st.integers(24, 48).map("{} in".format),
        "cabinet.height": st.integers(30, 36).map("{} in".format),
        "cabinet.depth": st.integers(16, 30).map("{} in".format),
        "cabinet.false_front_bottom": st.sampled_from(["unknown", "0 in", "5 in", "9 in"]),
        "cabinet.door_top": st.sampled_from(["unknown", "2 in", "8 in", "14 in"]),
        "cabinet.construction": st.sampled_from(["face-frame", "frameless"]),
        "cabinet.left": st.sampled_from([{"kind": kind, "gap": "1/8 in"} for kind in ("door", "drawer", "dishwasher", "range", "wall", "open")]),
        "sink.mount": st.sampled_from(["top", "flush", "under"]),
        "sink.carried_at": st.sampled_from(["rim", "bowl", "unknown"]),
        "sink.outlet_setback": st.integers(3, 14).map("{} in".format),
        "plumbing.stub_height": st.sampled_from(["unknown", "6 in", "12 in", "22 in", "30 in"]),
        "plumbing.disposer": st.sampled_from(["none", "keep", "new"]),
        "plumbing.arm_to_wall": st.integers(2, 30).map("{} in".format),
        "counter.splash": st.sampled_from(["none", "same"]),
        "counter.overhang": st.sampled_from(["0 in", "1 1/2 in", "10 in"]),
        "counter.sink_center": st.integers(20, 80).map("{} in".format),
    },
)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    st.sampled_from(["stone_apron_single_bowl", "corner_dishwasher_drain_down", "solid_surface_flush", "laminate_top_mount", "wood_apron_two_bowl"]), changes
)
def test_jobs_far_from_the_examples_are_drawn_legibly(name, changed):
    """Parts that don't fit, unknown measures, odd places: every drawing is made, parses, and no text lies on another."""
    made = kit.estimate(change_job(job(name), changed), lists())
    for draw in THREE:
        svg = draw(made)
        ET.fromstring(svg)
        assert touching(words(svg)) == []
        assert "nan" not in svg.partition("<defs>")[2]


def test_the_reader_of_these_tests_sees_a_collision():
    """Two texts on one place are found, flat or turned; two that stand apart are not."""
    head = '<svg xmlns="http://www.w3.org/2000/svg" font-size="11">'
    flat, turned = '<text x="0" y="10">door</text>', '<text x="10" y="10" text-anchor="middle" transform="rotate(-90 10 10)">door</text>'
    assert touching(words(f"{head}{flat}{turned}</svg>")) == [("door", "door")]
    assert touching(words(f'{head}{flat}<text x="0" y="24">door</text></svg>')) == []
