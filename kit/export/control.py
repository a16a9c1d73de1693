"""Did the import file arrive whole? Count, sums and fingerprints worked out again from the file's own text, beside what was said of it."""

import csv
import hashlib
import io
import json
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from kit.errors import Fault, PriceError
from kit.issued import Issued
from kit.money import sum_money

__all__ = ["ControlCheck", "check_control"]


@dataclass(frozen=True, slots=True)
class ControlCheck:
    """One thing that was said of the import file, and what its own text gives."""

    what: str
    said: str
    found: str

    @property
    def agrees(self) -> bool:
        """Whether both are the same."""
        return self.said == self.found


def check_control(content: bytes, control: bytes, issued: Issued) -> tuple[ControlCheck, ...]:
    """Hold the text of an import file against its control totals, and against the issued estimate that it is of.

    Parameters
    ----------
    content
        The CSV file, as `handoff_bytes` writes it.
    control
        The control totals beside it.
    issued
        The estimate that was handed over: rows must sum to its direct cost and its price.

    Raises
    ------
    PriceError
        If one of the two can't be read at all.
    """
    try:
        said: dict[str, Any] = json.loads(control)
        rows = list(csv.DictReader(io.StringIO(content.decode(), newline=""), strict=True))
        cost, sell = (f"{sum_money([Decimal(row[name]) for row in rows])}" for name in ("cost", "sell"))
        stated = [(key, f"{said[key]}") for key in ("count", "sum_cost", "sum_sell", "currency", "document", "revision", "fingerprint", "file_sha256")]
        words = {name: _all_say(rows, name) for name in ("currency", "document", "revision", "fingerprint")}
    except (ValueError, ArithmeticError, TypeError, KeyError, csv.Error) as error:
        raise PriceError(Fault("import file", f"can't be held against its control totals: {type(error).__name__}: {error}")) from None
    found = {"count": f"{len(rows)}", "sum_cost": cost, "sum_sell": sell, "file_sha256": hashlib.sha256(content).hexdigest(), **words}
    estimate = issued.estimate
    return (
        *(ControlCheck(_NAMES[key], text, found[key]) for key, text in stated),
        ControlCheck("Direct cost as issued", f"{estimate.cost}", cost),
        ControlCheck("Price as issued", f"{estimate.price}", sell),
    )


_NAMES = {
    "count": "Rows",
    "sum_cost": "Sum of the column cost",
    "sum_sell": "Sum of the column sell",
    "currency": "Currency in every row",
    "document": "Document in every row",
    "revision": "Revision in every row",
    "fingerprint": "Fingerprint of the document in every row",
    "file_sha256": "Fingerprint of the file",
}


def _all_say(rows: list[dict[str, str]], name: str) -> str:
    """What every row says; several where they differ."""
    return ", ".join(dict.fromkeys(row[name] for row in rows))
