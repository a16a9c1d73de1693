"""What was spent, on the command line: from a table or as one amount into a contract's ledger; and what the contract costs and leaves."""

import datetime as dt
from collections.abc import Sequence
from decimal import Decimal
from pathlib import Path
from typing import Any

from kit.archive.spent import SpentRow, read_spent
from kit.cli.report_text import Page, share_text
from kit.contract.contract_file import ContractFile, current_promise
from kit.contract.events import Event
from kit.contract.job_cost import JobCost, job_cost
from kit.document import money_text, plain_fields
from kit.money import EXACT, format_money, sum_money

__all__ = ["cost_document", "cost_of", "read_table", "show_cost"]


def read_table(contract: ContractFile, path: Path) -> tuple[SpentRow, ...]:
    """The rows of a table for this contract; errors as in `read_spent`."""
    return read_spent(path, contract.issued.estimate.lists, job=contract.state.number)


def cost_of(contract: ContractFile, events: Sequence[Event], day: dt.date) -> JobCost | None:
    """What the contract costs by its events up to a day; None where nothing was spent or ordered."""
    if not any(event.what.kind in {"bought", "ordered", "worked"} for event in events):
        return None
    state = contract.ledger.state(contract.state.number, day)
    return job_cost(current_promise(contract, state).estimate, events, day)


def cost_document(cost: JobCost) -> dict[str, Any]:
    """The costs as plain data: by cost code and step, earned value, estimate at completion, margin."""
    earned = cost.earned
    by_index = earned.estimate_at_completion()
    return {
        "by_code": [
            {
                **plain_fields(row, "code", "name", "estimated", "spent"),
                "ordered": money_text(cost.committed.get(row.code, Decimal("0.00"))),
                "hours_estimated": row.hours_estimated,
                "hours_spent": row.hours_spent,
            }
            for row in cost.by_code.codes
        ],
        "by_step": [
            {
                **plain_fields(row, "step", "done", "budget"),
                "planned_value": money_text(row.planned),
                "earned_value": money_text(row.earned),
                **plain_fields(row, "estimated", "spent"),
                "hours_estimated": row.hours_estimated,
                "hours_spent": row.hours_spent,
            }
            for row in cost.steps
        ],
        **plain_fields(cost.by_code.total, "estimated", "spent"),
        "ordered": money_text(sum_money(list(cost.committed.values()))),
        **plain_fields(cost, "call_backs"),
        "planned_value": money_text(earned.planned),
        "earned_value": money_text(earned.earned),
        "cost_performance": None if earned.cost_performance is None else float(earned.cost_performance),
        "estimate_at_completion": money_text(cost.at_completion),
        "estimate_at_completion_by_performance": None if by_index is None else money_text(by_index),
        **plain_fields(cost, "revenue", "margin_estimated", "margin_so_far", "margin_at_completion"),
    }


def show_cost(page: Page, cost: JobCost) -> None:
    """Estimated with changes against spent by cost code and step; then what it will cost and leave."""
    codes = [
        (f"{row.code} {row.name}", *map(format_money, (row.estimated, row.spent, row.difference)), f"{row.hours_estimated:.2f}", f"{row.hours_spent:.2f}")
        for row in (*cost.by_code.codes, cost.by_code.total)
    ]
    page.table("Costs, changes included", ("Cost code", ">Estimated", ">Spent", ">Difference", ">Hours est.", ">spent"), codes)
    page.table(
        "Budget and own work by step", ("Step", ">Budget", ">Planned by now", ">Billed", ">Own work est.", ">spent", ">Hours est.", ">spent"), _step_rows(cost)
    )
    if cost.without_step:
        page.note(cost.without_step)
    rows = [(what, format_money(amount)) for what, amount in cost.outcome]
    page.table("What it costs and what is left", ("What", ">Amount"), rows)
    if cost.revenue and not cost.canceled:
        now, then = (share_text(float(EXACT.divide(margin, cost.revenue))) for margin in (cost.margin_estimated, cost.margin_at_completion))
        price = "price offered" if cost.offered else "contract sum"
        page.note(f"Gross margin, as a share of the {price} before sales tax: {now} as estimated, {then} as it looks now.")


def _step_rows(cost: JobCost) -> list[tuple[str, ...]]:
    rows = []
    for row in cost.steps:
        spent, hours = cost.spent_on(row)
        rows.append((row.name, *map(format_money, (row.budget, row.planned, row.earned, row.estimated)), spent, f"{row.hours_estimated:.2f}", hours))
    return rows
