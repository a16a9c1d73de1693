"""What a command is given: a job file, or an estimate that was issued from one."""

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from kit.cli.opening import estimate_file
from kit.document import money_text
from kit.errors import Fault, KitError
from kit.estimate import Estimate
from kit.issued import Issued, open_issued

__all__ = ["Given", "issue_document", "issued_document", "open_given", "open_two"]

ISSUED = ".json"


@dataclass(frozen=True, slots=True)
class Given:
    """An estimate, and the issued document that it is of; None for a job file."""

    path: Path
    estimate: Estimate
    issued: Issued | None

    @property
    def name(self) -> str:
        """How people call it: number and revision, or the job file's name."""
        return f"{self.issued.number}, revision {self.issued.revision} of {self.issued.issued}" if self.issued else self.path.name


def open_given(path: Path, prices: Path | None = None) -> Given:
    """The estimate in a job file (TOML), or in an issued document (JSON) with the prices that it holds.

    Raises
    ------
    KitError
        With every fault; or other prices are asked for than those that an issued document holds.
    """
    if path.suffix.lower() != ISSUED:
        return Given(path, estimate_file(path, prices), None)
    if prices is not None:
        raise KitError(Fault("--prices", "an issued estimate keeps the prices that it was issued with. Give the job file for other ones.", path.name))
    issued = open_issued(path)
    return Given(path, issued.estimate, issued)


def open_two(old: Path, new: Path, prices: Path | None) -> tuple[Given, Given]:
    """Two of them, the faults of both in one report; other prices are those of the job files among them."""
    given: list[Given] = []
    faults: list[Fault] = []
    for path in (old, new):
        try:
            given.append(open_given(path, None if path.suffix.lower() == ISSUED else prices))
        except KitError as error:
            faults.extend(error.faults)
    if faults:
        raise KitError(faults)
    return given[0], given[1]


def issued_document(given: Given) -> dict[str, Any] | None:
    """What the issued document says of itself; None for a job file."""
    issued = given.issued
    if issued is None:
        return None
    return {
        "number": issued.number,
        "revision": issued.revision,
        "issued": issued.issued.isoformat(),
        "stop_reason": issued.stop_reason,
        "changes": list(issued.changes),
        "sha256": issued.sha256,
    }


def issue_document(path: Path) -> dict[str, Any]:
    """An issued file as plain data: `file`, `price`, and what it says of itself."""
    given = open_given(path)
    return {"file": str(path), "price": money_text(given.estimate.price), **(issued_document(given) or {})}
