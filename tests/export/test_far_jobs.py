"""Papers and rows of jobs far from the examples: seeded, so that a failure comes again."""

import io
import random
import re
from decimal import Decimal

import pandas as pd
import pypdf
import pytest
from work_jobs import EXAMPLES, wander

import kit
from kit.export import control_totals, crew_sheet_bytes, handoff_bytes, handoff_rows, list_purchases, payments_of, proposal_bytes
from kit.money import format_money, round_cents
from kit.outlook import schedule_of

SEEDS = range(60)
PAPER_SEEDS = range(0, 60, 5)


def far(seed: int) -> kit.Estimate:
    return wander(random.Random(seed).choice(EXAMPLES), seed)


@pytest.mark.parametrize("seed", SEEDS)
def test_rows_payments_and_csv_come_to_the_same(seed: int) -> None:
    """Rows sum to cost and price, payments to the price, pandas reads the control totals; all to the cent."""
    found = far(seed)
    rows = handoff_rows(found)
    content = handoff_bytes(rows)
    told = control_totals(rows, content)
    assert (Decimal(told["sum_cost"]), Decimal(told["sum_sell"])) == (found.cost, found.price)
    assert sum(payment.amount for payment in payments_of(found)) == found.price
    table = pd.read_csv(io.BytesIO(content))
    assert len(table) == told["count"] == len({row.line_id for row in rows})
    for column, total in (("cost", found.cost), ("sell", found.price)):
        assert round_cents(Decimal(repr(float(table[column].sum())))) == total


@pytest.mark.parametrize("seed", PAPER_SEEDS)
def test_papers_can_be_set_and_the_proposal_keeps_what_is_ours(seed: int) -> None:
    """Proposal and crew sheet of any job; no amount in the proposal but what the customer pays."""
    found = kit.estimate(far(seed).given, kit.load_lists(kit.shipped("price_lists")))
    assert crew_sheet_bytes(found, schedule=schedule_of(found)).startswith(b"%PDF-")
    assert list_purchases(found, schedule_of(found))
    if not found.buildable:
        with pytest.raises(kit.errors.IssueError, match="says stop"):
            proposal_bytes(found)
        return
    text = " ".join(" ".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(proposal_bytes(found))).pages).split())
    amounts = set(re.findall(r"\$[\d,]+\.\d\d", text)) - set(re.findall(r"temporary sink lent in between, for (\$[\d,.]+\d)", text))
    asked = {format_money(amount) for amount in (found.price, *(payment.amount for payment in payments_of(found)))}
    agreed = {format_money(row.price) for row in found.lists.unit_prices.values()}
    assert asked <= amounts <= asked | agreed
