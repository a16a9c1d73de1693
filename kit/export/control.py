"""Did the import files arrive whole? Count, sums and fingerprints worked out again from each file's own text, beside what was said of it."""

import csv
import hashlib
import io
import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from kit.errors import Fault, PriceError
from kit.export.csv_text import restore_text
from kit.export.table_files import group_totals
from kit.issued import Issued
from kit.job.field_names import lower_first
from kit.money import EXACT, sum_money

__all__ = ["ControlCheck", "check_control", "check_postings"]

Cells = Sequence[Mapping[str, str]]


@dataclass(frozen=True, slots=True)
class ControlCheck:
    """One thing that was said of the import file, and what its own text gives."""

    what: str
    said: str
    found: str

    @property
    def agrees(self) -> bool:
        """Whether the file says what its own text gives."""
        return self.said == self.found


def check_control(content: bytes, control: bytes, issued: Issued) -> tuple[ControlCheck, ...]:
    """Hold the text of a budget's import file against its control totals, and against the issued estimate that it is of.

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
    totals, rows = _read(content, control)
    try:
        counted_again = {
            "count": f"{len(rows)}",
            "sum_cost": _sum(rows, "cost"),
            "sum_sell": _sum(rows, "sell"),
            **{name: _all_say(rows, name) for name in ("currency", "document", "revision", "fingerprint", "replaces")},
            "file_sha256": hashlib.sha256(content).hexdigest(),
        }
        groups = {name: _grouped(rows, *columns) for name, columns in _BUDGET_GROUPS.items()}
        return (
            *_checks(totals, counted_again, groups, {draw.id: draw.label for draw in issued.draws.draws}),
            ControlCheck("Direct cost as issued", f"{issued.cost}", counted_again["sum_cost"]),
            ControlCheck("Price as issued", f"{issued.price}", counted_again["sum_sell"]),
        )
    except _UNREADABLE:
        raise _unreadable() from None


def check_postings(content: bytes, control: bytes, payments: Mapping[str, str]) -> tuple[ControlCheck, ...]:
    """Hold the text of a file of posting rows, of one side or both, against its control totals; its accounts must come to nothing together.

    `payments` has what the payments that were billed are called, by their short names.

    Raises PriceError if one of the two can't be read at all.
    """
    totals, rows = _read(content, control)
    try:
        moves = list(_moves(rows))
        debits, credits_ = (sum_money([amount * sign for _, amount in moves if amount * sign > 0]) for sign in (1, -1))
        counted_again = {
            "count": f"{len(rows)}",
            "debits": f"{debits}",
            "credits": f"{credits_}",
            **{name: _all_say(rows, name) for name in ("currency", "job")},
            "file_sha256": hashlib.sha256(content).hexdigest(),
        }
        groups = {"by_account": group_totals(moves), **{name: _grouped(rows, *columns) for name, columns in _POSTING_GROUPS.items()}}
        return (*_checks(totals, counted_again, groups, payments), ControlCheck("Debits less credits", "0.00", f"{EXACT.subtract(debits, credits_)}"))
    except _UNREADABLE:
        raise _unreadable() from None


_UNREADABLE = (ValueError, ArithmeticError, TypeError, KeyError, csv.Error)
_RENAMED = {"tax_code": "tax_words"}  # files that were sent earlier are kept as they are
_BUDGET_GROUPS = {
    "by_account": ("expense_account", "cost"),
    "by_income_account": ("income_account", "sell"),
    "by_cost_code": ("cost_code", "cost"),
    "by_tax": ("tax_words", "cost"),
    "by_draw": ("draw", "sell"),
}
_POSTING_GROUPS = {"by_cost_code": ("cost_code", "cost"), "by_tax": ("tax_where", "tax"), "by_draw": ("draw", "billed")}
_NAMES = {
    "count": "Rows",
    "sum_cost": "Sum of the column cost",
    "sum_sell": "Sum of the column sell",
    "debits": "Debits",
    "credits": "Credits",
    "currency": "Currency in every row",
    "document": "Document in every row",
    "job": "Job in every row",
    "revision": "Revision in every row",
    "fingerprint": "Fingerprint of the document in every row",
    "replaces": "Revision that is replaced, in every row",
    "file_sha256": "Fingerprint of the file",
}
_GROUP_NAMES = {
    "by_account": "Account",
    "by_income_account": "Income account",
    "by_cost_code": "Cost code",
    "by_tax": "Tax",
    "by_draw": "Payment of the customer",
}


def _read(content: bytes, control: bytes) -> tuple[dict[str, Any], Cells]:
    try:
        totals = json.loads(control)
        if not isinstance(totals, dict):
            raise TypeError("the control totals are none.")
        rows = csv.DictReader(io.StringIO(content.decode(), newline=""), strict=True)
        return totals, [{_RENAMED.get(name, name): cell for name, cell in row.items()} for row in rows]
    except _UNREADABLE:
        raise _unreadable() from None


def _unreadable() -> PriceError:
    return PriceError(
        Fault("import file", "can't be held against its control totals: one of the two files is damaged, or of another kind. Download both again.")
    )


def _checks(
    totals: Mapping[str, Any], counted_again: Mapping[str, str], groups: Mapping[str, Mapping[str, str]], payments: Mapping[str, str]
) -> Iterator[ControlCheck]:
    """Each total, then each group of each kind: of those that were said and of those that the text has. A payment has its name, all else is as in the file."""
    for key, text in counted_again.items():
        yield ControlCheck(_NAMES[key], f"{totals[key]}", text)
    for key, again in groups.items():
        for group in dict.fromkeys((*totals[key], *again)):
            named = lower_first(payments.get(group, group)) if key == "by_draw" else group
            yield ControlCheck(f"{_GROUP_NAMES[key]}: {named}", totals[key].get(group, "nothing"), again.get(group, "nothing"))


def _moves(rows: Cells) -> Iterator[tuple[str, Decimal]]:
    """What each row puts on its accounts, debits above 0; rows have both sides or one."""
    for row in rows:
        if "amount" in row:
            yield restore_text(row["debit_account"]), Decimal(row["amount"])
            yield restore_text(row["credit_account"]), -Decimal(row["amount"])
        else:
            yield restore_text(row["account"]), EXACT.subtract(Decimal(row["debit"]), Decimal(row["credit"]))


def _grouped(rows: Cells, by: str, amount: str) -> dict[str, str]:
    return group_totals((restore_text(row[by]), Decimal(row[amount])) for row in rows)


def _sum(rows: Cells, name: str) -> str:
    return f"{sum_money([Decimal(row[name]) for row in rows])}"


def _all_say(rows: Iterable[Mapping[str, str]], name: str) -> str:
    """What every row says; several where they differ."""
    return ", ".join(dict.fromkeys(restore_text(row[name]) for row in rows))
