"""The purchase list: everything once, by supplier, in time."""

import csv
import datetime as dt
import io
import re
from collections import defaultdict
from decimal import Decimal

import export_demo as demo
import pytest
from paper_text import pages_of, text_of

from kit.estimating import estimate
from kit.export.crew_sheet import crew_sheet_bytes
from kit.export.csv_text import restore_text
from kit.export.proposal import proposal_document
from kit.export.purchase_list import list_purchases, purchase_list_bytes, purchase_list_csv
from kit.job import change_job
from kit.labor.calendar import is_working_day
from kit.money import format_money
from kit.outlook import plan_schedule
from kit.steps import Step

STONE = demo.example("stone_apron_single_bowl")


@pytest.mark.parametrize("name", demo.SOME)
def test_everything_that_is_bought_stands_once(name: str) -> None:
    """Each purchase but the company's own charges; amounts by supplier are those of the estimate."""
    found = demo.example(name)
    rows = list_purchases(found, plan_schedule(found))
    bought = [purchase for purchase in found.purchases if purchase.supplier != found.lists.company.name]
    assert sorted(row.purchase for row in rows) == sorted(purchase.id for purchase in bought)
    hand_sums: dict[str, Decimal] = defaultdict(Decimal)
    for purchase in bought:
        hand_sums[purchase.supplier] += purchase.amount
    told: dict[str, Decimal] = defaultdict(Decimal)
    for row in rows:
        told[row.supplier] += row.amount
    assert told == hand_sums
    assert [row.supplier for row in rows] == sorted(row.supplier for row in rows)


@pytest.mark.parametrize("name", demo.SOME)
def test_days_follow_the_calendar(name: str) -> None:
    """Needed on the day its first step starts; ordered on a working day before it, and goods never before the order goes out."""
    found = demo.example(name)
    schedule = plan_schedule(found)
    steps = {line.id: line.step for line in found.lines}
    lines = {purchase.id: purchase.line_ids for purchase in found.purchases}
    assert schedule.ordered is not None
    some = 0
    for row in list_purchases(found, schedule):
        starts = [placed.start for line_id in lines[row.purchase] if (placed := schedule.schedule.find(steps[line_id]))]
        assert row.needed_by is not None
        assert row.needed_by <= min(starts).date()
        received = schedule.schedule.find(Step.RECEIVE)
        assert row.needed_by == min(starts).date() or (received and row.needed_by == received.start.date())
        if row.order_by is not None:
            some += 1
            assert schedule.ordered.date() <= row.order_by <= row.needed_by
            assert is_working_day(schedule.calendar, row.order_by)
    assert some


def test_a_sink_that_comes_to_order_is_ordered_its_lead_before() -> None:
    """Worked by hand: received and measured on Thursday March 26; two weeks of delivery in lead_times.csv give Thursday March 12."""
    row = next(row for row in list_purchases(STONE, plan_schedule(STONE)) if row.purchase == "fired-clay-apron-33")
    assert (row.needed_by, row.step) == (dt.date(2026, 3, 26), "Receive and check the goods")
    hand_order_by = dt.date(2026, 3, 26) - dt.timedelta(days=STONE.lists.lead_times["fired-clay-apron-33"].likely_days)
    assert row.order_by == hand_order_by == dt.date(2026, 3, 12)


def test_the_permit_is_asked_for_before_the_work_that_needs_it() -> None:
    """Its fee is due with the application, its wait over before the wall is opened; it stands among what is seen to first."""
    found = demo.example("corner_dishwasher_drain_down")
    schedule = plan_schedule(found)
    rows = list_purchases(found, schedule)
    (fee,) = (row for row in rows if row.name == "Permit fee")
    starts = {row.step: row.start.date() for row in schedule.schedule.steps}
    assert fee.order_by == fee.needed_by == starts[Step.ORDER] < starts[Step.ROUGH_DRAIN] - dt.timedelta(days=7)  # 5 working days for the office
    text = text_of(purchase_list_bytes(found, schedule=schedule))
    assert text.index("Permit fee") < text.index("By store")


def test_without_a_calendar_all_is_needed_before_the_start() -> None:
    """No day is made up."""
    assert {(row.needed_by, row.order_by) for row in list_purchases(STONE)} == {(None, None)}
    text = text_of(purchase_list_bytes(STONE))
    assert "everything is needed before the start" in text
    assert "first" not in text
    assert "No calendar was given" in text


def test_work_is_booked_goods_are_bought_fees_are_paid() -> None:
    """What is to be done follows the kind of cost."""
    rows = {row.purchase: row.action for row in list_purchases(STONE)}
    assert (rows["fired-clay-apron-33"], rows["stone-3cm-area"], rows["disposal"]) == ("buy", "book", "pay")


def test_the_csv_reads_back() -> None:
    """RFC 4180, one record a row, texts defused, numbers plain."""
    rows = list_purchases(STONE, plan_schedule(STONE))
    content = purchase_list_csv(rows).decode()
    assert "\n" not in content.replace("\r\n", "")
    read = list(csv.DictReader(io.StringIO(content, newline=""), strict=True))
    assert [(restore_text(row["name"]), Decimal(row["amount"]), row["needed_by"]) for row in read] == [
        (row.name, row.amount, row.needed_by.isoformat() if row.needed_by else "") for row in rows
    ]


@pytest.mark.usefixtures("each_set_anew")
def test_both_files_are_the_same_twice() -> None:
    """PDF and CSV, byte by byte."""
    schedule = plan_schedule(STONE)
    assert purchase_list_bytes(STONE, schedule=schedule) == purchase_list_bytes(STONE, schedule=schedule)
    assert purchase_list_csv(list_purchases(STONE, schedule)) == purchase_list_csv(list_purchases(STONE, schedule))


def test_the_paper_names_supplier_and_sum() -> None:
    """Every supplier with what it comes to."""
    text = text_of(purchase_list_bytes(STONE, schedule=plan_schedule(STONE)))
    for supplier in {row.supplier for row in list_purchases(STONE)}:
        together = sum(row.amount for row in list_purchases(STONE) if row.supplier == supplier)
        assert re.search(rf"{re.escape(supplier)} ?\${together:,.2f}", text)


@pytest.mark.parametrize("name", demo.SOME)
def test_it_is_two_pages_at_most(name: str) -> None:
    """What a person takes to the store."""
    found = demo.example(name)
    assert len(pages_of(purchase_list_bytes(found, schedule=plan_schedule(found)))) <= 2


def test_what_is_booked_now_stands_first() -> None:
    """Trades without a lead time of their own are booked now, so they stand above every day to come."""
    first = text_of(purchase_list_bytes(STONE, schedule=plan_schedule(STONE))).partition("By store")[0]
    assert first.index("now Book: ") < first.index("Thu, Mar 12")


def test_what_takes_long_is_ordered_first() -> None:
    """The sink that comes to order stands before the store's goods, with its order-by day; each booked trade stands there once."""
    text = text_of(purchase_list_bytes(STONE, schedule=plan_schedule(STONE)))
    first, _, stores = text.partition("By store")
    sink = next(row for row in list_purchases(STONE) if row.purchase == "fired-clay-apron-33").name
    assert re.search(rf"Thu, Mar 12 \(1\) {re.escape(sink)}", first)
    assert sink in stores
    assert first.count("Book: ") == len({row.supplier for row in list_purchases(STONE, plan_schedule(STONE)) if row.action == "book"})
    assert "2x4 framing lumber" not in first


@pytest.mark.parametrize("name", demo.EXAMPLES)
def test_a_store_that_goes_on_is_named_again(name: str) -> None:
    """In the next column or page, its sum only once; so no row stands below nobody's name."""
    found = demo.example(name)
    rows = list_purchases(found, plan_schedule(found))
    pages = pages_of(purchase_list_bytes(found, schedule=plan_schedule(found)))
    stores = " ".join(pages).partition("By store")[2]
    for supplier in {row.supplier for row in rows}:
        together = sum(row.amount for row in rows if row.supplier == supplier)
        assert len(re.findall(rf"{re.escape(supplier)} ?\${together:,.2f}", stores)) == 1
    assert len(re.findall(", continued", stores)) == 2 if name == "corner_dishwasher_drain_down" else ", continued" in stores or len(rows) < 40
    assert all(page.startswith("Invented ") for page in pages)


def test_a_price_that_changes_changes_the_list() -> None:
    """The list is of this estimate and no other."""
    two = estimate(change_job(STONE.job_as_read, {"plumbing.stops_to_renew": 4}), STONE.lists)
    assert list_purchases(two) != list_purchases(STONE)


@pytest.mark.parametrize("name", demo.SOME)
def test_the_sum_of_everything_never_stands_alone(name: str) -> None:
    """The last page holds the last supplier's rows and below them what everything comes to."""
    found = demo.example(name)
    rows = list_purchases(found, plan_schedule(found))
    pages = pages_of(purchase_list_bytes(found, schedule=plan_schedule(found)))
    last = pages[-1]
    told = f"Total {format_money(sum((row.amount for row in rows), Decimal(0)))}"
    assert rows[-1].name.split()[0] in last.partition(told)[0]
    assert format_money(rows[-1].amount) in last.partition(told)[0]
    assert [told in page for page in pages] == [False] * (len(pages) - 1) + [True]


def test_a_blank_is_there_when_it_is_laid_out():
    """Not when it is set: it acclimates and is coated on all faces days before, and is ordered for that."""
    wood = demo.example("wood_apron_two_bowl")
    schedule = plan_schedule(wood)
    laid = next(step.start.date() for step in schedule.schedule.steps if step.step is Step.REST_BLANK)
    blanks = [row for row in list_purchases(wood, schedule) if "blank" in row.name]
    assert blanks
    assert {row.needed_by for row in blanks} == {laid}
    assert all(row.order_by < laid for row in blanks)


def test_quantities_and_bookings_are_in_words_that_people_use() -> None:
    """The shop is booked with all that it does; what is charged by the measure says the measure that the amount is of; the dump's 100 lb are pounds."""
    text = text_of(purchase_list_bytes(STONE, schedule=plan_schedule(STONE)))
    assert "Book: Template by the countertop shop; Set the countertop" in text
    hand_splash, hand_weight = 263.25 / 26.00, 73.96 / 0.22  # the amounts over the prices of the list
    assert (f"{hand_splash:.1f}", f"{hand_weight:.0f}") == ("10.1", "336")
    assert re.search(r"backsplash 4 in,\s10\.1 ft", text)
    assert re.search(r"carried in,\s336 lb", text)
    assert re.search(r"dump,\s16\d lb", text)


def test_new_doors_can_be_ordered_from_the_list() -> None:
    """How many and how high stand where they are bought and brought, in the corner as the layout dimensions have them."""
    found = demo.example("corner_dishwasher_drain_down")
    wanted = "Five-piece cabinet door, bored and finished: 2 doors, 19 7/8 in high, as wide as the old ones, 5 sq ft"
    assert text_of(purchase_list_bytes(found, schedule=plan_schedule(found))).count(wanted) == 2  # to order first, and by store
    assert wanted in text_of(crew_sheet_bytes(found))


@pytest.mark.parametrize(("as_received", "hand_said"), [(True, False), (False, True)])
def test_finding_and_list_say_the_same_of_new_doors(as_received: bool, hand_said: bool) -> None:
    """Ordered ahead by the sizes of the job; where those are of the sink's sheet, both say to measure it first."""
    job = change_job(STONE.job, {"cabinet.door_kind": "five-piece", "sink.as_received": as_received})
    found = estimate(job, STONE.lists)
    remedy = next(finding.remedy for finding in found.findings if finding.id == "cabinet/apron-above-doors")
    page = text_of(purchase_list_bytes(found, schedule=plan_schedule(found)))
    assert "New doors 19 7/8 in high are part of this work" in remedy
    for text in (remedy, page):
        assert ("Measure the sink before you order them, if there is time." in " ".join(text.split())) == hand_said
    assert ("see the purchase list" in remedy) != hand_said


def test_each_blank_of_a_countertop_is_called_by_what_it_is_for_and_its_sizes() -> None:
    """A backsplash is no thick countertop: 4 in high and 3/4 in thick on a top of 1 1/2 in."""
    laminate = demo.example("laminate_top_mount")
    text = " ".join(text_of(purchase_list_bytes(laminate, schedule=plan_schedule(laminate))).split())
    assert "(1) Laminate blank, countertop 120 x 25 1/2 in, 1 1/2 in thick" in text
    assert "(1) Laminate blank, backsplash 144 x 4 1/4 in, 3/4 in thick" in text
    assert "(1) 1/2 in plywood" in text  # "1 x 1/2 in" would read as a size
    assert "countertop blank 1 1/2 in" not in text


@pytest.mark.parametrize(
    ("faucet", "listed", "excluded", "yours"),
    [
        (("stays", "us"), "the faucet leaves open. The customer chooses, we bring them.", True, False),
        (("us", "trade"), "the faucet leaves open. The customer chooses, we bring them.", True, False),
        (("customer", "customer"), "The customer brings a plate or covers for the holes", False, True),
        (("excluded", "nobody"), "", False, False),
    ],
)
def test_both_papers_say_who_closes_holes_that_stay_open(faucet: tuple[str, str], listed: str, excluded: bool, yours: bool) -> None:
    """Three holes in the ledge, a faucet of one: who fits it brings what closes the others; no price holds it."""
    before = demo.example("counter_stays_sink_only")
    scope = {"scope.faucet": dict(zip(("supplied_by", "installed_by"), faucet, strict=True))}
    found = estimate(change_job(before.job_as_read, scope), before.lists)
    note = " ".join(text_of(purchase_list_bytes(found, schedule=plan_schedule(found))).partition("Order and book")[0].split())
    assert (listed in note, "plate or covers" in note) == (True, bool(listed))
    paper = proposal_document(found)
    assert [any("plate or covers" in says for says in paper[part]) for part in ("excluded", "yours")] == [excluded, yours]


def test_holes_in_the_countertop_leave_none_open() -> None:
    """An undermount sink covers its own ledge: nothing is said of covers."""
    assert "plate or covers" not in text_of(purchase_list_bytes(STONE))
