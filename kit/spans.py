"""From where to where along a line: bare spans, and what touches; no trade words. Inches."""

from collections.abc import Iterable

__all__ = ["TOUCH_IN", "Span", "about", "free_spans", "grown", "length_of", "lies_inside", "spans_cross"]

Span = tuple[float, float]

TOUCH_IN = 1e-6
"""Faces this close touch: far below what a tape reads, far above the error of the arithmetic."""


def spans_cross(one: Span, other: Span) -> bool:
    """Whether two spans have more in common than a touch."""
    (low, high), (first, last) = one, other
    return high - first > TOUCH_IN and last - low > TOUCH_IN and high - low > TOUCH_IN and last - first > TOUCH_IN


def length_of(span: Span) -> float:
    """From the low end of a span to its high one [in]."""
    return span[1] - span[0]


def about(middle_in: float, wide_in: float) -> Span:
    """A span of so much with a place in its middle [in]."""
    return middle_in - wide_in / 2.0, middle_in + wide_in / 2.0


def lies_inside(at_in: float, span: Span) -> bool:
    """Whether a place is farther than a touch from both ends of a span, and between them [in].

    Examples
    --------
    >>> [lies_inside(at_in, (2.0, 5.0)) for at_in in (1.0, 2.0, 2.1, 5.0, 6.0)]
    [False, False, True, False, False]
    """
    return min(at_in - span[0], span[1] - at_in) > TOUCH_IN


def grown(span: Span, by_in: float) -> Span:
    """A span and as much again at both ends [in]."""
    return span[0] - by_in, span[1] + by_in


def free_spans(within: Span, taken: Iterable[Span]) -> list[Span]:
    """What some spans leave free of another one, in its order [in]; what is no wider than a touch is none.

    Examples
    --------
    >>> free_spans((0.0, 10.0), [(6.0, 7.0), (2.0, 3.0), (2.5, 4.0), (9.0, 12.0)])
    [(0.0, 2.0), (4.0, 6.0), (7.0, 9.0)]
    """
    free, (low_in, end_in) = list[Span](), within
    for first, last in (*sorted(taken), (end_in, end_in)):
        gap = low_in, min(first, end_in)
        if spans_cross(gap, within):
            free.append(gap)
        low_in = max(low_in, last)
    return free
