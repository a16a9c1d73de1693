"""The picture beside the fields of a step as a form: a dimension that is a measured field is typed in place, any other says what fixes it."""

import csv
import json
import re
from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Mapping
from functools import cache
from html import escape
from pathlib import Path
from typing import Any

import anywidget
import traitlets

from kit.draw.level_marks import LEVEL_WORDS, level_sign
from kit.job import Job
from kit.job.field_names import label_of, say_choice
from kit.job.fields import Rule
from kit.job.file import format_value
from kit.panels.entries import walk_fields
from kit.records import Level
from kit.units import format_length

__all__ = ["PictureForm", "ask_open", "make_fillable"]

_HERE = Path(__file__).parent
_DIMENSION = re.compile(r'<g data-fields="([^"]*)"(?: data-field="([^"]*)")?>(<text[^>]*>(.*?)</text>)</g>', re.DOTALL)
_KEY = '<p class="sk-help">{}. The numbers are those of the list in Check.</p>'
_SIGNS = {f'data-level="{level.word}"': f"{level_sign(level).partition(' ')[0]} to {LEVEL_WORDS[level]}" for level in (Level.CAUTION, Level.UNKNOWN)} | {
    f'data-level="{Level.STOP.word}"': f"{level_sign(Level.STOP).partition(' ')[0]} can't be built"
}
"""What the sign of a flag means, by what tells its level in the drawing."""
_ASSUMED = '<p class="sk-help"><span class="sk-assumed">Dashed line</span> under a figure: assumed, not measured.</p>'
_TYPED = {"length", "distance", "count"}
_FIGURES = re.compile(r"\d(?:[\d /]*\d)?")
_TAGS = re.compile(r"<[^>]*>")
_TEXT = re.compile(r"(<text[^>]*>)([^<]*)(</text>)")
_FIELDS, _PART = re.compile(r'data-fields="([^"]*)"'), re.compile(r'data-part="([^"]*)"')


class PictureForm(anywidget.AnyWidget):
    """A drawing whose dimensions can be pressed, or reached by Tab, and typed over.

    The field in focus beside it lights up in the drawing, and the other way round: its figures, or the part that it is about where it has none.

    Parameters
    ----------
    typed
        Called with the place of a field and the text that was typed for it.
    """

    _esm = (_HERE / "picture_form.js").read_text(encoding="utf-8")
    _css = (_HERE / "picture_form.css").read_text(encoding="utf-8")
    value = traitlets.Unicode("").tag(sync=True)
    """The drawing as HTML, from `make_fillable`."""

    def __init__(self, typed: Callable[[str, str], object]) -> None:
        super().__init__()
        self._typed = typed
        self.on_msg(self._receive)

    def _receive(self, _: Any, message: Any, __: Any) -> None:
        if isinstance(message, dict) and message.get("type") == "typed":
            self._typed(str(message.get("field", "")), str(message.get("text", "")))


def _shown(rule: Rule, value: Any) -> str:
    """A measure as drawings write it."""
    return "" if value is None else format_length(value) if rule.kind == "length" else str(format_value(rule, value))


def ask_open(drawing: str, moved: str) -> str:
    """A drawing with a question mark for each figure that reads differently in `moved`, the same drawing with other measures for those still to come."""
    ours, theirs = _by_shape(drawing), _by_shape(moved)
    anywhere = {figure for lines in theirs.values() for line in lines for figure in line}
    met: Counter[str] = Counter()

    def mark(match: re.Match[str]) -> str:
        shape, words = _FIGURES.sub("#", match[2]), match[2]
        others = theirs[shape] if len(theirs[shape]) != len(ours[shape]) else [theirs[shape][met[shape]]]
        met[shape] += 1
        known = iter([{other[place] for other in others} or anywhere for place in range(len(_FIGURES.findall(words)))])
        return f"{match[1]}{_FIGURES.sub(lambda figure: figure[0] if figure[0] in next(known) else '?', words)}{match[3]}"

    return _TEXT.sub(mark, drawing)


def _by_shape(drawing: str) -> Mapping[str, list[list[str]]]:
    """The figures of each line of words, by the words around them, in order."""
    lines: defaultdict[str, list[list[str]]] = defaultdict(list)
    for _, words, _ in _TEXT.findall(drawing):
        lines[_FIGURES.sub("#", words)].append(_FIGURES.findall(words))
    return lines


@cache
def _lit_parts() -> Mapping[str, frozenset[str]]:
    """The parts that a field is about, by the beginning of its place: those of the longest beginning count."""
    parts: defaultdict[str, set[str]] = defaultdict(set)
    with (_HERE / "lit_parts.csv").open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            parts[row["place"]].add(row["part"])
    return {begin: frozenset(those) for begin, those in parts.items()}


@cache
def _parts_of(place: str) -> frozenset[str]:
    """The parts of a drawing that a field is about."""
    parts = _lit_parts()
    return parts.get(max((begin for begin in parts if place.startswith(begin)), key=len, default=""), frozenset())


def _say_lights(drawing: str, places: Iterable[str]) -> str:
    """For `picture_form.js`: by drawn part, the fields without a figure in the drawing for which it lights up instead."""
    with_figure = {field for fields in _FIELDS.findall(drawing) for field in fields.split()}
    lights: dict[str, list[str]] = {part: [] for part in _PART.findall(drawing)}
    for place in places:
        if place not in with_figure:
            for part in _parts_of(place) & lights.keys():
                lights[part].append(place)
    return f'<div hidden data-lights="{escape(json.dumps({part: fields for part, fields in lights.items() if fields}))}"></div>'


def _words_of(choice: str) -> re.Pattern[str]:
    """The words of a choice, or as many of them as stand on a line."""
    one = "|".join(re.escape(word) for word in choice.split())
    return re.compile(rf"(?<!\w)(?:{one})(?: (?:{one}))*")


def make_fillable(drawing: str, job: Job, refused: Iterable[str] = ()) -> str:
    """A drawing with roles and names on its dimensions.

    Parameters
    ----------
    drawing
        SVG, for one width or two, whose dimensions name the fields that fix it (`data-fields`) and, where one is this very gap, that field (`data-field`).
    job
        The job as typed. A dimension is a form field where its field is a measure with this value, or is not measured yet; a question mark stands for
        a choice that is still to come, as `ask_open` puts one for each figure.
    refused
        Places whose last entry was not taken over: their dimensions are marked.
    """
    fields_of_job = list(walk_fields(job))
    measures = {place: (value, _shown(rule, value)) for place, rule, value in fields_of_job if rule.kind in _TYPED}
    faulty, open_places = set(refused), set(job.open_places)
    choices = {place: _words_of(say_choice(place, str(value))) for place, rule, value in fields_of_job if place in open_places and rule.kind not in _TYPED}
    asked_before: set[str] = set()

    def mark(match: re.Match[str]) -> str:
        fields, field, text = match[1].split(), match[2] or "", match[3]
        words = _TAGS.sub("", match[4])
        value, shown = measures.get(field, (None, ""))
        own = field in measures and (value is None or shown == words)
        asks_for = choices.keys() & set(fields)
        for one in asks_for:
            asked, count = choices[one].subn("?", words)
            asked = asked if count else _FIGURES.sub("?", words)
            text, words = text.replace(words, asked), asked
        goes_on = words == "?" and bool(asked_before & asks_for)  # the same choice, on its second line
        asked_before.clear()
        asked_before.update(asks_for if words.endswith("?") else ())
        if goes_on:
            return ""
        if field in open_places:
            asked = _FIGURES.sub("?", words)
            text, words = text.replace(words, asked), asked
        if "?" in words:
            words = "not measured yet"
        if own or field in open_places:
            to_come = field in open_places
            assumed = value is None and not to_come
            says = f"{label_of(field)}, {words}{', assumed' if assumed else ''}: {'type it' if to_come else 'type another measure'}"
            marks = {"sk-faulty": field in faulty, "sk-unmeasured": to_come, "sk-assumed": assumed}
            names = " ".join(["sk-fill", *(name for name, holds in marks.items() if holds)])
            return (
                f'<g class="{names}" role="button" tabindex="0" aria-label="{escape(says)}" data-fields="{escape(field)}" '
                f'data-field="{escape(field)}"><title>{escape(says)}</title>{text}</g>'
            )
        says = f"{words}: follows from {', '.join(dict.fromkeys(label_of(one).lower() for one in fields))}"
        return f'<g role="img" aria-label="{escape(says)}" data-fields="{escape(" ".join(fields))}"><title>{escape(says)}</title>{text}</g>'

    drawn = _DIMENSION.sub(mark, drawing.replace('role="img"', 'role="group"'))
    signs = [says for level, says in _SIGNS.items() if level in drawn]
    lights = _say_lights(drawn, [place for place, _, _ in fields_of_job])
    return drawn + lights + (_KEY.format(", ".join(signs)) if signs else "") + (_ASSUMED if ' sk-assumed"' in drawn else "")
