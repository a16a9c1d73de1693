"""All jobs of a folder, one row each: where the job stands, what it was to cost and take, and what it did."""

import csv
import datetime as dt
import io
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Any, Literal

from kit.archive.spent import SpentRow
from kit.contract.events import Event
from kit.contract.following import contract_state
from kit.contract.ledger import Ledger
from kit.contract.spending import spent_rows
from kit.contract.state import ContractState
from kit.design.named_goods import say_counter
from kit.errors import KitError
from kit.issued import Issued, issued_path, open_issued
from kit.issued.giving_out import office_day
from kit.labor.hours import HOURS_PLACES
from kit.labor.schedule import OFF_SITE
from kit.money import EXACT, sum_money
from kit.steps import Step

__all__ = ["FolderJobs", "JobPlan", "JobRow", "JobStage", "PlannedItem", "PlannedStep", "list_jobs"]

JobStage = Literal["offered", "signed", "finished", "canceled"]

_ELSEWHERE = OFF_SITE | {Step.VISIT}
"""Own work that is no start in the house."""


@dataclass(frozen=True, slots=True)
class PlannedStep:
    """A step as promised: its cost code, worker-hours [h], and the work it counts, as kind of work and quantity, times the factors of the house."""

    cost_code: str
    hours: float
    work: tuple[tuple[str, float], ...]
    factor: float


@dataclass(frozen=True, slots=True)
class PlannedItem:
    """An item as promised: net quantity in its unit, without waste, and whether it is cut from stock by a plan."""

    net: float
    planned_pieces: bool


@dataclass(frozen=True, slots=True)
class JobPlan:
    """What the promise that a contract stands for plans: own work by step, goods by item."""

    steps: Mapping[str, PlannedStep]
    items: Mapping[str, PlannedItem]


@dataclass(frozen=True, slots=True)
class JobRow:
    """One job of a folder [USD; worker-hours h; days].

    `price` is what the customer pays, tax and signed changes among it; `revenue` the same without tax that is only passed on. Promised figures are
    those of the issued estimate that the contract stands for, real ones those of the ledger. `ended` is the day on which it was closed, `days` from the
    signature to that day (to the day on which it was canceled; to the day asked for or today, while it is open), `days_worked` counts days with own hours.
    `call_back_hours` are part of the real hours.
    `starts_promised` and `done_promised` are the days on the papers (None in formats that don't hold them); `started` is the first day with own hours in
    the house, `done` the last one of a finished job; call-backs are left out. Hours without a step count from the signature on, and start nothing under a
    cost code that desk or workshop share.
    """

    number: str
    stage: JobStage
    invented: bool
    mount: str
    counter: str
    counter_name: str
    offered: dt.date
    valid_until: dt.date
    signed: dt.date | None
    ended: dt.date | None
    price: Decimal
    revenue: Decimal
    cost_promised: Decimal
    cost_real: Decimal
    hours_promised: float
    hours_real: float
    call_back_hours: float
    days: int | None
    days_worked: int
    starts_promised: dt.date | None
    started: dt.date | None
    done_promised: dt.date | None
    done: dt.date | None
    plan: JobPlan
    spent: tuple[SpentRow, ...]
    customer: str = ""

    @property
    def margin_promised(self) -> float | None:
        """Share of the revenue that direct cost was to leave; None of a canceled job, whose sum is no longer that of its work."""
        return None if self.stage == "canceled" else _share_left(self.revenue, self.cost_promised)

    @property
    def margin_real(self) -> float | None:
        """Share of the revenue that direct cost left; None until the job is finished, or where nobody wrote down what was spent."""
        return _share_left(self.revenue, self.cost_real) if self.stage == "finished" and self.spent else None


@dataclass(frozen=True, slots=True)
class FolderJobs:
    """The jobs of a folder, the one offered last first, and a sentence for each that can't be read."""

    rows: tuple[JobRow, ...]
    unreadable: tuple[str, ...]


def list_jobs(folder: Path, day: dt.date | None = None, *, checked: bool = True) -> FolderJobs:
    """All jobs of a folder that were offered, signed or finished by a day.

    Parameters
    ----------
    folder
        Where issued estimates and the ledger lie.
    day
        The end of this day; as they stand now when left out.
    checked
        Whether each document is held against its fingerprints; without it a table of many jobs comes ten times as fast.

    Raises
    ------
    LedgerError
        If the ledger can't be read. A promise that can't be opened is told in `unreadable`, and its job left out.
    """
    ledger = Ledger(folder)
    rows, unreadable = [], []
    for number in ledger.contracts():
        events = [event for event in ledger.events(number) if day is None or event.day <= day]
        state = contract_state(number, events)
        if state.revision:
            try:
                rows.append(_row(issued_path(folder, number, state.revision), state, events, day, checked=checked))
            except KitError as error:
                unreadable.append(f"{number} is left out: {error.faults[0]}")
    return FolderJobs(tuple(sorted(rows, key=lambda row: (row.offered, row.number), reverse=True)), tuple(unreadable))


def _row(path: Path, state: ContractState, events: Sequence[Event], day: dt.date | None, *, checked: bool) -> JobRow:
    issued = open_issued(path, checked=checked)
    result, spent = issued.content["result"], spent_rows(events)  # what stands in documents of every format: nothing is worked out again
    ended = next((event.day for event in events if event.what.kind == "closed"), None) if state.closed else None
    last = state.canceled_on or ended or day or office_day()
    labor = [row for row in spent if row.hours]
    plan = _plan(result, issued)
    in_house = [row for row in labor if not row.call_back and _in_house(row, state.signed_on)]
    maybe_desk = {step.cost_code for name, step in plan.steps.items() if name in _ELSEWHERE}
    stage = _stage(state)
    counter, made_by = (str(result["job"]["counter"][name]) for name in ("item", "made_by"))
    return JobRow(
        number=state.number,
        stage=stage,
        invented=state.offered is not None and state.offered.invented,
        mount=str(result["mount"]),
        counter=counter,
        counter_name=say_counter(_name_of_counter(issued, counter), made_by),
        offered=next(event.day for event in events if event.what.kind in {"offered", "signed"}),
        valid_until=issued.issued + dt.timedelta(days=_validity(issued)),
        signed=state.signed_on,
        ended=ended,
        price=state.contract_sum if state.signed else issued.price,
        revenue=EXACT.subtract(state.contract_sum, state.tax) if state.signed else EXACT.subtract(issued.price, _tax_collected(result)),
        cost_promised=issued.cost,
        cost_real=sum_money([row.amount for row in spent]),
        hours_promised=result["hours"],
        hours_real=round(sum(row.hours for row in labor), HOURS_PLACES),
        call_back_hours=round(sum(row.hours for row in labor if row.call_back), HOURS_PLACES),
        days=(last - state.signed_on).days if state.signed_on else None,
        days_worked=len({row.date for row in labor}),
        starts_promised=_promised_day(issued, "starts_on"),
        started=min((row.date for row in in_house if row.step or row.cost_code not in maybe_desk), default=None),
        done_promised=_promised_day(issued, "done_by"),
        done=max((row.date for row in in_house), default=None) if stage == "finished" else None,
        plan=plan,
        spent=spent,
        customer=str(result["job"]["identity"]["customer"]),
    )


def _in_house(row: SpentRow, signed: dt.date | None) -> bool:
    """Whether own hours were worked in the customer's house for the contract; where no step says so, hours before the signature were not."""
    return row.step not in _ELSEWHERE if row.step else signed is None or row.date >= signed


def _tax_collected(result: Mapping[str, Any]) -> Decimal:
    return next((Decimal(row["amount"]) for row in result["build_up"] if row["id"] == "tax-collected"), Decimal("0.00"))


def _stage(state: ContractState) -> JobStage:
    if state.canceled:
        return "canceled"
    return "finished" if state.closed else "signed" if state.signed else "offered"


def _promised_day(issued: Issued, name: str) -> dt.date | None:
    said = issued.content.get("promise", {}).get(name)
    return dt.date.fromisoformat(said) if said else None


def _share_left(revenue: Decimal, cost: Decimal) -> float | None:
    return float(EXACT.divide(EXACT.subtract(revenue, cost), revenue)) if revenue else None


def _plan(result: Mapping[str, Any], issued: Issued) -> JobPlan:
    codes = {row["step"]: row["cost_code"] for row in _rows_of(issued, "steps.csv")}
    lines = {line["id"]: line for line in result["lines"]}
    steps = {}
    for task in result["tasks"]:
        factor = math.prod(times for _, times in task["factors"])
        # the ways to the house are no lines of the takeoff: their hours are taken as promised
        work = tuple((lines[name]["item"], lines[name]["quantity"]) for name in task["line_ids"]) if set(task["line_ids"]) <= lines.keys() else ()
        steps[task["step"]] = PlannedStep(codes.get(task["step"], ""), task["hours_likely"], work, factor)
    items: dict[str, PlannedItem] = {}
    for line in result["lines"]:
        if line["kind"] == "buy":
            before = items.get(line["item"], PlannedItem(0.0, planned_pieces=False))
            items[line["item"]] = PlannedItem(before.net + line["quantity"], before.planned_pieces or bool(line["pieces"]))
    return JobPlan(steps, items)


def _rows_of(issued: Issued, file: str) -> list[dict[str, str]]:
    """A list as it was issued with, cells as typed."""
    return list(csv.DictReader(io.StringIO(issued.content["lists"]["texts"].get(file, ""), newline="")))


def _name_of_counter(issued: Issued, counter: str) -> str:
    return next((row["name"] for row in _rows_of(issued, "counters.csv") if row["item"] == counter and row.get("name")), counter.replace("-", " "))


def _validity(issued: Issued) -> int:
    return next(int(row["value"]) for row in _rows_of(issued, "company.csv") if row["key"] == "validity_days")
