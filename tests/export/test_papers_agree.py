"""The proposal held against takeoff, calendar and payments: nothing promised that is not priced, nothing priced that is excluded, no word of cost."""

import csv
import datetime as dt
import io
import re
from dataclasses import replace
from typing import Any

import openpyxl
import pytest
from paper_faults import day_of, said_twice
from paper_text import pages_of, text_of
from random_jobs import random_estimate
from work_jobs import STEMS, STONE, estimated, example, lists

from kit.compare.options import compare_alternates
from kit.estimating import estimate
from kit.export.estimate_files import files_to_send
from kit.export.proposal import offers_from, proposal_bytes, proposal_document
from kit.export.proposal_terms import find_rows, surprise_names
from kit.issued import issue_estimate, list_issued, open_issued
from kit.job import change_job
from kit.outlook import plan_schedule
from kit.pricing.draws import plan_draws
from kit.steps import Step

BUILDABLE = 60
STEMS_STAYS = "counter_stays_sink_only"


@pytest.mark.parametrize("stem", STEMS)
def test_an_example_says_one_thing(stem: str) -> None:
    """Every shipped example."""
    assert said_twice(estimated(stem)) == []


def try_jobs(count: int) -> list[str]:
    """The faults of the first so many random jobs that can be built."""
    wrong, tried, seed = [], 0, 0
    while tried < count:
        found = random_estimate(seed)
        seed += 1
        if found.buildable and all(purchase.proven for purchase in found.purchases):
            tried += 1
            wrong += [f"{seed - 1}: {fault}" for fault in said_twice(found)]
    return wrong


def test_a_few_random_jobs_say_one_thing() -> None:
    """The first eight that can be built."""
    assert try_jobs(8) == []


@pytest.mark.long
def test_random_jobs_say_one_thing() -> None:
    """Sixty that can be built."""
    assert try_jobs(BUILDABLE) == []


@pytest.mark.parametrize("stem", STEMS)
def test_options_are_alternates_that_can_be_had(stem: str) -> None:
    """Each offered price is that of a usable alternate with the same sink and counter."""
    options = compare_alternates(example(stem), lists())
    prices = {option.estimate.price for option in options if option.usable and option.counter_kept and option.estimate is not None}
    offers = offers_from(options)
    assert {offer.price for offer in offers} <= prices
    assert all(offer.says.endswith(".") for offer in offers)


def test_a_proposal_issued_late_counts_its_days_from_then(tmp_path: Any) -> None:
    """Issued ninety days after the visit: the signature is expected five days later, and no day lies before the paper's own."""
    found = estimated(STONE)
    late = found.job.identity.visit_date + dt.timedelta(days=90)
    issue_estimate(found, tmp_path, today=late, stop_reason="The days are counted from the paper.")
    issued = open_issued(list_issued(tmp_path, found.job.identity.job_number)[0])
    days = {row["what"]: row["when"] for row in proposal_document(issued.estimate, issued=issued)["days"]}
    hand_signs = late + dt.timedelta(days=found.lists.company.days_to_sign)
    assert days["You sign (expected)"] == f"{hand_signs:%A, %B} {hand_signs.day}, {hand_signs.year}"
    whole = [day_of(when) for when in days.values() if re.search(r"\d{4}$", when)]
    assert len(whole) >= 5
    assert min(whole) == hand_signs


def test_a_plumber_for_old_steel_is_named_before_it_is_needed() -> None:
    """Valves renewed on galvanized stubs: what may break is at the customer's expense, and on the paper; on copper it is not there."""
    steel, copper = (set(surprise_names(estimated(STEMS_STAYS, {"plumbing.supply_old": old}))) for old in ("galvanized", "copper"))
    assert steel - copper == {"A steel pipe breaks as its old valve comes off"}


def test_what_is_held_back_and_what_is_warranted_is_said() -> None:
    """Company file: 10 % held, a year of warranty, insurance; an hour of change work is 34.00 x 1.38 x 1.30."""
    document = proposal_document(estimated(STONE))
    last = plan_draws(estimated(STONE)).draws[-1].due
    assert f"10% of the price is held back until the punch list is done: that is the last payment, ${last:,.2f}." in document["payment-note"]
    hand_hour = round(34.00 * 1.38 * 1.30 + 1e-9, 2)
    terms = " ".join(document["terms"])
    assert f"We charge ${hand_hour:.2f} for each hour of our work" in terms
    assert lists().company.warranty_words in document["terms"]
    assert lists().company.insurance in document["terms"]


@pytest.mark.parametrize(
    ("rule", "hand_words"),
    [
        ("first-bill", "The deposit is your money until we send the first bill after it."),
        ("by-shares", "The deposit becomes ours bit by bit, as we send the bills after it."),
        ("last-bill", "The deposit is your money until we send the last bill."),
    ],
)
def test_how_payments_are_counted_is_said_on_the_proposal(rule: str, hand_words: str) -> None:
    """The three rules that the company file knows, each in its own words; without a deposit none of them."""
    found = estimated(STONE)
    company = replace(found.lists.company, deposit_earned=rule)
    note = proposal_document(replace(found, lists=replace(found.lists, company=company)))["payment-note"]
    assert hand_words in note
    assert "Payments are rounded to the cent; the last one takes what is left." in note
    assert "deposit" not in proposal_document(estimated(STONE, {"terms.deposit": "0 %"}))["payment-note"]


def test_the_customers_part_follows_the_job() -> None:
    """Be there for the template where a shop comes to measure; bring what the scope says is yours."""
    shop, own = proposal_document(estimated(STONE)), proposal_document(estimated("laminate_top_mount"))
    assert any("countertop shop measures" in words for words in shop["yours"])
    assert not any("countertop shop measures" in words for words in own["yours"])
    for words in ("Clear the countertops", "pets", "truck"):
        assert any(words in says for says in own["yours"])
    theirs = estimated(STONE, {"scope.faucet": {"supplied_by": "customer", "installed_by": "us"}})
    assert any(words.startswith("Have everything you supply") for words in proposal_document(theirs)["yours"])


def test_notices_follow_the_house() -> None:
    """The pamphlet where lead-safe work may be required; the notice of cancellation always, where its rule applies."""
    old, young = (proposal_document(estimated(STONE, {"site.year_built": year}))["notices"] for year in (1962, 2005))
    assert any("pamphlet" in words for words in old)
    assert not any("pamphlet" in words for words in young)
    assert any("right to cancel" in words and "where that rule applies" in words for words in young)


def test_the_comparison_can_fail() -> None:
    """A faucet taken out of the takeoff, and a payment at a step that the job lacks, are found."""
    from dataclasses import replace

    found = estimated(STONE)
    robbed = replace(found, lines=tuple(line for line in found.lines if line.step is not Step.CONNECT_DRAIN))
    assert any("not priced" in fault for fault in said_twice(robbed))


def test_a_price_agreed_in_advance_is_for_what_may_turn_up_here() -> None:
    """Each surprise has its price or waits for one, never both; a side that is known to be swollen and valves that are all renewed have none."""

    def said(changes: dict[str, Any]) -> tuple[set[str], set[str]]:
        found = estimated(STONE, changes)
        return {row["what"] for row in find_rows(found)}, set(surprise_names(found))

    finds, surprises = said({})
    assert {"Replace a rotten cabinet floor", "Stiffen a swollen cabinet side", "Open and patch the wall"} <= finds
    assert "Replace a shutoff valve that won't close" not in finds  # both are renewed
    assert surprises == {"The countertop turns out to be glued as well as screwed"}
    finds, surprises = said({"cabinet.wet_floor": True, "cabinet.swollen_side": "both", "old.splash": "none", "plumbing.stops_to_renew": 0})
    assert "Replace a shutoff valve that won't close" in finds
    assert not {"Replace a rotten cabinet floor", "Stiffen a swollen cabinet side", "Open and patch the wall"} & finds
    assert "Rotten boards below the wet cabinet floor" in surprises
    every = {risk.name for risk in lists().site_risks if risk.agreed}
    assert not every & surprises
    assert {stem for stem in STEMS if any(row["what"] == "Lengthen a short supply stub" for row in find_rows(estimated(stem)))} == {
        stem for stem in STEMS if (supply := estimated(stem).design.supply).short_stubs < supply.stops
    }  # else each of them is lengthened at the price


def test_each_sentence_stands_once() -> None:
    """No sentence of the lists is said twice on one paper, and what is chosen is not described again in the scope."""
    for stem in STEMS:
        document = proposal_document(estimated(stem))
        parts = ("steps", "excluded", "yours", "rights", "notices", "terms", "surprises")
        said = [text for part in parts for text in document[part]]
        assert len(said) == len(set(said))
        what = {row["part"]: row["what"] for row in document["scope"]}
        assert [row["taken"] for row in document["choices"] if row["taken"] in what.get(row["choice"], "")] == []


def test_an_option_says_how_long_the_kitchen_is_without_a_sink() -> None:
    """As far as it is otherwise than for the job: a flush apron in stone is set before the shop measures, as one under it is; the days give their reason."""
    why = "The shop measures over the new sink once it is set, so no sink works while it makes the countertop."
    (offer,) = offers_from(compare_alternates(example(STONE), lists()))
    assert offer.says.endswith("the step that the rim sits in. Without a kitchen sink about 19 days.")  # back on Tue, Apr 14, morning, not on Monday
    assert [one.says for one in offers_from(compare_alternates(example("solid_surface_flush"), lists())) if "Just as long without a sink." in one.says]
    assert proposal_document(estimated(STONE))["days-note"].endswith(f"Time without a sink: {why[0].lower()}{why[1:]}")


@pytest.mark.parametrize("stem", STEMS)
def test_the_paper_itself_shows_the_rows_that_are_compared(stem: str) -> None:
    """Read from the PDF: each row of the scope with who brings and fits it, each payment with its amount, each day, each price agreed in advance."""
    found = estimated(stem)
    document = proposal_document(found)
    text = text_of(proposal_bytes(found))
    shown = "".join(text.split())
    rows = [
        *((row["part"], row["what"], row["brought"], row["fitted"]) for row in document["scope"]),
        *((row["number"], row["due"], row["share"], row["amount"]) for row in document["draws"]),
        *((row["what"], row["when"]) for row in document["days"]),
        *((row["what"], row["unit"], row["price"]) for row in document["finds"]),
    ]
    assert [row for row in rows if "".join("".join(row).split()) not in shown] == []


def test_all_that_is_sent_late_counts_its_days_from_then(tmp_path: Any) -> None:
    """Crew sheet, purchase list and workbook issued ninety days after the visit show the proposal's days; those of a change count from the signature."""
    found = estimated(STONE)
    late = found.job.identity.visit_date + dt.timedelta(days=90)
    issue_estimate(found, tmp_path, today=late, stop_reason="The days are counted from the paper.")
    issued = open_issued(list_issued(tmp_path, found.job.identity.job_number)[0])
    days = {row["what"]: day_of(row["when"]) for row in proposal_document(issued.estimate, issued=issued)["days"] if re.search(r"\d{4}$", row["when"])}
    files = {name.partition(".")[0].rpartition("-")[2] + name[-4:]: content for name, content in files_to_send(found, issued).items()}
    starts, done = (f"{day:%a}, {day:%b} {day.day}" for day in (days["Work in the house starts"], days["Work complete"]))
    crew = text_of(files["crew.pdf"])
    assert re.search(rf"{starts}, (morning|afternoon)", crew)
    assert re.search(rf"{done}, (morning|afternoon)", crew)
    needed = sorted(row["needed_by"] for row in csv.DictReader(io.StringIO(files["purchases.csv"].decode())))
    assert needed[0] == days["Work in the house starts"].isoformat()
    book = openpyxl.load_workbook(io.BytesIO(next(content for name, content in files.items() if name.endswith("xlsx"))))
    overview = [str(cell.value) for row in book["Overview"] for cell in row]
    assert any(text.startswith(f"{starts} to {done}") for text in overview)
    assert f"Payment 1, {days['You sign (expected)']:%a}, {days['You sign (expected)']:%b} {days['You sign (expected)'].day}" in overview
    assert any(starts in str(cell.value) for row in book["Calendar"] for cell in row)
    visit = found.job.identity.visit_date
    assert any(f"{visit:%a}, {visit:%b} {visit.day}" in str(cell.value) for row in book["Calendar"] for cell in row)  # nobody measures again
    hand_signed = late + dt.timedelta(days=found.lists.company.days_to_sign)
    assert f"a signature on {hand_signed:%a, %b} {hand_signed.day}, " in str(book["Calendar"]["A2"].value)  # late, and that long after the paper
    signed_on = visit + dt.timedelta(days=14)
    named = change_job(found.job_as_read, {"terms.signed_on": signed_on})
    own = plan_schedule(estimate(named, found.lists)).house_start
    assert own is not None
    signed = files_to_send(found, issued, signed_on=signed_on)
    assert {name for name in files_to_send(found, issued) if name not in signed} == {
        f"{issued.document.removesuffix('.json')}-proposal.pdf"
    }  # nothing to sign twice
    assert f"{own:%a}, {own:%b} {own.day}, morning" in text_of(next(content for name, content in signed.items() if name.endswith("-crew.pdf")))


def test_sealant_cures_as_long_on_every_paper() -> None:
    """What the customer and the crew read are the hours of steps.csv."""
    wait = lists().steps[Step.SEAL].wait_h
    said = [row.says for row in lists().wording if row.wording in {"step-seal", "step-seal-sink", "crew-seal-swap"}]
    assert [re.findall(r"(\d+) hours", text) for text in said] == [[f"{wait:g}"]] * 3


def test_nobody_supplies_what_is_taken_away() -> None:
    """Debris is hauled by us and brought by nobody, also where the dump bills a fee for it."""
    rows = {row["part"]: row for row in proposal_document(estimated(STONE))["scope"]}
    assert (rows["Debris"]["brought"], rows["Debris"]["fitted"]) == ("–", "us")


def test_what_is_said_of_the_days_stands_below_them(tmp_path: Any) -> None:
    """Not at the head of the next page, where nobody knows which days these are; the smallest job still has two pages."""
    found = estimated(STEMS_STAYS)
    issue_estimate(found, tmp_path, today=found.job.identity.visit_date)
    pages = pages_of(proposal_bytes(found, issued=open_issued(list_issued(tmp_path, found.job.identity.job_number)[0])))
    assert ["Without a kitchen sink" in page for page in pages] == ["These days hold if you sign" in page for page in pages]
    assert len(pages) == 2
