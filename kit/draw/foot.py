"""What stands below a drawing: its scale, what the lines mean, and notes."""

from collections.abc import Collection, Sequence

from kit.draw.ink import KIND_WORDS, KINDS, Ink
from kit.draw.lettering import clean, measure_text, wrap_text
from kit.draw.name_places import Keyed
from kit.records import Finding

__all__ = ["LEAST_WIDTH", "describe_finding", "draw_foot"]

LINE = 13.5
LEAST_WIDTH = 520.0


def describe_finding(number: int, finding: Finding) -> str:
    """A finding as a sentence with its number."""
    sentence = f"{number} {finding.level.word}: {finding.check}: {finding.measured}; {finding.limit}."
    return clean(f"{sentence} {finding.remedy}" if finding.remedy else sentence, 600)


def draw_foot(ink: Ink, scale: float, kinds: Collection[str], notes: Sequence[str], key: Sequence[Keyed], least: float) -> None:
    """Scale bar (when there is a scale [px/in]), what the letters mean, key to the line kinds, notes; each below the other, at `least` so wide [px]."""
    left, _, right, lower = ink.edges
    room = max(right - left, least)
    y = lower + 24.0
    if scale > 0.0:
        y = _draw_scale(ink, left, y, scale)
    y = _draw_key(ink, left, y, room, key)
    y = _draw_kinds(ink, left, y, room, [kind for kind in KIND_WORDS if kind in kinds])
    for note in notes:
        y = _draw_lines(ink, note, left, y, room)


def _draw_scale(ink: Ink, x: float, y: float, scale: float) -> float:
    foot = 12.0 * scale
    marks = "".join(f"M{x + foot * tick / 4.0:.1f} {y - 4.0:.1f}v8" for tick in range(5))
    ink.stroke(f"M{x:.1f} {y:.1f}h{foot:.1f}{marks}", 'stroke-width="1.3"')
    ink.put("12 in", x + foot + 8.0, y)
    return y + LINE + 6.0


def _draw_key(ink: Ink, left: float, y: float, room: float, key: Sequence[Keyed]) -> float:
    """The letters in columns, downwards."""
    if not key:
        return y
    key = [(letter if part == 0 else "", line, fields) for letter, words, fields in key for part, line in enumerate(wrap_text(words, room - 22.0))]
    widest = max(measure_text(words) for _, words, _ in key) + 22.0
    columns = max(1, int((room + 20.0) // (widest + 20.0)))
    rows = -(-len(key) // columns)
    for number, (letter, words, fields) in enumerate(key):
        x, at = left + (widest + 20.0) * (number // rows), y + LINE * (number % rows)
        if letter:
            ink.put(letter, x, at, bold=True)
        ink.put(words, x + 22.0, at, fields=fields)
    return y + LINE * rows + 4.0


def _draw_kinds(ink: Ink, left: float, y: float, room: float, kinds: Sequence[str]) -> float:
    x = left
    for kind in kinds:
        wide = 34.0 + measure_text(KIND_WORDS[kind])
        if x > left and x + wide > left + room:
            x, y = left, y + LINE
        ink.stroke(f"M{x:.1f} {y:.1f}h28", KINDS[kind])
        ink.put(KIND_WORDS[kind], x + 34.0, y)
        x += wide + 20.0
    return y + LINE + 4.0 if kinds else y


def _draw_lines(ink: Ink, words: str, x: float, y: float, room: float) -> float:
    for line in wrap_text(words, room):
        ink.put(line, x, y)
        y += LINE
    return y + 3.0
