"""What was spent on a contract, from a table into its ledger: each row an event, all of them or none, and never the same table twice."""

import csv
import datetime as dt
import io
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from kit.archive.spent import SpentRow, find_doubled_rows, parse_spent
from kit.contract.contract_file import ContractFile
from kit.contract.events import Bought, Event, Happening, Ordered, Worked
from kit.contract.following import standing_events
from kit.errors import Fault, KitError, LedgerError
from kit.lists.burden import SHARE_PLACES
from kit.money import EXACT, round_cents, to_decimal
from kit.records import CostType

__all__ = ["SpendingNotes", "one_spent", "record_spending", "spending_of", "spent_rows"]


@dataclass(frozen=True, slots=True)
class SpendingNotes:
    """What to look at in a table that was written down, each with a count of its rows."""

    rows: int
    doubled: int
    known: int
    outside: int

    @property
    def sentences(self) -> tuple[str, ...]:
        """The same in words; nothing of what there is none of."""
        notes = (
            (self.doubled, "repeat another row of the table: perhaps one bill entered twice"),
            (self.known, "are in the ledger already: perhaps one bill entered twice; undo the extra one (sinkset undo)"),
            (self.outside, "have a day before the visit or after today, or after the end without being a call-back"),
        )
        return tuple(f"{count} of {self.rows} rows {words}." for count, words in notes if count)


def record_spending(contract: ContractFile, rows: Sequence[SpentRow], today: dt.date) -> tuple[ContractFile, SpendingNotes]:
    """Write down what was spent, all rows or none.

    Parameters
    ----------
    contract
        The contract, as `open_contract` gives it.
    rows
        As `read_spent` gives them.
    today
        Later days are remarked on.

    Raises
    ------
    LedgerError
        If the table is empty, every row of it stands in the ledger already, or somebody wrote meanwhile.
    """
    number, burden = contract.state.number, contract.issued.estimate.lists.company.burden
    if not rows:
        raise LedgerError(Fault(number, "The table of what was spent has no row."))
    happenings = [(spending_of(row, burden), row.date) for row in rows]
    events = standing_events(contract.ledger.events(number))
    before = Counter((event.day, event.what.model_dump_json()) for event in events)
    brought = Counter((day, what.model_dump_json()) for what, day in happenings)
    known = (brought & before).total()
    if known == len(rows):
        raise LedgerError(Fault(number, f"All {known} rows are in its ledger already: this table was entered before."))
    ended = next((event.day for event in events if event.what.kind == "closed"), None)
    first = contract.issued.estimate.job.identity.visit_date
    outside = sum(not first <= row.date <= today or (ended is not None and row.date > ended and not row.call_back) for row in rows)
    state = contract.ledger.append_all(number, happenings, seen=contract.state.last)
    return replace(contract, state=state), SpendingNotes(len(rows), len(find_doubled_rows(rows)), known, outside)


def one_spent(contract: ContractFile, amount: str, day: dt.date, cells: Mapping[str, str | None]) -> tuple[SpentRow, ...]:
    """One amount as it was typed, read like a row of a table.

    Parameters
    ----------
    contract
        The contract that it is for.
    amount
        With its currency, such as "120.50 USD"; below 0 for a credit.
    day
        The day of it.
    cells
        Its other columns of `spent_columns.csv`, None or empty for those that say nothing.

    Raises
    ------
    KitError
        If the amount has no currency, or a cell is not what its column takes; each fault names its column.
    """
    money, _, currency = amount.strip().partition(" ")
    if not currency:
        raise KitError(Fault("amount", f'"{amount}" has no currency. Give it as "120.50 USD".'))
    row = {"date": day.isoformat(), "amount": money, "currency": currency, "hours": "", "text": "", **{name: cell for name, cell in cells.items() if cell}}
    if money.startswith("-"):
        row["credit"] = "yes"
    text = io.StringIO(newline="")
    writer = csv.DictWriter(text, list(row), lineterminator="\n")
    writer.writeheader()
    writer.writerow(row)
    try:
        return parse_spent(text.getvalue(), "", contract.issued.estimate.lists, job=contract.state.number)
    except KitError as error:
        raise KitError(Fault(fault.place.removeprefix("row 2, "), fault.message) for fault in error.faults) from None


def spending_of(row: SpentRow, burden: float) -> Happening:
    """A row as an event; the burden [share of wages] splits labor whose row does not."""
    if row.ordered:
        return Ordered(cost_code=row.cost_code, cost_type=row.cost_type, text=row.text, amount=row.amount, supplier=row.supplier, order=row.order)
    if row.cost_type is not CostType.LABOR:
        return Bought(
            cost_code=row.cost_code,
            cost_type=row.cost_type,
            text=row.text,
            amount=row.amount,
            tax=row.tax,
            supplier=row.supplier,
            bill=row.document,
            order=row.order,
            call_back=row.call_back,
            item=row.item,
            quantity=row.quantity,
            left=row.left,
            order_day=row.order_day,
            delivery_day=row.delivery_day,
        )
    wages = round_cents(EXACT.divide(row.amount, EXACT.add(Decimal(1), to_decimal(burden, SHARE_PLACES))))
    on_top = EXACT.subtract(row.amount, wages) if row.burden is None else row.burden
    return Worked(
        cost_code=row.cost_code,
        step=row.step,
        text=row.text,
        hours=row.hours,
        wages=EXACT.subtract(row.amount, on_top),
        burden=on_top,
        sheet=row.document,
        call_back=row.call_back,
    )


def spent_rows(events: Sequence[Event]) -> tuple[SpentRow, ...]:
    """What was spent by the events that hold, as rows that are numbered by their events; what is only ordered is none of them."""
    rows, standing = [], standing_events(events)
    ordered = {event.what.order: event.day for event in reversed(standing) if isinstance(event.what, Ordered)}
    for event in standing:
        one = event.what
        if isinstance(one, Bought):
            row = SpentRow(event.id, event.day, one.cost_code, one.cost_type, one.text, one.amount, 0.0, one.supplier, one.bill)
            row = replace(row, tax=one.tax, order=one.order, call_back=one.call_back, item=one.item, quantity=one.quantity, left=one.left)
            order_day = one.order_day or (ordered.get(one.order) if one.order else None)
            rows.append(replace(row, order_day=order_day, delivery_day=one.delivery_day))
        elif isinstance(one, Worked):
            amount = EXACT.add(one.wages, one.burden)
            row = SpentRow(event.id, event.day, one.cost_code, CostType.LABOR, one.text, amount, one.hours, "", one.sheet)
            rows.append(replace(row, step=one.step, burden=one.burden, call_back=one.call_back))
    return tuple(rows)
