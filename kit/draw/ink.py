"""What is on the sheet: paths, words, the room that words take, and how far all of it reaches. Pixels, down is plus."""

from dataclasses import dataclass, field

from kit.draw.lettering import SIZE, measure_text, write_text
from kit.draw.spread import Box, overlaps

__all__ = ["Ink", "write_box"]


def write_box(edges: Box) -> str:
    """The path of a rectangle."""
    return "M%.1f %.1fH%.1fV%.1fH%.1fZ" % (edges[0], edges[1], edges[2], edges[3], edges[0])  # noqa: UP031 - twice as fast as an f-string here


@dataclass(slots=True)
class Ink:
    """Everything drawn so far. Words in `texts` stand in the boxes `taken`; lines are cut away there."""

    shapes: list[str] = field(default_factory=list)
    texts: list[str] = field(default_factory=list)
    taken: list[Box] = field(default_factory=list)
    extent: Box | None = None

    def stretch(self, edges: Box) -> None:
        """Let the drawing reach at least to these edges."""
        had = self.extent
        self.extent = edges if had is None else (min(had[0], edges[0]), min(had[1], edges[1]), max(had[2], edges[2]), max(had[3], edges[3]))

    @property
    def edges(self) -> Box:
        """How far the drawing reaches."""
        return self.extent or (0.0, 0.0, 0.0, 0.0)

    def stroke(self, path: str, how: str) -> None:
        """A path with its way of drawing, such as `stroke-width="1"`."""
        self.shapes.append(f'<path d="{path}" {how}/>')

    def put(self, words: str, x: float, y: float, *, anchor: str = "start", bold: bool = False, turned: bool = False, size: float = SIZE) -> None:
        """One line of cleaned words; `x` is the place of its anchor, `y` the middle of its height (turned: its own middle)."""
        wide, tall = measure_text(words, size), size * 1.2
        if turned:
            edges = (x - tall / 2.0, y - wide / 2.0, x + tall / 2.0, y + wide / 2.0)
        else:
            left = x - {"start": 0.0, "middle": wide / 2.0, "end": wide}[anchor]
            edges = (left, y - tall / 2.0, left + wide, y + tall / 2.0)
        self.texts.append(write_text(x, y, words, anchor="middle" if turned else anchor, bold=bold, turned=turned, size=size))
        self.taken.append(edges)
        self.stretch(edges)

    def is_free(self, edges: Box) -> bool:
        """Whether no words stand there."""
        return not any(overlaps(edges, other) for other in self.taken)
