"""The answer of a method that has no number to give."""

from dataclasses import dataclass

__all__ = ["NoValue"]


@dataclass(frozen=True, slots=True)
class NoValue:
    """No published value exists here, or the method does not reach this far.

    Parameters
    ----------
    reason
        Why, as a sentence for a person.
    source
        Key of the source that draws the line, empty when none does.
    """

    reason: str
    source: str = ""
