"""What to buy and book, from whom, and until when: by supplier, as PDF and as CSV."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from decimal import Decimal
from itertools import groupby
from typing import Any, Literal

from kit.design.doors import MEASURE_FIRST
from kit.estimating import Estimate
from kit.export.csv_text import csv_bytes
from kit.export.lists_used import currency_of, goods_name, sold_as
from kit.export.papers import mark_of, paper_head
from kit.export.said_quantities import say_pack, say_quantity
from kit.export.typeset import typeset
from kit.issued import Issued
from kit.labor.clock import previous_working_instant, subtract_working_hours
from kit.labor.conditions import holding_conditions
from kit.labor.job_schedule import JobSchedule
from kit.labor.schedule import Lead, ScheduledStep
from kit.labor.step_order import find_leads
from kit.money import format_money, sum_money, to_decimal
from kit.records import CostType, Line, Purchase
from kit.steps import Step
from kit.takeoff.receiving import renews_doors, unpacks
from kit.units import format_day, format_long_day

__all__ = ["PurchaseRow", "is_received", "list_purchases", "purchase_list_bytes", "purchase_list_csv"]

_TEMPLATE = "purchase_list.typ"
_FROM_STOCK = "goods"  # of lead_times.csv: what a shop has
_PLACES = 4
_STOCK = dt.timedelta(days=4)  # what a shop has is fetched the working day before, over a weekend
_ACTIONS: dict[CostType, Literal["buy", "book", "pay"]] = {CostType.MATERIAL: "buy", CostType.HIRED: "book", CostType.FEE: "pay"}


@dataclass(frozen=True, slots=True)
class PurchaseRow:
    """One thing to buy, book or pay; the fields are the columns of the CSV, in this order.

    `step` is the first step that needs it; what is unpacked then, or has a time of delivery of its own, is needed when the goods are received and measured.
    `needed_by` is the day on which that step starts, `order_by` that day less the usual time of delivery; None without a calendar, or
    where no time of delivery is known: before the start then.
    """

    supplier: str
    action: Literal["buy", "book", "pay"]
    name: str
    quantity: Decimal
    sold_as: str
    step: str
    needed_by: dt.date | None
    order_by: dt.date | None
    unit_price: Decimal
    amount: Decimal
    currency: str
    left_over: str
    purchase: str


def list_purchases(estimate: Estimate, schedule: JobSchedule | None = None) -> tuple[PurchaseRow, ...]:
    """Everything that is bought, booked or paid, by supplier, what is needed first before the rest.

    What the company charges itself (its own trips to a shop) is no purchase and is left out.
    """
    lines = {line.id: line for line in estimate.lines}
    rows = [
        _row(estimate, purchase, [lines[line_id] for line_id in purchase.line_ids if line_id in lines], schedule)
        for purchase in estimate.purchases
        if purchase.supplier != estimate.lists.company.name
    ]
    return tuple(sorted(rows, key=lambda row: (row.supplier, row.needed_by or dt.date.max, row.order_by or dt.date.max, row.name, row.purchase)))


def _row(estimate: Estimate, purchase: Purchase, lines: list[Line], schedule: JobSchedule | None) -> PurchaseRow:
    item, steps = estimate.lists.item(purchase.item), estimate.lists.steps
    leads = _leads(estimate, lines)
    start = _start(schedule, {line.step for line in lines} | ({Step.RECEIVE} if is_received(estimate, purchase.item, lines) else set()))
    first = start.step if start else min((line.step for line in lines), key=lambda step: steps[step].order, default=None)
    return PurchaseRow(
        supplier=purchase.supplier,
        action=_ACTIONS.get(item.cost_type, "pay"),
        name=goods_name(estimate, purchase.item),
        quantity=to_decimal(purchase.charged if not purchase.packs else purchase.packs, _PLACES).normalize(),
        sold_as=sold_as(estimate, purchase),
        step=estimate.step_names[first] if first else "",
        needed_by=start.start.date() if start else None,
        order_by=_order_by(leads, schedule, start),
        unit_price=purchase.unit_price,
        amount=purchase.amount,
        currency=currency_of(estimate),
        left_over=purchase.left_over,
        purchase=purchase.id,
    )


def is_received(estimate: Estimate, item: str, lines: Sequence[Line]) -> bool:
    """Whether goods are there when the goods are received, whenever they are fitted: unpacked and checked then, or delivered to order."""
    if any(unpacks(line, estimate.job, estimate.design, estimate.lists) for line in lines):
        return True
    material = estimate.lists.item(item).cost_type is CostType.MATERIAL
    return material and any(lead.what != _FROM_STOCK for lead in _leads(estimate, lines))


def _leads(estimate: Estimate, lines: Sequence[Line]) -> Sequence[Lead]:
    return find_leads(estimate.job, list(lines), {Step.ORDER: ()}, estimate.lists).get(Step.ORDER, ())


def _start(schedule: JobSchedule | None, steps: set[Step]) -> ScheduledStep | None:
    """The first of these steps on the calendar; none where the calendar has none of them."""
    rows = [] if schedule is None else [row for row in schedule.schedule.steps if row.step in steps]
    return min(rows, key=lambda row: row.start, default=None)


def _order_by(leads: Sequence[Lead], schedule: JobSchedule | None, start: ScheduledStep | None) -> dt.date | None:
    if schedule is None or start is None or not leads:
        return None
    if start.step is Step.ORDER:  # what is asked for then, such as a test, is waited for afterwards
        return start.start.date()
    calendar = schedule.calendar
    return min(
        subtract_working_hours(calendar, start.start, lead.hours_likely).date()
        if lead.clock == "working"
        else previous_working_instant(calendar, start.start - dt.timedelta(hours=lead.hours_likely)).date()
        for lead in leads
    )


def purchase_list_csv(rows: tuple[PurchaseRow, ...]) -> bytes:
    """The rows as CSV; texts defused as in the hand-off."""
    return csv_bytes([field.name for field in fields(PurchaseRow)], rows)


def purchase_list_bytes(estimate: Estimate, *, schedule: JobSchedule | None = None, issued: Issued | None = None) -> bytes:
    """The list as PDF; without a schedule everything is needed before the start."""
    return typeset(_TEMPLATE, _document(estimate, schedule, issued))


def _document(estimate: Estimate, schedule: JobSchedule | None, issued: Issued | None) -> dict[str, Any]:
    mark, rows = mark_of(estimate, issued), list_purchases(estimate, schedule)
    currency = currency_of(estimate)
    return {
        **paper_head(
            estimate, mark.day, title=f"Purchase list {mark.number}", document=f"{mark.number}, {mark.words}", foot=f"Purchase list {mark.number}, {mark.words}"
        ),
        "note": f"{_note(schedule)}{_doors(estimate)}{_open_holes(estimate)}",
        "first": [_first(row, currency) for row in _order_first(rows, office=estimate.step_names[Step.ORDER])],
        "suppliers": [_supplier(name, list(group), currency) for name, group in groupby(rows, key=lambda row: row.supplier)],
        "total": format_money(sum_money([row.amount for row in rows]), currency),
    }


def _note(schedule: JobSchedule | None) -> str:
    if schedule is None:
        return "No calendar was given: everything is needed before the start."
    wait = f" Don't order anything custom before {format_long_day(schedule.ordered.date())}: the customer may cancel until then." if schedule.ordered else ""
    return f"The dates are when the work needs each item.{wait}"


def _doors(estimate: Estimate) -> str:
    """Made-to-size doors of which nobody knows yet that the sink is as its sheet says."""
    if estimate.job.sink.as_received or not renews_doors(estimate.design):
        return ""
    return f" The new doors are sized from the sink's sheet. {MEASURE_FIRST}"


def _open_holes(estimate: Estimate) -> str:
    """Holes in the sink that the faucet leaves open: who brings what closes them; no price holds it."""
    holding = holding_conditions(estimate.job, estimate.design, estimate.lists)
    if "open-holes" in holding:
        return " Not in this list or its total: a plate or covers for the holes in the sink that the faucet leaves open. The customer chooses, we bring them."
    return " The customer brings a plate or covers for the holes in the sink that the faucet leaves open." if "open-holes-yours" in holding else ""


def _order_first(rows: Sequence[PurchaseRow], *, office: str) -> list[PurchaseRow]:
    """What no shop has in stock, the permit to ask for, and one row for each trade that is booked with all that it does, those first that must go out first."""
    by_day = sorted(
        (row for row in rows if row.needed_by is not None), key=lambda row: (row.order_by is not None, row.order_by or row.needed_by, row.needed_by)
    )
    booked: set[str] = set()
    order_days = []
    for row in by_day:
        if row.action == "book" and row.supplier not in booked:
            booked.add(row.supplier)
            together = [one for one in rows if one.action == "book" and one.supplier == row.supplier]
            works = dict.fromkeys(one.name if one.step == office else one.step for one in sorted(together, key=lambda one: one.needed_by or dt.date.max))
            order_days.append(replace(row, name=f"Book: {'; '.join(works)}", amount=sum_money([one.amount for one in together])))
        elif row.order_by is not None and row.needed_by is not None and row.action != "book" and (row.step == office or row.needed_by - row.order_by > _STOCK):
            order_days.append(row)
    return order_days


def _first(row: PurchaseRow, currency: str) -> dict[str, str]:
    said = _said(row)
    count = f"({said['quantity']}) " if said["quantity"] else ""
    sold = f", {said['sold-as']}" if said["sold-as"] else ""
    return {
        "by": format_day(row.order_by, beside=row.order_by) if row.order_by else "now",
        "what": row.name if row.action == "book" else f"{count}{row.name}{sold}",
        "supplier": row.supplier,
        "needed": format_day(row.needed_by, beside=row.needed_by) if row.needed_by else "",
        "amount": format_money(row.amount, currency),
    }


def _is_money(row: PurchaseRow) -> bool:
    """Whether its quantity is its amount, as of a fee: said once."""
    return row.sold_as.startswith(row.currency)


def _said(row: PurchaseRow) -> dict[str, str]:
    quantity, unit = ("", "") if _is_money(row) else say_quantity(row.quantity, say_pack(row.name, row.sold_as))
    return {"name": row.name, "quantity": quantity, "sold-as": unit}


def _supplier(name: str, rows: list[PurchaseRow], currency: str) -> dict[str, Any]:
    return {
        "name": name,
        "total": format_money(sum_money([row.amount for row in rows]), currency),
        "rows": [
            {
                **_said(row),
                "needed": format_day(row.needed_by, beside=row.needed_by).partition(", ")[2] if row.needed_by else "",
                "amount": format_money(row.amount, currency),
            }
            for row in rows
        ],
    }
