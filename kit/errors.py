"""What went wrong, where, and what to do about it.

Every error the kit raises on purpose is a `KitError`. It keeps its parts (one `Fault` for each
thing that is wrong), so that a screen can put each sentence beside its field and a command can
print all of them in one report.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass

__all__ = ["CutError", "Fault", "IssueError", "JobError", "KitError", "LedgerError", "ListError", "PriceError", "UnitError", "UnknownRowError"]

_QUOTED = re.compile('"([^"]*)"')
_GOES_ON = re.compile(  # the verbs with which a message says something of its place: "items.csv is empty."
    r"(?:are|belongs|buys|can't|changes|comes|counts?|differs|ends|gets|gives|goes|has|holds|is|leaves|matches|means|must|names|needs|overlaps|owes|says|sum"
    r"|unpacks|waits|was|would|writes) "
)
_LONGEST_QUOTED = 200  # letters: nobody reads more of what was typed to know it again


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing that is wrong.

    Parameters
    ----------
    place
        Where: the field (`cabinet.width`) or the row (`row 12, price`); empty when the whole file is meant.
    message
        What was given and what is wanted, as a sentence for a person, or the rest of one that begins with the place and goes on with a verb; of what is
        quoted without end the beginning.
    file
        Name of the file, empty when the fault did not come from one.
    """

    place: str
    message: str
    file: str = ""

    def __post_init__(self) -> None:
        """Shorten what is quoted."""
        if len(self.message) > _LONGEST_QUOTED:
            shortened = _QUOTED.sub(lambda match: match[0] if len(match[1]) <= _LONGEST_QUOTED else f'"{match[1][:_LONGEST_QUOTED]}..."', self.message)
            object.__setattr__(self, "message", shortened)

    def __str__(self) -> str:
        """File, place and sentence on one line."""
        where = ", ".join(part for part in (self.file, self.place) if part)
        return f"{where}{'' if _GOES_ON.match(self.message) else ':'} {self.message}" if where else self.message


class KitError(Exception):
    """Base of every error raised on purpose; `faults` holds its parts."""

    def __init__(self, faults: str | Fault | Iterable[Fault]) -> None:
        if isinstance(faults, str):
            faults = Fault("", faults)
        self.faults: tuple[Fault, ...] = (faults,) if isinstance(faults, Fault) else tuple(faults)
        super().__init__("\n".join(str(fault) for fault in self.faults))

    def __str__(self) -> str:
        """Every fault on a line, also where the error is a KeyError, which would quote it."""
        return "\n".join(str(fault) for fault in self.faults)

    def __reduce__(self) -> tuple[type["KitError"], tuple[tuple[Fault, ...]]]:
        """Survive pickling between processes."""
        return type(self), (self.faults,)


class UnitError(KitError, ValueError):
    """A measure that can't be read: no unit, the wrong unit, not a number."""


class JobError(KitError, ValueError):
    """A job file or a changed field that contradicts its rules or itself."""


class ListError(KitError, ValueError):
    """A price list, rate list or company file with faults."""


class CutError(KitError, ValueError):
    """Pieces that no stock can hold, or a stock that makes no sense."""


class PriceError(KitError, ValueError):
    """A price that can't be computed from what is on hand."""


class UnknownRowError(PriceError, KeyError):
    """A row of the price that is asked for and is not there."""


class IssueError(KitError, ValueError):
    """An estimate that may not be issued, or an issued one that was changed."""


class LedgerError(KitError, ValueError):
    """An event that can't follow those of its contract, or a ledger that can't be read or written."""
