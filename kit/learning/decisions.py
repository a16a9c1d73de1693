"""What people decided about what finished jobs teach: taken into the lists, refused, or a job that stands out taken in. Kept in the folder's ledger."""

import datetime as dt
from collections.abc import Sequence
from pathlib import Path
from typing import Literal

from pydantic import BaseModel, ConfigDict, ValidationError

from kit.contract.ledger import LEDGER_FILE, Ledger
from kit.errors import Fault, LedgerError

__all__ = ["Decision", "ListCell", "add_decisions", "read_decisions"]


class _Record(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False)


class ListCell(_Record):
    """A cell of a list as it was written: file, key of the row, column, and the cell."""

    file: str
    key: str
    column: str
    cell: str


class Decision(_Record):
    """A decision of a day: by whom, about which subject (`hours/build-frame`), from which jobs, and why.

    An accepted one keeps what it wrote and what is believed of the lists since, from which later jobs go on: mean, weight in jobs, degrees of
    freedom and variance. `jobs` are all that taught it, those of earlier decisions that it goes on from among them.
    `took-in` names one job in `jobs` that stands out and counts all the same. What was decided from `invented` jobs counts for no others.
    """

    kind: Literal["accepted", "refused", "took-in"]
    subject: str
    day: dt.date
    who: str
    jobs: tuple[str, ...]
    why: str = ""
    cells: tuple[ListCell, ...] = ()
    mean: float = 0.0
    weight: int = 0
    freedom: int = 0
    variance: float = 0.0
    invented: bool = False


def read_decisions(folder: Path) -> tuple[Decision, ...]:
    """The decisions of a folder, oldest first. Raises LedgerError if the ledger, or a decision in it, can't be read."""
    try:
        return tuple(Decision.model_validate_json(text) for text in Ledger(folder).decisions())
    except ValidationError:
        raise LedgerError(Fault("a decision about what jobs teach", "can't be read.", LEDGER_FILE)) from None


def add_decisions(folder: Path, decisions: Sequence[Decision], *, seen: int) -> None:
    """Write decisions into the ledger of a folder, all of them or none.

    Raises LedgerError if there are others than the `seen` ones that the writer knew, or the ledger can't be written.
    """
    Ledger(folder).add_decisions([decision.model_dump_json() for decision in decisions], seen=seen)
