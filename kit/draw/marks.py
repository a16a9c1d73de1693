"""What is wrong with which part? Findings that are not ok, numbered for a drawing and sorted by part."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from kit.draw.parts import find_part
from kit.records import Finding, Level

__all__ = ["Mark", "Marks", "sort_findings"]


@dataclass(frozen=True, slots=True)
class Mark:
    """The worst level of one part and the numbers of the findings that name it."""

    part: str
    level: Level
    numbers: tuple[int, ...]

    @property
    def words(self) -> str:
        """As written beside the part's name: `STOP 1, 3`."""
        return f"{self.level.word.upper()} {', '.join(str(number) for number in self.numbers)}"


@dataclass(frozen=True, slots=True)
class Marks:
    """Marks by part, and the findings of the drawing; finding n has the number n + 1."""

    by_part: dict[str, Mark]
    findings: tuple[Finding, ...]


def sort_findings(findings: Sequence[Finding], drawn: Collection[str], same: Mapping[str, str] | None = None) -> Marks:
    """The findings that concern a drawing.

    Parameters
    ----------
    findings
        Of the whole job, worst first.
    drawn
        Parts that the drawing shows.
    same
        Words that mean one of these parts on this job, such as the dishwasher that is the right neighbour.

    Returns
    -------
    Every finding that is not ok and names a part of the drawing, in the given order, and one mark a part.
    """
    mine: list[Finding] = []
    numbers: dict[str, list[int]] = {}
    for finding in findings:
        if finding.level is Level.OK:
            continue
        named = {part for part in _parts_of(finding, same or {}) if part in drawn}
        if named:
            mine.append(finding)
            for part in named:
                numbers.setdefault(part, []).append(len(mine))
    by_part = {part: Mark(part, max(mine[n - 1].level for n in which), tuple(which)) for part, which in sorted(numbers.items())}
    return Marks(by_part, tuple(mine))


def _parts_of(finding: Finding, same: Mapping[str, str]) -> set[str]:
    """The parts a finding names; a cut-out that a check of the cabinet names is the one in its front, not the counter's."""
    parts = {find_part(name) or name for name in finding.parts}
    if "cut-out" in parts and finding.id.startswith("cabinet/"):
        parts = parts - {"cut-out"} | {"front cut"}
    return {same.get(part, part) for part in parts}
