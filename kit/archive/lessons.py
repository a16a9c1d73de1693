"""What did finished jobs teach about hours? A suggestion for the next estimate, never a change by itself."""

from collections.abc import Sequence
from dataclasses import dataclass

from kit.archive.compare_spent import CodeResult, SpentComparison
from kit.steps import Step

__all__ = ["Lesson", "list_lessons"]

_RATIO_PLACES = 2


@dataclass(frozen=True, slots=True)
class Lesson:
    """Hours of one cost code over some finished jobs [worker-hours h]: what was estimated at least, likely and at most, and what it took."""

    code: str
    name: str
    steps: tuple[Step, ...]
    jobs: int
    hours_low: float
    hours_estimated: float
    hours_high: float
    hours_spent: float

    @property
    def ratio(self) -> float:
        """Hours spent for each hour estimated."""
        return self.hours_spent / self.hours_estimated

    @property
    def factor(self) -> float:
        """The same as one would try it: to two decimals."""
        return round(self.ratio, _RATIO_PLACES)

    @property
    def within_range(self) -> bool:
        """Whether what it took lies between the least and the most that were estimated."""
        return self.hours_low <= self.hours_spent <= self.hours_high

    @property
    def says(self) -> str:
        """The suggestion in words."""
        took = f"{self.hours_spent:.2f} h against {self.hours_estimated:.2f} h"
        inside = "within" if self.within_range else "outside"
        where = f"{inside} the range of {self.hours_low:.2f} to {self.hours_high:.2f} h that was estimated"
        count = "One job is one job" if self.jobs == 1 else f"{self.jobs} jobs are few"
        if self.factor == 1:
            return f"Took {took}, {where}. Leave the hours as they are."
        return f"Took {took}, {where}. Suggestion: try these hours times {self.factor:.2f} if the next jobs show the same. {count}."


def list_lessons(finished: Sequence[SpentComparison]) -> tuple[Lesson, ...]:
    """The lessons of finished jobs by cost code, the farthest from the estimate first.

    Only codes with hours on both sides teach something. A job whose hours of a code are not entered yet does not count there.
    """
    groups: dict[str, list[CodeResult]] = {}
    for job in finished:
        for row in job.codes:
            if row.hours_estimated > 0 and row.hours_spent > 0:
                groups.setdefault(row.code, []).append(row)
    return tuple(sorted((_lesson(rows) for rows in groups.values()), key=lambda lesson: (-abs(lesson.ratio - 1), lesson.code)))


def _lesson(rows: Sequence[CodeResult]) -> Lesson:
    return Lesson(
        code=rows[0].code,
        name=rows[0].name,
        steps=tuple(dict.fromkeys(step for row in rows for step in row.steps)),
        jobs=len(rows),
        hours_low=sum(row.hours_low for row in rows),
        hours_estimated=sum(row.hours_estimated for row in rows),
        hours_high=sum(row.hours_high for row in rows),
        hours_spent=sum(row.hours_spent for row in rows),
    )
