"""What finished jobs teach, in words that command and screen share: figures with their unit, both intervals, what they are of."""

from kit.learning.belief import Interval
from kit.learning.learn import Lesson

__all__ = ["INTERVAL_WORDS", "RATIO_WORDS", "figure_words", "interval_words", "lesson_words"]

INTERVAL_WORDS = (
    "Rate itself: where the figure lies on average over many jobs, with a chance of 90 %. Next job: what one more job takes, with the same chance; it "
    "is wider, because single jobs scatter. Don't use one for the other. Scatter: the factor by which a job usually lies above or below."
)

RATIO_WORDS = (
    "Time sheets give the hours of a step, not of each kind of work in it: taken in, all rates of the step move by the same ratio. Where one kind of work is "
    "the cause, refuse it and change that rate yourself."
)


def lesson_words(lesson: Lesson) -> str:
    """What a lesson is about."""
    return {"hours": "hours of {}", "waste": "waste of {}", "days": "wait for {}"}[lesson.subject.kind].format(lesson.subject.name)


def figure_words(lesson: Lesson, ratio: float) -> str:
    """A ratio as the figure of the lists: times the rates, waste in percent, days."""
    value = lesson.figure(ratio)
    return {"hours": f"x {value:.2f}", "waste": f"{value * 100:.1f} %", "days": f"{value:.1f} days"}[lesson.subject.kind]


def interval_words(lesson: Lesson, interval: Interval) -> str:
    """Both limits of an interval."""
    return f"{figure_words(lesson, interval.low)} to {figure_words(lesson, interval.high)}"
