"""The reminder of bills that are past due: what stands in it, what must not, figures of the ledger only."""

import datetime as dt
import re
from decimal import Decimal

import pytest
from paper_text import pages_of, text_of
from test_bill import issue, signed
from test_proposal import INNER_WORDS

from kit.contract.bills import credit_note
from kit.contract.canceling import canceling_of
from kit.contract.events import Paid
from kit.errors import LedgerError
from kit.export.reminder import reminder_bytes, reminder_document, reminder_name
from kit.money import format_money

PAY_BY = dt.date(2026, 4, 9)  # both bills of March 30, ten days to pay
DAY = dt.date(2026, 5, 1)


@pytest.fixture(scope="module")
def issued(tmp_path_factory):
    """The first example, issued."""
    return issue(tmp_path_factory.mktemp("issued"))


def test_each_overdue_bill_stands_with_its_days_and_what_is_left_of_it(issued):
    """A payment pays the oldest bill first; what is left of it and the next one are past due, 22 days from April 9 to May 1."""
    first, second = (one.bill.amount for one in signed(issued, 2).bills)
    state = signed(issued, 2, Paid(amount=Decimal("100.00"), how="check 1042"))
    made = reminder_document(issued, state, DAY)
    hand_left = first - Decimal("100.00")
    assert [(row["late"], row["amount"], row["paid"], row["open"]) for row in made["rows"]] == [
        ("22 days", format_money(first), "$100.00", format_money(hand_left)),
        ("22 days", format_money(second), "$0.00", format_money(second)),
    ]
    assert made["due"] == format_money(hand_left + second)
    assert made["lead"] == "2 bills are past due"
    content = reminder_bytes(issued, state, DAY)
    said = text_of(content)
    assert len(pages_of(content)) == 1
    for words in ("Payment reminder", made["due"], "Invented Customer One", "thank you", issued.lists.company.how_to_pay.split(".")[0]):
        assert words in said, words
    assert re.findall(INNER_WORDS, said, re.IGNORECASE) == []
    assert content == reminder_bytes(issued, state, DAY)
    assert reminder_name(issued.number, DAY) == "DEMO-001-reminder-2026-05-01.pdf"


def test_what_was_credited_is_not_called_paid(issued):
    """Of a canceled contract a credit note covers a part of the bill: its column says so."""
    state = signed(issued, 1)
    assert " Paid " in " ".join(text_of(reminder_bytes(issued, state, DAY)).split())
    owed = Decimal("200.00")
    canceled = signed(issued, 1, canceling_of(state, owed, "the customer moved"))
    with pytest.raises(LedgerError, match=r"owes the customer a credit of \$692\.11: write the credit note before"):
        reminder_document(issued, canceled, DAY)
    credited = signed(issued, 1, canceling_of(state, owed, "the customer moved"), credit_note(canceled, "canceled"))
    assert [row["open"] for row in reminder_document(issued, credited, DAY)["rows"]] == ["$200.00"]
    assert "Paid or credited" in " ".join(text_of(reminder_bytes(issued, credited, DAY)).split())


def test_a_bill_is_late_from_the_day_after(issued):
    """On its own day it is not; one day later it is, by one day. A paid one never is."""
    state = signed(issued, 1)
    with pytest.raises(LedgerError, match=r"has no bill that is overdue on Thu, Apr 9, 2026"):
        reminder_document(issued, state, PAY_BY)
    assert [row["late"] for row in reminder_document(issued, state, PAY_BY + dt.timedelta(days=1))["rows"]] == ["1 day"]
    paid = signed(issued, 1, Paid(amount=state.bills[0].bill.amount))
    with pytest.raises(LedgerError, match="has no bill that is overdue"):
        reminder_document(issued, paid, DAY)
