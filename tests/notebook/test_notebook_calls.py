"""What a person in a notebook types: tables with their units, pint in and out, sweeps, folders, own steps, records that stay honest."""

import re
import shutil
from dataclasses import replace
from decimal import ROUND_HALF_UP, Decimal
from html import escape
from types import MappingProxyType

import openpyxl
import pytest
from pint import Quantity, UnitRegistry

import kit
from kit.document import estimate_document
from kit.errors import IssueError, JobError, KitError, ListError, UnitError
from kit.issued import open_issued
from kit.records import Piece
from kit.takeoff.working import number, pieces_length

EXAMPLES = kit.shipped("examples")
LISTS = kit.load_lists(str(kit.shipped("price_lists")))
JOB = kit.read_job(str(EXAMPLES / "stone_apron_single_bowl.toml"))
PRICED = kit.estimate(JOB, LISTS)


def count_corbels(sheet):
    pieces = (Piece(24.0, 2, "corbel"),)
    return [
        sheet.buy("build-frame", "lumber-2x4", "corbels", pieces_length(pieces) / number(12), pieces=pieces),
        sheet.do("build-frame", "frame-member", "corbels", number(2, "corbels")),
    ]


def test_pint_goes_in_and_comes_out():
    """Of any registry, in any unit of the same kind; a weight is no width, and a share no length."""
    hand_inches = 33.0  # 838.2 mm / 25.4 mm
    for width in (Quantity(33, "in"), Quantity(838.2, "mm"), UnitRegistry()("2.75 ft"), "33 in"):
        assert kit.change_job(JOB, {"cabinet.width": width}).cabinet.width_in == hand_inches
    job = kit.change_job(JOB, {"sink.weight": Quantity(50, "kg"), "terms.waste": Quantity(12, "%"), "site.carry": Quantity(20, "m")})
    assert kit.quantity_of(job, "sink.weight").to("kg").magnitude == pytest.approx(50.0)
    assert kit.quantity_of(job, "terms.waste").to("").magnitude == pytest.approx(0.12)
    assert kit.quantity_of(job, "site.carry").to("m").magnitude == pytest.approx(20.0)
    assert kit.quantity_of(job, "counter.runs[1].length").to("ft").magnitude == pytest.approx(8.0)
    assert kit.quantity_of(PRICED, "hours").magnitude == PRICED.hours
    members = kit.quantity_of(PRICED, "build-frame/lumber-2x4/members")
    assert members.to("in").magnitude == pytest.approx(225.375)  # as worked by hand in 5_worked_example
    with pytest.raises(JobError, match=r'cabinet\.width: "3 kilogram" is not a length\. Give one, such as "33 in"'):
        kit.change_job(JOB, {"cabinet.width": Quantity(3, "kg")})
    with pytest.raises(JobError, match=r'cabinet\.width: "nan inch" is not a number'):
        kit.change_job(JOB, {"cabinet.width": Quantity(float("nan"), "in")})


@pytest.mark.parametrize(
    ("place", "wording"),
    [
        ("cabinet.color", "is no field of this job"),
        ("counter.runs[9].length", "is no field of this job"),
        ("sink.mount", "says under: no measure with a unit"),
        ("cabinet", "is a part of the job: no measure with a unit"),
        ("cabinet.door_height", "is not known: nobody has measured it"),
    ],
)
def test_what_is_no_measure_is_said(place, wording):
    """Each by its own words."""
    with pytest.raises(JobError, match=wording):
        kit.quantity_of(JOB, place)


def test_a_line_that_counts_pieces_has_no_quantity_of_pint():
    """Each is no unit of measure."""
    line = next(line for line in PRICED.lines if line.unit == "each")
    with pytest.raises(UnitError, match='"each" is not a unit the kit knows'):
        kit.quantity_of(PRICED, line.id)


def test_tables_name_their_units_and_sum_to_the_cent():
    """Every part has a row for each of its records; money is Decimal and sums to the build-up."""
    for part in ("lines", "purchases", "tasks", "findings", "build_up"):
        table = kit.frame(PRICED, part)
        assert list(table.index) == [getattr(one, "id", None) or str(one.step) for one in getattr(PRICED, part)]
        assert table.attrs == {"job": "DEMO-001", "lists": "Price lists: the invented ones of the kit, folder price_lists."}
    tasks, bought = kit.frame(PRICED, "tasks"), kit.frame(PRICED, "purchases")
    assert sum(tasks["amount [USD]"]) == PRICED.amount("labor")
    assert sum(tasks["amount [USD]"]) + sum(bought["amount [USD]"]) + PRICED.amount("tax-paid") == PRICED.cost
    assert tasks["likely [h]"].sum() == pytest.approx(PRICED.hours)
    rows = kit.frame(PRICED, "build_up")
    assert (rows.loc["price", "unit"], rows.loc["margin", "unit"]) == ("USD", "1")
    assert kit.frame(replace(PRICED, tasks=()), "tasks").empty
    with pytest.raises(KitError, match=r'"hours" is no part of an estimate\. Use one of: lines, purchases, tasks, findings, build_up'):
        kit.frame(PRICED, "hours")


def test_what_a_notebook_shows_is_short_and_escaped():
    """A job, its lists, estimate, calendar, risk and comparison are short tables, whatever a name holds; a place still to be measured shows no stand-in."""
    odd = kit.change_job(JOB, {"identity.customer": "<script>alert(1)</script> & Sons"})
    priced = kit.estimate(odd, LISTS)
    shown = [one._repr_html_() for one in (odd, LISTS, priced, kit.plan_schedule(priced), kit.assess_risk(priced, trials=200))]
    assert all(len(html) < 10_000 and "<script" not in html and html.startswith("<table") for html in shown)
    assert "&lt;script&gt;" in shown[0]
    assert "$8,921.09" in shown[2]
    stopped = kit.estimate(kit.change_job(JOB, {"cabinet.width": "33 in"}), LISTS)
    assert f"; and {sum(one.level.word == 'stop' for one in stopped.findings) - 3} more" in stopped._repr_html_()
    blank = kit.new_job("drop-in-laminate", LISTS, number="K-001", day="2026-03-02")
    assert "unknown wide" in blank._repr_html_()
    assert all(escape(priced.step_names[row.step]) in shown[3] for row in kit.plan_schedule(priced).schedule.steps)
    assert "answers decide the price" in blank._repr_html_()


def test_what_is_printed_is_one_short_line():
    """Job, lists, estimate and what comes of it: the text that a notebook keeps beside each table."""
    calendar, risk = kit.plan_schedule(PRICED), kit.assess_risk(PRICED, trials=200)
    options = kit.compare_options(kit.read_job(EXAMPLES / "counter_stays_sink_only.toml"), LISTS)
    things = [JOB, PRICED.job, LISTS, PRICED, calendar, risk, options, options[0], kit.sweep(JOB, "cabinet.width", ["36 in"]), kit.draw_job(PRICED, "plan")]
    assert [repr(thing) for thing in things if len(repr(thing)) > 200 or "\n" in repr(thing)] == []
    assert repr(PRICED) == "<Estimate of job DEMO-001: $8,921.09, 37.0 h, can be built>"


def test_comparison_is_a_table_of_its_alternates():
    """As many rows as alternates; what can't be had says why."""
    found = kit.compare_options(kit.read_job(EXAMPLES / "counter_stays_sink_only.toml"), LISTS)
    assert [one.name for one in found] == list(found.frame.index)
    assert all(found.frame.loc[one.name, "why"] for one in found if not one.usable)
    assert found._repr_html_().count("<tr>") == len(found) + 1


def test_sweep_prices_each_value_and_says_why_not():
    """A value that is refused is a row; the picture holds every price and whose lists they are."""
    widths = [Quantity(33, "in"), "36 in", "3 in"]
    swept = kit.sweep(JOB, "cabinet.width", widths, lists=LISTS)
    assert list(swept.frame.index) == ["33 in", "36 in", "3 in"]
    assert swept.frame["can be built"].tolist()[:2] == [False, True]
    assert swept.frame.loc["36 in", "price [USD]"] == PRICED.price
    assert "outside the range 18 to 60 in" in swept.frame.loc["3 in", "problem"]
    assert "$8,921.09" in swept.picture
    assert "the invented ones of the kit" in swept.picture
    assert "<svg" in swept._repr_html_()
    with pytest.raises(KitError, match="at least one value"):
        kit.sweep(JOB, "cabinet.width", [])
    assert "invented" in swept.frame.attrs["lists"]


def test_a_folder_is_a_table_and_an_unreadable_job_a_row(tmp_path):
    """It says why, and the others have their prices."""
    shutil.copy(EXAMPLES / "stone_apron_single_bowl.toml", tmp_path / "a.toml")
    (tmp_path / "b.toml").write_text("cabinet = 3", encoding="utf-8")
    kit.write_job(kit.new_job("apron-wood", LISTS, number="K-002", day="2026-03-02"), str(tmp_path / "c.toml"))
    found = kit.batch(str(tmp_path))
    assert found.loc["a.toml", "price [USD]"] == PRICED.price
    assert 'cabinet: "3" is not a table' in found.loc["b.toml", "problem"]
    assert "still to be measured" in found.loc["c.toml", "problem"]
    assert found.loc["c.toml", "job"] == "K-002"
    with pytest.raises(KitError, match="is no folder of job files"):
        kit.batch(tmp_path / "nowhere")


def test_why_answers_in_words_and_offers_names():
    """The working of a number; an assumption by its field; near names."""
    assert "8,921.09" in kit.why(PRICED, "price").splitlines()[0]
    assert "16 (cut and fit a frame member) x 0.25 h" in kit.why(PRICED, "build-frame")
    assert kit.why(PRICED, PRICED.assumptions[0].field).startswith("Why? ")
    for printed, known in (("Build the support frame", "build-frame"), ("direct cost", "cost"), ("Apron height above the doors", "cabinet/apron-above-doors")):
        assert kit.why(PRICED, printed) == kit.why(PRICED, known), printed
    assert kit.why(PRICED, "New shutoff valves join by").startswith("Why? ")
    assert kit.why(PRICED, "2x4 framing lumber").count("Why? ") == sum(one.item == "lumber-2x4" for one in PRICED.purchases) > 0
    with pytest.raises(KitError, match=r'has no number "prise"\. Did you mean price'):
        kit.why(PRICED, "prise")


def test_an_own_step_is_priced_and_said_and_never_issued(tmp_path):
    """Four feet of lumber and two members; the workbook is written and says so, papers and promise are refused."""
    own = kit.estimate(JOB, LISTS, steps=[count_corbels])
    hand_hours = PRICED.hours + 2 * 0.25  # frame-member 0.25 h
    assert own.hours == pytest.approx(hand_hours)
    hand_lumber = Decimal("15.30")  # 273 3/8 in with the kerfs: three 96 in sticks at 5.10 USD, where two of 120 in held the frame alone
    assert [bought.amount for bought in own.purchases if bought.item == "lumber-2x4"] == [hand_lumber]
    assert own.price > PRICED.price
    assert own.changed_in_memory == ("own takeoff step count_corbels",)
    assert estimate_document(own)["changed_in_memory"] == ["own takeoff step count_corbels"]
    sheet = openpyxl.load_workbook(kit.write_workbook(own, tmp_path / "own.xlsx"), data_only=True)["Lists"]
    assert ("Changed in memory", "own takeoff step count_corbels") in [(row[0].value, row[1].value) for row in sheet.iter_rows()]
    with pytest.raises(IssueError, match="count_corbels is in this notebook only"):
        kit.issue(own, tmp_path, reason="to try it", day="2026-03-02")
    with pytest.raises(IssueError, match="count_corbels is in this notebook only, and papers for a customer come from job and lists alone"):
        kit.write_papers(own, tmp_path / "papers")
    assert [path.name for path in tmp_path.iterdir() if path.suffix != ""] == ["own.xlsx"]


def test_lists_changed_by_their_cells_keep_an_honest_record(tmp_path):
    """A new fingerprint, a name that says it; promise and estimate agree when it is opened again."""
    slower = kit.change_lists(LISTS, {"rates/frame-member/likely": "0.3 h", "prices/lumber-2x4@96 in stick/price": "5.60", "company/wage/value": "35 USD"})
    assert (slower.rates["frame-member"].likely_h, slower.company.wage) == (0.3, Decimal(35))
    assert [old.name for old, new in zip(LISTS.files, slower.files, strict=True) if old != new] == ["prices.csv", "rates.csv", "company.csv"]
    assert LISTS.rates["frame-member"].likely_h == 0.25
    again = kit.change_lists(slower, {"items/lumber-2x4/name": "Framing lumber"})
    assert again.retyped == ("items.csv", "prices.csv", "rates.csv", "company.csv")
    assert again.folder_words == "price_lists, changed in memory"
    found = kit.estimate(JOB, slower)
    assert found.changed_in_memory == ("list prices.csv", "list rates.csv", "list company.csv")
    path = kit.issue(found, str(tmp_path), reason="to try it", day="2026-03-02")
    issued = open_issued(path)
    assert issued.estimate.price == found.price == issued.price
    assert issued.lists_words == "Price lists: your own, folder price_lists, changed in memory."


@pytest.mark.parametrize(
    ("place", "wording"),
    [
        ("rates/nobody/likely", "is not a row of rates.csv"),
        ("prices/lumber-2x4/price", "is 2 rows; name one of them: lumber-2x4@Invented Lumber Yard@2026-01-01@96 in stick"),
        ("hourly/x/y", "names no list. Use one of: items, prices"),
        ("rates/frame-member/likey", "has no column of that name. Use one of: driver, name"),
        ("rates/frame-member/likely", r'rates\.csv, row 2, likely: "9 USD" has a unit that is not known'),
    ],
)
def test_a_cell_that_is_not_there_or_not_sound_is_refused(place, wording):
    """By list, row and column."""
    with pytest.raises(ListError, match=wording):
        kit.change_lists(LISTS, {place: "9 USD"})


def test_rows_put_in_place_by_hand_lose_the_fingerprint(tmp_path):
    """Workbook and promise are written and say it; the difference to the lists as read is told."""
    rates = MappingProxyType({**LISTS.rates, "frame-member": replace(LISTS.rates["frame-member"], likely_h=0.3)})
    found = kit.estimate(JOB, replace(LISTS, rates=rates))
    assert found.lists.changed_files == ("rates.csv",)
    assert replace(LISTS).changed_files == ()
    said = {entry["name"]: entry["sha256"] for entry in estimate_document(found)["lists"]}
    assert said["rates.csv"] == "changed in memory"
    assert said["items.csv"] == LISTS.files[0].sha256
    path = kit.write_workbook(found, tmp_path / "by_hand.xlsx")
    cells = {row[0].value: row[1].value for row in openpyxl.load_workbook(path, data_only=True)["Lists"].iter_rows()}
    assert (cells["rates.csv"], cells["Folder"]) == ("changed in memory", "price_lists, changed in memory")
    issued = open_issued(kit.issue(found, tmp_path, day="2026-03-02"))
    assert issued.lists_words.endswith("folder price_lists, changed in memory.")
    assert issued.price == found.price
    assert issued.differences().amount == PRICED.price - found.price


def test_files_of_a_person_are_never_written_over(tmp_path):
    """Ours are replaced, another's stop the writing; a workbook is called one."""
    kit.write_workbook(PRICED, tmp_path / "job.xlsx")
    kit.write_workbook(PRICED, tmp_path / "job.xlsx")
    (tmp_path / "job.xlsx").write_bytes(b"mine")
    with pytest.raises(KitError, match=r"job\.xlsx is already there and was not written by this program"):
        kit.write_workbook(PRICED, tmp_path / "job.xlsx")
    with pytest.raises(KitError, match=r"Let it end in \.xlsx"):
        kit.write_workbook(PRICED, tmp_path / "job.txt")
    assert (tmp_path / "job.xlsx").read_bytes() == b"mine"


def test_papers_and_pictures_by_name(tmp_path):
    """All papers of a job under its number; a drawing that there is not is refused with those that there are."""
    swap = kit.estimate(kit.read_job(EXAMPLES / "counter_stays_sink_only.toml"), LISTS)
    names = [path.name for path in kit.write_papers(swap, tmp_path)]
    assert {"DEMO-005.xlsx", "DEMO-005-proposal.pdf", "DEMO-005-crew.pdf"} <= set(names)
    assert sorted(path.name for path in tmp_path.iterdir() if not path.name.startswith(".")) == sorted(names)
    picture = kit.draw_job(PRICED, "frame")
    assert picture.startswith("<svg")
    assert picture.removeprefix("<svg") in picture._repr_html_()
    with pytest.raises(KitError, match=r'has no drawing "roof"\. It has: set-out, front'):
        kit.draw_job(PRICED, "roof")
    with pytest.raises(KitError, match="This job has no frame to draw"):
        kit.draw_job(swap, "frame")


def test_a_kind_of_job_that_there_is_not():
    """The kinds are named."""
    with pytest.raises(KitError, match=r'"vessel" is no kind of job\. Use one of: apron-under-stone'):
        kit.new_job("vessel", LISTS, number="K-001", day="2026-03-02")


def test_a_day_that_is_none_is_refused_in_words(tmp_path):
    """And nothing is issued."""
    with pytest.raises(KitError, match='"March 2" is not a day'):
        kit.issue(PRICED, tmp_path, day="March 2")
    assert list(tmp_path.iterdir()) == []


def test_why_a_purchase_names_the_steps_it_is_for():
    """By their names, those of one step together; no id."""
    said = kit.why(PRICED, "sealant")
    needs = re.search(r"Needed: ([\d. +]+) \(seal the joints\) = ", said)[1].split(" + ")
    lines = [line.need for line in PRICED.lines if line.item == "sealant"]
    assert len(needs) == len(lines) > 1
    assert [float(need) for need in needs] == pytest.approx(lines, abs=0.01)


@pytest.mark.parametrize("name", sorted(path.stem for path in EXAMPLES.glob("*.toml")))
def test_why_a_price_shows_parts_that_give_it(name):
    """What steps need adds up as it stands there; hours and quantities times the rate give the amount to the cent."""
    estimate = kit.estimate(kit.read_job(EXAMPLES / f"{name}.toml"), LISTS)
    sums, products = [], []
    for about in (*(one.id for one in estimate.purchases), *(one.step for one in estimate.tasks)):
        said = kit.why(estimate, about).replace(",", "")
        sums += re.findall(r"Needed: (.*) = (\d+(?:\.\d+)?)", said)
        products += re.findall(r": ([\d.]+)(?: h)? x \$([\d.]+) = \$([\d.]+)\n", said)
    for parts, hand_sum in sums:
        assert sum(map(Decimal, re.findall(r"(?:^|\+ )(\d+(?:\.\d+)?)(?= [(+])", parts))) == Decimal(hand_sum)
    for much, rate, amount in products:
        assert (Decimal(much) * Decimal(rate)).quantize(Decimal("0.01"), ROUND_HALF_UP) == Decimal(amount)
    assert len(sums) > 10
    assert len(products) > 25


def test_why_a_purchase_says_what_of_the_need_it_covers():
    """Blanks of two lengths are bought for the countertop: each covers a part of the 34.31 sq ft."""
    said = kit.why(kit.estimate(kit.read_job(EXAMPLES / "laminate_top_mount.toml"), LISTS), "laminate-blank/countertop 120 x 25 1/2 in, 1 1/2 in thick")
    assert "34.31 (scribe and cut the countertop) = 34.31 sq ft; 19.48 sq ft of it here\n" in said
    assert "Needed: 2, one for each shop\n" in kit.why(PRICED, "shop-trip")


def test_why_says_what_each_of_several_packs_is_for():
    """Maple in two stocks, 93 x 25 1/2 and (93 + 25 1/2) x 4 in; finish in three cans. Parts come to the need, and no source says twice that it is none."""
    wood = kit.estimate(kit.read_job(kit.shipped("examples") / "wood_apron_two_bowl.toml"), LISTS)
    said = kit.why(wood, "Edge-glued hard maple blank")
    hand_top, hand_splash = "16.47", "3.29"  # 2,371.5 and 474 sq in
    assert [line.partition("; ")[2] for line in said.splitlines() if "Needed" in line] == [f"{part} sq ft of it here" for part in (hand_top, hand_splash)]
    assert said.count("Needed: 19.76 (lay out the blank to acclimate) = 19.76 sq ft; ") == 2
    said = kit.why(wood, "coat-blank/wood-finish/all faces")
    assert "Bought: 2, sold as 32 fl oz can, from Invented Lumber Yard at $39.80: $79.60; 1, sold as 16 fl oz can, from " in said
    assert said.endswith("Source: from memory, no source read")


def test_why_a_minimum_charge_says_what_it_is():
    """24 at least, 1.63 x 6.50 charged for what is dumped; no dollars at a dollar each."""
    hand_charged = "10.60"
    said = kit.why(PRICED, "minimum-tip")
    assert "Minimum charge for a job: $24.00\n" in said
    assert f"Amount: $24.00 - ${hand_charged} charged otherwise = $13.40" in said
    assert "$1.00" not in said


def test_why_says_shares_in_percent_and_what_is_short_without_a_minus():
    """Overhead of 22 percent; an apron 2 7/8 in too low for the doors; two sticks by what they are sold as; no key of a source."""
    assert "$6,230.61 x 22% = $1,370.73" in kit.why(PRICED, "overhead")
    said = kit.why(PRICED, "cabinet/apron-above-doors")
    assert "Short by: 2 7/8 in, tape good to" in said
    assert "To spare" not in said
    assert "To spare: 2 1/2 in" in kit.why(PRICED, "cabinet/body-between-sides")
    said = kit.why(PRICED, "build-frame/lumber-2x4/members")
    assert "Bought: 2, sold as 120 in stick, from " in said
    assert "(own)" not in said


def test_a_share_of_the_price_is_told_in_percent():
    """1 less 12 percent of profit is 88 percent; a factor stays one."""
    assert kit.why(PRICED, "keep").splitlines()[0].endswith(": 88%")
    assert "Working: 100% - 12% = 88%\n" in kit.why(PRICED, "keep")
    assert kit.why(PRICED, "margin").splitlines()[0].endswith(": 30.16%")
    assert "$34.00 x 1.38 = $46.92" in kit.why(PRICED, "labor-rate")
