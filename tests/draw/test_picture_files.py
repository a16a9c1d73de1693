"""Drawings as files: black on white paper, PNG of the right size, the same bytes, clear refusals."""

import io
import itertools
import math
import re
import struct
import xml.etree.ElementTree as ET

import pytest
from drawn import SVG, TOP, estimated, root, view
from PIL import Image

from kit.draw.drawings import list_drawings, on_paper, render_pngs
from kit.draw.front_elevation import draw_front
from kit.errors import KitError

SMALL = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 20" fill="none" stroke="currentColor"><path d="M0 10H40" stroke-width="8"/></svg>'


def render_png(svg: str, *, zoom: float = 2.0) -> bytes:
    """One drawing."""
    return render_pngs([svg], zoom=zoom)[0]


def size_of(png: bytes) -> tuple[int, int]:
    """Width and height from the header that the PNG standard puts first (PNG specification, section 11.2.2 IHDR)."""
    assert png[:8] == b"\x89PNG\r\n\x1a\n"
    return struct.unpack(">II", png[16:24])


def test_a_picture_has_the_drawings_size_times_the_zoom():
    """40 x 20 units at three points each."""
    assert size_of(render_png(SMALL, zoom=3.0)) == (120, 60)


@pytest.mark.parametrize(("wide", "tall", "zoom"), [(653.9, 464.6, 1.5), (445.1, 215.1, 2.0), (690.3, 394.9, 2.0)])
def test_no_row_of_points_is_lost(wide, tall, zoom):
    """A slope of one to one moves on by one point from row to row; a lost row would let it jump by two."""
    head = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {wide} {tall}" width="{wide:.0f}" height="{tall:.0f}">'
    slope = f'{head}<path d="M0 0L{tall} {tall}" stroke="#000" stroke-width="3" fill="none"/></svg>'
    picture = Image.open(io.BytesIO(render_png(slope, zoom=zoom))).convert("L")
    assert picture.size == (math.ceil(wide * zoom), math.ceil(tall * zoom))
    dark = [[255 - picture.getpixel((x, y)) for x in range(picture.width)] for y in range(6, picture.height - 6)]
    centers = [sum(x * ink for x, ink in enumerate(row)) / sum(row) for row in dark]
    assert max(after - before for before, after in itertools.pairwise(centers)) < 1.2


def test_a_picture_is_the_same_again():
    """Same drawing, same bytes."""
    svg = draw_front(estimated())
    assert render_png(svg) == render_png(svg)


def test_pictures_set_together_are_those_set_one_by_one():
    """The same bytes, in the order asked for; a large one leaves nothing on the page of a small one."""
    drawings = [on_paper(draw_front(estimated())), SMALL, on_paper(draw_front(estimated()))]
    assert render_pngs(drawings, zoom=1.5) == [render_png(svg, zoom=1.5) for svg in drawings]


def test_the_words_are_in_the_picture():
    """The same drawing without its texts gives another, smaller picture: letters are really drawn, without any font of the machine."""
    svg = draw_front(estimated())
    head, _, rest = svg.partition('<g fill="currentColor" stroke="none">')
    assert len(render_png(svg)) > len(render_png(head + "</svg>")) + 5000
    assert rest


def test_paper_is_white_and_lines_are_black():
    """The file stands by itself: a white sheet below everything, black set on the root; still the same drawing."""
    svg = on_paper(draw_front(estimated()))
    element = root(svg)
    paper = next(element.iter(f"{SVG}rect"))
    left, upper, right, lower = view(svg)
    assert element.get("color") == "#000"
    assert paper.get("fill") == "#fff"
    assert (float(paper.get("x")), float(paper.get("y"))) == (left, upper)
    assert (float(paper.get("width")), float(paper.get("height"))) == pytest.approx((right - left, lower - upper))


@pytest.mark.parametrize(("text", "wanted"), [("", "no drawing"), ("<p>hello</p>", "no drawing"), ('<svg width="3"/>', "viewBox")])
def test_what_is_no_drawing_is_refused(text, wanted):
    """An error that says what was expected."""
    with pytest.raises(KitError, match=wanted):
        render_png(text)


@pytest.mark.parametrize("zoom", [0.0, -1.0, 1000.0])
def test_a_picture_too_large_or_without_size_is_refused(zoom):
    """The most is named."""
    with pytest.raises(KitError, match="12000 a side"):
        render_png(SMALL, zoom=zoom)


def test_a_broken_drawing_is_refused():
    """A root that fits and a body that does not parse."""
    with pytest.raises(KitError, match="can't be made a picture"):
        render_png('<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 4 4"><path></svg>')


def test_every_drawing_of_an_estimate_is_a_file_of_its_own():
    """Six pictures and one for each item that is cut, under names every system takes; the same again."""
    made = estimated()
    drawings = dict(list_drawings(made))
    cut = {purchase.item for purchase in made.purchases if purchase.plan}
    assert len(cut) >= 2
    assert len(drawings) == 6 + len(cut)
    assert set(drawings) >= {"set-out", "front", "section", "plan", "frame", "frame-apart", "cut-lumber-2x4"}
    assert all(re.fullmatch(r"[a-z0-9-]+", name) for name in drawings)
    assert all(ET.fromstring(on_paper(svg)).tag == f"{SVG}svg" for svg in drawings.values())
    assert dict(list_drawings(made)) == drawings


def test_a_sink_without_a_frame_has_no_picture_of_one():
    """A top mount hangs in the counter."""
    names = {name for name, _ in list_drawings(estimated(TOP))}
    assert {"set-out", "front", "section", "plan"} <= names
    assert not names & {"frame", "frame-apart"}


def test_names_of_drawings_are_unlike_each_other(example_estimate):
    """No drawing overwrites another."""
    names = [name for name, _ in list_drawings(example_estimate)]
    assert len(set(names)) == len(names)
