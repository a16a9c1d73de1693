"""The crew sheet: every step with its hours, people, goods and cautions; the cut list; no price."""

import dataclasses
import io
import re
from functools import cache

import export_demo as demo
import pypdf
import pytest
from paper_text import pages_of, text_of

import kit
from kit.compare.swaps import changes_for_counter
from kit.export.crew_sheet import _OFFICE, _goods, crew_sheet_bytes
from kit.export.proposal import proposal_bytes, proposal_document
from kit.export.purchase_list import list_purchases
from kit.job import change_job
from kit.labor.job_schedule import JobSchedule
from kit.outlook import plan_schedule
from kit.records import Kind, Level
from kit.steps import Step
from kit.units import format_length

STONE = demo.example("stone_apron_single_bowl")


def read_sheet(found: kit.Estimate, schedule: JobSchedule | None = None) -> str:
    return text_of(crew_sheet_bytes(found, schedule=schedule))


@cache
def text_of_example(name: str) -> str:
    """The sheet of an example with its calendar."""
    return read_sheet(demo.example(name), plan_schedule(demo.example(name)))


def squeezed(text: str) -> str:
    """Without blanks, since a line may break after a hyphen."""
    return "".join(text.split())


OFFICE = {Step.VISIT, Step.ORDER, Step.TRIPS}


@pytest.mark.parametrize("name", demo.SOME)
def test_every_step_has_its_people_time_and_quantities(name: str) -> None:
    """Own and hired steps at the house and in the shop, each with people and its quantities as a crew says them; nothing of the office."""
    found = demo.example(name)
    text = squeezed(text_of_example(name))
    for task in (*found.tasks, *found.hired):
        label = squeezed(found.step_names[task.step])
        assert (label in text) == (task.step not in OFFICE), label
        if task.step not in OFFICE:
            who = "" if task.trade == "crew" else f"{'countertopshop' if task.trade == 'fabricator' else task.trade}:"
            assert f"{who}{task.crew}{'person' if task.crew == 1 else 'people'}," in text
    for line in found.lines:
        if line.kind is Kind.DO and line.step not in OFFICE:
            assert squeezed(found.lists.rates[line.item].count_words(line.quantity)) in text


def test_an_old_cabinet_floor_is_cut_out_before_the_plumber_works_through_it() -> None:
    """Where the drain is lowered through the open floor; in a job without rough work nobody reads of it."""
    said = "Where the cabinet floor is replaced, cut the old one out now"
    assert said in " ".join(text_of_example("corner_dishwasher_drain_down").split())
    assert said not in " ".join(text_of_example("laminate_top_mount").split())


def test_people_who_live_there_have_water_overnight() -> None:
    """Tear-out of these jobs goes on over a night or a weekend; in an empty house nobody asks for it."""
    said = "House water back on each evening."
    for name in ("wood_apron_two_bowl", "solid_surface_flush"):
        assert demo.example(name).job.site.occupied
        assert said in " ".join(text_of_example(name).split()), name
    assert not demo.example("laminate_top_mount").job.site.occupied
    assert said not in " ".join(text_of_example("laminate_top_mount").split())


def test_work_before_the_first_trip_is_in_our_shop() -> None:
    """The blank is laid out and coated days before anybody drives to the house: half day and step say so, no other does."""
    text = " ".join(text_of_example("wood_apron_two_bowl").split())
    assert text.count("in our shop") == 4
    for said in ("Mon, Mar 30, morning 1 person, in our shop", "Lay out the blank to acclimate 1 person, 1/2 h, in our shop", "2 3/4 h, in our shop"):
        assert said in text, said
    assert "in our shop" not in text_of_example("stone_apron_single_bowl")


def test_a_wait_of_days_is_said_in_days() -> None:
    """The blank rests 120 hours by steps.csv, which nobody has to divide; a day of 24 hours stays hours."""
    text = text_of_example("wood_apron_two_bowl")
    assert "Wait 5 days before you coat it." in text
    assert "Wait 24 h before the joints get wet." in text
    assert "120 h" not in text


def test_coats_are_counted_and_dry_before_what_comes_next() -> None:
    """Four coats of a day each lie between a coated blank and its way to the house; 9 ft of edge in two coats are no 18 ft of edge in one."""
    text = text_of_example("wood_apron_two_bowl")
    assert "Let it dry 4 days before it leaves the shop, each coat before the next." in text
    assert "Let it dry 24 h before the second coat." in text
    assert "Let it dry 24 h before the countertop is set." in text
    hand_edge = 2 * 2 * (32 + 21) / 12  # 17.7 ft
    assert f"{hand_edge:.0f} ft of cut edge sealed, each coat counted" in text_of_example("laminate_top_mount")


@pytest.mark.parametrize("name", demo.EXAMPLES)
def test_no_measure_is_broken_at_the_end_of_a_line(name: str) -> None:
    """Neither a number from its unit nor 1 from its 1/2, as the lines of what is to be brought lie on the page."""
    found = demo.example(name)
    reader = pypdf.PdfReader(io.BytesIO(crew_sheet_bytes(found, schedule=plan_schedule(found))))
    pages = [page.extract_text(extraction_mode="layout") for page in reader.pages]
    lines = [line for page in pages for line in page.splitlines()]
    assert any("1 1/2 in" in line or "1/2 in" in line for line in lines)
    assert [line for line in lines if re.match(r"\s*(in|ft|sq ft|fl oz|lb)\b[.,;]|.*\d/(\s|$)", line)] == []


@pytest.mark.parametrize("name", demo.SOME)
def test_it_is_no_longer_than_a_crew_reads(name: str) -> None:
    """Six pages with its drawings."""
    found = demo.example(name)
    assert len(pages_of(crew_sheet_bytes(found, schedule=plan_schedule(found)))) <= 6


@pytest.mark.parametrize("name", ["wood_apron_two_bowl", "laminate_top_mount"])
def test_the_cut_list_stands_beside_the_work(name: str) -> None:
    """It takes no page of its own: the longest names of stock, blanks of a countertop, have room; it says what it takes the ends of stock for."""
    found = demo.example(name)
    page = next(page for page in pages_of(crew_sheet_bytes(found, schedule=plan_schedule(found))) if "Cut list" in page)
    assert "Bring:" in page
    assert "Stock ends are taken as square: trim a rough one first." in " ".join(page.split())


def test_work_stands_by_half_days() -> None:
    """Each half day once, in order, with the most people who are there; time to the quarter of an hour."""
    text = read_sheet(STONE, plan_schedule(STONE))
    halves = re.findall(r"(?:Mon|Tue|Wed|Thu|Fri), (?:Mar|Apr) \d+, (?:morning|afternoon)", text)
    assert len(halves) == len(set(halves)) >= 5
    assert re.search(r"Thu, Mar 26, morning, from 9:00 ?3 people", text)
    assert "Build the support frame 2 people, 2 1/4 h" in text  # hand: 4.51 worker-hours by two


def test_a_day_that_starts_late_says_its_hour() -> None:
    """Where the first work of a day starts later than the house opens, and nothing goes on from the day before, its half day says from when."""
    schedule = plan_schedule(STONE)
    rows = [row for row in schedule.schedule.steps if row.step not in _OFFICE]
    heads = re.findall(r"(\w{3}, \w{3} \d+), (?:morning|afternoon)(?:, from (\d+:\d\d))?", read_sheet(STONE, schedule))
    said = {day: hour for day, hour in heads if hour}
    hand: dict[str, str] = {}
    for day in sorted({row.start.date() for row in rows}):
        first = min(row.start for row in rows if row.start.date() == day)
        goes_on = any(row.start < first and row.finish.date() >= day for row in rows)
        if first.hour > STONE.job.site.start_hour and not goes_on:
            hand[f"{day:%a}, {day:%b} {day.day}"] = f"{(first.hour - 1) % 12 + 1}:{'30' if first.minute >= 30 else '00'}"
    assert hand
    assert said == hand


@pytest.mark.parametrize("name", demo.SOME)
def test_no_price_is_in_it(name: str) -> None:
    """No amount of money, no wage, no price."""
    text = text_of_example(name)
    assert "$" not in text
    assert not re.search(r"\b(USD|wages?|prices?|costs?|profit|overhead)\b", text, re.IGNORECASE)


@pytest.mark.parametrize("name", demo.SOME)
def test_goods_and_cut_list_are_there(name: str) -> None:
    """Every pack that is bought stands at a step; every planned piece with its length and what is left of its stick."""
    found = demo.example(name)
    text = squeezed(text_of_example(name))
    for purchase in found.purchases:
        if purchase.packs:
            count = "" if (purchase.unit, purchase.pack) == ("sq ft", 1) else f"({purchase.packs}) "  # by the square foot: how much stands behind the name
            assert squeezed(f"{count}{found.lists.item(purchase.item).name}") in text
        for part in purchase.plan:
            assert squeezed(part.left_over) in text
            for piece in part.placed:
                assert squeezed(format_length(piece.length_in)) in text


def test_cautions_stand_where_they_belong() -> None:
    """Each step's own cautions, those of every day first; what the checks found with what to do."""
    text = read_sheet(STONE)
    told = [wording for wording in STONE.lists.wording if wording.use == "crew" and wording.applies_when == "always"]
    steps = {str(task.step) for task in (*STONE.tasks, *STONE.hired) if task.step not in OFFICE} | {"all"}
    for wording in told:
        assert (wording.says in text) == (wording.about in steps), wording.wording
    for finding in STONE.findings:
        assert (finding.check in text) >= (finding.level is not Level.OK)
    assert "118 lb, 3 people" in text


def test_whoever_cuts_a_countertop_is_told_of_the_saw() -> None:
    """Laminate as well as wood, each with what catches fire in it; power is tested dead where it is shut off."""
    told = ("dust extractor, guard on the saw", "Contact cement catches fire", "Oily rags", "Breaker off, tagged")
    hand_told = {
        "laminate_top_mount": (True, True, False, True),
        "wood_apron_two_bowl": (True, False, True, True),
        "stone_apron_single_bowl": (False, False, False, True),
        "counter_stays_sink_only": (False, False, False, False),
    }
    assert {name: tuple(words in text_of_example(name) for words in told) for name in hand_told} == hand_told


def test_an_old_house_is_worked_lead_safe() -> None:
    """The sentence stands for a house built in 1962 and not for one of 2005."""
    old, young = (kit.estimate(change_job(STONE.job_as_read, {"site.year_built": year}), STONE.lists) for year in (1962, 2005))
    assert "Lead-safe work: certified renovator in charge" in read_sheet(old)
    assert "Lead-safe work" not in read_sheet(young)


def test_days_stand_only_with_a_calendar() -> None:
    """With a calendar each step has day and hour; without one none is made up."""
    assert "Thu, Mar 26" in read_sheet(STONE, plan_schedule(STONE))
    assert "Mar 26" not in read_sheet(STONE)


@pytest.mark.usefixtures("each_set_anew")
def test_the_same_input_gives_the_same_bytes() -> None:
    """Twice the same file."""
    assert crew_sheet_bytes(STONE, schedule=plan_schedule(STONE)) == crew_sheet_bytes(STONE, schedule=plan_schedule(STONE))


def test_what_the_office_settles_is_not_on_it() -> None:
    """Permit and licenses of the old house with a moved drain; lead and dust are for the crew."""
    found = demo.example("corner_dishwasher_drain_down")
    hand_office, hand_crew = {"Permit", "Licensed plumber", "Licensed electrician"}, {"Lead-safe work", "Silica dust"}
    assert hand_office | hand_crew < {one.check for one in found.findings}
    text = text_of_example("corner_dishwasher_drain_down")
    assert [check for check in hand_office if f"CAUTION {check}:" in text] == []
    assert [check for check in hand_crew if f"CAUTION {check}:" not in text] == []


def test_it_waits_only_where_somebody_waits() -> None:
    """A plain swap ends the same day; where a joint cures before the drain is connected, the sheet says how long."""
    assert "Wait" not in text_of_example("counter_stays_sink_only")
    assert "Wait 24 h before the joints get wet." in text_of_example("stone_apron_single_bowl")


def test_a_wait_says_what_may_not_happen_before() -> None:
    """Mortar and grout of a tiled countertop too; a wait that the lists have no words for names the step that hangs on it."""
    plain = demo.example("laminate_top_mount")
    tiled = change_job(plain.job_as_read, changes_for_counter(plain.job, plain.lists.counters["tile-own"]))
    made = kit.estimate(tiled, plain.lists)
    text = " ".join(read_sheet(made, plan_schedule(made)).split())
    for said in (
        "Wait 24 h before you grout it or put weight on it.",
        "Wait 3 days before the grout is sealed or gets wet.",
        "Wait 2 days before the punch list.",
    ):
        assert said in text
    assert "before step" not in text
    wordless = dataclasses.replace(STONE.lists, wording=tuple(row for row in STONE.lists.wording if row.use != "wait"))
    assert "Wait 24 h before step" in read_sheet(dataclasses.replace(STONE, lists=wordless), plan_schedule(STONE))


def test_what_is_taken_apart_is_named_by_kind() -> None:
    """Which hoses and which accessories, where the words leave it open."""
    said = {name: " ".join(text_of_example(name).split()) for name in demo.EXAMPLES}
    assert "4 hoses, traps or tubes disconnected: 2 supply hoses, 1 trap, 1 dishwasher hose;" in said["stone_apron_single_bowl"]
    assert "16 frame members cut, fitted and fastened;" in said["stone_apron_single_bowl"]
    assert "2 dispensers, air gaps or small faucets installed: 1 dispenser, 1 air gap." in said["corner_dishwasher_drain_down"]
    assert "2 filters, tanks or bins put back: 1 hot-water tank, 1 pull-out bin" in said["solid_surface_flush"]


def test_doors_are_trimmed_before_they_hang_again() -> None:
    """On the sheet, and as the customer reads the order of the work."""
    text = " ".join(text_of_example("stone_apron_single_bowl").split())
    assert "2 slab doors cut to height, edges dressed and sealed; 2 doors hung and set true." in text
    order = " ".join(proposal_document(STONE)["steps"])
    assert order.index("doors down to fit below the apron") < order.index("We rehang the doors")


def test_a_torch_is_cautioned_of_where_pipes_are_copper() -> None:
    """Threaded valves on steel stubs take no flame."""
    assert "a torch needs a fire blanket" in " ".join(text_of_example("stone_apron_single_bowl").split())
    threaded = " ".join(text_of_example("counter_stays_sink_only").split())
    assert "Watch out: Water off and proven off." in threaded
    assert "torch" not in threaded


@pytest.mark.parametrize("name", demo.SOME)
def test_its_days_never_go_back(name: str) -> None:
    """Who reads down the sheet reads through the calendar, other trades among our own people."""
    found = demo.example(name)
    schedule = plan_schedule(found)
    text, labels = squeezed(text_of_example(name)), {row.step: squeezed(found.step_names[row.step]) for row in schedule.schedule.steps}
    steps = [row for row in schedule.schedule.steps if row.step not in OFFICE]
    places = {row.step: re.search(rf"\d+{re.escape(labels[row.step])}(?:\d|by|countertopshop:|plumber:|electrician:)", text) for row in steps}
    assert all(places.values())
    read = sorted(steps, key=lambda row: places[row.step].start())  # type: ignore[union-attr]
    assert [row.start for row in read] == sorted(row.start for row in steps)


def test_rented_gear_is_brought_and_measured_goods_say_how_much() -> None:
    """A vacuum that is lent, doors by the square foot."""
    text = squeezed(text_of_example("corner_dishwasher_drain_down"))
    assert "HEPAvacuum,2rentals" in text  # one vacuum, brought twice
    assert "(2)HEPA" not in text
    assert "Five-piececabinetdoor,boredandfinished:2doors,197/8inhigh,aswideastheoldones,5sqft" in text
    assert "Pickuptrip" not in text


def test_what_is_unpacked_comes_with_the_goods_whenever_it_is_fitted() -> None:
    """The sink is measured on the first morning, days before it is set; its sealant comes with the step that needs it."""
    found, text = demo.example("laminate_top_mount"), squeezed(text_of_example("laminate_top_mount"))
    before = text[: text.index("Receiveandcheckthegoods")]
    brought = {
        item: squeezed(f"(1) {found.lists.item(item).name}") in before for item in ("cast-iron-top-33", "faucet", "dishwasher", "laminate-blank", "sealant")
    }
    assert brought == {"cast-iron-top-33": True, "faucet": True, "dishwasher": True, "laminate-blank": True, "sealant": False}


@pytest.mark.parametrize("name", ["corner_dishwasher_drain_down", "laminate_top_mount"])
def test_goods_are_brought_on_the_day_of_the_purchase_list(name: str) -> None:
    """What is delivered to order, a dispenser or a cord too: the half day's head and the list's row have one day."""
    found = demo.example(name)
    schedule = plan_schedule(found)
    steps, goods = {row.step: row for row in schedule.schedule.steps}, _goods(found, [row.step for row in schedule.schedule.steps if row.step not in OFFICE])
    brought = {good: steps[step].start.date() for step, names in goods.items() for good in names}
    listed = {f"({row.quantity}) {row.name}": row.needed_by for row in list_purchases(found, schedule) if row.sold_as == "each"}
    both = brought.keys() & listed.keys()
    assert len(both) >= 10
    assert {good: brought[good] for good in both} == {good: listed[good] for good in both}


@pytest.mark.parametrize(("name", "hand_tight"), [("stone_apron_single_bowl", True), ("corner_dishwasher_drain_down", False)])
def test_a_stick_without_room_for_a_bad_end_is_said(name: str, hand_tight: bool) -> None:
    """Stone: 2 x 34 7/8 + 2 x 15 5/8 + 4 x 4 1/2 and eight kerfs of 1/8 in are 120 in, all of a stick; in the corner 1/2 in is left of the fuller one."""
    assert 2 * 34.875 + 2 * 15.625 + 4 * 4.5 + 8 / 8 == 120
    assert 96 - (2 * 31.875 + 2 * 15.625 + 4 / 8) == 0.5
    assert ("no room for a bad end" in text_of(crew_sheet_bytes(demo.example(name)))) is hand_tight


@pytest.mark.parametrize(
    ("name", "hand_words"),
    [("solid_surface_flush", "The old countertop: 461 lb in all. Take it apart: no piece above 110 lb for 2 people."), ("stone_apron_single_bowl", "")],
)
def test_an_old_countertop_too_heavy_for_the_crew_is_taken_apart(name: str, hand_words: str) -> None:
    """Old stone, 12 ft of it, weighs 461 lb, and the crew table gives two people 110 lb; 102 lb of laminate three people lift. The other line is the sink's."""
    text = " ".join(text_of_example(name).split())
    assert "Heaviest lift" not in text
    assert re.search(r"Lifting the sink: \d+ lb, ", text)
    assert hand_words in text
    assert bool(hand_words) is ("The old countertop: " in text)


@pytest.mark.parametrize(
    ("name", "hand_words"),
    [("wood_apron_two_bowl", "42 lb, 1 person. A second person makes it easier."), ("laminate_top_mount", "112 lb, 3 people. The")],
)
def test_one_who_lifts_more_than_one_should_is_told_of_a_second(name: str, hand_words: str) -> None:
    """The lifting equation allows one person about 19 lb there, whoever else is on hand."""
    assert f"Lifting the sink: {hand_words}" in re.sub(r"\s+", " ", text_of(crew_sheet_bytes(demo.example(name))))


@pytest.mark.parametrize("name", demo.SOME)
def test_a_count_stands_on_the_line_of_what_it_counts(name: str) -> None:
    """No line ends in "(1)", and none in the middle of "2 x 4 ft panel"."""
    pages = pypdf.PdfReader(io.BytesIO(crew_sheet_bytes(demo.example(name), schedule=plan_schedule(demo.example(name))))).pages
    lines = [line.strip() for page in pages for line in page.extract_text().splitlines()]
    assert sum(bool(re.search(r"\(\d+\) \w", line)) for line in lines) > 5
    assert [line for line in lines if re.search(r"\(\d+\)( \d+)?$|\d x$", line)] == []


@pytest.mark.parametrize(
    ("name", "hand_done", "hand_promised"),
    [
        ("corner_dishwasher_drain_down", "Take out the old sink 2 people, 1 h; done Fri, Jun 5", "The old sink is out Friday, June 5"),
        ("corner_dishwasher_drain_down", "Punch list 1 person, 1 1/2 h; done Thu, Jul 2", "Work complete Thursday, July 2"),
        ("solid_surface_flush", "Punch list 1 person, 1 1/4 h; done Mon, May 11", "Work complete Monday, May 11"),
    ],
)
def test_a_step_that_ends_on_a_later_day_has_the_day_of_the_proposal(name: str, hand_done: str, hand_promised: str) -> None:
    """It stands under the half day in which it starts: without its last day the crew's sheet would promise another day than the customer has."""
    found = demo.example(name)
    schedule = plan_schedule(found)
    assert hand_done in " ".join(text_of(crew_sheet_bytes(found, schedule=schedule)).split())
    assert hand_promised in " ".join(text_of(proposal_bytes(found)).split())
    assert "; done " not in text_of(crew_sheet_bytes(found))


@pytest.mark.parametrize(
    ("name", "hand_brittle", "hand_twice"),
    [
        ("stone_apron_single_bowl", False, True),  # laminate comes off; the stone shop templates over the new sink
        ("corner_dishwasher_drain_down", True, True),  # tile comes off
        ("solid_surface_flush", True, False),  # stone comes off, templated before
        ("wood_apron_two_bowl", False, False),
    ],
)
def test_tear_out_and_floors_are_cautioned_as_the_job_has_them(name: str, hand_brittle: bool, hand_twice: bool) -> None:
    """What breaks is named where it comes off; where the crew comes back for the shop's countertop, floor and steps are covered and counted twice."""
    text = " ".join(text_of_example(name).split())
    assert "Lift together; a countertop breaks at the sink opening." in text
    assert ("Take tile, stone and concrete apart at seams" in text) is hand_brittle
    assert ("The floor is covered twice" in text) is hand_twice
    rows = {line.item: line.quantity for line in demo.example(name).lines}
    assert rows["protect-step"] == demo.example(name).job.site.stair_steps * (2 if hand_twice else 1)


@pytest.mark.parametrize(("name", "hand_numbers"), [("corner_dishwasher_drain_down", [*range(1, 9), 12, 13, 14]), ("solid_surface_flush", [*range(1, 7)])])
def test_numbers_that_are_left_out_are_said_to_be_for_the_office(name: str, hand_numbers: list[int]) -> None:
    """9 to 11 of the corner are permit, plumber and electrician; the sheet keeps the numbers of the drawings and says why some are missing."""
    text = " ".join(text_of_example(name).split())
    settle = text[text.index("Settle these first") : text.index("Not seen or measured")]
    assert sorted(int(number) for number in re.findall(r"(\d+) CAUTION", settle)) == hand_numbers
    assert ("The ones left out are for the office." in settle) is (hand_numbers != [*range(1, len(hand_numbers) + 1)])
