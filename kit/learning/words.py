"""What finished jobs teach, in words that command and screen share: figures with their unit, both intervals, what they are of."""

from collections.abc import Iterable, Sequence

from kit.learning.belief import Interval
from kit.learning.learn import Lesson
from kit.lists import Lists
from kit.takeoff.working import counted

__all__ = ["INTERVAL_WORDS", "MOVED_COLUMNS", "RATIO_WORDS", "figure_words", "interval_words", "lesson_words", "moved_rows", "took_words", "weight_words"]

INTERVAL_WORDS = (
    "Rate itself: where the figure lies on average over many jobs, with a chance of 90%. Next job: what one more job takes, with the same chance; it "
    "is wider, because single jobs scatter. Don't use one for the other. Hours are in percent of the listed ones. Scatter: the factor by which a job usually "
    "lies above or below."
)

RATIO_WORDS = (
    "Time sheets give the hours of a step, not of each kind of work in it: taken in, the rates named here move by one ratio. Kinds of work that no job had "
    "together are learned apart; rates of work that no finished job had stay. Where one kind of work is the cause, refuse it and change that rate yourself."
)

MOVED_COLUMNS = ("About", "Rates that move, with their share of the hours", "Rates that stay: none of these jobs had the work")
_NAMES_SHOWN = 3


def lesson_words(lesson: Lesson) -> str:
    """What a lesson is about."""
    return {"hours": "Hours: {}", "waste": "Waste: {}", "days": "Wait: {}"}[lesson.subject.kind].format(lesson.subject.name)


def moved_rows(lessons: Iterable[Lesson]) -> list[tuple[str, str, str]]:
    """For each lesson of hours: what it is about, the rates that it moves with their share of the hours, and kinds of work whose rates stay."""
    return [(lesson_words(one), ", ".join(f"{rate.name} {rate.share:.0%}" for rate in one.moves), _few(one.stays)) for one in lessons if one.moves]


def _few(names: Sequence[str]) -> str:
    more = len(names[_NAMES_SHOWN:])
    return ", ".join(names[:_NAMES_SHOWN]) + (f" and {more} more" if more else "")


def figure_words(lesson: Lesson, ratio: float) -> str:
    """A ratio as the figure of the lists: hours in percent of the listed ones, waste in percent, days; nothing takes less than no waste or no days."""
    value = max(lesson.figure(ratio), 0.0)
    return {"hours": f"{value * 100:.0f}%", "waste": f"{value * 100:.1f}%", "days": f"{value:.1f} days"}[lesson.subject.kind]


def took_words(lesson: Lesson) -> str:
    """What the jobs took, the lists left aside."""
    ratio = lesson.ratio_of_jobs
    return "-" if ratio is None else figure_words(lesson, ratio)


def weight_words(lists: Lists) -> str:
    """What the two figures of a lesson are: that of the jobs alone, and the one that would be written, with how much the lists weigh in it."""
    return (
        "Took: the middle of the jobs alone. Learned: the same, pulled toward the figure in the lists, which counts as much as "
        f"{counted(lists.company.learn_prior_jobs, 'job', 'jobs').text} until jobs have moved it; this one is written if you accept."
    )


def interval_words(lesson: Lesson, interval: Interval) -> str:
    """Both limits of an interval; days are named once; jobs that used less than was counted, at both limits, have no waste."""
    low, high = (figure_words(lesson, limit) for limit in (interval.low, interval.high))
    if lesson.subject.kind == "waste" and lesson.figure(interval.high) <= 0:
        return "no waste"
    return f"{low.partition(' ')[0]} to {high}"
