"""The sheet that a drawing is made on: shapes in inches, dimensions, names with leaders, marks; one SVG text at the end.

Inches run to the right and up. Nothing depends on color: lines take the color of the text around them, so that a drawing is
legible on light and dark ground, and words cut a gap into the lines below them instead of painting over them.
"""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from html import escape
from typing import Literal
from zlib import crc32

from kit.draw.dimensions import Side, Size, draw_sizes, mark_lines
from kit.draw.flags import draw_flags
from kit.draw.foot import LEAST_WIDTH, describe_finding, draw_foot
from kit.draw.ink import KINDS, Box, Ink, words_box, write_box, write_hatch
from kit.draw.lettering import FONT, SIZE, clean, wrap_text
from kit.draw.marks import sort_findings
from kit.draw.name_places import Keyed, Name, draw_column, draw_letters, place_inside, place_near
from kit.records import Finding
from kit.solids import Gap
from kit.units import format_length

__all__ = ["TALLEST", "Canvas", "Picture", "draw_to_fit", "write_sheet"]

_ID = "\x00"
AIR = 2.5
WIDEST, TALLEST = 836.0, 1000.0
"""A sheet no larger than this has letters of 7 points on letter paper [px]."""
_TITLE = 14.0
_LEAST_SIZE, _LEAST_NARROW = 0.5, 0.02  # of what has a dimension; a drawing for a telephone is smaller, and leaves out no more [px]
_ON_END: Mapping[Side, Side] = {"above": "right", "right": "below", "below": "left", "left": "above"}
_TRIES, _LEAST_SHARE, _MOST_SHARE, _WORDS_MORE = 8, 0.3, 0.95, 12.0
"""How often a drawing is made smaller, the least and the most that is left of a scale at once, and how much more words take beside a smaller one [px]."""


class Canvas:
    """A drawing in the making.

    Parameters
    ----------
    title
        What is drawn; the caption and the accessible name.
    scale
        Pixels for an inch.
    scaled
        Whether a scale bar is drawn; a chart has none.
    flip
        -1 where the sheet's right is an axis of the model taken backwards.
    keyed
        Whether names stand on blank paper in the drawing and not in columns beside it, so that a long drawing keeps its width; what finds no
        room has a letter there and its name in a list below.
    wide
        How wide title and words below may be where there is little room [px]; 0 where they have a sheet.
    on_end
        Whether all but the words is turned a quarter clockwise, so that what is long and low fits little width: up is then to the right.
    """

    def __init__(
        self, title: str, *, scale: float, scaled: bool = True, flip: float = 1.0, keyed: bool = False, wide: float = 0.0, on_end: bool = False
    ) -> None:
        self.title, self.scale, self.flip, self._scaled, self._keyed, self._wide, self._on_end = clean(title), scale, flip, scaled, keyed, wide, on_end
        self.ink = Ink()
        self._outlines: dict[str, list[Box]] = {}
        self._sizes: dict[Side, list[Size]] = {}
        self._names: list[Name] = []
        self._own_rooms: list[Box] = []
        self._notes: list[str] = []
        self._written: list[str] = []
        self._hatches: set[str] = set()
        self._kinds: set[str] = set()

    # --- shapes -----------------------------------------------------------------------------------------------------

    def box(self, part: str, x0: float, y0: float, x1: float, y1: float, *, kind: str = "edge", hatch: str = "", outline: bool = True) -> None:
        """A rectangle between two corners [in]; marks of its part follow it unless `outline` is off."""
        edges = self._edges(x0, y0, x1, y1)
        left, upper, right, lower = edges
        self._mark([(left, upper), (right, upper), (right, lower), (left, lower), (left, upper)], edges, kind, hatch)
        self._shape(part, f'<path d="{write_box(edges)}"', edges, kind, hatch, outline=outline)

    def line(self, part: str, *points: tuple[float, float], kind: str = "edge", hatch: str = "", closed: bool = False, outline: bool = True) -> None:
        """A line through points [in]; `closed` makes it a face."""
        at = [self._at(x, y) for x, y in points]
        path = "M" + "L".join([f"{x:.1f} {y:.1f}" for x, y in at]) + ("Z" if closed else "")
        xs, ys = [x for x, _ in at], [y for _, y in at]
        edges = (min(xs), min(ys), max(xs), max(ys))
        self._mark([*at, at[0]] if closed else at, edges, kind, hatch)
        self._shape(part, f'<path d="{path}"', edges, kind, hatch, outline=outline)

    def rest(self, outer: tuple[float, float, float, float], inner: Sequence[tuple[float, float, float, float]], hatch: str) -> None:
        """Hatch a rectangle (x0, y0, x1, y1) [in] except for the rectangles laid into it, which don't overlap."""
        self._hatches.add(hatch)
        path = "".join([write_box(self._edges(*edges)) for edges in (outer, *inner)])
        self.ink.stroke(path, f'stroke="none" fill-rule="evenodd" fill="url(#{_ID}{hatch})"')
        self.ink.stretch(self._edges(*outer))
        free = [self._edges(*edges) for edges in inner]
        self.ink.lined.add_box(self._edges(*outer), free)

    def circle(self, part: str, x: float, y: float, radius: float, *, kind: str = "edge", hatch: str = "", outline: bool = True) -> None:
        """A circle [in]."""
        (x, y), r = self._at(x, y), radius * self.scale
        edges = (x - r, y - r, x + r, y + r)
        self._mark([(x + r * math.cos(step * math.pi / 8.0), y + r * math.sin(step * math.pi / 8.0)) for step in range(17)], edges, kind, hatch)
        self._shape(part, f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{r:.1f}"', edges, kind, hatch, outline=outline)

    def outline(self, part: str, x0: float, y0: float, x1: float, y1: float) -> None:
        """Where the marks of a part go that has no shape of its own, such as the rim of a sink [in]."""
        self._outlines.setdefault(part, []).append(self._edges(x0, y0, x1, y1))

    def keep_for_itself(self, x0: float, y0: float, x1: float, y1: float) -> None:
        """No name of anything else stands there, where it would be taken for this one's, such as in a bowl [in]."""
        self._own_rooms.append(self._edges(x0, y0, x1, y1))

    def _mark(self, points: Sequence[tuple[float, float]], edges: Box, kind: str, hatch: str) -> None:
        if kind != "none":
            self.ink.lined.add_line(points)
        if hatch:
            self.ink.lined.add_box(edges)

    def _at(self, x: float, y: float) -> tuple[float, float]:
        """Where a point [in] lies on the sheet [px]."""
        return (y * self.scale, x * self.scale) if self._on_end else (x * self.scale, -y * self.scale)

    def _edges(self, x0: float, y0: float, x1: float, y1: float) -> Box:
        (x0, y0), (x1, y1) = self._at(x0, y0), self._at(x1, y1)
        return min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)

    def _shape(self, part: str, start: str, edges: Box, kind: str, hatch: str, *, outline: bool) -> None:
        how = KINDS[kind]
        if hatch:
            self._hatches.add(hatch)
            how = f'{how} fill="url(#{_ID}{hatch})"'
        self._kinds.add(kind)
        data = f' data-part="{escape(part)}"' if part else ""
        self.ink.shapes.append(f"{start} {how}{data}/>")
        if part and outline:
            self._outlines.setdefault(part, []).append(edges)
        self.ink.stretch(edges)

    # --- words ------------------------------------------------------------------------------------------------------

    def name(
        self,
        part: str,
        words: str,
        x: float,
        y: float,
        side: Literal["left", "right"] | None = None,
        *,
        room: tuple[float, float] | None = None,
        bold: bool = False,
        fields: tuple[str, ...] = (),
    ) -> None:
        """Name what lies at a point [in].

        Parameters
        ----------
        part
            Part that the name belongs to; the first name of a part carries its marks.
        words
            What is written.
        x, y, side
            The point that is meant, and the side to which a leader goes; the nearer one when left out.
        room
            Width and height of the free place round the point [in]; the name stands there when it fits, touches no other and
            carries no mark.
        bold
            Heavy letters.
        fields
            What of the job the words say: choices, and the measures behind a figure.
        """
        wide, tall = (length * self.scale for length in room or (0.0, 0.0))
        around = (tall, wide) if self._on_end else (wide, tall)
        self._names.append(Name(part, clean(words), *self._at(x, y), side, room and around, bold, fields))

    def write(
        self,
        words: str,
        x: float,
        y: float,
        *,
        anchor: Literal["start", "middle", "end"] = "start",
        bold: bool = False,
        turned: bool = False,
        fields: Sequence[str] = (),
        field: str = "",
    ) -> bool:
        """Write words at a point [in] whatever lies there, with the measures that fix them and the one that they are; False where other words stand."""
        words = clean(words)
        at_x, at_y = self._at(x, y)
        edges = words_box(words, at_x, at_y, anchor=anchor, turned=turned)
        if not self.ink.is_free(edges):
            return False
        self.ink.put(words, at_x, at_y, anchor=anchor, bold=bold, turned=turned, fields=fields, field=field)
        self._written.append(words)
        return True

    def note(self, words: str) -> None:
        """A sentence below the drawing."""
        self._notes.append(clean(words, 400))

    def size(self, gap: Gap, at: float, side: Side, field: str = "") -> None:
        """The dimension of a gap of the model; its thin lines start at height or place `at` [in].

        Its text knows the measures that fix it, and the `field` of the job that is this very gap where one is: there it can be typed.
        """
        flat = side in ("above", "below")
        ends = [self._at(end * self.flip, at) if flat else self._at(at, end) for end in gap.span]
        side = _ON_END[side] if self._on_end else side
        along = 0 if side in ("above", "below") else 1
        low, high = sorted(end[along] for end in ends)
        self._size(side, Size(low, high, ends[0][1 - along], format_length(gap.value_in), gap.fields, field))

    def _size(self, side: Side, size: Size) -> None:
        """Keep a dimension once: what is too small to draw or drawn already is left out."""
        mine = self._sizes.setdefault(side, [])
        twice = any(had.words == size.words and abs(had.low - size.low) < 0.5 and abs(had.high - size.high) < 0.5 for had in mine)
        if size.high - size.low >= (_LEAST_NARROW if self._wide else _LEAST_SIZE) and not twice:
            mine.append(size)

    # --- the whole --------------------------------------------------------------------------------------------------

    def svg(self, findings: Sequence[Finding] = (), same: Mapping[str, str] | None = None) -> str:
        """The drawing as SVG, the parameters as for `finish`."""
        return write_sheet(self.title, (self.finish(findings, same),))

    def finish(self, findings: Sequence[Finding] = (), same: Mapping[str, str] | None = None) -> "Picture":
        """The drawing with its words, to be set alone or beside others.

        Parameters
        ----------
        findings
            Of the whole job, worst first: each that is not ok and names a part drawn here has its number at that part. What the numbers say
            stands in the list of the job, and in the description of the drawing.
        same
            Words that mean a part of this drawing, for `sort_findings`.
        """
        marks = sort_findings(findings, self._outlines, same)
        within = self.ink.edges
        key = self._draw_words(within)
        draw_flags(self.ink, self._outlines, marks.by_part, self._wide or math.inf)
        cut = list(self.ink.taken)
        draw_foot(self.ink, self.scale if self._scaled else 0.0, self._kinds, self._notes, key, self._wide or LEAST_WIDTH)
        sentences = [describe_finding(number, finding) for number, finding in marks.findings]
        return self._picture(within, cut, [*(name.words for name in self._names), *self._written, *self._notes, *sentences])

    def _draw_words(self, within: Box) -> Sequence[Keyed]:
        """Names and dimensions; gives the letters of a keyed drawing with what they mean."""
        mark_lines(self.ink, self._sizes, within)
        self._mark_dots([name for name in self._names if name.room is None])
        beside = [name for name in self._names if not place_inside(self.ink, name)]
        self._mark_dots([name for name in beside if name.room is not None])
        if self._keyed:
            for room in self._own_rooms:
                self.ink.lined.add_box(room)
            beside = [name for name in beside if not place_near(self.ink, name, within)]
        key = draw_letters(self.ink, beside, within) if self._keyed else ()
        for side in ("left", "right"):
            mine = [name for name in ([] if self._keyed else beside) if (name.side or ("left" if 2.0 * name.x < within[0] + within[2] else "right")) == side]
            if mine:
                draw_column(self.ink, mine, side, within, [edge for size in self._sizes.get(side, ()) for edge in (size.low, size.high)])
        draw_sizes(self.ink, self._sizes, within, self._wide or math.inf)
        return key

    def _mark_dots(self, names: Sequence[Name]) -> None:
        """Where the leaders of names end, so that no other name stands there."""
        for name in names:
            self.ink.ahead.add_line(((name.x - AIR, name.y), (name.x + AIR, name.y)))

    def _picture(self, within: Box, cut: Sequence[Box], words: Sequence[str]) -> "Picture":
        ink = self.ink
        left, upper, right, lower = ink.edges
        lines = wrap_text(self.title, self._wide, _TITLE) if self._wide else (self.title,)
        for above, line in enumerate(reversed(lines)):
            ink.put(line, left, upper - 20.0 - 17.0 * above, bold=True, size=_TITLE)
        left, upper, right, lower = ink.edges
        hatches = "".join([write_hatch(name, _ID) for name in sorted(self._hatches)])
        clear = write_box((left - 10.0, upper - 10.0, right + 10.0, lower + 10.0)) + "".join(
            [write_box((at[0] - AIR, at[1], at[2] + AIR, at[3])) for at in cut]
        )
        text = (
            f'<defs>{hatches}<clipPath id="{_ID}clear"><path d="{clear}" clip-rule="evenodd"/></clipPath></defs>'
            f'<g clip-path="url(#{_ID}clear)">{"".join(ink.shapes)}</g>'
            f'<g fill="currentColor" stroke="none">{"".join(ink.texts)}</g>'
        )
        own = f"{self._wide:g}" if self._wide else ""  # the same picture in both layouts: of two elements of one id the hidden one would be referred to
        mark = f"sk{crc32(f'{self.title}{text}{own}'.encode()):08x}"
        return Picture(
            text.replace(_ID, mark), (left - 10.0, upper - 10.0, right + 10.0, lower + 10.0), (within[2] - within[0], within[3] - within[1]), tuple(words)
        )


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing that is done, without its root: its elements, how far they reach [px], how wide and tall what is drawn is without its words, and these."""

    elements: str
    edges: Box
    drawn: tuple[float, float]
    words: tuple[str, ...]

    @property
    def wide(self) -> float:
        """Width [px]."""
        return self.edges[2] - self.edges[0]

    @property
    def tall(self) -> float:
        """Height [px]."""
        return self.edges[3] - self.edges[1]


def draw_to_fit(draw: Callable[[float], Picture], scale: float, widest: float = WIDEST, least: float = 0.0) -> Picture:
    """A drawing at its scale [px/in], and smaller where it would not fit a sheet: letters keep their size, and so does the paper.

    `widest` is what it may take instead, and `least` how wide at least what is drawn stays without its words [px].
    """
    picture = draw(scale)
    smallest = scale * min(least / max(picture.drawn[0], 1.0), 1.0)
    for _ in range(_TRIES):
        if (picture.wide <= widest and picture.tall <= TALLEST) or scale <= smallest:
            break
        wide, tall = (max(length, 1.0) for length in picture.drawn)
        over = max((picture.wide + _WORDS_MORE - widest) / wide, (picture.tall - TALLEST) / tall)
        scale = max(scale * max(min(1.0 - over, _MOST_SHARE), _LEAST_SHARE), smallest)
        picture = draw(scale)
    return picture


def write_sheet(title: str, pictures: Sequence[Picture], places: Sequence[tuple[float, float]] = ()) -> str:
    """One SVG of pictures, each with its upper left corner at its place [px]; one picture alone needs none."""
    if not places:
        left, upper, right, lower = pictures[0].edges
        inside = pictures[0].elements
    else:
        left = upper = 0.0
        right = max(x + picture.wide for picture, (x, _) in zip(pictures, places, strict=True))
        lower = max(y + picture.tall for picture, (_, y) in zip(pictures, places, strict=True))
        inside = "".join(
            f'<g transform="translate({x - picture.edges[0]:.1f} {y - picture.edges[1]:.1f})">{picture.elements}</g>'
            for picture, (x, y) in zip(pictures, places, strict=True)
        )
    wide, tall, words = right - left, lower - upper, ". ".join(words for picture in pictures for words in picture.words)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{left:.1f} {upper:.1f} {wide:.1f} {tall:.1f}" width="{wide:.0f}" '
        f'height="{tall:.0f}" role="img" aria-label="{escape(title)}" font-family="{FONT}" '
        f'font-size="{SIZE:g}" fill="none" stroke="currentColor" stroke-linejoin="round"><title>{escape(title)}</title>'
        f"<desc>{escape(clean(words, 8000))}</desc>{inside}</svg>"
    )
