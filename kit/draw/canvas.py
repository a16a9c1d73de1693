"""The sheet that a drawing is made on: shapes in inches, dimensions, names with leaders, marks; one SVG text at the end.

Inches run to the right and up. Nothing depends on colour: lines take the colour of the text around them, so that a drawing is
legible on light and dark ground, and words cut a gap into the lines below them instead of painting over them.
"""

from collections.abc import Mapping, Sequence
from html import escape
from typing import Literal
from zlib import crc32

from kit.draw.foot import describe_finding, draw_foot
from kit.draw.ink import KINDS, LEVEL_KINDS, Box, Ink, words_box, write_box, write_hatch
from kit.draw.labels import Name, Side, Size, draw_column, draw_sizes, place_inside
from kit.draw.lettering import FONT, SIZE, clean
from kit.draw.marks import Mark, sort_findings
from kit.records import Finding
from kit.units import format_length

__all__ = ["Canvas"]

_ID = "\x00"
MARK_GAP = 2.0
AIR = 2.5


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
    """

    def __init__(self, title: str, *, scale: float, scaled: bool = True) -> None:
        self.title, self.scale, self._scaled = clean(title), scale, scaled
        self.ink = Ink()
        self._outlines: dict[str, list[Box]] = {}
        self._sizes: dict[Side, list[Size]] = {}
        self._names: list[Name] = []
        self._notes: list[str] = []
        self._written: list[str] = []
        self._hatches: set[str] = set()
        self._kinds: set[str] = set()

    # --- shapes -----------------------------------------------------------------------------------------------------

    def box(self, part: str, x0: float, y0: float, x1: float, y1: float, *, kind: str = "edge", hatch: str = "", outline: bool = True) -> None:
        """A rectangle between two corners [in]; marks of its part follow it unless `outline` is off."""
        edges = self._edges(x0, y0, x1, y1)
        self._shape(part, f'<path d="{write_box(edges)}"', edges, kind, hatch, outline=outline)

    def line(self, part: str, *points: tuple[float, float], kind: str = "edge", hatch: str = "", closed: bool = False, outline: bool = True) -> None:
        """A line through points [in]; `closed` makes it a face."""
        scale = self.scale
        at = [(x * scale, -y * scale) for x, y in points]
        path = "M" + "L".join([f"{x:.1f} {y:.1f}" for x, y in at]) + ("Z" if closed else "")
        xs, ys = [x for x, _ in at], [y for _, y in at]
        self._shape(part, f'<path d="{path}"', (min(xs), min(ys), max(xs), max(ys)), kind, hatch, outline=outline)

    def rest(self, outer: tuple[float, float, float, float], inner: Sequence[tuple[float, float, float, float]], hatch: str) -> None:
        """Hatch a rectangle (x0, y0, x1, y1) [in] except for the rectangles laid into it, which don't overlap."""
        self._hatches.add(hatch)
        path = "".join([write_box(self._edges(*edges)) for edges in (outer, *inner)])
        self.ink.stroke(path, f'stroke="none" fill-rule="evenodd" fill="url(#{_ID}{hatch})"')
        self.ink.stretch(self._edges(*outer))

    def circle(self, part: str, x: float, y: float, radius: float, *, kind: str = "edge", hatch: str = "", outline: bool = True) -> None:
        """A circle [in]."""
        x, y, r = x * self.scale, -y * self.scale, radius * self.scale
        self._shape(part, f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{r:.1f}"', (x - r, y - r, x + r, y + r), kind, hatch, outline=outline)

    def outline(self, part: str, x0: float, y0: float, x1: float, y1: float) -> None:
        """Where the marks of a part go that has no shape of its own, such as the rim of a sink [in]."""
        self._outlines.setdefault(part, []).append(self._edges(x0, y0, x1, y1))

    def _edges(self, x0: float, y0: float, x1: float, y1: float) -> Box:
        scale = self.scale
        return min(x0, x1) * scale, -max(y0, y1) * scale, max(x0, x1) * scale, -min(y0, y1) * scale

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
        """
        scale = self.scale
        self._names.append(Name(part, clean(words), x * scale, -y * scale, side, room and (room[0] * scale, room[1] * scale), bold))

    def write(self, words: str, x: float, y: float, *, anchor: Literal["start", "middle", "end"] = "start", bold: bool = False, turned: bool = False) -> bool:
        """Write words at a point [in] whatever lies there; False, and nothing written, where other words stand."""
        words = clean(words)
        at_x, at_y = x * self.scale, -y * self.scale
        edges = words_box(words, at_x, at_y, anchor=anchor, turned=turned)
        if not self.ink.is_free(edges):
            return False
        self.ink.put(words, at_x, at_y, anchor=anchor, bold=bold, turned=turned)
        self._written.append(words)
        return True

    def note(self, words: str) -> None:
        """A sentence below the drawing."""
        self._notes.append(clean(words, 400))

    def across(self, x0: float, x1: float, y: float, *, side: Literal["above", "below"], words: str = "") -> None:
        """A horizontal dimension between two places [in]; its thin lines start at height `y`."""
        low, high = min(x0, x1), max(x0, x1)
        self._size(side, Size(low * self.scale, high * self.scale, -y * self.scale, clean(words) or format_length(high - low)))

    def upright(self, y0: float, y1: float, x: float, *, side: Literal["left", "right"], words: str = "") -> None:
        """A vertical dimension between two heights [in]; its thin lines start at `x`."""
        low, high = min(y0, y1), max(y0, y1)
        self._size(side, Size(-high * self.scale, -low * self.scale, x * self.scale, clean(words) or format_length(high - low)))

    def _size(self, side: Side, size: Size) -> None:
        """Keep a dimension once: what is too small to draw or drawn already is left out."""
        mine = self._sizes.setdefault(side, [])
        twice = any(had.words == size.words and abs(had.low - size.low) < 0.5 and abs(had.high - size.high) < 0.5 for had in mine)
        if size.high - size.low >= 0.5 and not twice:
            mine.append(size)

    # --- the whole --------------------------------------------------------------------------------------------------

    def svg(self, findings: Sequence[Finding] = (), same: Mapping[str, str] | None = None) -> str:
        """The drawing as SVG.

        Parameters
        ----------
        findings
            Of the whole job, worst first: each that is not ok and names a part drawn here marks it and is listed below.
        same
            Words that mean a part of this drawing, for `sort_findings`.
        """
        marks = sort_findings(findings, self._outlines, same)
        within = self.ink.edges
        self._draw_marks(marks.by_part, (within[0] + within[2]) / 2.0)
        self._draw_words(marks.by_part, within)
        cut = list(self.ink.taken)
        draw_foot(self.ink, self.scale if self._scaled else 0.0, self._kinds, self._notes, marks.findings)
        sentences = [describe_finding(number, finding) for number, finding in enumerate(marks.findings, 1)]
        return self._write(cut, [*(name.words for name in self._names), *self._written, *self._notes, *sentences])

    def _draw_marks(self, marks: Mapping[str, Mark], middle: float) -> None:
        named = {name.part for name in self._names}
        for rank, (part, mark) in enumerate(marks.items()):
            grow = 1.0 + MARK_GAP * (rank % 4)
            boxes = self._outlines[part]
            path = "".join([write_box((at[0] - grow, at[1] - grow, at[2] + grow, at[3] + grow)) for at in boxes])
            self.ink.stroke(path, f'{KINDS[LEVEL_KINDS[mark.level]]} data-mark="{escape(part)}" data-level="{mark.level.word}"')
            if part not in named:
                at = boxes[0][2] if boxes[0][0] + boxes[0][2] > 2.0 * middle else boxes[0][0]
                self._names.append(Name(part, part, at, (boxes[0][1] + boxes[0][3]) / 2.0, None))

    def _draw_words(self, marks: Mapping[str, Mark], within: Box) -> None:
        carries: dict[str, Name] = {}
        for name in self._names:
            carries.setdefault(name.part, name)
        marked = {id(carries[part]): mark for part, mark in marks.items()}
        beside = [name for name in self._names if id(name) in marked or not place_inside(self.ink, name)]
        draw_sizes(self.ink, self._sizes)
        for side in ("left", "right"):
            mine = [name for name in beside if (name.side or ("left" if 2.0 * name.x < within[0] + within[2] else "right")) == side]
            if mine:
                draw_column(self.ink, mine, {n: marked[id(name)] for n, name in enumerate(mine) if id(name) in marked}, side, within)

    def _write(self, cut: Sequence[Box], words: Sequence[str]) -> str:
        ink = self.ink
        left, upper, right, lower = ink.edges
        ink.put(self.title, left, upper - 20.0, bold=True, size=14.0)
        left, upper, right, lower = ink.edges
        wide, tall = right - left + 20.0, lower - upper + 20.0
        hatches = "".join([write_hatch(name, _ID) for name in sorted(self._hatches)])
        clear = write_box((left - 10.0, upper - 10.0, right + 10.0, lower + 10.0)) + "".join(
            [write_box((at[0] - AIR, at[1], at[2] + AIR, at[3])) for at in cut]
        )
        text = (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{left - 10.0:.1f} {upper - 10.0:.1f} {wide:.1f} {tall:.1f}" width="{wide:.0f}" '
            f'height="{tall:.0f}" style="max-width:100%;height:auto" role="img" aria-label="{escape(self.title)}" font-family="{FONT}" '
            f'font-size="{SIZE:g}" fill="none" stroke="currentColor" stroke-linejoin="round"><title>{escape(self.title)}</title>'
            f"<desc>{escape(clean('. '.join(words), 8000))}</desc><defs>{hatches}"
            f'<clipPath id="{_ID}clear"><path d="{clear}" clip-rule="evenodd"/></clipPath></defs>'
            f'<g clip-path="url(#{_ID}clear)">{"".join(ink.shapes)}</g>'
            f'<g fill="currentColor" stroke="none">{"".join(ink.texts)}</g></svg>'
        )
        return text.replace(_ID, f"sk{crc32(text.encode()):08x}")
