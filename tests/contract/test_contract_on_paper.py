"""One contract walked from the deposit to a call-back after its end, its posting rows and balances held against sheets worked on paper (tests/paper)."""

import ast
import csv
import datetime as dt
import operator
from collections import Counter
from decimal import ROUND_HALF_UP, Decimal
from functools import cache
from pathlib import Path

import pytest
from contract_walks import promise

from kit.change.priced_change import ChangeOrder, ChangeRow
from kit.contract.bills import closing_of, credit_note, next_bill
from kit.contract.changed_draws import change_of
from kit.contract.events import Bought, ChangeSigned, ContractDraw, Event, Paid, Refunded, Signed, Voided, Worked
from kit.contract.following import contract_state
from kit.contract.signing import offer_of
from kit.export.posting_rows import one_sided, posting_rows
from kit.records import CostType
from kit.steps import Step

ISSUED = promise("stone_apron_single_bowl")
PAPER = Path(__file__).parent.parent / "paper"
SIGNS = {ast.Add: operator.add, ast.Sub: operator.sub, ast.Mult: operator.mul, ast.Div: operator.truediv}

# Invented: 8,000 and 7 % of tax on all of it; a tenth as deposit, a tenth held back, 40 %, 80 % and all of it earned.
DRAWS = (
    ("deposit", None, "0.00", "0.00", "856.00"),
    ("template", Step.TEMPLATE, "3424.00", "342.40", "2225.60"),  # 3424.00 - 342.40 - 856.00
    ("set", Step.SET_COUNTER, "6848.00", "684.80", "3081.60"),  # 6848.00 - 684.80 - 856.00 - 2225.60
    ("completion", Step.CLEAN, "8560.00", "856.00", "1540.80"),  # 8560.00 - 856.00 - 6163.20
    ("punch-list", Step.PUNCH_LIST, "8560.00", "0.00", "856.00"),
)
SIGNED = Signed(
    document=ISSUED.document,
    revision=1,
    sha256="0" * 64,
    contract_sum="8560.00",
    tax="560.00",
    draws=[ContractDraw(draw=name, label=name, step=step, deposit=step is None, earned=e, held=h, due=due) for name, step, e, h, due in DRAWS],
    change_falls="by-shares",
    deposit_earned="by-shares",
)


def sheet(name):
    with (PAPER / f"walked_contract_{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def add_up(node):
    """A sum of the sheet, exactly: numbers, + - * / and brackets."""
    if isinstance(node, ast.Constant):
        return Decimal(str(node.value))
    return SIGNS[type(node.op)](add_up(node.left), add_up(node.right))


def result(row):
    return add_up(ast.parse(row["sum"], mode="eval").body).quantize(Decimal("0.01"), ROUND_HALF_UP)


def change(net, tax):
    """A change order of the contract, on the last payment."""

    def offer(state, _):
        rows = [("more", "add", Decimal(net)), ("tax", "tax", Decimal(tax))]
        made = tuple(ChangeRow(label, label, kind, None, 0.0, 1.0, "each", amount, Decimal(0), amount) for label, kind, amount in rows)
        return change_of(state, ChangeOrder(len(state.changes) + 1, "walk", made, (), 0.0, state.contract_sum), ISSUED, falls="last-draw")

    return offer


def bill(state, day):
    return next_bill(state, day, 10)


LIFE = (
    ("03-09", offer_of(ISSUED)),
    ("03-10", SIGNED),
    ("03-10", bill),
    ("03-12", Paid(amount="856.00")),
    ("03-20", Bought(cost_code="410", cost_type=CostType.MATERIAL, text="goods", amount="530.00", tax="30.00", supplier="Sample Yard (invented)")),
    ("03-23", bill),
    ("03-24", Worked(cost_code="310", hours=6, wages="204.00", burden="77.52")),
    ("03-30", Paid(amount="2200.00")),
    ("03-31", change("400.00", "28.00")),
    ("04-01", ChangeSigned(number=1)),
    ("04-08", bill),
    ("04-10", Paid(amount="3107.20")),
    ("04-12", Paid(amount="500.00")),
    ("04-13", Voided(event=13, reason="another customer's check")),
    ("04-14", change("-3000.00", "-210.00")),
    ("04-15", ChangeSigned(number=2)),
    ("04-15", lambda state, _: credit_note(state, "a large part was left out")),
    ("04-17", Refunded(amount="385.20")),
    ("04-20", lambda state, _: closing_of(state, "done")),
    ("04-27", Bought(cost_code="520", cost_type=CostType.HIRED, text="came back", amount="40.00", supplier="Sample Plumber (invented)", call_back=True)),
)


@cache
def lived():
    """Its events, each as the kit makes it out from where the contract stands."""
    events = ()
    for number, (day, what) in enumerate(LIFE, 1):
        on = dt.date.fromisoformat(f"2026-{day}")
        made = what(contract_state(ISSUED.number, events), on) if callable(what) else what
        events = (*events, Event(number, ISSUED.number, on, dt.datetime(2026, 5, 1, tzinfo=dt.UTC), made))
    return events


def test_every_posting_row_is_the_sheets():
    """Event, day, kind, both accounts and amount, in their order; the offer, the signature and change orders move nothing."""
    hand_rows = sheet("postings")
    found = posting_rows(ISSUED, lived())
    said = [(row.posting.partition("/")[0], row.date.isoformat(), row.kind, row.debit_account, row.credit_account, f"{row.amount}") for row in found]
    assert said == [tuple(row[name] for name in ("event", "date", "kind", "debit", "credit", "amount")) for row in hand_rows]


@pytest.mark.parametrize("name", ["postings", "balances"])
def test_every_sum_of_the_sheet_comes_to_its_amount(name):
    """Worked out again, to the cent."""
    for row in sheet(name):
        assert (row["sum"], result(row)) == (row["sum"], Decimal(row.get("amount") or row["balance"]))


@pytest.mark.parametrize("day", sorted({row["day"] for row in sheet("balances")}))
def test_the_balances_of_a_day_are_those_worked_from_the_contract(day):
    """On the sheet from what is billed, paid, earned and owed; here from the debits and credits of the rows, which are equal."""
    hand_balances = {row["account"]: Decimal(row["balance"]) for row in sheet("balances") if row["day"] == day}
    found = Counter(dict.fromkeys(hand_balances, Decimal("0.00")))
    rows = [row for row in one_sided(posting_rows(ISSUED, lived())) if row.date.isoformat() <= day]
    for row in rows:
        found[row.account] += row.debit - row.credit
    assert found == hand_balances
    assert sum(row.debit for row in rows) == sum(row.credit for row in rows)
    assert sum(hand_balances.values()) == 0
