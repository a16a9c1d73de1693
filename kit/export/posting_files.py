"""The posting rows of a contract as files: rows, their description, and what they must come to by account, cost code, tax and draw."""

from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import Any

from kit.contract.events import Event
from kit.export.csv_text import csv_bytes
from kit.export.papers import mark_of_issued
from kit.export.posting_rows import ONE_SIDED, TWO_SIDED, AccountRow, PostingRow, one_sided, posting_rows
from kit.export.table_files import TableFacts, group_totals, table_files, table_schema
from kit.issued import Issued
from kit.money import sum_money

__all__ = ["posting_control", "posting_files", "posting_schema", "posting_stem"]


def posting_files(issued: Issued, events: Sequence[Event], *, only: frozenset[int] | None = None) -> dict[str, bytes]:
    """Name and content of the three files; none where nothing is posted.

    Parameters
    ----------
    issued
        The estimate that was signed: its lists name the accounts, its company file says whether rows have one side or both.
    events
        All events of the contract.
    only
        Ids of the events whose rows are wanted; all of them when left out.
    """
    rows: Sequence[PostingRow | AccountRow] = posting_rows(issued, events, only=only)
    if not rows:
        return {}
    sides = issued.lists.company.posting_sides
    columns = TWO_SIDED if sides == "both" else ONE_SIDED
    if sides == "one":
        rows = one_sided(tuple(row for row in rows if isinstance(row, PostingRow)))
    facts = TableFacts("postings", f"Postings of contract {issued.number}", max(row.date for row in rows), posting_schema(columns))
    return table_files(posting_stem(issued, only), facts, csv_bytes(columns, rows), posting_control(rows))


def posting_stem(issued: Issued, only: frozenset[int] | None = None) -> str:
    """The name of the files without its ending, such as `DEMO-001-postings` or `DEMO-001-postings-of-event-7`."""
    number = mark_of_issued(issued).file_stem.rpartition("-r")[0]
    return f"{number}-postings{'' if only is None else '-of-event-' + '-'.join(str(event) for event in sorted(only))}"


def posting_schema(columns: Sequence[str]) -> dict[str, Any]:
    """The Table Schema of the rows (Data Package standard, version 2)."""
    return table_schema("posting_columns.csv", columns, ("job", "posting"))


def posting_control(rows: Sequence[PostingRow | AccountRow]) -> dict[str, Any]:
    """What an import must come to; debits count above 0 by account, and all accounts together come to nothing."""
    return {
        "job": rows[0].job,
        "currency": rows[0].currency,
        "first_day": min(row.date for row in rows).isoformat(),
        "last_day": max(row.date for row in rows).isoformat(),
        "count": len(rows),
        "debits": f"{sum_money([amount for _, amount in _moves(rows) if amount > 0])}",
        "credits": f"{sum_money([-amount for _, amount in _moves(rows) if amount < 0])}",
        "by_account": group_totals(_moves(rows)),
        "by_cost_code": group_totals((row.cost_code, row.cost) for row in rows),
        "by_tax": group_totals((row.tax_where, row.tax) for row in rows),
        "by_draw": group_totals((row.draw, row.billed) for row in rows),
    }


def _moves(rows: Sequence[PostingRow | AccountRow]) -> Iterator[tuple[str, Decimal]]:
    for row in rows:
        if isinstance(row, PostingRow):
            yield row.debit_account, row.amount
            yield row.credit_account, -row.amount
        else:
            yield row.account, row.debit
            yield row.account, -row.credit
