"""What is a field of the job, a choice in it, or a part of the kitchen, called where a person reads it?"""

import csv
import re
from collections.abc import Iterable, Mapping, Sequence
from functools import cache
from pathlib import Path
from types import MappingProxyType

__all__ = ["field_labels", "label_of", "labels_of", "list_words", "lower_first", "mount_words", "part_name", "say_choice", "say_value"]

_NAMES = {"counter": "countertop", "splash": "backsplash"}
_SIDED = re.compile(r"^(side|stile|side cleat|cleat packer|box packer) (left|right)\b")
_NUMBER = re.compile(r"\[(\d+)\]")


def part_name(name: str) -> str:
    """The words for an id of a part or a body: "splash_left" is the backsplash left, "side left" the left side.

    Examples
    --------
    >>> part_name("splash_left"), part_name("side left"), part_name("side cleat right"), part_name("side")
    ('backsplash left', 'left side', 'right side cleat', 'side')
    """
    words = " ".join(_NAMES.get(word, word) for word in name.replace("_", " ").split(" "))
    return _SIDED.sub(r"\2 \1", words)


def list_words(names: Sequence[str]) -> str:
    """Names as a sentence lists them.

    Examples
    --------
    >>> list_words(["top rail", "mid rail", "false front"])
    'top rail, mid rail and false front'
    """
    return " and ".join(part for part in (", ".join(names[:-1]), *names[-1:]) if part)


def lower_first(label: str) -> str:
    """A name as it stands within a sentence; one that begins with an abbreviation stays.

    Examples
    --------
    >>> lower_first("Sink base width"), lower_first("PVC pipe"), lower_first("P-trap")
    ('sink base width', 'PVC pipe', 'P-trap')
    """
    return label if label[1:2].isupper() or label[1:2] == "-" else f"{label[:1].lower()}{label[1:]}"


@cache
def field_labels() -> Mapping[str, str]:
    """Labels of all fields and parts of a job by their place; {0} stands for the number in a list."""
    with (Path(__file__).parent / "field_labels.csv").open(encoding="utf-8", newline="") as file:
        return MappingProxyType({row["place"]: row["label"] for row in csv.DictReader(file)})


def label_of(place: str, unit: str = "") -> str:
    """What a field of the job is called on screens and papers, its unit in brackets; no two fields have the same name.

    Examples
    --------
    >>> label_of("sink.bowls[2].depth", "in")
    'Bowl 2: inside depth [in]'
    >>> label_of("cabinet.width")
    'Sink base width'
    """
    label = field_labels().get(_NUMBER.sub("[]", place))
    words = _say_unknown(place) if label is None else label.format(*_NUMBER.findall(place))
    return f"{words} [{unit}]" if unit else words


def labels_of(places: Iterable[str]) -> list[str]:
    """What fields are called together: one that several parts of a list share is named once.

    Examples
    --------
    >>> labels_of(["counter.holes[1].setback", "cabinet.width", "counter.holes[3].setback"])
    ['Holes 1 and 3: wall to center', 'Sink base width']
    """
    alike: dict[str, list[str]] = {}
    for place in places:
        alike.setdefault(_NUMBER.sub("[]", place), []).append(place)
    return [
        label_of(same[0]) if len(same) == 1 else field_labels()[key].replace(" {0}", f"s {list_words([_NUMBER.findall(place)[0] for place in same])}")
        for key, same in alike.items()
    ]


@cache
def _choice_words() -> Mapping[tuple[str, str], str]:
    with (Path(__file__).parent / "choice_words.csv").open(encoding="utf-8", newline="") as file:
        return MappingProxyType({(row["field"], row["choice"]): row["words"] for row in csv.DictReader(file)})


def say_choice(place: str, choice: str) -> str:
    """A choice of a field as people say it; in the job file it is one word.

    Examples
    --------
    >>> say_choice("sink.mount", "under")
    'undermount'
    """
    return _choice_words().get((place.rpartition(".")[2], choice)) or choice.replace("-", " ")


def say_value(place: str, value: str) -> str:
    """A value of a job file as people say it: yes or no, a choice in its words, anything else as it is written.

    Examples
    --------
    >>> say_value("cabinet.wet_floor", "true"), say_value("site.below", "rooms"), say_value("cabinet.width", "36 in")
    ('yes', 'rooms', '36 in')
    """
    return {"true": "yes", "false": "no"}.get(value) or _choice_words().get((place.rpartition(".")[2], value)) or value


def mount_words(mount: str) -> str:
    """How a sink is mounted, in the middle of a sentence.

    Examples
    --------
    >>> mount_words("under"), mount_words("top")
    ('undermount', 'top mount')
    """
    return "undermount" if mount == "under" else f"{mount} mount"


def _say_unknown(place: str) -> str:
    """Words for a key that no job has, such as a slip in a job file."""
    part, _, last = place.rpartition(".")
    words = part_name(last)
    return f"{label_of(part)}: {words}" if part else f"{words[:1].upper()}{words[1:]}"
