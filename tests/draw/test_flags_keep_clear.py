"""Flags of findings keep clear: of words, of hatches as far as there is blank paper, and of the sheet's edge; on every example and on random jobs."""

import re
from collections.abc import Iterator

import pytest
from drawn import CORNER, FLUSH, SVG, estimated, root, touching, view, words
from long_run import one_in
from random_jobs import random_estimate

from kit.draw.canvas import Canvas
from kit.draw.drawings import list_drawings, list_pictures
from kit.draw.flags import NUMBERS_WIDE, draw_flags
from kit.draw.ink import Box, Ink
from kit.draw.lettering import measure_text, wrap_text
from kit.draw.marks import Mark
from kit.records import Level

READABLE = 7.0
"""Least height of letters as printed across 7 1/2 in of letter paper [pt]; the papers set 836 units across it."""


def flag_boxes(svg: str) -> Iterator[tuple[str, Box]]:
    """Numbers of each flag and the room that sign and numbers take."""
    for group in root(svg).iter(f"{SVG}g"):
        if group.get("data-mark"):
            x, y = (float(number) for number in re.match(r"M(\S+) ([\d.-]+)", group[0].get("d")).groups())
            wide = max(map(measure_text, wrap_text(group.get("data-numbers"), NUMBERS_WIDE)))
            yield group.get("data-numbers"), (x - 5.0, y - 5.0, x + 12.0 + wide, y + 9.0)


def crossed(svg: str) -> list[str]:
    """Flags whose sign stands on words."""
    found = words(svg)
    return [
        numbers
        for numbers, (left, upper, _, lower) in flag_boxes(svg)
        if any(one.box[0] < left + 11.0 and left + 3.0 < one.box[2] and one.box[1] < lower - 3.0 and upper + 3.0 < one.box[3] for one in found)
    ]


def check(svg: str) -> None:
    left, upper, right, lower = view(svg)
    assert touching(words(svg)) == []
    assert crossed(svg) == []
    for word in words(svg):
        assert left <= word.box[0]
        assert word.box[2] <= right
        assert upper <= word.box[1]
        assert word.box[3] <= lower
    for numbers, box in flag_boxes(svg):
        assert left <= box[0], numbers
        assert box[2] <= right + 5.0, numbers


def letter_points(svg: str) -> float:
    """Height of the letters as the crew's paper sets them [pt]."""
    left, upper, right, lower = view(svg)
    return 11.0 * min(1.0, 836.0 / (right - left), 1.2 * 836.0 / (lower - upper)) * 7.5 * 72.0 / 836.0


def test_on_every_example_nothing_lies_on_anything(example_estimate):
    """Pictures and cut plans: no words on words, no flag's sign on words, none leaves the sheet."""
    for _, svg in list_drawings(example_estimate):
        check(svg)


@pytest.mark.parametrize("seed", one_in(4, range(32)))
def test_on_random_jobs_nothing_lies_on_anything(seed):
    """Odd shapes: two bowls, disposers, platforms, returns, many findings; what can't be built prints readably too."""
    for name, svg in list_pictures(random_estimate(seed)):
        check(svg)
        assert letter_points(svg) >= READABLE, name


@pytest.mark.long
@pytest.mark.parametrize("first", range(1000, 1100, 25))
def test_a_hundred_random_jobs_print_readably(first):
    """Twenty-five at a time, near and far: letters of all pictures are 7 points high at least, none on another."""
    for seed in range(first, first + 25):
        for name, svg in list_pictures(random_estimate(seed)):
            assert letter_points(svg) >= READABLE, f"{seed}, {name}"
            check(svg)


def test_every_drawing_of_the_examples_prints_readably(example_estimate):
    """As the crew's paper sets it, letters are 7 points high at least."""
    for name, svg in list_drawings(example_estimate):
        assert letter_points(svg) >= READABLE, name


def hatched(edges: Box) -> Ink:
    ink = Ink()
    ink.lined.add_box(edges)
    ink.stretch(edges)
    return ink


def mark(part: str) -> Mark:
    return Mark(part, Level.CAUTION, (3, 12))


def test_a_flag_stands_beside_a_hatch_and_a_line_leads_to_it():
    """A hatched part as large as a post: the flag is outside, joined by one thin line."""
    part = (100.0, 100.0, 160.0, 300.0)
    ink = hatched(part)
    draw_flags(ink, {"post": [part]}, {"post": mark("post")})
    left, upper, right, lower = ink.taken[0]
    assert right <= part[0] or left >= part[2] or lower <= part[1] or upper >= part[3]
    assert len(ink.shapes) == 1


def test_a_flag_stands_in_a_part_that_is_blank():
    """No line is needed then."""
    part = (100.0, 100.0, 260.0, 300.0)
    ink = Ink()
    draw_flags(ink, {"door": [part]}, {"door": mark("door")})
    left, upper, right, lower = ink.taken[0]
    assert part[0] < left
    assert right < part[2]
    assert part[1] < upper
    assert lower < part[3]
    assert ink.shapes == []


def test_many_numbers_stand_on_several_lines_and_make_no_narrow_sheet_wider():
    """Nine numbers of a part that fills a sheet for a telephone from edge to edge."""
    part, ink = (0.0, 0.0, 260.0, 40.0), hatched((0.0, 0.0, 260.0, 40.0))
    many = Mark("counter", Level.CAUTION, (1, 7, 9, 15, 23, 27, 31, 38, 44))
    draw_flags(ink, {"counter": [part]}, {"counter": many}, 260.0)
    assert ink.edges[0] >= 0.0
    assert ink.edges[2] <= 260.0
    lines = [re.sub("<[^>]*>", "", text) for text in ink.texts[1:]]
    assert len(lines) > 2
    assert " ".join(lines) == many.words


def test_two_flags_of_one_spot_stand_apart():
    """Neither covers the other."""
    part, ink = (0.0, 0.0, 90.0, 40.0), Ink()
    draw_flags(ink, {"sink": [part], "rim": [part]}, {"sink": mark("sink"), "rim": mark("rim")})
    one, other = ink.taken
    assert one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]


def test_names_find_blank_paper_near_what_they_mean():
    """In a keyed drawing a name stands beside its hole and not on the lines round it; no letter is needed."""
    sheet = Canvas("Plan", scale=10.0, keyed=True)
    sheet.box("counter", 0.0, 0.0, 60.0, 30.0)
    sheet.circle("holes", 30.0, 15.0, 1.0)
    sheet.name("holes", "faucet hole", 30.0, 15.0)
    svg = sheet.svg()
    word = next(word for word in words(svg) if word.words == "faucet hole")
    assert not (word.box[0] < 310 and word.box[2] > 290 and word.box[1] < -140 and word.box[3] > -160)
    assert abs((word.box[0] + word.box[2]) / 2.0 - 300.0) < 120


@pytest.mark.parametrize("name", [CORNER, FLUSH])
def test_no_leader_crosses_a_number_of_a_dimension(name):
    """Names stand nearest and dimensions outside of them: every column of names ends where upright dimensions begin."""
    section = dict(list_pictures(estimated(name)))["section"]
    upright = [
        float(text.get("x"))
        for group in root(section).iter(f"{SVG}g")
        if group.get("data-fields")
        for text in group.iter(f"{SVG}text")
        if text.get("transform")
    ]
    names = [word.box for word in words(section) if word.words in {"door", "trap", "nailer", "cabinet side"}]
    assert len(names) >= 3
    assert upright
    assert all(x < min(box[0] for box in names) or x > max(box[2] for box in names) for x in upright)
