"""While the customer looks on, neither the page nor any message to it holds cost, wage, margin or hours; a reload does not end it."""

import datetime as dt
import io
import re
from dataclasses import replace
from html import escape
from pathlib import Path

import openpyxl
import pytest
from ipywidgets import ToggleButtons
from paper_text import text_of
from turning import control, wait_for, walk

import kit
from kit.contract.contract_file import bill_contract, open_contract
from kit.contract.spending import one_spent, record_spending
from kit.draw.why import explain_number
from kit.errors import KitError
from kit.export.proposal_words import scope_rows
from kit.job import change_job
from kit.labor.clock import last_day
from kit.money import format_money
from kit.outlook import plan_schedule
from kit.panels import Estimator
from kit.panels.customer_view import draw_customer_view
from kit.panels.screen import DownloadFile
from kit.panels.verdict import draw_verdict
from kit.panels.visit_steps import STEPS
from kit.units import format_day, format_days, format_long_day

LEAST = 20  # USD: smaller amounts may be any other number
STALE = "The paper was made before the estimate was issued or signed. Make it again."
EXAMPLE = kit.shipped("examples") / "stone_apron_single_bowl.toml"


def secrets(screen: Estimator) -> list[str]:
    """What must not be told: amounts of purchases, work, cost and all that is added to it, but for what the customer pays."""
    made = screen.estimate
    amounts = {one.amount for one in (*made.purchases, *made.tasks)} | {row.amount for row in made.build_up}
    told = {f"{amount:,.2f}" for amount in amounts - {made.price} if amount > LEAST}
    return [*told, "Overhead", "wage", "Margin", "Profit", "Own hours"]


def test_no_message_holds_cost(tmp_path: Path, sent):
    """Turned on from any step, changed from there, and after a new start; the work is back when it is turned off."""
    screen = Estimator(EXAMPLE, folder=tmp_path / "jobs", day=dt.date(2026, 3, 2))
    for step in STEPS:
        screen.go(step.id)
    assert any(secret in message for secret in secrets(screen) for message in sent)  # the work does tell
    screen.ask_why("row:cost")
    sent.clear()
    screen._pressed("F2")
    screen.ask_why("row:cost")
    assert "Why? Set the sink<" in explain_number(screen.estimate, "task:set-sink", private=True)  # by its name
    screen.go("papers")
    screen.state.change({"cabinet.width": "39 in"})
    screen.state.settle()
    with pytest.raises(KitError, match="Papers are not made in the customer's view"):
        screen.papers.make("Workbook")
    assert screen.shown_price == format_money(screen.estimate.price)
    assert [secret for secret in secrets(screen) if any(secret in message for message in sent)] == []
    assert "Care" in screen.customer.value
    assert "hidden" not in screen.customer.value
    assert "color and finish: still to choose" in screen.customer.value
    assert "__" not in screen.customer.value  # on a screen nobody writes on a line
    heads = re.findall("<th[^>]*col[^>]*>(.*?)</th>", screen.customer.value)
    assert heads == ["What", "As planned", "What", "As written down", "What", "When", "What", "How to look after it"]
    sent.clear()
    again = Estimator(folder=tmp_path / "jobs")
    assert again.looked_on
    assert again.shown_price == format_money(again.estimate.price)
    assert [secret for secret in secrets(again) if any(secret in message for message in sent)] == []
    again._pressed("F2")
    assert not again.looked_on
    assert control(again, "terms.profit").value == ""
    assert not Estimator(folder=tmp_path / "jobs").looked_on


def test_a_signed_contract_stands_in_place_of_the_price(tmp_path: Path, sent):
    """The customer signed a sum: a change on the screen waits for a change order, a canceled contract says so; no message holds the new price."""
    screen = Estimator(EXAMPLE, folder=tmp_path / "jobs", day=dt.date(2026, 3, 2))
    signed = format_money(screen.estimate.price)
    screen.promise.reason.value = "An invented example"
    screen.promise.issue()
    waits = "differs from what you signed: it waits for a change order. Until you sign one, this sum stands."

    def looked_at() -> str:
        screen.look_on(customer=True)
        return screen.customer.value

    assert "contract" not in looked_at()  # offered, not signed
    screen.look_on(customer=False)
    screen.promise.open_contract()
    screen.promise.contract.sign()
    signed_on = screen.promise.contract.of_contract().state.signed_on
    assert "This is the sum of your contract.</p>" in looked_at()
    assert f"You have signed</th><td>{format_long_day(signed_on)}<" in screen.customer.value
    assert "You sign (expected)" not in screen.customer.value
    sent.clear()
    screen.state.change({"site.carry": "200 ft"})
    screen.state.settle()
    price = format_money(screen.estimate.price)
    assert price != signed
    assert (screen.shown_price, waits in screen.customer.value) == (signed, True)
    assert [told for told in (*secrets(screen), price.removeprefix("$")) if any(told in message for message in sent)] == []
    screen.state.replace(kit.new_job("apron-under-stone", screen.state.lists, number="DEMO-001", day="2026-03-02"))  # no price yet: the contract stands
    assert screen.state.priced is None
    assert (screen.shown_price, waits in screen.customer.value) == (signed, True)
    screen.look_on(customer=False)
    screen.state.undo()
    screen.promise.open_contract()
    contract = screen.promise.contract
    contract.owed.value, contract.reason.value = "200", "The invented customer moved"
    contract.cancel()
    assert "The contract was canceled. This is what the work done comes to in all" in looked_at()
    assert not any(heading in looked_at() for heading in ("What you get", "Your choices", "Days", "<svg"))
    assert screen.shown_price == "$200.00"


def test_a_customer_reads_which_sink_it_is_and_what_to_bring(example_estimate):
    """Each part of the proposal's scope, in its words; what the customer supplies says so."""
    page = draw_customer_view(example_estimate)
    for row in scope_rows(example_estimate):
        assert escape(row["what"]) in page
    assert page.count("supplied by you") == sum((row["brought"], row["fitted"] == "you") == ("you", False) for row in scope_rows(example_estimate))


@pytest.mark.parametrize(
    ("who", "says"),
    [
        ({"supplied_by": "customer", "installed_by": "us"}, "without its supply hoses, which we bring; supplied by you<"),
        ({"supplied_by": "customer", "installed_by": "customer"}, "with its supply hoses; supplied and installed by you<"),
        ({"supplied_by": "us", "installed_by": "customer"}, "without supply hoses; installed by you<"),
        ({"supplied_by": "us", "installed_by": "us"}, "with its supply hoses<"),
    ],
)
def test_a_customer_reads_whose_part_it_is(lists, who, says):
    """As the scope of the job has it."""
    job = change_job(kit.read_job(EXAMPLE), {f"scope.faucet.{key}": value for key, value in who.items()})
    assert says in draw_customer_view(kit.estimate(job, lists))


def test_the_head_of_the_screen_says_from_which_day_its_days_count():
    """Ten days to sign after the visit of March 2 is March 12; a signature that the terms name is told as one."""
    lists = kit.load_lists(kit.shipped("price_lists"))
    lists = replace(lists, company=replace(lists.company, days_to_sign=10))
    job = kit.change_job(kit.read_job(EXAMPLE), {"identity.visit_date": "2026-03-02"})
    signed = kit.change_job(job, {"terms.signed_on": "2026-03-20"})
    assert "Done by, if signed Thu, Mar 12<" in draw_verdict(job, kit.estimate(job, lists), at_rest=True)
    assert "Done by, signed Fri, Mar 20<" in draw_verdict(signed, kit.estimate(signed, lists), at_rest=True)


def test_the_days_of_the_screen_count_from_the_signature_in_the_ledger(tmp_path: Path):
    """Head, calendar and customer's view tell the same last day, also after a reload and of a job that has moved since; a canceled contract has none."""
    screen = Estimator(EXAMPLE, folder=tmp_path / "jobs", day=dt.date(2026, 3, 4))
    screen.promise.reason.value = "An invented example"
    screen.issue()
    assert "Done by, if signed Sat, Mar 7<" in screen.headline.value
    screen.go("papers/calendar")
    expected = screen.content.view.value
    contract = screen.promise.contract
    contract.day.value = dt.date(2026, 3, 20)
    contract.sign()
    signed = kit.estimate(kit.change_job(screen.job, {"terms.signed_on": "2026-03-20"}), screen.state.lists)
    hand_done = last_day(kit.plan_schedule(signed).finish)
    in_short = format_day(hand_done, beside=dt.date(2026, 3, 2))
    assert f"Done by, signed Fri, Mar 20</small> {in_short}" in screen.headline.value
    assert expected != screen.content.view.value
    assert in_short in screen.content.view.value
    screen.look_on(customer=True)
    assert format_long_day(hand_done) in screen.customer.value
    screen.look_on(customer=False)
    again = Estimator(EXAMPLE, folder=tmp_path / "jobs", day=dt.date(2026, 3, 21))
    again.state.change({"site.carry": "90 ft"})
    assert "Done by, signed Fri, Mar 20<" in again.headline.value
    again.promise.open_contract()
    contract = again.promise.contract
    contract.owed.value, contract.reason.value = "200", "The invented customer moved"
    contract.cancel()
    assert "Contract</small> canceled<" in again.headline.value
    assert "Done by" not in again.headline.value


def test_a_contract_that_has_ended_is_told_and_nothing_new_is_offered_under_it(tmp_path: Path):
    """Head, papers and Issue say it, on a screen that is opened later too; the proposal that was sent can still be had, and another job number is free."""
    screen = Estimator(EXAMPLE, folder=tmp_path / "jobs", day=dt.date(2026, 3, 4))
    screen.promise.reason.value = "An invented example"
    screen.issue()
    contract = screen.promise.contract
    contract.sign()
    while contract.of_contract().state.left:
        contract.bill()
        contract.amount.value = str(contract.of_contract().state.left_to_pay)
        contract.pay()
    assert not screen.promise.issue_button.disabled
    contract.reason.value = "done"
    contract.close()
    says = "The contract DEMO-001 is closed: nothing more is offered, changed or billed under this number."
    for ended in (screen, Estimator(EXAMPLE, folder=tmp_path / "jobs", day=dt.date(2026, 6, 4))):
        assert "Contract</small> closed<" in ended.headline.value
        assert "Done by" not in ended.headline.value
        assert says in ended.papers.waits.value
        assert (ended.promise.issue_button.disabled, ended.promise.issue_button.tooltip.startswith(says)) == (True, True)
        assert not ended.papers.buttons["Proposal"].disabled  # as it was sent
        ended.state.change({"site.carry": "90 ft"})
        assert (ended.papers.buttons["Proposal"].disabled, ended.papers.buttons["Workbook"].disabled) == (True, False)
        ended.look_on(customer=True)
        assert "This is what your contract came to; it is closed. The job shown here is another one." in ended.customer.value
        ended.look_on(customer=False)
        ended.state.change({"identity.job_number": "DEMO-101"})
        assert "Done by" in ended.headline.value
        assert (ended.papers.waits.value, ended.papers.buttons["Proposal"].disabled, ended.promise.issue_button.disabled) == ("", False, False)


def read_days(paper: DownloadFile) -> str:
    """The text of a paper, or of the calendar and the overview of a workbook."""
    if paper.name.endswith(".pdf"):
        return text_of(paper.content)
    book = openpyxl.load_workbook(io.BytesIO(paper.content))
    return " ".join(str(cell.value) for name in ("Overview", "Calendar") for row in book[name] for cell in row)


@pytest.mark.parametrize("filled_in", [False, True])
def test_what_is_made_after_the_signature_counts_its_days_from_it(tmp_path: Path, filled_in: bool):
    """As the head does, whether the terms name that day or not, which is no change of the job; the proposal stays as it was signed."""
    screen = Estimator(EXAMPLE, folder=tmp_path / "jobs", day=dt.date(2026, 3, 4))
    screen.promise.reason.value = "An invented example"
    screen.papers.make("Crew sheet")
    screen.issue()
    assert STALE in screen.papers.note.box.value  # it was a draft
    screen.papers.make("Crew sheet")
    screen.promise.open_contract()
    assert "Crew sheet: DEMO-001-r01-crew.pdf, as it was sent." in screen.papers.note.box.value  # offered, not signed
    shown = []
    screen.papers.view.show = lambda file, name: shown.append(file)
    contract = screen.promise.contract
    contract.day.value = dt.date(2026, 3, 20)
    contract.sign()
    assert STALE in screen.papers.note.box.value  # its days were others
    if filled_in:
        screen.state.change({"terms.signed_on": "2026-03-20"})
        screen.state.settle()
    starts = plan_schedule(kit.estimate(kit.change_job(kit.read_job(EXAMPLE), {"terms.signed_on": "2026-03-20"}), screen.state.lists)).house_start
    for name in ("Purchase list", "Crew sheet", "Workbook"):
        screen.papers.make(name)
        assert "of revision 1, with its days counted from the signature on Fri, Mar 20, 2026." in screen.papers.note.box.value
        assert format_day(starts, beside=starts) in read_days(shown[-1])
    screen.papers.make("Proposal")
    assert shown[-1].name == "DEMO-001-r01-proposal.pdf"
    assert "as it was sent.<br>Its days are those expected then; all else here counts from the signature on Fri" in screen.papers.note.box.value
    screen.papers.make("Drawings")
    assert "-drawings.zip, of revision 1.<" in screen.papers.note.box.value
    screen.look_on(customer=True)
    assert "This is the sum of your contract.</p>" in screen.customer.value
    screen.look_on(customer=False)
    screen.state.change({"site.carry": "200 ft"})
    screen.state.settle()
    screen.papers.make("Proposal")
    assert "a draft until it is issued" in screen.papers.note.box.value
    assert "You have signed" in read_days(shown[-1])


@pytest.mark.parametrize("signed", [True, False])
def test_options_and_what_ifs_of_a_job_that_went_out_count_as_its_head(tmp_path: Path, signed: bool):
    """From the signature, or unsigned and late, as its proposal does; this job is without a sink for as many days there as in the head.

    Using an option writes no signature into the job.
    """
    screen = Estimator(EXAMPLE, folder=tmp_path / "jobs", day=dt.date(2026, 3, 4) if signed else dt.date(2026, 8, 1))
    screen.promise.reason.value = "An invented example"
    screen.issue()
    if signed:
        screen.promise.contract.day.value = dt.date(2026, 8, 6)
        screen.promise.contract.sign()
    days = re.search(r"Without a sink</small> (\d+ days)<", screen.headline.value)[1]
    expected = plan_schedule(screen.estimate).days_without_sink
    assert days != format_days(expected)
    screen.go("options")
    screen.state.settle()
    wait_for(lambda: screen.options.choice.value is not None)
    chosen = next(option for option in screen.options.options if option.chosen)
    assert format_days(plan_schedule(chosen.estimate).days_without_sink) == days
    assert f"Days without a sink</th><td class='sk-number'>{days}<" in screen.options.what_if.answer.value
    screen.options.use()
    assert screen.job.sink.mount != chosen.job.sink.mount or screen.job.counter != chosen.job.counter
    assert screen.job.terms.signed_on is None


def test_the_contract_stays_open_while_the_customer_looks_on(tmp_path: Path, sent):
    """What was typed and turned to is there again, and what stands in the ledger by then; in between no field of it tells what was spent, or how we mark up."""
    screen = Estimator(EXAMPLE, folder=tmp_path / "jobs", day=dt.date(2026, 3, 4))
    screen.promise.reason.value = "An invented example"
    screen.issue()
    contract = screen.promise.contract
    contract.sign()
    bought = one_spent(contract.contract, "123.45 USD", dt.date(2026, 3, 5), {"cost_code": "310", "cost_type": "material", "text": "Invented boards"})
    contract.show(record_spending(contract.contract, bought, dt.date(2026, 3, 5))[0])
    box = screen.promise.box
    rule = next(one for one in walk(box) if getattr(one, "description", "") == "Markup rule")
    tabs = next(one for one in walk(box) if isinstance(one, ToggleButtons))
    tabs.value, contract.amount.value, rule.value = "Ledger", "400", "markup-both-ways"

    def told() -> list[str]:
        """What a page that asks for every field of the contract would hear now."""
        return [secret for secret in ("123.45", "markup") if any(secret in repr(one.get_state()) for one in walk(box))]

    assert told() == ["123.45", "markup"]
    sent.clear()
    screen.look_on(customer=True)
    assert told() == []
    assert [secret for secret in ("123.45", "markup") if any(secret in message for message in sent)] == []
    bill_contract(open_contract(tmp_path / "jobs" / "DEMO-001-r01.json"), dt.date(2026, 3, 6), credit=None)  # in another window
    screen.look_on(customer=False)
    assert told() == ["123.45", "markup"]
    assert screen.promise.contract is contract
    assert (len(contract.contract.state.bills), tabs.value, contract.amount.value, rule.value) == (1, "Ledger", "400", "markup-both-ways")
    assert tabs in walk(box)
    screen.look_on(customer=True)
    (tmp_path / "jobs" / "DEMO-001-r01.json").write_text("{", encoding="utf-8")
    screen.look_on(customer=False)
    assert "role='alert'" in screen.promise.note.box.value
    assert screen.promise.contract is None
    assert tabs not in walk(box)
