"""What is wrong with which part? The names of the parts, and the findings that are not ok, numbered for a drawing and sorted by part."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from itertools import count
from types import MappingProxyType

from kit.records import Finding, Level

__all__ = ["PARTS", "Mark", "Marks", "find_part", "number_findings", "number_words", "sort_findings"]

PARTS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "sink": ("body",),
        "apron": (),
        "bowl": ("bowls", "outlet"),
        "rim": ("flange",),
        "cabinet": ("sides", "side", "box", "base", "stile", "stiles", "rail", "rails", "top rail"),
        "cabinet floor": (),
        "toe kick": ("toe space",),
        "doors": ("door",),
        "false front": (),
        "cut-out": ("cutout", "opening"),
        "front cut": ("front cutout",),
        "frame": ("cleat", "cleats", "side cleat", "rear cross piece", "front tie", "platform", "platform joist", "platform panel", "screws"),
        "posts": ("post", "blocking", "block", "blocks", "block below post"),
        "counter": ("top", "run", "runs", "return run", "overhang", "edge"),
        "front strip": (),
        "rear strip": (),
        "splash": ("side splash",),
        "seam": ("seams",),
        "holes": ("hole", "faucet", "air gap", "air-gap"),
        "strainer": ("tailpiece",),
        "disposer": (),
        "trap": (),
        "arm": ("trap arm", "vent"),
        "stub": ("drain", "drain stub", "wall stub"),
        "wall": ("walls", "stud", "studs"),
        "floor": ("aisle",),
        "left neighbor": ("left", "neighbor left"),
        "right neighbor": ("right", "neighbor right"),
        "run boxes": (),
        "corner": (),
        "shims": ("shim", "levels", "level", "levelness"),
    }
)
"""Part names, each with the other words by which it may be named."""

_PART_OF_WORD = {word: part for part, others in PARTS.items() for word in (part, *others)}


@dataclass(frozen=True, slots=True)
class Mark:
    """The worst level of one part and the numbers of the findings that name it."""

    part: str
    level: Level
    numbers: tuple[int, ...]

    @property
    def words(self) -> str:
        """As written at the part: `1, 3`."""
        return ", ".join(str(number) for number in self.numbers)


@dataclass(frozen=True, slots=True)
class Marks:
    """Marks by part, and the findings of the drawing with their numbers."""

    by_part: dict[str, Mark]
    findings: tuple[tuple[int, Finding], ...]


def number_findings(findings: Sequence[Finding]) -> list[tuple[int, Finding]]:
    """What is not ok with its number: the same in every drawing and list of a job, the worst first."""
    return list(enumerate((finding for finding in findings if finding.level is not Level.OK), 1))


def number_words(findings: Sequence[Finding]) -> tuple[str, ...]:
    """The number of each finding of a whole job as lists print it, in their order; "" for what is ok."""
    numbers = count(1)
    return tuple("" if finding.level is Level.OK else str(next(numbers)) for finding in findings)


def sort_findings(findings: Sequence[Finding], drawn: Collection[str], same: Mapping[str, str] | None = None) -> Marks:
    """The findings that concern a drawing.

    Parameters
    ----------
    findings
        Of the whole job, worst first.
    drawn
        Parts that the drawing shows.
    same
        Words that mean one of these parts on this job, such as the dishwasher that is the right neighbor.

    Returns
    -------
    Every finding that is not ok and names a part of the drawing, in the given order, and one mark a part.
    """
    mine: list[tuple[int, Finding]] = []
    numbers: dict[str, list[tuple[int, Level]]] = {}
    for number, finding in number_findings(findings):
        named = {part for part in _parts_of(finding, same or {}) if part in drawn}
        if named:
            mine.append((number, finding))
            for part in named:
                numbers.setdefault(part, []).append((number, finding.level))
    by_part = {part: Mark(part, max(level for _, level in which), tuple(number for number, _ in which)) for part, which in sorted(numbers.items())}
    return Marks(by_part, tuple(mine))


def _parts_of(finding: Finding, same: Mapping[str, str]) -> set[str]:
    """The parts a finding names; a cut-out that a check of the cabinet names is the one in its front, not the counter's."""
    parts = {find_part(name) or name for name in finding.parts}
    if "cut-out" in parts and finding.id.startswith("cabinet/"):
        parts = parts - {"cut-out"} | {"front cut"}
    return {same.get(part, part) for part in parts}


def find_part(name: str) -> str | None:
    """The part that a name means; None when no drawing knows it."""
    return _PART_OF_WORD.get(name.strip().lower().replace("_", " "))
