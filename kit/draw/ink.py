"""What is on the sheet: paths, words, the room that words take, and how far all of it reaches. Pixels, down is plus.

What a line or a face means is shown by its form, never by its color.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from html import escape

from kit.draw.lettering import SIZE, measure_text, write_text
from kit.draw.paper_cells import PaperCells, crosses
from kit.records import Level

__all__ = ["HATCHES", "KINDS", "KIND_WORDS", "Box", "Ink", "words_box", "write_box", "write_hatch", "write_sign"]

Box = tuple[float, float, float, float]
"""Left, upper, right, lower edge [px]."""

KINDS = {
    "edge": 'stroke-width="1.3"',
    "cut": 'stroke-width="2"',
    "thin": 'stroke-width=".7"',
    "hidden": 'stroke-width="1" stroke-dasharray="6 3"',
    "today": 'stroke-width=".5"',
    "center": 'stroke-width=".5"',
    "seam": 'stroke-width="3"',
    "none": 'stroke="none"',
}
KIND_WORDS = {"hidden": "behind or below"}

_SLASH_6 = "M0 6L6 0M-1.5 1.5L1.5 -1.5M4.5 7.5L7.5 4.5"
_BACK_6 = "M0 0L6 6M-1.5 4.5L1.5 7.5M4.5 -1.5L7.5 1.5"
# name: tile [px], path, line width
HATCHES = {
    "slash": (6, _SLASH_6, 0.7),
    "back": (6, _BACK_6, 0.7),
    "cross": (6, _SLASH_6 + _BACK_6, 0.9),
    "dense": (3, "M0 3L3 0M-.75 .75L.75 -.75M2.25 3.75L3.75 2.25", 0.7),
    "level": (4, "M0 2H4", 0.7),
    "upright": (4, "M2 0V4", 0.7),
    "dots": (5, "M2 2.5H3", 1.0),
    "wide": (12, "M0 12L12 0M-3 3L3 -3M9 15L15 9", 0.6),
    "wave": (10, "M0 6Q2.5 2 5 6T10 6", 0.7),
}


def write_box(edges: Box) -> str:
    """The path of a rectangle."""
    return "M%.1f %.1fH%.1fV%.1fH%.1fZ" % (edges[0], edges[1], edges[2], edges[3], edges[0])  # noqa: UP031 - twice as fast as an f-string here


def words_box(words: str, x: float, y: float, *, anchor: str = "start", turned: bool = False, size: float = SIZE) -> Box:
    """The room that one line of cleaned words takes; `x` is the place of its anchor, `y` the middle of its height (turned: its own middle)."""
    wide, tall = measure_text(words, size), size * 1.2
    if turned:
        return x - tall / 2.0, y - wide / 2.0, x + tall / 2.0, y + wide / 2.0
    left = x - {"start": 0.0, "middle": wide / 2.0, "end": wide}[anchor]
    return left, y - tall / 2.0, left + wide, y + tall / 2.0


@dataclass(slots=True)
class Ink:
    """Everything drawn so far. Words in `texts` stand in the boxes `taken`; lines are cut away there.

    `lined` is where lines go and hatches lie, `worded` about where words stand, `ahead` where the lines of dimensions will go, so that names and flags
    find blank paper.
    """

    shapes: list[str] = field(default_factory=list)
    texts: list[str] = field(default_factory=list)
    taken: list[Box] = field(default_factory=list)
    extent: Box | None = None
    lined: PaperCells = field(default_factory=PaperCells)
    worded: PaperCells = field(default_factory=PaperCells)
    ahead: PaperCells = field(default_factory=PaperCells)

    def is_clear(self, edges: Box) -> bool:
        """Whether no words are there and no line goes through; a hatch may, since words cut a gap into it."""
        return not (self.lined.is_crossed(edges) or self.ahead.is_crossed(edges)) and self.is_free(edges)

    def strikes(self, start: tuple[float, float], end: tuple[float, float]) -> bool:
        """Whether a straight line goes through words."""
        line = x0, y0, x1, y1 = (*start, *end)
        low, high, upper, lower = min(x0, x1), max(x0, x1), min(y0, y1), max(y0, y1)
        near = [edges for edges in self.taken if edges[0] < high and low < edges[2] and edges[1] < lower and upper < edges[3]]
        return any(crosses(line, edges) for edges in near)

    def stretch(self, edges: Box) -> None:
        """Let the drawing reach at least to these edges."""
        had = self.extent
        self.extent = edges if had is None else (min(had[0], edges[0]), min(had[1], edges[1]), max(had[2], edges[2]), max(had[3], edges[3]))

    @property
    def edges(self) -> Box:
        """The rectangle around everything that is drawn."""
        return self.extent or (0.0, 0.0, 0.0, 0.0)

    def stroke(self, path: str, how: str) -> None:
        """A path with its way of drawing, such as `stroke-width="1"`."""
        self.shapes.append(f'<path d="{path}" {how}/>')

    def put(
        self,
        words: str,
        x: float,
        y: float,
        *,
        anchor: str = "start",
        bold: bool = False,
        turned: bool = False,
        size: float = SIZE,
        fields: Sequence[str] = (),
        field: str = "",
    ) -> None:
        """One line of cleaned words, places as in `words_box`; `fields` are the measures of the job that fix what it says, `field` the one that it is."""
        edges = words_box(words, x, y, anchor=anchor, turned=turned, size=size)
        text = write_text(x, y, words, anchor="middle" if turned else anchor, bold=bold, turned=turned, size=size)
        is_field = f' data-field="{escape(field)}"' if field else ""
        self.texts.append(f'<g data-fields="{escape(" ".join(fields))}"{is_field}>{text}</g>' if fields else text)
        self.taken.append(edges)
        self.worded.add_box(edges)
        self.stretch(edges)

    def is_free(self, edges: Box) -> bool:
        """Whether no words stand there."""
        left, upper, right, lower = edges
        for other in self.taken:  # noqa: SIM110 - asked thousands of times a drawing
            if left < other[2] and other[0] < right and upper < other[3] and other[1] < lower:
                return False
        return True


def write_hatch(name: str, mark: str) -> str:
    """The pattern of a hatch; `mark` keeps its id apart from those of other drawings on the page."""
    tile, path, width = HATCHES[name]
    return (
        f'<pattern id="{mark}{name}" width="{tile}" height="{tile}" patternUnits="userSpaceOnUse">'
        f'<path d="{path}" stroke="currentColor" stroke-width="{width:g}" fill="none"/></pattern>'
    )


def write_sign(level: Level, x: float, y: float) -> str:
    """The level as a form centered on a point [px]: a full square says stop, a ring unknown, a triangle caution."""
    if level is Level.STOP:
        return f'<path d="M{x - 4.0:.1f} {y - 4.0:.1f}h8v8h-8z"/>'
    how = 'fill="none" stroke="currentColor" stroke-width="1.7"'
    if level is Level.UNKNOWN:
        return f'<path d="M{x - 3.6:.1f} {y:.1f}a3.6 3.6 0 1 1 7.2 0a3.6 3.6 0 1 1 -7.2 0z" {how}/>'
    return f'<path d="M{x:.1f} {y - 4.2:.1f}l4.4 7.8h-8.8z" {how}/>'
