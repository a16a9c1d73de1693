"""The bill for a draw: what stands in it, what must not, the contract over all draws, the same bytes for the same input."""

import datetime as dt
import io
import re
from decimal import Decimal
from pathlib import Path

import export_demo as demo
import pypdf
import pytest
from test_proposal import INNER_WORDS, amounts_in, shown, words_of

from kit.errors import IssueError
from kit.export.bill import bill_bytes, bill_document, bill_stem, bills_of
from kit.export.papers import company_lines
from kit.issued import Issued, issue_estimate, open_issued
from kit.job import change_job
from kit.money import round_cents
from kit.pricing.draws import plan_draws

ISSUED, DAY = dt.date(2026, 3, 5), dt.date(2026, 3, 30)


def issue(folder: Path, name: str = "stone_apron_single_bowl", **terms: object) -> Issued:
    """An example as issued, under terms of its own."""
    job = change_job(demo.example(name).job_as_read, {f"terms.{key}": value for key, value in terms.items()})
    return open_issued(issue_estimate(demo.kit.estimate(job, demo.LISTS), folder, today=ISSUED, stop_reason="of the test"))


@pytest.fixture(scope="module")
def issued(tmp_path_factory: pytest.TempPathFactory) -> Issued:
    """The first example, issued."""
    return issue(tmp_path_factory.mktemp("issued"))


@pytest.mark.parametrize("name", demo.EXAMPLES)
def test_nothing_but_payments_of_the_contract_is_in_it(tmp_path, name):
    """Every amount is one of the contract's; no cost, no inner word, no hour; one page."""
    found = issue(tmp_path, name)
    for bill in bills_of(found):
        content = bill_bytes(found, bill.number, DAY)
        text = words_of(content)
        figures = {bill.contract, bill.due, bill.earned, bill.held, bill.billed_before, bill.balance, bill.later, *(one.due for one in bills_of(found))}
        assert {amount.removeprefix("-") for amount in amounts_in(text)} <= {shown(figure) for figure in figures}
        assert re.findall(INNER_WORDS, text, re.IGNORECASE) == []
        assert f"{found.estimate.cost}" not in text.replace(",", "")
        assert len(pypdf.PdfReader(io.BytesIO(content)).pages) == 1


def test_the_third_bill_worked_by_hand(issued):
    """80 % earned, a tenth of it held back, two payments before: the rest is due, and all three rows of each sum agree."""
    price = issued.estimate.price
    hand_earned = round_cents(price * Decimal("0.8"))
    hand_held = round_cents(hand_earned * Decimal("0.1"))
    hand_before = round_cents(price * Decimal("0.1")) + bills_of(issued)[1].due
    hand_due = hand_earned - hand_held - hand_before
    document = bill_document(issued, 3, DAY)
    assert [row["amount"] for row in document["working"]] == [shown(hand_earned), shown(-hand_held), shown(-hand_before)]
    assert document["due"] == shown(hand_due)
    assert [row["amount"] for row in document["standing"]] == [
        shown(price),
        shown(hand_before),
        shown(hand_due),
        shown(price - hand_before - hand_due),
        shown(hand_held),
    ]
    assert [row["state"] for row in document["rows"]] == ["billed before", "billed before", "this bill", "not due yet", "not due yet"]


def test_over_all_draws_the_contract_is_billed_to_the_cent(issued):
    """What stands as due on the papers sums to the price."""
    due = [bill_document(issued, bill.number, DAY)["due"] for bill in bills_of(issued)]
    assert sum(Decimal(text.lstrip("$").replace(",", "")) for text in due) == issued.estimate.price


def test_it_says_of_what_contract_it_is_and_that_it_is_invented(issued):
    """Number, revision, day of issue, customer, address, date of the bill, tax."""
    text = words_of(bill_bytes(issued, 1, DAY))
    for wanted in (
        "DEMO-001, draw 1 of 5",
        "revision 1, of Thursday, March 5, 2026",
        "Monday, March 30, 2026",
        *company_lines(issued.estimate),
        issued.estimate.job.identity.customer,
        issued.estimate.job.identity.address,
        "No sales tax is added to the contract sum.",
        "A deposit counts toward the contract sum.",
        "invented demo data",
        "Page 1 of 1",
    ):
        assert wanted in text, wanted


def test_sales_tax_in_the_contract_is_said(tmp_path):
    """Tax on everything is in the price; the bill says how much."""
    found = issue(tmp_path, tax_on="everything")
    collected = found.estimate.amount("tax-collected")
    assert f"Sales tax of {shown(collected)} is in the contract sum." in words_of(bill_bytes(found, 2, DAY))


def test_a_contract_with_changes_is_billed_by_its_own_draws(issued):
    """Draws carried forward take the place of the planned ones."""
    draws = plan_draws(issued.estimate, contract=issued.estimate.price + Decimal("250.00"))
    assert bill_document(issued, 5, DAY, draws=draws)["contract"] == shown(issued.estimate.price + Decimal("250.00"))


@pytest.mark.parametrize("number", [0, 6, -1])
def test_a_draw_that_is_none_is_refused(issued, number):
    """The report says how many there are."""
    with pytest.raises(IssueError, match=f"DEMO-001, draw: {number} is none of this contract, which has 5"):
        bill_bytes(issued, number, DAY)


def test_no_bill_is_older_than_what_it_bills(issued):
    """On the day of issue it may be written, a day before not."""
    assert bill_bytes(issued, 1, ISSUED).startswith(b"%PDF")
    with pytest.raises(IssueError, match="date: 2026-03-04 lies before the day of issue, 2026-03-05"):
        bill_bytes(issued, 1, ISSUED - dt.timedelta(days=1))


def test_the_same_bill_has_the_same_bytes_and_its_own_name(issued):
    """Set twice alike; named after the document and its draw."""
    assert bill_stem(issued, 2) == "DEMO-001-r01-bill-2"
    assert bill_bytes(issued, 2, DAY) == bill_bytes(issued, 2, DAY)


def test_text_of_the_customer_is_never_markup(tmp_path):
    """Signs of the typesetter stand as they were typed."""
    odd = "#strong[Invented] *One* $x$ <b> @a"
    job = change_job(demo.example("stone_apron_single_bowl").job_as_read, {"identity.customer": odd})
    found = open_issued(issue_estimate(demo.kit.estimate(job, demo.LISTS), tmp_path, today=ISSUED))
    assert odd in words_of(bill_bytes(found, 1, DAY))
