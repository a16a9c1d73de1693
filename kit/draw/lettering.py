"""How much room does a label take, and is it safe to write? Text for drawings: cleaned, measured, wrapped, escaped.

Every drawing is lettered in one width of letter. That makes the room of a label known without a font at hand, so that
"no label touches another" holds on every screen and not just on the one it was drawn on.
"""

import re
from functools import lru_cache
from html import escape
from string import ascii_uppercase
from unicodedata import combining, east_asian_width

__all__ = ["FONT", "SIZE", "clean", "letter_of", "measure_text", "wrap_text", "write_text"]

FONT = "DejaVu Sans Mono,Menlo,Consolas,Liberation Mono,monospace"
SIZE = 11.0
# the widest of the fonts above advances 0.602 of its size
ADVANCE = 0.61

# what XML forbids, and the marks that turn the direction of writing around (a name must not reorder its neighbors)
_UNSAFE = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]|[\u200e\u200f\u202a-\u202e\u2066-\u2069]")


def clean(words: str, most: int = 120) -> str:
    """The words on one line, without what XML forbids, cut to `most` letters."""
    if not (words.isascii() and words.isprintable()):
        words = _UNSAFE.sub("\ufffd", words)
    words = " ".join(words.split())
    return words if len(words) <= most else words[: most - 3].rstrip() + "..."


@lru_cache(maxsize=4096)
def measure_text(words: str, size: float = SIZE) -> float:
    """Width of cleaned words [px] at a letter size [px]; never less than any of the fonts takes."""
    if words.isascii():
        return len(words) * ADVANCE * size
    return sum(0 if combining(letter) else 2 if east_asian_width(letter) in "WF" or ord(letter) > 0x1F000 else 1 for letter in words) * ADVANCE * size


_MEASURE = re.compile(r"(?<=\d) (?=\d+/\d)|(?<=\d) (?=in\b)")


@lru_cache(maxsize=4096)
def wrap_text(words: str, width: float, size: float = SIZE) -> tuple[str, ...]:
    """The words on as many lines as `width` [px] asks for; a measure stays whole, a word wider than a line is broken."""
    lines: list[str] = []
    line = ""
    for piece in _MEASURE.sub("\x01", words).split():
        word = piece.replace("\x01", " ")
        longer = f"{line} {word}" if line else word
        if measure_text(longer, size) <= width:
            line = longer
            continue
        if line:
            lines.append(line)
        while measure_text(word, size) > width and len(word) > 1:
            cut = next(length for length in range(len(word) - 1, 0, -1) if length == 1 or measure_text(word[:length], size) <= width)
            lines.append(word[:cut])
            word = word[cut:]
        line = word
    return (*lines, line) if line else tuple(lines)


def write_text(x: float, y: float, words: str, *, anchor: str = "start", size: float = SIZE, bold: bool = False, turned: bool = False) -> str:
    """One line of cleaned text as SVG, centered on `y` [px]; `turned` reads from below."""
    more = "" if anchor == "start" else f' text-anchor="{anchor}"'
    if size != SIZE:
        more += f' font-size="{size:g}"'
    if bold:
        more += ' font-weight="bold"'
    if turned:
        more += f' transform="rotate(-90 {x:.1f} {y:.1f})"'
    return f'<text x="{x:.1f}" y="{y + 0.35 * size:.1f}"{more}>{escape(words)}</text>'


def letter_of(number: int) -> str:
    """A to Z for 0 to 25, then AA, AB and on."""
    return (ascii_uppercase[number // 26 - 1] if number >= 26 else "") + ascii_uppercase[number % 26]
