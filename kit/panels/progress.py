"""How far is the visit: what of each step is measured, assumed or still open, and which step has a stop or a decision?"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from kit.estimating import Estimate
from kit.job import Job
from kit.panels.entries import walk_fields
from kit.panels.visit_steps import STEPS, part_of, step_of_field, step_of_finding
from kit.records import Finding, Level

__all__ = ["StepProgress", "follow_steps", "progress_words"]

_TYPED = {part for step in STEPS[:9] for part in step.parts}  # those before Check
_MEASURED = {"house", "cabinet", "there", "sink", "counter", "plumbing", "level"}


@dataclass(slots=True)
class StepProgress:
    """Fields of a step by what is known of them, and its worst finding.

    Nothing is taken for what is `unknown`; the price waits for what is `open`, papers wait for what is `unnamed`, and what was `refused` waits to be mended.
    """

    measured: int = 0
    assumed: int = 0
    unknown: int = 0
    open: int = 0
    unnamed: int = 0
    refused: int = 0
    level: Level = Level.OK

    @property
    def mark(self) -> str:
        """What stands beside the step: that an entry was not accepted, a flag, how many are open, or a tick."""
        if self.refused:
            return "refused"
        if self.level is Level.STOP:
            return "stop"
        if self.level is Level.CAUTION:
            return "decide"
        return "open" if self.open or self.unnamed else "done" if self.measured and not (self.assumed or self.unknown) else ""

    @property
    def says(self) -> str:
        """The same in words; while answers are to come that decide the price, only these are counted."""
        flags = {"stop": "stop", "decide": "to decide", "done": "complete", "refused": f"{self.refused} not accepted"}
        left = f"{self.open} to answer" if self.open else _left(0, self.assumed, self.unknown)
        names = f"{self.unnamed} to fill in" if self.unnamed else ""
        return ", ".join(word for word in (flags.get(self.mark, ""), left, names) if word)


def follow_steps(job: Job, priced: Estimate | None, refused: Iterable[str] = ()) -> dict[str, StepProgress]:
    """The progress of each step, by its id, with the places whose entries were `refused`; before there is a price nothing is found."""
    steps = {step.id: StepProgress() for step in STEPS}
    assumed = None if priced is None else {one.field for one in priced.assumptions}
    deciding = set(job.deciding_places)
    for place, rule, value in walk_fields(job):
        step = steps[step_of_field(place)]
        if place in deciding:
            step.open += 1
        elif place in job.open_places:
            step.unnamed += 1
        elif value is not None:
            step.measured += not rule.optional and part_of(place) in _TYPED
        elif rule.assume is not None or rule.like is not None:
            step.assumed += assumed is None or place in assumed
        elif rule.unknown_ok:
            step.unknown += 1
    for place in refused:
        steps[step_of_field(place)].refused += 1
    if priced is not None:
        _flag(steps, priced.findings)
    return steps


def _flag(steps: Mapping[str, StepProgress], findings: Sequence[Finding]) -> None:
    for finding in findings:
        if finding.level in {Level.STOP, Level.CAUTION}:
            step = steps[step_of_finding(finding)]
            for flagged in (step, steps["check"]):
                flagged.level = max(flagged.level, finding.level)


def progress_words(steps: Mapping[str, StepProgress]) -> str:
    """All steps in a line: 17 of 24 known, 2 to answer, 3 assumed, 2 unknown."""
    visit = [step for name, step in steps.items() if name in _MEASURED]
    measured, assumed, unknown, left = (sum(getattr(step, name) for step in visit) for name in ("measured", "assumed", "unknown", "open"))
    known = f"{measured} of {measured + assumed + unknown + left} known"
    return ", ".join(words for words in (known, _left(left, assumed, unknown)) if words)


def _left(to_answer: int, assumed: int, unknown: int) -> str:
    """What is not known, by what stands in its place."""
    return ", ".join(f"{number} {word}" for number, word in ((to_answer, "to answer"), (assumed, "assumed"), (unknown, "unknown")) if number)
