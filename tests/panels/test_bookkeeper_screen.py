"""The bookkeeper's screen, driven from Python."""

import csv
import datetime as dt
import io
import json
import re
import shutil
from decimal import Decimal
from pathlib import Path

import pytest
from ipywidgets import Button
from openpyxl import load_workbook
from paper_text import text_of
from turning import walk

import kit
from kit.archive.compare_spent import compare_spent
from kit.archive.spent import read_spent
from kit.contract.bills import closing_of
from kit.contract.contract_rows import list_contracts
from kit.contract.ledger import LEDGER_FILE
from kit.errors import KitError
from kit.export.estimate_files import sent_files
from kit.issued import issue_estimate, open_issued
from kit.job import change_job
from kit.labor.clock import last_day
from kit.learning import invented
from kit.money import format_money, sum_money
from kit.outlook import plan_schedule
from kit.panels import Bookkeeper
from kit.panels.job_files import JobFiles
from kit.panels.screen import PageTools
from kit.units import format_day

EXAMPLE, SPENT = "examples/stone_apron_single_bowl.toml", "examples/stone_apron_single_bowl_spent.csv"
DAY = dt.date(2100, 1, 4)  # no day of issue lies after it
ISSUED = dt.date(2026, 3, 4)
FAULTY = """date,cost_code,cost_type,text,amount,currency,hours
2026-03-17,310,labor,Frame,93.84,USD,2
2026-03-32,999,material,Screws,-8.60,EUR,
"""


@pytest.fixture(scope="module")
def issued_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder in which the first example is issued: its papers are made once."""
    made = Bookkeeper(folder=tmp_path_factory.mktemp("once") / "jobs", day=DAY)
    made.issue_example(EXAMPLE)
    assert "Issued DEMO-001, revision 1, in your folder jobs" in made.note.box.value
    assert "invented" in made.note.box.value
    return made.files.folder


@pytest.fixture
def screen(tmp_path: Path, issued_once: Path) -> Bookkeeper:
    """A copy of that folder on the screen."""
    shutil.copytree(issued_once, tmp_path / "jobs")
    return Bookkeeper(folder=tmp_path / "jobs", day=DAY)


def test_a_fresh_folder_says_what_to_do_and_writes_nothing(tmp_path):
    """No issued estimate: a sentence, an example to try, and no folder made; the rest is not shown."""
    screen = Bookkeeper(folder=tmp_path / "jobs")
    assert "Nothing is issued in your folder jobs yet" in screen.note.box.value
    assert screen.choice.layout.display == "none"  # nothing to choose from
    assert "invented" in screen.note.box.value
    assert screen.body.layout.display == "none"
    assert ("Example: stone apron single bowl", EXAMPLE) in screen.example.options
    assert list(tmp_path.iterdir()) == []
    for make in (screen.workbook, screen.contract.sign, screen.purchase_list, screen.spent.empty_table, lambda: screen.book_file(".csv")):
        with pytest.raises(KitError, match="No issued estimate is open"):
            make()


def test_the_example_is_issued_into_the_folder_and_said_to_be_invented(screen):
    """The document and what is sent with it, opened at once; the row to issue another goes away."""
    assert {path.name for path in screen.files.folder.iterdir()} == {"DEMO-001-r01", "DEMO-001-r01.json", LEDGER_FILE}
    assert (screen.trial.layout.display, screen.body.layout.display) == ("none", "")
    made = open_issued(screen.files.folder / "DEMO-001-r01.json").estimate
    assert format_money(made.price) in screen.facts.value


def test_only_examples_are_issued_here(screen):
    """The estimator issues jobs; this screen never does."""
    with pytest.raises(KitError, match="is no example"):
        screen.issue_example("my_job.toml")
    with pytest.raises(KitError, match="is no example"):
        screen.issue_example("examples/../../secret.toml")


def test_control_totals_are_those_of_the_text_of_the_file(screen):
    """All totals agree, in words; count and sums are those of the downloaded rows."""
    name, mime, content = screen.book_file(".csv")
    rows = list(csv.DictReader(io.StringIO(content.decode(), newline="")))
    price = sum_money([Decimal(row["sell"]) for row in rows])
    assert (name, mime) == ("DEMO-001-r01-books.csv", "text/csv;charset=utf-8")
    assert price == screen.issued.estimate.price
    assert len(screen.control) == screen.totals.value.count("<td>\u2713 agrees</td>") > 30
    assert f">{len(rows)}<" in screen.totals.value
    assert f">{price}<" in screen.totals.value
    assert f"\u2713 agrees: all {len(screen.control)} totals" in screen.totals.value
    assert json.loads(screen.book_file(".control.json")[2])["count"] == len(rows)
    assert json.loads(screen.book_file(".datapackage.json")[2])["resources"][0]["path"] == name


def test_totals_that_differ_are_said_and_not_to_be_imported(screen, monkeypatch):
    """A row that is lost on the way shows as words, not only in the numbers."""

    def lose_a_row(*given, **more):
        files = sent_files(*given, **more)
        name = next(name for name in files if name.endswith("-books.csv"))
        lines = files[name].split(b"\r\n")
        return {**files, name: b"\r\n".join([*lines[:3], *lines[4:]])}

    monkeypatch.setattr("kit.panels.bookkeeper.sent_files", lose_a_row)
    screen.open("DEMO-001-r01.json")
    assert "\u25a0 differs: " in screen.totals.value
    assert "Do not import" in screen.totals.value


def test_files_are_those_of_the_issued_estimate(screen):
    """Workbook, purchase list and bill open and hold its figures; the names say number and revision."""
    made = screen.issued.estimate
    name, _, content = screen.workbook()
    book = load_workbook(io.BytesIO(content), data_only=True)
    values = [cell.value for row in book.worksheets[0].iter_rows() for cell in row if isinstance(cell.value, (int, float))]
    assert name == "DEMO-001-r01.xlsx"
    assert any(f"{value:.2f}" == f"{made.price}" for value in values)
    name, _, content = screen.purchase_list()
    bought = sum_money([one.amount for one in made.purchases if one.supplier != made.lists.company.name])
    assert name == "DEMO-001-r01-purchases.pdf"
    assert f"Total {format_money(bought)}" in text_of(content)


def test_posting_rows_are_downloaded_with_their_totals(screen):
    """None before anything is billed; then a row with both accounts, dated by the bill, and totals that agree."""
    screen.contract.sign()
    with pytest.raises(KitError, match="Nothing was billed, paid or spent yet"):
        screen.contract.posting_file(".csv")
    screen.contract.bill()
    name, _, content = screen.contract.posting_file(".csv")
    (row,) = csv.DictReader(io.StringIO(content.decode(), newline=""))
    assert name == "DEMO-001-postings.csv"
    assert (row["debit_account"], row["credit_account"], row["date"]) == ("Accounts receivable", "Customer deposits", DAY.isoformat())
    assert row["amount"] == f"{screen.contract.contract.state.bills[0].bill.amount}"
    assert "\u2713 agrees: all" in screen.contract.totals.value
    assert json.loads(screen.contract.posting_file(".control.json")[2])["debits"] == row["amount"]


def test_signed_billed_and_paid_stand_in_the_ledger(screen):
    """Each button writes one event; the paper holds the amount of the ledger; what comes next is said."""
    contract = screen.contract
    assert contract.bill_button.disabled
    contract.sign()
    contract.bill()
    contract.amount.value = "892.11"  # the label names the currency
    contract.pay()
    contract.bill()
    state = contract.contract.state
    assert [one.bill.number for one in state.bills] == [1, 2]
    assert f"{state.received}" == "892.11"
    name, _, content = contract.paper()
    assert name == "DEMO-001-bill-2.pdf"
    assert format_money(state.bills[1].bill.amount) in text_of(content)
    assert "January 4, 2100" in text_of(content)
    assert contract.facts.value.count("next to bill") == 1
    assert "bill 1, paid<" in contract.facts.value
    assert f"bill 2, pay by {format_day(state.bills[1].bill.pay_by)}<" in contract.facts.value
    again = Bookkeeper(folder=screen.files.folder, day=DAY)
    assert again.contract.contract.state == state


def test_what_the_ledger_refuses_is_said_on_the_screen(screen):
    """No day, another currency, a second signature: in words, nothing written."""
    contract = screen.contract
    contract.day.value = None
    with pytest.raises(KitError, match=r"The day is missing\. Give one\."):
        contract.sign()
    contract.day.value = DAY
    contract.sign()
    with pytest.raises(KitError, match="was signed on Mon, Jan 4, 2100"):
        contract.sign()
    for back in (False, True):
        contract.amount.value = "0"
        with pytest.raises(KitError, match=r"A payment of 0 is none\. Give what was paid\."):
            contract.pay(back=back)
    contract.amount.value = "12 EUR"
    contract.paid_button.click()
    assert "12 EUR" in contract.note.box.value
    assert "alert" in contract.note.box.value
    assert contract.contract.state.last == 2
    with pytest.raises(KitError, match="There is no paper yet"):
        contract.paper()


def test_what_is_to_do_next_stands_on_top(screen):
    """One primary button, for what comes first: sign, bill, collect before the next bill, then the end. What can't be had yet is not offered."""
    contract, changes = screen.contract, screen.changes

    def on_top():
        buttons = [one for one in walk(contract.top) if isinstance(one, Button) and one.layout.display != "none"]
        return [one.description for one in buttons if "sk-primary" in one._dom_classes], [one.description for one in buttons]

    assert on_top() == (["Customer signed"], ["Customer signed"])
    assert contract._papers_row.layout.display == changes._form.layout.display == changes._orders_row.layout.display == "none"
    assert "A change order follows the signature" in changes.standing.value
    contract.sign()
    assert on_top() == (["Make the next bill"], ["Make the next bill"])
    assert (changes._form.layout.display, changes.standing.value) == ("", "")
    contract.bill()
    bill = contract.contract.state.bills[0].bill
    assert on_top() == (["Payment came in"], ["Payment came in", "Make the next bill"])
    assert contract.amount.placeholder == f"such as {bill.amount}"
    assert contract._papers_row.layout.display == ""
    assert f"<dt>Due</dt><dd>{format_money(bill.amount)}</dd>" in contract.sums.value
    while contract.contract.state.left:
        contract.bill()
    contract.amount.value = f"{contract.contract.state.contract_sum} USD"
    contract.pay()
    assert on_top() == (["Close the contract"], ["Close the contract"])
    contract.reason.value = "done"
    contract.close()
    assert on_top() == ([], [])
    assert "<b>Nothing more to do</b></p>" in contract.next.value
    assert contract.sums.value.count("Closed: done.") == 1
    assert contract._any_time.children == ()  # no payment is asked for any more
    assert "<summary>Closed: 1</summary><table class='sk-table sk-few' data-name='Closed'><caption class='sk-unseen'>Closed<" in screen.contracts.value


def test_an_overdue_payment_says_so_in_its_row_and_the_ledger_stands_by_day(screen):
    """Two bills, the first was to be paid ten days after the signature; a payment written down late stands by the day on which it came in."""
    contract = screen.contract
    contract.day.value = DAY - dt.timedelta(days=30)
    contract.sign()
    contract.bill()
    contract.day.value = DAY
    contract.bill()
    first, second = contract.contract.state.bills
    assert f">bill 1, overdue, was due {format_day(first.bill.pay_by)}<" in contract.facts.value
    assert f">bill 2, pay by {format_day(second.bill.pay_by)}<" in contract.facts.value
    came = DAY - dt.timedelta(days=3)
    contract.day.value, contract.amount.value = came, f"{first.bill.amount} USD"
    contract.pay()
    assert ">bill 1, paid<" in contract.facts.value
    told = re.findall(r"<tr><td[^>]*>([^<]*)</td><td[^>]*>([^<]*)<", contract.events_table.value)
    assert [words.split(":")[0].split(" $")[0] for _, words in told[:4]] == ["Bill 2", "Customer paid", "Bill 1", "Customer signed DEMO-001-r01"]


def test_contracts_stand_in_a_list_the_due_ones_first(screen):
    """Two jobs: an offer that was touched last, and a bill that is not paid; a press on a row opens its page. What comes next is said with its amount."""
    contract = screen.contract
    assert "Not signed yet" in contract.next.value
    contract.sign()
    contract.bill()
    bill = contract.contract.state.bills[0].bill
    screen.issue_example("examples/counter_stays_sink_only.toml")
    rows = list_contracts(screen.files.folder)
    assert [(row.state.number, row.due, row.customer != "") for row in rows] == [("DEMO-001", bill.amount, True), ("DEMO-005", Decimal("0.00"), True)]
    first, second = (part.split("</tr>")[0] for part in screen.contracts.value.split("<tbody>")[1:])
    assert f">{format_money(bill.amount)}</td><td data-label='State' data-value='0'>to pay by " in first
    assert "offered, not signed" in second
    assert "aria-current=page" in second
    assert "; 1 with something due<" in screen.contracts.value
    tools = next(one for one in walk(screen.screen) if isinstance(one, PageTools) and not one.label)
    tools._receive(None, {"type": "why", "about": "contract:DEMO-001-r01.json"}, None)
    assert screen.issued.number == "DEMO-001"
    left = contract.contract.state.left[0]
    assert f"Bill 1 is open, to be paid by {format_day(bill.pay_by)}. {format_money(bill.amount)} is not paid." in contract.next.value
    assert f"Bill 2: {left.label[0].lower()}{left.label[1:]}, {format_money(left.due)}" in contract.next.value
    assert contract._reminder.layout.display == "none"
    screen.open("DEMO-005-r01.json")
    late = bill.pay_by + dt.timedelta(days=1)
    screen = Bookkeeper(folder=screen.files.folder, day=late)
    contract = screen.contract
    assert screen.issued.number == "DEMO-001"  # what is overdue is open, not the offer that was issued after it
    assert contract._reminder.layout.display == ""
    contract.day.value = DAY  # of an entry: it is overdue all the same
    assert contract._reminder.layout.display == ""
    reminder = contract.reminder()
    assert reminder.name == f"DEMO-001-reminder-{late}.pdf"
    assert format_money(bill.amount) in text_of(reminder.content)
    assert contract.contract.state.last == contract.contract.ledger.events("DEMO-001")[-1].id  # it is not written down
    assert "<b>overdue, was due " in screen.contracts.value
    assert "to pay by" not in screen.contracts.value
    assert f"<p role='alert'>Bill 1 is overdue: it was to be paid by {format_day(bill.pay_by)}." in contract.next.value
    assert contract.next.value.index("Ask for it before you make another bill.") < contract.next.value.index("Bill 2:")
    table = screen.contracts.value
    assert table.count("class='sk-sort'") == 2 * len(("Job", "Customer", "Sum", "Billed", "Paid", "Held back", "Due", "State"))
    assert table.count("<details>") == 1  # offers, folded while none of them is open
    assert screen.choice.options == (("Invented Customer Five, DEMO-005", "DEMO-005-r01.json"), ("Invented Customer One, DEMO-001", "DEMO-001-r01.json"))
    contract.amount.value = f"{bill.amount} USD"
    contract.pay()
    assert "role='alert'" not in contract.next.value


def test_what_was_spent_is_set_against_the_estimate(screen, lists):
    """The table on the screen is the kit's own comparison, to the cent."""
    screen.spent.pick(SPENT)
    found = compare_spent(screen.issued.estimate, read_spent(kit.shipped("examples") / SPENT.removeprefix("examples/"), lists))
    assert screen.spent.comparison == found
    for row in (*found.codes, found.total):
        assert format_money(row.spent) in screen.spent.table.value
        assert format_money(row.difference) in screen.spent.table.value
    assert "Nothing spent on: 710 Wall." in screen.spent.table.value
    assert "$12.40, not estimated<" in screen.spent.table.value  # beside its bar
    frame = next(row for row in found.codes if row.code == "310")
    beside_bar = f"$714.25 of {format_money(frame.estimated)}; {frame.hours_spent:.1f} of {frame.hours_estimated:.1f} h<"
    assert beside_bar in screen.spent.table.value
    assert ">not estimated<" in screen.spent.table.value
    assert "Spent without an estimate on: 430 Disposer." in screen.spent.table.value
    assert "28 rows, no faults, not written yet. Spent $6,572.46" in screen.spent.note.box.value


def test_only_the_bars_that_a_page_shows_are_drawn(screen):
    """Both while no page has said its own layout, then that of the page, and the other one as soon as a page wants it."""
    tools = next(one for one in walk(screen.screen) if isinstance(one, PageTools) and not one.label)
    shown = []
    screen.spent.pick(SPENT)
    for narrow in (None, True, False):
        if narrow is not None:
            tools._receive(None, {"type": "layout", "narrow": narrow}, None)
        if narrow is True:
            screen.spent.pick(SPENT)
        shown.append(("sk-drawing sk-at-desk'" in screen.spent.table.value, "sk-drawing sk-on-phone'" in screen.spent.table.value))
    assert shown == [(True, True), (False, True), (True, True)]


def test_faults_are_told_by_row_and_nothing_is_taken(screen):
    """One report; what stood there before is gone, so that nobody reads it as the new table."""
    screen.spent.pick(SPENT)
    screen.spent.bring("mine.csv", FAULTY.encode())
    assert "mine.csv: 4 faults." in screen.spent.note.box.value
    assert "role='alert'" in screen.spent.note.box.value
    for wanted in ("<td class='sk-number'>3</td><td>date</td>", "<td>cost_code</td>", "<td>currency</td>", "<td>amount</td>"):
        assert wanted in screen.spent.table.value
    assert screen.spent.comparison is None
    assert screen.spent.write_button.disabled
    with pytest.raises(KitError, match="There is no sound table to record"):
        screen.spent.write()
    screen.spent.bring("mine.xlsx", b"no workbook")
    assert "mine.xlsx" in screen.spent.note.box.value
    assert "is not an XLSX workbook" in screen.spent.table.value


def test_text_of_a_table_is_never_markup(screen):
    """What a file holds is shown as text, in the table, in its faults and in its name."""
    evil = "<img src=x onerror=alert(1)>"
    screen.spent.bring(f"{evil}.csv", FAULTY.replace("999", evil).encode())
    assert "<img" not in screen.spent.table.value + screen.spent.note.box.value
    assert "&lt;img" in screen.spent.table.value


def test_an_upload_is_taken_like_a_picked_file(screen):
    """As the widget gives it; the same file may be brought again."""
    content = (kit.shipped("examples") / SPENT.removeprefix("examples/")).read_bytes()
    for _ in range(2):
        screen.spent.upload.box.children[0].value = (
            {"name": "mine.csv", "type": "text/csv", "size": len(content), "content": memoryview(content), "last_modified": dt.datetime.now(dt.UTC)},
        )
        assert screen.spent.comparison is not None
        assert screen.spent.upload.box.children[0].value == ()
    assert "mine.csv: 28 rows, no faults, not written yet." in screen.spent.note.box.value


def test_a_table_stands_in_the_ledger(screen):
    """Written once; another screen opens with it; nothing lies beside the revision."""
    screen.spent.pick(SPENT)
    foreseen = screen.spent.comparison
    assert "Over direct cost the price leaves" in screen.spent.table.value
    screen.spent.write()
    assert "Over direct cost" not in screen.spent.table.value  # what is left stands below
    assert "28 rows recorded in the ledger. Spent $6,572.46" in screen.spent.note.box.value
    assert [(row.code, row.spent, row.estimated) for row in screen.spent.comparison.codes] == [(row.code, row.spent, row.estimated) for row in foreseen.codes]
    assert "Margin when all is done" in screen.spent.cost_table.value
    assert "Earned value by step" in screen.spent.cost_table.value
    assert "None of the 44.00 hours spent names a step: they stand by cost code only." in screen.spent.cost_table.value
    assert {path.name for path in screen.files.folder.iterdir()} == {"DEMO-001-r01", "DEMO-001-r01.json", LEDGER_FILE}
    screen.spent.pick(SPENT)
    with pytest.raises(KitError, match="All 28 rows are in its ledger already"):
        screen.spent.write()
    assert "<summary>Earlier entries: 21</summary>" in screen.contract.events_table.value  # of the offer and 28 rows all but the last 8
    again = Bookkeeper(folder=screen.files.folder, day=DAY)
    assert "In the ledger: Spent $6,572.46" in again.spent.note.box.value
    again.issue_example("examples/counter_stays_sink_only.toml")
    assert again.issued.number == "DEMO-005"
    assert "The ledger of this contract has no spending yet" in again.spent.note.box.value


def test_what_finished_jobs_teach_is_shown_on_demand(screen):
    """An open job teaches nothing; once it is billed and closed it does, from too few jobs to propose anything."""
    contract, lessons = screen.contract, screen.lessons
    contract.sign()
    screen.spent.pick(SPENT)
    screen.spent.write()
    lessons.learn()
    assert "What finished jobs teach (0 jobs)" in lessons.table.value
    while contract.contract.state.left:
        contract.bill()
    contract.show(contract.of_contract().write(closing_of(contract.contract.state, "done"), DAY))
    assert lessons.table.value == ""  # it may be another answer by now
    lessons.learn()
    assert lessons.learning.finished == 1
    assert "What finished jobs teach (1 job)" in lessons.table.value
    assert "Nothing is proposed." in lessons.table.value
    assert lessons._decide.layout.display == "none"
    with pytest.raises(KitError, match="Nothing is chosen under To decide"):
        lessons.accept()


def test_a_person_decides_on_the_screen_what_jobs_teach(tmp_path, monkeypatch):
    """Refused with a reason, then the others accepted into a new dated folder beside the jobs that says who; an invented history is its own demonstration."""
    small = kit.read_job(kit.shipped("examples") / "counter_stays_sink_only.toml")
    monkeypatch.setattr(invented, "_examples", lambda: [small])
    monkeypatch.setattr(invented, "_SIGNED", {"top": 1.0})
    invented.write_invented_history(tmp_path / "jobs", jobs=9, seed=4)
    screen = Bookkeeper(folder=tmp_path / "jobs", day=DAY)
    lessons = screen.lessons
    lessons.learn()
    assert "the rates named here move by one ratio" in " ".join(lessons.table.value.split())
    assert "sk-few" in lessons.table.value  # cards on a telephone
    assert all(
        re.fullmatch(r"(Hours|Waste|Wait): .+: now [\d.]+(%| days), \d+ jobs took [\d.]+(%| days), learned [\d.]+(%| days)(, not clear)?", words)
        for words, _ in lessons.lessons.options
    )
    first, second, *_ = (subject for _, subject in lessons.lessons.options)
    lessons.lessons.value = (first, second)
    with pytest.raises(KitError, match="Refuse one at a time"):
        lessons.refuse()
    lessons.lessons.value = (first,)
    with pytest.raises(KitError, match="Give one under Why so"):
        lessons.refuse()
    with pytest.raises(KitError, match="Give one under Who decides"):
        lessons.accept()
    lessons.why.value, lessons.who.value = "a new helper", "Pat"
    lessons.refuse()
    assert first not in [subject for _, subject in lessons.lessons.options]
    assert re.search(r"Refused (&quot;|\")(Hours|Waste|Wait): ", lessons.note.box.value)
    lessons.lessons.value, lessons.valid_from.value = (second,), dt.date(2100, 2, 1)
    lessons.accept()
    assert "Written: invented_price_lists_2100-02-01 in " in lessons.note.box.value
    lists = kit.load_lists(tmp_path / "invented_price_lists_2100-02-01")
    assert any("accepted by Pat on 2100-01-04" in text for text in lists.texts.values())
    with pytest.raises(KitError, match="Press Read the finished jobs first"):
        lessons.accept()


def test_a_job_that_stands_out_is_counted_by_hand(tmp_path, monkeypatch):
    """The list says of which job and of what; counted with a reason, it stands out no longer."""
    small = kit.read_job(kit.shipped("examples") / "counter_stays_sink_only.toml")
    monkeypatch.setattr(invented, "_examples", lambda: [small])
    monkeypatch.setattr(invented, "_SIGNED", {"top": 1.0})
    invented.write_invented_history(tmp_path / "jobs", jobs=9, seed=8)
    lessons = Bookkeeper(folder=tmp_path / "jobs", day=DAY).lessons
    lessons.learn()
    (words, job), *others = lessons.strays.options
    assert re.fullmatch(rf"{job} \((Hours|Waste|Wait): .+\)", words)
    with pytest.raises(KitError, match="Give one under Why so"):
        lessons.take_in()
    lessons.who.value, lessons.why.value = "Pat", "the road was closed; it happens"
    lessons.take_in()
    assert f"{job} counts from now on." in lessons.note.box.value
    assert list(lessons.strays.options) == others


def test_a_table_that_waits_stays_while_the_contract_goes_on(screen):
    """Signing does not take it off the screen; another contract does."""
    screen.spent.pick(SPENT)
    seen = screen.spent.comparison
    screen.contract.sign()
    assert screen.spent.comparison is seen
    screen.spent.write()
    assert screen.spent.write_button.disabled
    screen.spent.pick(SPENT)
    screen.issue_example("examples/counter_stays_sink_only.toml")
    assert screen.spent.comparison is None
    assert screen.spent.write_button.disabled


def test_one_amount_is_written_as_typed(screen):
    """From the controls into the ledger; what is only ordered is committed; a fault is told by its control's column."""
    one = screen.spent.one
    one["amount"].value, one["text"].value, one["cost_code"].value, one["cost_type"].value = "40.00 USD", "Switch", "430", "material"
    one["order"].value, one["ordered"].value = "7", True
    screen.spent.write_one()
    assert "Ordered and not billed yet" in screen.spent.cost_table.value
    assert one["cost_code"].value == "430"  # as it was chosen, for the next amount
    one["ordered"].value, one["amount"].value, one["text"].value, one["tax"].value = False, "30.00 USD", "Switch", "1.70"
    screen.spent.write_one()
    state = screen.contract.contract.state
    assert ([f"{bought.amount} {bought.tax}" for bought in state.bought], len(state.ordered)) == (["30.00 1.70"], 1)
    assert one["amount"].value == ""
    one["amount"].value, one["hours"].value = "30.00 USD", "2"
    with pytest.raises(KitError, match='hours: "2" stands with material'):
        screen.spent.write_one()


def test_steps_are_chosen_by_their_names(screen):
    """In the order of the work, as the lists name them; what goes into the ledger is the step's own name."""
    one = screen.spent.one
    names = dict(one["step"].options)
    assert list(names)[:2] == ["not known", "Visit and measure"]
    assert (names["Set the sink"], names["Coat the blank on all faces"]) == ("set-sink", "coat-blank")
    one["amount"].value, one["text"].value, one["cost_code"].value, one["cost_type"].value = "93.84 USD", "Sink", "410", "labor"
    one["hours"].value, one["step"].value = "2", names["Set the sink"]
    screen.spent.write_one()
    assert [worked.step for worked in screen.contract.contract.state.worked] == ["set-sink"]


def test_a_change_is_priced_made_out_and_signed(screen):
    """From a job file of the folder; nothing is written by pricing it; the paper is the kept one; later payments are those of the paper."""
    contract, changes = screen.contract, screen.changes
    contract.sign()
    contract.bill()
    with pytest.raises(KitError, match="Your folder has no job file with the change"):
        changes.price()
    assert "Your folder has no job file with the change. Save one on the estimator's screen. Then press Look again." in changes.none.value
    assert (changes.choice.layout.display, changes.price_button.disabled) == ("none", True)
    job = screen.files.open(EXAMPLE)
    screen.files.save(change_job(job, {"site.carry": "190 ft"}), "changed.toml")
    screen.look_again()
    assert (changes.choice.layout.display, changes.price_button.disabled, changes.none.value) == ("", False, "")
    assert "markup both ways: our work 30% on adds, 15% on credits" in [words for words, _ in changes.rule.options]
    assert max(len(words) for words, _ in changes.rule.options) <= 60  # whole in its list
    changes.choice.value, changes.reason.value = "changed.toml", "another way in"
    changes.price()
    carried = changes.changing.order.amount  # tests/change works such an amount by hand
    assert carried > 0
    assert f"Change order 1: {format_money(carried)}" in changes.table.value
    assert "is spread over the payments that are left, in proportion.</p>" in changes.table.value
    assert changes.falls.options[0] == ("all payments that are left, in proportion (as agreed)", "by-shares")
    changes.falls.value = "last-draw"
    changes.price()
    assert "falls on the last payment. This is agreed for this change only." in changes.table.value
    assert [draw.id for draw in changes.changing.draws if draw.before != draw.after] == ["punch-list"]
    changes.falls.value = "by-shares"
    assert set(changes.found) == {"cabinet-floor", "cabinet-side", "short-stub", "wall-patch"}  # as the proposal; both valves are in its price
    changes.found["short-stub"].value, changes.found["cabinet-side"].value = "two", "0"
    with pytest.raises(KitError, match=r"Lengthen a short supply stub, \$46\.00 each: \"two\" is not a number above 0"):
        changes.price()
    changes.found["short-stub"].value, changes.found["cabinet-side"].value = "2", ""
    changes.price()
    hand_found = carried + 2 * Decimal("46.00")
    assert f"Change order 1: {format_money(hand_found)}" in changes.table.value
    changes.rule.value = "credit-at-cost"
    changes.price()
    assert changes.changing.order.rule == "credit-at-cost"
    changes.rule.value, changes.found["short-stub"].value = "markup-both-ways", ""
    changes.price()
    for field in (changes.reason, changes.found["short-stub"]):  # what is on the paper is what the fields say
        kept, field.value = field.value, "3"
        assert (changes.changing, changes.table.value, changes.offer_button.disabled) == (None, "", True)
        assert "Price the change again" in changes.note.box.value
        with pytest.raises(KitError, match="Price the change first"):
            changes.offer()
        field.value = kept
        changes.price()
    assert contract.contract.state.changes == ()
    with pytest.raises(KitError, match="older than 180 days"):
        changes.offer()
    changes.despite.value = "prices were asked for again"
    changes.offer()
    assert (changes.table.value, changes.offer_button.disabled) == ("", True)
    name, _, content = changes.paper()
    assert name == "DEMO-001-r01-change-1.pdf"
    assert "another way in" in text_of(content)
    before = contract.contract.state.contract_sum
    changes.sign()
    state = contract.contract.state
    assert state.contract_sum == before + state.changes[0].order.amount
    assert state.draws == state.changes[0].order.draws
    assert changes.sign_button.disabled


def test_the_changed_job_that_stands_first_is_the_contracts_own(screen):
    """Another customer's job file was saved last: a contract changes into no other job, so its own is chosen; which of its own stays with the person."""
    job = screen.files.open(EXAMPLE)
    screen.files.save(change_job(job, {"site.carry": "190 ft"}), "changed.toml")
    screen.files.save(change_job(job, {"site.carry": "20 ft"}), "other_way.toml")
    screen.files.save(change_job(job, {"identity.job_number": "DEMO-0011", "identity.customer": "A. Nother, DEMO-001"}), "another.toml")
    screen.look_again()
    screen.contract.sign()
    assert len(screen.changes.choice.options) == 3
    own = {"changed.toml": "other_way.toml", "other_way.toml": "changed.toml"}
    assert screen.changes.choice.value in own
    chosen = screen.changes.choice.value = own[screen.changes.choice.value]
    screen.contract.bill()
    assert screen.changes.choice.value == chosen


def test_a_change_counts_its_days_from_the_signature(screen):
    """Paper, promise and crew sheet of the change tell the days of the contract as it was signed, not those expected before."""
    contract, changes = screen.contract, screen.changes
    contract.sign()
    job = screen.files.open(EXAMPLE)
    signed, changed = (change_job(job, {"terms.signed_on": DAY, "site.work_day": f"{hours} h"}) for hours in (job.site.work_day_h, 4))
    screen.files.save(change_job(job, {"site.work_day": "4 h"}), "changed.toml")
    screen.look_again()
    changes.choice.value, changes.despite.value = "changed.toml", "prices were asked for again"
    changes.price()
    lists = screen.files.lists_for(job)
    before, after = (plan_schedule(kit.estimate(one, lists)) for one in (signed, changed))
    days = (last_day(before.finish), last_day(after.finish))
    assert (changes.changing.days.done_before, changes.changing.days.done_after) == days
    changes.offer()
    revision = open_issued(screen.files.folder / "DEMO-001-r02.json")
    assert (revision.figures.starts_on, revision.figures.done_by) == (after.house_start, days[1])
    crew = text_of(revision.file("DEMO-001-r02-crew.pdf"))
    assert f"{after.house_start:%a}, {after.house_start:%b} {after.house_start.day}" in crew


def test_a_large_cut_ends_in_a_credit_a_refund_and_the_end(screen):
    """All billed and paid, then a cut: credit note, money back, closed; a slip before it is taken back with its reason."""
    contract, changes = screen.contract, screen.changes
    contract.sign()
    while contract.contract.state.left:
        contract.bill()
    contract.amount.value = f"{contract.contract.state.contract_sum} USD"
    contract.pay()
    contract.amount.value = "1.00 USD"
    contract.pay()
    contract.question.answer("It did come in")
    assert "all billed and paid; $1.00 to pay back" in screen.contracts.value
    with pytest.raises(KitError, match="The reason is missing"):
        contract.undo()
    contract.reason.value = "typed twice"
    with pytest.raises(KitError, match="No entry is chosen"):
        contract.undo()
    contract.events.value, contract.reason.value = contract.contract.state.last, "typed twice"
    contract.undo()
    assert "taken back: customer paid $1.00 of Mon, Jan 4, 2100; typed twice" in str(contract.events.options[1])
    job = change_job(screen.files.open(EXAMPLE), {"site.carry": "10 ft"})
    screen.files.save(job, "cut.toml")
    screen.look_again()
    changes.choice.value, changes.despite.value = "cut.toml", "agreed"
    changes.price()
    assert changes.changing.order.amount < 0
    changes.offer()
    changes.sign()
    owed = contract.contract.state.credit_due
    assert owed == -changes.contract.contract.state.changes[0].order.amount > 0
    contract.reason.value = "less to do"
    contract.credit()
    contract.amount.value = f"{owed} USD"
    contract.pay(back=True)
    assert contract.contract.state.receivable == 0
    contract.reason.value = "done"
    contract.close()
    assert contract.contract.state.stage == "closed"
    assert contract.close_button.disabled
    assert contract.paid_button.disabled  # all is paid
    assert changes.standing.value == "<p>This contract is closed: nothing in it can change.</p>"
    said = Bookkeeper(folder=screen.files.folder).note.box.value
    assert "Shown below: DEMO-001, revision 2." in said
    assert "open" not in said  # a word that a contract has for itself


def test_a_canceled_contract_says_what_goes_back(screen):
    """What is owed in all is typed, with the reason; the rest of what was paid is a credit; once that is written, it is said that it goes back."""
    contract = screen.contract
    contract.sign()
    contract.bill()
    contract.amount.value = f"{contract.contract.state.billed} USD"
    contract.pay()
    contract.owed.value, contract.reason.value = "0 USD", "the customer moved"
    contract.cancel()
    assert "Canceled on Mon, Jan 4, 2100: the customer moved." in contract.sums.value
    assert contract.cancel_button.disabled
    assert screen.changes.price_button.disabled
    assert screen.changes.standing.value == "<p>This contract is canceled: nothing in it can change.</p>"
    contract.reason.value = "canceled"
    contract.credit()
    owed = contract.contract.state.refund_due
    assert owed == contract.contract.state.paid > 0
    assert contract.amount.placeholder == f"such as {owed}"
    assert f"paid {format_money(owed)} more than is billed. It goes back to the customer." in contract.sums.value
    contract.reason.value = "settled"
    contract.close()
    assert "Closed: settled." in contract.sums.value
    assert not contract.refund_button.disabled


def test_what_is_left_to_pay_of_a_canceled_contract_counts_the_credit(screen):
    """A bill is open for more than is owed in all: beside it stands what the credit note that is owed leaves of it, also where the amount is typed."""
    contract = screen.contract
    contract.sign()
    contract.bill()
    assert "With the credit note" not in contract.next.value
    contract.owed.value, contract.reason.value = "100 USD", "the customer moved"
    contract.cancel()
    open_bill = contract.contract.state.bills[0].open
    assert "canceled; to pay by " in screen.contracts.value
    screen = Bookkeeper(folder=screen.files.folder, day=contract.contract.state.bills[0].bill.pay_by + dt.timedelta(days=1))
    contract = screen.contract
    assert contract._reminder.layout.display == "none"  # not before the credit note is written
    assert "canceled; <b>overdue, was due " in screen.contracts.value
    assert open_bill > 100
    assert f"{format_money(open_bill)} is not paid. With the credit note, $100.00 is left to pay." in contract.next.value
    assert "<dt>Due</dt><dd>$100.00</dd>" in contract.sums.value  # the one number to act on, in the list of contracts too
    assert [row.due for row in list_contracts(screen.files.folder)] == [Decimal(100)]
    assert contract.amount.placeholder == "such as 100.00"
    contract.reason.value = "canceled"
    contract.credit()
    assert "With the credit note" not in contract.next.value
    assert contract.amount.placeholder == "such as 100.00"


def test_more_than_is_unpaid_is_asked_about_first(screen):
    """A slip of the comma is asked about and not written; the answer writes what was asked about, and the rest stands as owed back."""
    contract = screen.contract
    contract.sign()
    contract.bill()
    before, unpaid = contract.contract.state.last, contract.contract.state.left_to_pay
    contract.amount.value = "99,999"
    contract.paid_button.click()
    assert contract.contract.state.last == before
    assert f"DEMO-001 has {format_money(unpaid)} billed and unpaid: $99,999.00 is {format_money(99999 - unpaid)} more." in contract.question.text.value
    contract.question.answer("Correct the amount")
    assert contract.contract.state.last == before
    assert contract.amount.value == "99,999"
    contract.paid_button.click()
    contract.amount.value = "1"
    contract.question.answer("It did come in")
    assert contract.contract.state.received == 99999
    beyond = 99999 - contract.contract.state.contract_sum
    assert f"{format_money(beyond)} of it is beyond the contract sum and goes back to the customer; the rest counts toward the bills" in contract.sums.value
    assert contract.question.box.layout.display == "none"


def test_a_contract_is_closed_unpaid_only_with_the_reason_why(screen):
    """Canceled with 100.00 owed and not paid: what is unpaid is said, the answer closes it, and amount and reason stand in the ledger."""
    contract = screen.contract
    contract.sign()
    contract.owed.value, contract.reason.value = "100 USD", "the customer moved"
    contract.cancel()
    contract.bill()
    contract.reason.value = "written off"
    contract.close_button.click()
    assert "DEMO-001 has $100.00 billed and unpaid. Close it all the same? The reason stays in the ledger: written off." in contract.question.text.value
    contract.question.answer("Leave it open")
    assert contract.contract.state.stage == "signed"
    contract.close_button.click()
    contract.question.answer("Close it unpaid")
    assert contract.contract.state.stage == "closed"
    assert not contract.paid_button.disabled  # what is owed may still come in
    assert "Contract closed with $100.00 unpaid: written off" in contract.events_table.value
    assert "Closed: written off. $100.00 is unpaid." in contract.sums.value
    assert "closed with $100.00 unpaid" in screen.contracts.value


def test_what_can_not_be_undone_waits_for_its_fields(screen):
    """Canceling wants amount and reason, taking back an entry and the reason; no field looks as if it were filled."""
    contract = screen.contract
    contract.sign()
    assert contract.cancel_button.disabled
    assert contract.undo_button.disabled
    contract.reason.value = "typed twice"
    assert contract.cancel_button.disabled
    assert contract.undo_button.disabled  # no entry is chosen
    contract.events.value = contract.contract.state.last
    assert not contract.undo_button.disabled
    contract.owed.value = "0"
    assert not contract.cancel_button.disabled
    contract.reason.value = "  "
    assert contract.cancel_button.disabled
    assert contract.undo_button.disabled
    fields = (contract.amount, contract.how, contract.reason, contract.owed, *(one for one in screen.spent.one.values() if getattr(one, "placeholder", "")))
    assert [one.placeholder for one in fields if not one.placeholder.startswith("such as ")] == []


def test_nothing_outside_the_folder_is_read(screen, tmp_path):
    """Neither by name nor through a link."""
    outside = tmp_path.parent / f"{tmp_path.name}-outside"
    outside.mkdir()
    path = issue_estimate(screen.issued.estimate, outside, today=ISSUED)
    (outside / "spent.csv").write_text("secret", encoding="utf-8")
    for name in ("../secret-r01.json", str(path), "DEMO-001-r01.json/../x-r01.json", ".hidden-r01.json"):
        with pytest.raises(KitError, match="is not a plain file name"):
            screen.open(name)
    with pytest.raises(KitError, match="is no table of this folder"):
        screen.spent.pick("../spent.csv")
    (screen.files.folder / "LINK-r01.json").symlink_to(path)
    (screen.files.folder / "link.csv").symlink_to(outside / "spent.csv")
    screen.look_again()
    assert "LINK-r01.json" not in [name for _, name in screen.choice.options]
    assert "link.csv" not in screen.spent.choice.options
    with pytest.raises(KitError, match="leads out of this folder"):
        screen.open("LINK-r01.json")
    with pytest.raises(KitError, match="is no table of this folder"):
        screen.spent.pick("link.csv")


def test_an_estimate_that_was_changed_leaves_the_screen_as_it_is(screen):
    """Chosen in the list it is refused in words; list and screen stay with what was open."""
    shown = screen.facts.value
    text = (screen.files.folder / "DEMO-001-r01.json").read_text(encoding="utf-8")
    (screen.files.folder / "DEMO-001-r02.json").write_text(text.replace('"revision": 1', '"revision": 2'), encoding="utf-8")
    screen.look_again()
    screen.choice.value = "DEMO-001-r02.json"
    assert "was changed after it was issued" in screen.note.box.value
    assert "role='alert'" in screen.note.box.value
    assert (screen.facts.value, screen.choice.value) == (shown, "DEMO-001-r01.json")


def test_a_folder_whose_last_file_is_none_still_opens_the_others(screen):
    """What can't be opened is told, nothing of it is shown, and another one can be chosen; a contract of the ledger opens by itself."""
    kept, folder = screen.files.folder / "DEMO-001-r01.json", screen.files.folder
    (folder / "BAD-r01.json").write_text("{}", encoding="utf-8")
    assert Bookkeeper(folder=folder, day=DAY).issued.number == "DEMO-001"
    away = kept.rename(folder / "away")
    other = Bookkeeper(folder=folder, day=DAY)
    assert "BAD-r01.json is not an issued estimate" in other.note.box.value
    assert (other.issued, other.body.layout.display) == (None, "none")
    away.rename(kept)
    other.choice.options = (*other.choice.options, kept.name)
    other.choice.value = kept.name
    assert other.issued.number == "DEMO-001"
    assert other.body.layout.display == ""


def test_an_issued_estimate_that_is_gone_leaves_the_screen(screen):
    """Deleted by a person: Look again says that nothing is issued."""
    (screen.files.folder / "DEMO-001-r01.json").unlink()
    screen.look_again()
    assert (screen.issued, screen.body.layout.display, screen.trial.layout.display) == (None, "none", "")
    assert "Nothing is issued" in screen.note.box.value


def test_an_estimate_of_the_estimator_is_found(tmp_path):
    """What Issue writes on the estimator's screen opens here after Look again; other files are passed over."""
    screen = Bookkeeper(folder=tmp_path / "jobs")
    screen.files.folder.mkdir()
    (screen.files.folder / "notes.json").write_text("{}", encoding="utf-8")
    files = JobFiles(screen.files.folder)
    job = files.open("examples/wood_apron_two_bowl.toml")
    issue_estimate(kit.estimate(job, files.lists_for(job)), screen.files.folder, today=job.identity.visit_date)
    screen.look_again()
    assert screen.issued.number == "DEMO-002"
    assert screen.choice.options == (("DEMO-002", "DEMO-002-r01.json"),)


def test_a_change_of_the_list_opens_the_other_revision(screen):
    """Choosing is enough; the bills and totals are then of that one."""
    screen.issue_example("examples/counter_stays_sink_only.toml")
    assert screen.choice.value == "DEMO-005-r01.json"
    screen.choice.value = "DEMO-001-r01.json"
    assert screen.issued.number == "DEMO-001"
    assert screen.contract.contract.state.number == "DEMO-001"
    assert screen.book_file(".csv")[0] == "DEMO-001-r01-books.csv"
