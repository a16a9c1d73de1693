"""`sign`, `bill`, `paid`, `change --offer`, `close`, `jobs`: one contract from the promise to the last cent, and what is refused."""

import csv
import datetime as dt
import json
import re
import zipfile
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from changes import put
from paper_text import text_of

import kit
from kit.contract.contract_file import open_contract
from kit.draw.book_tables import draw_payments
from kit.errors import KitError
from kit.issued import open_issued
from kit.units import format_day


@pytest.fixture
def issued(issue_example: Any) -> Path:
    """The example, issued."""
    return issue_example()


def test_from_the_signature_to_the_last_cent(run: Any, job_file: Any, issued: Path, tmp_path: Path) -> None:
    """A change signed between two bills moves the later ones as its paper said; all bills together are the contract sum."""
    price = Decimal(run("sign", issued, "--day", "2026-03-09", "--json").json["contract_sum"])
    deposit = run("bill", issued, "--day", "2026-03-09", "--json").json["bills"][0]["amount"]
    run("paid", issued, f"{deposit} USD", "--day", "2026-03-10", "--how", "check 12")
    run("bill", issued, "--day", "2026-03-20")
    changed = job_file(put("site.carry", "190 ft"))
    offered = run("change", issued, changed, "--offer", "--day", "2026-03-21", "--out", tmp_path / "out", "--json")
    assert (offered.code, offered.json["number"], Decimal(offered.json["contract_before"])) == (0, 1, price)
    paper = {draw["id"]: Decimal(draw["after"]) for draw in offered.json["draws"]}
    assert run("sign", issued, "--change", "1", "--day", "2026-03-22").code == 0
    told = " ".join(run("jobs", issued).out.decode().split())
    going = run("jobs", issued, "--json").json
    left = Decimal(going["contract_sum"]) - Decimal(going["billed"])
    assert f"Left to bill ${left:,.2f} of which held back until the last bill ${Decimal(going['held_back']):,.2f}" in told  # as the bill's paper says it
    for day in ("2026-03-30", "2026-04-10", "2026-04-20"):
        ended = run("bill", issued, "--day", day, "--out", tmp_path / "out", "--json")
    bills = {bill["draw"]: Decimal(bill["amount"]) for bill in ended.json["bills"]}
    assert bills == paper
    assert sum(bills.values()) == Decimal(ended.json["contract_sum"]) == price + Decimal(offered.json["amount"])
    assert ended.json["held_back"] == ended.json["not_billed"] == "0.00"
    assert (tmp_path / "out" / "DEMO-001-bill-5.pdf").read_bytes().startswith(b"%PDF")
    for number, bill in enumerate(ended.json["bills"][2:], 3):  # the rows beside each paper come to its amount
        event = next(one["id"] for one in ended.json["events"] if one["kind"] == "billed" and one["number"] == number)
        told = json.loads((tmp_path / "out" / f"DEMO-001-postings-of-event-{event}.control.json").read_text(encoding="utf-8"))
        assert told["by_draw"] == {bill["draw"]: bill["amount"]}
    run("paid", issued, f"{sum(bills.values()) - Decimal(deposit)} USD", "--day", "2026-04-25")
    closed = run("close", issued, "done", "--day", "2026-04-26", "--json").json
    assert (closed["state"], closed["receivable"], closed["deposits"]) == ("closed", "0.00", "0.00")
    assert run("jobs", issued, "--out", tmp_path / "all").code == 0
    told = json.loads((tmp_path / "all" / "DEMO-001-postings.control.json").read_text(encoding="utf-8"))
    assert told["by_draw"] == {draw: f"{amount}" for draw, amount in sorted(bills.items())}
    assert told["by_account"]["Bank"] == closed["contract_sum"] == f"{-Decimal(told['by_account']['Remodeling income'])}"
    assert told["by_account"]["Accounts receivable"] == told["by_account"]["Customer deposits"] == told["by_account"]["Retainage receivable"] == "0.00"
    assert run("jobs", issued.parent, "--as-of", "2026-03-09", "--json").json["contracts"][0]["billed"] == deposit


def test_a_canceled_contract_of_which_nothing_is_owed_is_not_called_paid(run: Any, issued: Path) -> None:
    """Canceled before any bill: nothing was paid, and nothing is to pay."""
    run("sign", issued, "--day", "2026-03-09")
    run("cancel", issued, "the customer moved", "--owed", "0 USD", "--day", "2026-03-10")
    report = run("jobs", issued).out.decode()
    assert f"Nothing is owed by either side. Next: sinkset close {issued} TEXT" in " ".join(report.split())
    assert "paid. Next" not in report


def test_the_last_bill_of_a_canceled_contract_waits_for_no_work(run: Any, issued: Path) -> None:
    """500.00 owed and nothing billed: nothing more is done that the bill could wait for."""
    run("sign", issued, "--day", "2026-03-09")
    report = " ".join(run("cancel", issued, "the customer moved", "--owed", "500 USD", "--day", "2026-03-28").out.decode().split())
    assert "Next bill: work done until canceled, $500.00. Write it now: sinkset bill " in report


def test_an_open_bill_of_a_canceled_contract_shows_what_of_it_is_due(run: Any, issued: Path) -> None:
    """The deposit is billed and not paid: nothing owed in all, nothing of it is due; with 100 owed, 100 is."""
    run("sign", issued, "--day", "2026-03-09")
    run("bill", issued, "--day", "2026-03-09")
    run("cancel", issued, "the customer moved", "--owed", "0 USD", "--day", "2026-03-10")
    nothing = run("jobs", issued).out.decode()
    assert re.search(r"\nDeposit at signing .* bill 1, nothing due: the credit settles it\n", nothing)
    assert "open, pay by" not in nothing
    assert "nothing due: the credit settles it" in draw_payments(open_contract(issued).state, dt.date(2026, 3, 12))
    entry = max(event["id"] for event in run("jobs", issued, "--json").json["events"])
    run("undo", issued, str(entry), "a slip", "--day", "2026-03-10")
    run("cancel", issued, "the customer moved", "--owed", "100 USD", "--day", "2026-03-10")
    assert re.search(r"\nDeposit at signing .* bill 1, \$100\.00 (open, pay by|past due, was due) ", run("jobs", issued).out.decode())
    assert "bill 1, $100.00 of it, pay by " in draw_payments(open_contract(issued).state, dt.date(2026, 3, 12))


def test_nothing_is_issued_under_the_number_of_a_contract_that_has_ended(run: Any, job_file: Any, issued: Path) -> None:
    """Before it is signed and while it runs a later revision may be; nothing is written once it is canceled, and another number is free."""
    changed = job_file(put("site.carry", "190 ft"))
    again = ("--folder", issued.parent, "--reason", "invented", "--day", "2026-03-09")
    assert run("issue", changed, *again).code == 0
    run("sign", issued, "--day", "2026-03-09")
    run("cancel", issued, "the customer moved", "--owed", "0 USD", "--day", "2026-03-10")
    before = sorted(issued.parent.iterdir())
    refused = run("issue", job_file(put("site.carry", "195 ft")), *again)
    assert refused.code == 2
    assert "The contract DEMO-001 was canceled: nothing more is offered or changed under this number" in " ".join(refused.err.split())
    made = kit.estimate(kit.change_job(kit.read_job(changed), {"site.carry": "195 ft"}), kit.load_lists(kit.shipped("price_lists")))
    with pytest.raises(KitError, match="The contract DEMO-001 was canceled"):
        kit.issue(made, issued.parent, reason="invented", day="2026-03-11")
    assert sorted(issued.parent.iterdir()) == before
    assert run("issue", job_file(put("identity.job_number", "DEMO-101")), *again).code == 0


def test_a_canceled_contract_is_settled_and_closed(run: Any, issued: Path, tmp_path: Path) -> None:
    """By hand: the deposit is billed and paid, 200 of it are owed for what was done; the rest is credited and goes back, and each report says so in words."""
    run("sign", issued, "--day", "2026-03-09")
    deposit = Decimal(run("bill", issued, "--day", "2026-03-09", "--json").json["bills"][0]["amount"])
    run("paid", issued, f"{deposit} USD", "--day", "2026-03-10")
    assert "can't be owed for a part of it" in run("cancel", issued, "the customer moved", "--owed", "99999 USD", "--day", "2026-03-12").err
    spent = ("--code", "430", "--kind", "material", "--text", "Switch", "--day", "2026-03-10")
    run("spent", issued, "--amount", "30 USD", *spent)
    run("spent", issued, "--amount", "50 USD", *spent, "--order", "7", "--ordered")
    canceled = run("cancel", issued, "the customer moved", "--owed", "200 USD", "--day", "2026-03-12", "--out", tmp_path / "out", "--json").json
    hand_back = deposit - 200
    assert (canceled["contract_sum"], canceled["credit_due"], canceled["next_bill"]) == ("200.00", f"{hand_back}", None)
    assert canceled["canceled"] == {"day": "2026-03-12", "reason": "the customer moved"}
    assert "DEMO-001 was canceled (the customer moved): nothing in it can change." in run("change", issued, issued).err
    hand_cost = Decimal("30.00") + Decimal("50.00")  # nothing more is done
    assert (canceled["cost"]["estimate_at_completion"], canceled["cost"]["margin_at_completion"]) == (f"{hand_cost}", f"{200 - hand_cost}")
    listed = run("jobs", issued.parent, "--as-of", "2026-03-12").out.decode()  # before the credit note is written
    assert re.search(rf"\nDEMO-001 +canceled +\$200\.00 .* \${hand_back:,.2f} back\n", listed)
    assert "Promised days" not in listed
    alone = run("jobs", issued).out.decode()
    assert "\nCanceled, DEMO-001-r01, as of Wed, Mar 4, 2026\n" in alone  # what is past due follows from the day
    assert re.search(rf"\nDeposit not booked as income yet +\${deposit:,.2f}\n", alone)
    assert "was canceled on Thu, Mar 12, 2026" in run("cancel", issued, "again", "--owed", "0 USD", "--day", "2026-03-12").err
    credited = run("bill", issued, "--credit", "canceled", "--day", "2026-03-12", "--out", tmp_path / "out").out.decode()
    assert re.search(r"\nBilled, less credits +\$200\.00\n", credited)
    assert f"\nPayments as billed; ${hand_back:,.2f} more than is owed\n" in credited
    assert re.search(r"\nDeposit at signing .* paid or credited\n", credited)  # $200 of it was earned
    assert f'(sinkset paid {issued} "{hand_back} USD" --back)' in " ".join(credited.split())
    papers = {end: text_of((tmp_path / "out" / f"DEMO-001-{end}.pdf").read_bytes()) for end in ("canceled", "credit-1")}
    assert f"A credit note for ${hand_back:,.2f} follows: that much was billed beyond what is owed. We pay ${hand_back:,.2f} back to you." in papers["canceled"]
    assert f"You have paid ${hand_back:,.2f} more than is billed. We pay it back to you." in papers["credit-1"]
    for words in papers.values():
        assert re.findall(r"\b(costs?|margin|markup|wages?|burden|overhead|profit|hours?)\b", words, re.IGNORECASE) == []
        assert "State law may say" in words
    closed = run("close", issued, "settled", "--day", "2026-03-13", "--json").json
    assert (closed["refund_due"], closed["receivable"], closed["deposits"]) == (f"{hand_back}", f"-{hand_back}", "0.00")
    said = f"The customer has paid ${hand_back:,.2f} more than is billed. It goes back to the customer."
    for place in (issued, issued.parent):
        report = run("jobs", place).out.decode()
        assert said in " ".join(report.split())
        assert "Billed and not paid" not in report
    assert f"${hand_back:,.2f} back" in report
    assert run("paid", issued, f"{hand_back} USD", "--back", "--day", "2026-03-14", "--json").json["refund_due"] == "0.00"
    assert "Nothing is left to do." in run("jobs", issued).out.decode()
    assert run("jobs", issued.parent, "--json").json["contracts"][0]["stage"] == "canceled"
    run("jobs", issued, "--out", tmp_path / "all")
    for end in papers:  # what came after it changes no byte of a paper
        assert (tmp_path / "all" / f"DEMO-001-{end}.pdf").read_bytes() == (tmp_path / "out" / f"DEMO-001-{end}.pdf").read_bytes()
    told = json.loads((tmp_path / "all" / "DEMO-001-postings.control.json").read_text(encoding="utf-8"))
    assert (told["by_account"]["Bank"], told["by_account"]["Remodeling income"]) == ("200.00", "-200.00")


def test_a_reminder_is_a_paper_and_no_entry(run: Any, issued: Path, tmp_path: Path) -> None:
    """Of an overdue bill; on a day when none is overdue, or without a folder, it is refused. The ledger stays as it is."""
    run("sign", issued, "--day", "2026-03-09")
    billed = run("bill", issued, "--day", "2026-03-09", "--json").json
    assert "has no bill that is overdue on Tue, Mar 10, 2026" in run("bill", issued, "--remind", "--day", "2026-03-10", "--out", tmp_path / "out").err
    assert "say with --out where it goes" in run("bill", issued, "--remind").err
    pay_by = dt.date.fromisoformat(billed["bills"][0]["pay_by"])
    for day, hand_words in ((pay_by, "open, pay by"), (pay_by + dt.timedelta(days=1), "past due, was due")):
        assert f" {hand_words} {format_day(pay_by)}" in run("jobs", issued, "--as-of", day.isoformat()).out.decode()
    told = run("bill", issued, "--remind", "--day", "2026-05-01", "--out", tmp_path / "out", "--json").json
    said = text_of((tmp_path / "out" / "DEMO-001-reminder-2026-05-01.pdf").read_bytes())
    assert f"${Decimal(billed['receivable']):,.2f}" in said
    assert told["events"] == billed["events"]


def test_a_second_change_starts_where_the_first_ended(run: Any, job_file: Any, issued: Path) -> None:
    """Number, sum and the estimate that it is held against come from the ledger, not from the options."""
    run("sign", issued)
    run("change", issued, job_file(put("site.carry", "190 ft")), "--offer")
    first = run("sign", issued, "--change", "1", "--json").json
    second = run("change", issued, job_file(put("site.carry", "70 ft")), "--json").json
    assert (second["number"], second["contract_before"]) == (2, first["contract_sum"])
    assert Decimal(second["amount"]) < 0
    same = job_file(put("site.carry", "190 ft"))
    found = run("change", issued, same, "--find", "short-stub=2", "--offer", "--json").json  # the job stays: only what was found is charged
    assert (found["number"], found["amount"], found["to"]["revision"]) == (2, "92.00", 3)  # 2 x 46.00 of unit_prices.csv
    for _ in range(2):  # the deposit is the same with the change, the next payment is not
        run("bill", issued)
    assert "was written before the last bill. Write it again" in run("sign", issued, "--change", "2").err
    assert "out of date" in run("jobs", issued).out.decode()
    refused = run("change", issued, job_file(), "--contract", "9000 USD")
    assert (refused.code, refused.err) == (2, "--contract is in the ledger of this contract: leave it out.\n")


@pytest.mark.parametrize(
    ("command", "said"),
    [
        (("bill",), "DEMO-001 is not signed yet: nothing can be billed"),
        (("paid", "10 USD"), "DEMO-001 is not signed yet"),
        (("paid", "10"), 'MONEY: "10" has no currency'),
        (("bill", "--again", "1"), "--again: this only writes a paper: say with --out where it goes"),
        (("cancel", "moved away", "--owed", "12"), '--owed: "12" has no currency'),
        (("sign", "--change", "1"), "DEMO-001 is not signed yet"),
        (("sign", "--day", "yesterday"), '--day: "yesterday" is not a day'),
        (("close", "done"), "DEMO-001 is not signed yet"),
        (("undo", "4", "a slip"), "DEMO-001 has no entry 4"),
        (("bill", "--remind", "--again", "1"), "--credit, --again or --remind: give only one of them"),
        (("bill", "--credit", "a cut", "--remind"), "--credit, --again or --remind: give only one of them"),
    ],
)
def test_what_can_not_be_is_refused_and_nothing_is_written(run: Any, issued: Path, command: tuple[str, ...], said: str) -> None:
    """One sentence on the error stream, exit 2; the ledger still has the offer alone."""
    refused = run(command[0], issued, *command[1:])
    assert refused.code == 2
    assert said in refused.err
    (offered,) = run("jobs", issued.parent, "--json").json["contracts"]
    assert (offered["state"], offered["document"], offered["billed"]) == ("offered", "DEMO-001-r01", "0.00")


def test_a_slip_is_taken_back(run: Any, issued: Path) -> None:
    """The payment is gone from the state and stands in the list of events."""
    run("sign", issued)
    run("bill", issued)
    paid = run("paid", issued, "892.11 USD", "--json").json
    back = run("undo", issued, str(paid["events"][-1]["id"]), "another customer's check", "--json").json
    assert (back["paid"], [event["kind"] for event in back["events"]][-2:]) == ("0.00", ["paid", "voided"])


def test_an_offer_that_was_undone_is_none(run: Any, issued: Path) -> None:
    """No price of it is said any more, neither of the contract nor in the folder."""
    said = run("undo", issued, "1", "the wrong job").out.decode()
    assert "Not offered\n\nNo offer is in the ledger" in said
    assert "$" not in said
    told = run("jobs", issued.parent).out.decode()
    assert "not offered" in told
    assert "$" not in told


def test_an_earlier_revision_may_be_signed_after_a_later_one_was_offered(run: Any, job_file: Any, issued: Path) -> None:
    """The customer takes the first offer: it was offered already, and its price is the contract sum."""
    first = run("jobs", issued.parent, "--json").json["contracts"][0]["offered"]
    later = run("issue", job_file(put("site.carry", "190 ft")), "--day", "2026-03-05", "--json").json
    assert (later["revision"], later["ledger"], run("jobs", issued.parent, "--json").json["contracts"][0]["offered"]) == (2, None, later["price"])
    signed = run("sign", issued, "--day", "2026-03-06", "--json").json
    assert (signed["document"], signed["contract_sum"]) == ("DEMO-001-r01", first)


def test_what_was_spent_stands_in_the_contract(run: Any, issued: Path, tmp_path: Path) -> None:
    """A table once and not twice; one amount; what was ordered; then the report and the data say estimated, spent and what is left."""
    table = kit.shipped("examples") / "stone_apron_single_bowl_spent.csv"
    run("sign", issued, "--day", "2100-03-09")
    told = run("spent", issued, table, "--out", tmp_path / "out", "--json").json
    assert (told["cost"]["spent"], told["spent"]) == ("6572.46", "6572.46")  # tests/archive counts the example's table
    assert Decimal(told["cost"]["margin_so_far"]) == Decimal(told["contract_sum"]) - Decimal("6572.46")
    books = json.loads((tmp_path / "out" / "DEMO-001-postings.control.json").read_text(encoding="utf-8"))
    assert sum(map(Decimal, books["by_cost_code"].values())) == Decimal("6572.46")
    again = run("spent", issued, table)
    assert (again.code, again.err) == (2, "DEMO-001: All 28 rows are in its ledger already: this table was entered before.\n")
    one = ("--day", "2026-03-30", "--code", "430", "--kind", "material", "--text", "Switch")
    ordered = run("spent", issued, "--amount", "40.00 USD", *one, "--order", "7", "--ordered", "--json").json
    assert (ordered["cost"]["ordered"], ordered["cost"]["spent"]) == ("40.00", "6572.46")
    bought = run("spent", issued, "--amount", "30.00 USD", *one, "--order", "7", "--tax", "1.70", "--json").json
    assert (bought["cost"]["ordered"], bought["cost"]["spent"]) == ("10.00", "6602.46")
    assert bought["notes"] == []
    early = run("spent", issued, "--amount", "1.00 USD", "--day", "2001-03-30", *one[2:], "--json")
    (note,) = early.json["notes"]
    assert "1 of 1 rows have a day before the visit or after today" in note
    assert note in early.err
    report = run("jobs", issued).out.decode()
    assert "None of the 44.00 hours spent names a step" in report
    assert re.search(r"Set the sink +\$[\d.]+ +\$[\d.]+ +\$[\d.]+ +\$[\d.]+ +- +[\d.]+ +-\n", report)
    for words in ("Costs, changes included", "Margin when all is done", "Ordered and not billed yet"):
        assert words in report
    for command, said in (
        ((), "give a table or one amount"),
        ((table, "--amount", "1.00 USD"), "give a table or one amount"),
        (("--amount", "1.00 USD", *one[:2], "--kind", "labor", "--code", "110"), "--text is empty"),
        (("--amount", "1.00 USD", "--text", "wood"), "one amount needs its cost code and kind"),
        (("--amount", "1.00", *one), '--amount: "1.00" has no currency'),
        (("--amount", "1.00 USD", *one[:2], "--code", "999", *one[4:]), '--code: "999" is not a cost code of these lists'),
        (("--amount", "1.00 USD", *one, "--hours", "2"), '--hours: "2" stands with material'),
    ):
        refused = run("spent", issued, *command)
        assert refused.code == 2
        assert said in refused.err


def test_a_folder_that_can_not_take_the_paper_is_refused_before_the_ledger_is_written(run: Any, issued: Path, tmp_path: Path) -> None:
    """A file of one's own under the bill's name, a file in place of the folder: exit 2, no bill made; the next try makes bill 1."""
    run("sign", issued)
    out = tmp_path / "out"
    out.mkdir()
    (out / "DEMO-001-bill-1.pdf").write_text("mine")
    refused = run("bill", issued, "--out", out)
    assert (refused.code, "was not written by this program" in refused.err) == (2, True)
    for command in (("bill", issued), ("paid", issued, "10 USD")):
        refused = run(*command, "--out", out / "DEMO-001-bill-1.pdf")
        assert (refused.code, "a file is where the folder should be" in refused.err) == (2, True)
    assert run("jobs", issued, "--json").json["bills"] == []
    assert [bill["number"] for bill in run("bill", issued, "--out", tmp_path / "other", "--json").json["bills"]] == [1]


def test_what_fails_after_the_ledger_was_written_says_so(run: Any, issued: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A disk that fills up: the bill stands, and the way to its paper is told."""
    run("sign", issued)

    def full(*_: object, **__: object) -> None:
        raise KitError("No space left on device.")

    with monkeypatch.context() as patched:
        patched.setattr("kit.cli.out_folder.write_files", full)
        failed = run("bill", issued, "--out", tmp_path / "out")
    assert failed.code == 2
    assert "Bill 1 is in the ledger all the same: don't make it again." in failed.err
    assert run("bill", issued, "--again", "1", "--out", tmp_path / "out").code == 0
    assert (tmp_path / "out" / "DEMO-001-bill-1.pdf").exists()


def test_a_change_is_frozen_with_its_paper(run: Any, job_file: Any, issued: Path, tmp_path: Path) -> None:
    """What is billed is called billed and not paid; the rows are those of an issued estimate; paper and rows are kept with it."""
    run("sign", issued, "--day", "2026-03-09")
    run("bill", issued, "--day", "2026-03-09")
    report = run("change", issued, job_file(put("site.carry", "190 ft")), "--offer", "--day", "2026-03-21", "--out", tmp_path / "out").out.decode()
    assert re.search(r"Deposit at signing[ |]+billed[ |]", report)
    assert "draft" not in report
    name = "DEMO-001-r01-change-1"
    text = text_of((tmp_path / "out" / f"{name}.pdf").read_bytes())
    assert "Deposit at signing (billed)" in text
    assert "What was billed before this change stays as it was billed." in text
    rows = (tmp_path / "out" / f"{name}-books.csv").read_bytes()
    assert b'"draft"' not in rows
    kept = open_issued(issued.parent / "DEMO-001-r02.json").files()
    assert (kept[f"{name}.pdf"], kept[f"{name}-books.csv"]) == ((tmp_path / "out" / f"{name}.pdf").read_bytes(), rows)


def test_a_change_says_which_payments_it_moves(run: Any, job_file: Any, issued: Path, tmp_path: Path) -> None:
    """The signature agreed by shares; this change falls on the last payment, its paper says so, and so do ledger and tables."""
    changed = job_file(put("site.carry", "190 ft"))
    assert "only the change of a signed contract says which payments it moves" in " ".join(
        run("change", issued, changed, "--falls", "last-draw").err.replace("│", " ").split()
    )
    run("sign", issued, "--day", "2026-03-09")
    refused = run("change", issued, changed, "--falls", "first-draw")
    said = '--falls: "first-draw" is not a choice for payments. Give one of by-shares, last-draw, own-draw.\n'
    assert (refused.code, refused.err) == (2, said)
    offered = run("change", issued, changed, "--falls", "last-draw", "--offer", "--day", "2026-03-21", "--out", tmp_path, "--json").json
    assert offered["falls"] == "last-draw"
    assert [draw["id"] for draw in offered["draws"] if draw["before"] != draw["after"]] == ["punch-list"]
    text = text_of((tmp_path / "DEMO-001-r01-change-1.pdf").read_bytes())
    assert "falls on the last payment. This is agreed for this change only." in text
    run("sign", issued, "--change", "1", "--day", "2026-03-22")
    stands = run("jobs", issued, "--json").json
    assert {draw["draw"]: draw["due"] for draw in stands["draws"]} == {draw["id"]: draw["after"] for draw in offered["draws"]}
    run("jobs", issued.parent, "--out", tmp_path / "all")
    assert [row["falls"] for row in csv.DictReader((tmp_path / "all" / "changes.csv").read_text(encoding="utf-8").splitlines())] == ["last-draw"]


def test_a_change_with_the_lists_of_the_kit_wants_a_reason(run: Any, job_file: Any, issued: Path) -> None:
    """The folder of lists was renamed meanwhile: refused and nothing written; with a reason the reason is kept."""
    run("sign", issued, "--day", "2026-03-09")
    changed = job_file(put("site.carry", "190 ft"))
    lists = next(folder for folder in (changed.parent / "price_lists", changed.parent.parent / "price_lists") if folder.is_dir())
    lists.rename(lists.with_name("renamed"))
    refused = run("change", issued, changed, "--offer", "--day", "2026-03-21")
    assert (refused.code, "Price lists are the kit's invented ones" in refused.err) == (2, True)
    assert run("jobs", issued, "--json").json["changes"] == []
    assert run("change", issued, changed, "--offer", "--day", "2026-03-21", "--despite", "prices were agreed").code == 0
    assert open_issued(issued.parent / "DEMO-001-r02.json").stop_reason == "prices were agreed"


def test_an_offer_stands_with_its_price_and_from_its_day_on(run: Any, issued: Path) -> None:
    """In the table of a folder it is an offer at its price and owes nothing; on the day before it was not there."""
    price = run("jobs", issued.parent, "--json").json["contracts"][0]["offered"]
    report = run("jobs", issued.parent).out.decode()
    assert re.search(rf"offered[ |]+\${Decimal(price):,.2f}", report)
    assert "$0.00" not in report
    assert run("jobs", issued.parent, "--as-of", "2000-01-01", "--json").json["contracts"] == []


def test_a_job_number_with_signs_goes_on_after_a_change(run: Any, job_file: Any) -> None:
    """Its files bear another name than its documents: report, costs and a second change find them."""

    def numbered(walk: str) -> Path:
        return job_file(lambda document: (put("identity.job_number", "12/3 B")(document), put("site.carry", walk)(document)))

    issued = Path(run("issue", numbered("70 ft"), "--json").json["file"])
    run("sign", issued)
    run("change", issued, numbered("190 ft"), "--offer")
    first = run("sign", issued, "--change", "1", "--json").json
    one = ("--code", "430", "--kind", "material", "--text", "Switch")
    assert run("spent", issued, "--amount", "5.00 USD", *one, "--json").json["cost"]["spent"] == "5.00"
    assert run("change", issued, numbered("60 ft"), "--json").json["contract_before"] == first["contract_sum"]


def test_a_contract_closed_while_overpaid_has_a_paper_of_what_goes_back(run: Any, issued: Path, tmp_path: Path) -> None:
    """All billed and paid, 12.50 of it twice: closing it writes the paper, with the reason; one that is paid to the cent has none."""
    run("sign", issued, "--day", "2026-03-09")
    while (said := run("jobs", issued, "--json").json)["next_bill"]:
        run("bill", issued, "--day", "2026-03-20")
        run("paid", issued, f"{said['next_bill']['amount']} USD", "--day", "2026-03-20")
    even = run("close", issued, "done", "--day", "2026-03-21", "--out", tmp_path / "even", "--json").json
    assert not list((tmp_path / "even").glob("*-closed.pdf"))
    run("undo", issued, str(even["events"][-1]["id"]), "one check was entered late", "--day", "2026-03-21")
    refused = run("paid", issued, "12.50 USD", "--day", "2026-03-21")
    assert (refused.code, "has no bill that is unpaid" in refused.err) == (2, True)
    run("paid", issued, "12.50 USD", "--overpaid", "--day", "2026-03-21")
    closed = run("close", issued, "done", "--day", "2026-03-21", "--out", tmp_path / "over", "--json").json
    words = " ".join(text_of((tmp_path / "over" / "DEMO-001-closed.pdf").read_bytes()).split())
    for part in (
        "Contract closed",
        "Where your payments stand Billed $",  # no credit note was written
        "We pay back to you $12.50",
        "How the contract ended: done",
        "Paid beyond that $12.50",
        "more than is billed. We pay it back to you.",
    ):
        assert part in words
    run("paid", issued, "12.50 USD", "--back", "--day", "2026-03-22")
    run("jobs", issued, "--out", tmp_path / "all")
    assert closed["refund_due"] == "12.50"
    assert (tmp_path / "all" / "DEMO-001-closed.pdf").read_bytes() == (tmp_path / "over" / "DEMO-001-closed.pdf").read_bytes()


def test_a_bill_made_again_is_the_bill_of_then(run: Any, job_file: Any, issued: Path, tmp_path: Path) -> None:
    """A change, a payment and a later bill came since: the paper is the same, byte for byte."""
    run("sign", issued, "--day", "2026-03-09")
    run("bill", issued, "--day", "2026-03-09", "--out", tmp_path / "then")
    run("change", issued, job_file(put("site.carry", "190 ft")), "--offer", "--day", "2026-03-09")
    run("sign", issued, "--change", "1", "--day", "2026-03-09")
    run("paid", issued, "100.00 USD", "--day", "2026-03-09")
    run("bill", issued, "--day", "2026-03-20")
    assert run("bill", issued, "--again", "1", "--out", tmp_path / "now").code == 0
    assert (tmp_path / "now" / "DEMO-001-bill-1.pdf").read_bytes() == (tmp_path / "then" / "DEMO-001-bill-1.pdf").read_bytes()
    refused = run("bill", issued, "--again", "7", "--out", tmp_path / "now")
    assert (refused.code, refused.err) == (2, "DEMO-001 has no bill 7.\n")


def test_what_later_entries_build_on_is_not_undone(run: Any, issued: Path) -> None:
    """The first of two bills, the signature below both and the offer below that: said so, whatever would go wrong after it; the last bill can go."""
    run("sign", issued, "--day", "2026-03-09")
    run("bill", issued, "--day", "2026-03-09")
    run("bill", issued, "--day", "2026-03-20")
    offered, signed, first, second = (event["id"] for event in run("jobs", issued, "--json").json["events"])
    for entry in (offered, signed, first):
        refused = run("undo", issued, str(entry), "a slip", "--day", "2026-03-20")
        said = f"DEMO-001: Entry {entry} can't be undone: later entries build on it. Undo those first, beginning with the last, entry {second}: bill 2"
        assert (refused.code, refused.err.startswith(said)) == (2, True)
    assert run("undo", issued, str(second), "a slip", "--day", "2026-03-20").code == 0


def test_the_deposit_is_billed_at_once_and_the_rest_as_the_work_comes_that_far(run: Any, issued: Path) -> None:
    """What to write next, and when."""
    run("sign", issued, "--day", "2026-03-09")
    now = re.search(r"Next bill: deposit at signing, \$[\d,.]+\. Write it now: sinkset bill (\S+)$", " ".join(run("jobs", issued).out.decode().split()))
    assert now is not None
    assert now[1] == str(issued)  # as it is typed from where the last command was
    later = run("bill", now[1], "--day", "2026-03-09").out.decode()
    last = r"Next bill: when the countertop is templated, \$[\d,.]+\. Write it when the work has come that far: sinkset bill \S+DEMO-001-r01\.json$"
    assert re.search(last, " ".join(later.split()))


def test_a_folder_of_jobs_is_backed_up_whole(run: Any, issued: Path, tmp_path: Path) -> None:
    """Unpacked it opens with ledger, promises and what was sent; drafts stay out; no file is written over, and nothing is a folder of jobs that is none."""
    run("sign", issued)
    run("bill", issued)
    (issued.parent / ".sinkset-draft-x").mkdir()
    (issued.parent / ".sinkset-draft-x" / "half.pdf").write_bytes(b"%PDF")
    told = run("backup", issued.parent, tmp_path / "jobs.zip", "--json").json
    with zipfile.ZipFile(tmp_path / "jobs.zip") as archive:
        assert told["files"] == len(archive.namelist())
        assert not [name for name in archive.namelist() if "draft" in name]
        archive.extractall(tmp_path / "again")
    before, after = (run("jobs", folder, "--json").json["contracts"] for folder in (issued.parent, tmp_path / "again"))
    assert before == after
    assert open_issued(tmp_path / "again" / issued.name).files() == open_issued(issued).files()
    for folder, file, said in ((issued.parent, "jobs.zip", "is already there"), (tmp_path / "none", "new.zip", "is not a folder of jobs")):
        refused = run("backup", folder, tmp_path / file)
        assert (refused.code, said in refused.err) == (2, True)
    assert not (tmp_path / "new.zip").exists()


def test_the_whole_ledger_is_written_as_tables(run: Any, issued: Path, tmp_path: Path) -> None:
    """Events, bills, payments and spending of every contract; as of a day only what had happened by then."""
    run("sign", issued, "--day", "2026-03-09")
    run("bill", issued, "--day", "2026-03-09")
    run("paid", issued, "100.00 USD", "--day", "2026-03-12")
    assert run("jobs", issued.parent, "--out", tmp_path / "now").code == 0
    assert run("jobs", issued.parent, "--as-of", "2026-03-10", "--out", tmp_path / "then").code == 0
    texts = [(tmp_path / day / "events.csv").read_text(encoding="utf-8") for day in ("now", "then")]
    kinds = [[row["kind"] for row in csv.DictReader(text.splitlines())] for text in texts]
    assert kinds == [["offered", "signed", "billed", "paid"], ["offered", "signed", "billed"]]
    assert "datapackage.json" in {path.name for path in (tmp_path / "now").iterdir()}
