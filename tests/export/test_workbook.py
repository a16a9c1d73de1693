"""The workbook as a file: its formulas, inputs, texts, print set-up and bytes."""

import datetime as dt
import hashlib
import io
import math
import os
import re
import subprocess
import sys
from dataclasses import replace
from decimal import ROUND_HALF_UP, Decimal

import export_demo as demo
import openpyxl
import pytest
from export_demo import write_workbook
from input_cells import input_cells
from long_run import one_in
from openpyxl.formula import Tokenizer
from openpyxl.formula.tokenizer import Token

import kit
from kit import outlook
from kit.draw.marks import number_findings
from kit.errors import PriceError
from kit.export.purchases_sheet import ordered_purchases
from kit.export.workbook import place_figures, workbook_bytes
from kit.job import change_job
from kit.job.field_names import label_of
from kit.money import round_cents
from kit.outlook import cash_of, plan_schedule
from kit.pricing.build_up import row_kinds
from kit.pricing.draws import plan_draws
from kit.records import CostType
from kit.steps import Step
from kit.takeoff.working import working_words
from kit.units import format_day

CONSTANTS = {"0", "1", "6", "12", "100"}
FUNCTIONS = {"SUM(", "ROUND(", "ROUNDUP(", "ROUNDDOWN(", "MAX(", "MIN(", "IF(", "NA(", "ISNUMBER("}
SHEETS = ["Overview", "Takeoff", "Purchases", "Labor", "Calendar", "Build-up", "Terms and rates", "Findings", "Drawings", "Import", "Lists"]
UNPRINTED = {"Import", "Lists"}


@pytest.fixture(scope="module", params=demo.FOR_BOOKS)
def written(request):
    """An estimate and its workbook: with formulas, and with the values stored beside them."""
    estimate = demo.estimate_of(request.param)
    content = demo.workbook_of(request.param)
    return estimate, openpyxl.load_workbook(io.BytesIO(content)), openpyxl.load_workbook(io.BytesIO(content), data_only=True)


def formula_cells(book):
    return [(sheet, cell) for sheet in book for row in sheet.iter_rows() for cell in row if cell.data_type == "f"]


def test_sheets_stand_in_the_order_of_the_work(written):
    """Overview first, what the figures rest on last, before it plain values and the drawings."""
    _, book, _ = written
    assert book.sheetnames == SHEETS


def test_overview_and_calendar_speak_of_the_same_trials(monkeypatch):
    """Cost and finish are tried once for a workbook."""
    tried = []
    monkeypatch.setattr(outlook, "cost_risk", lambda *args, run=outlook.cost_risk, **settings: tried.append(settings["trials"]) or run(*args, **settings))
    workbook_bytes(demo.estimate_of(demo.FOR_BOOKS[0]))
    assert tried == [outlook.TRIALS]


def test_formulas_hold_only_references_functions_and_five_constants(written):
    """No number hides in a formula but 0, 1, 6, 12 and 100, and no text."""
    _, book, _ = written
    cells = formula_cells(book)
    assert len(cells) > 250
    for _, cell in cells:
        tokens = Tokenizer(cell.value).items
        for token in tokens:
            if token.type == Token.OPERAND:
                assert token.subtype in {Token.RANGE, Token.NUMBER}, (cell.coordinate, cell.value)
                assert token.subtype == Token.RANGE or token.value in CONSTANTS, (cell.coordinate, cell.value)
            if token.type == Token.FUNC and token.subtype == Token.OPEN:
                assert token.value in FUNCTIONS, (cell.coordinate, cell.value)


def test_every_formula_has_its_value(written):
    """A reader without a calculator sees every figure."""
    _, book, values = written
    assert [
        (sheet.title, cell.coordinate) for sheet, cell in formula_cells(book) if not isinstance(values[sheet.title][cell.coordinate].value, (int, float))
    ] == []


def test_key_figures_are_those_of_the_estimate(written):
    """Overview and build-up show price, cost, margin and hours as the kit computed them."""
    estimate, _, values = written
    overview = {row[0].value: row[1].value for row in values["Overview"].iter_rows()}
    assert overview["Price"] == float(estimate.price)
    assert overview["Direct cost"] == float(estimate.cost)
    assert overview["Own worker-hours"] == estimate.hours
    places = place_figures(estimate)
    for row in estimate.build_up:
        place = places[f"row:{row.id}"]
        assert values[place.sheet][place.cell].value == float(row.amount)


def test_takeoff_shows_every_line_with_working_and_waste(written):
    """Each line once: net quantity, waste, quantity with waste, working; pieces whole, with the exact figures to the right of the print."""
    estimate, book, values = written
    rows = list(values["Takeoff"].iter_rows(min_row=5, values_only=True))
    assert [(row[4], row[12], row[11]) for row in rows] == [(line.waste, working_words(line.basis), line.id) for line in estimate.lines]
    cut_up = 0
    for number, (row, line) in enumerate(zip(rows, estimate.lines, strict=True), 5):
        if line.kind is kit.records.Kind.DO or line.unit != "each":
            assert (row[2], row[5], *row[7:9]) == (pytest.approx(line.quantity), pytest.approx(line.need), None, None)
            continue
        assert (row[2], row[5]) == (math.ceil(round(line.quantity, 6)), math.ceil(round(line.need, 6)))
        assert row[7:9] == (pytest.approx(line.quantity), pytest.approx(line.need))
        assert [book["Takeoff"].cell(number, column).number_format for column in (3, 6)] == ["0", "0"]
        cut_up += not line.need.is_integer()
    assert cut_up or not estimate.job.scope.counter.renewed  # a plain swap takes whole pieces only


def test_pieces_are_whole_and_kinds_of_cost_the_same_on_both_sheets(written):
    """What is bought by the piece is needed in whole ones; 2 valves are not 2.00; a line's kind of cost is that of its purchase."""
    estimate, book, values = written
    for row, purchase in enumerate(ordered_purchases(estimate), 5):
        need, shown = (sheet["Purchases"].cell(row, 7) for sheet in (values, book))
        if purchase.unit == "each":
            assert need.value == (math.ceil(round(purchase.need, 6)) if purchase.packs else purchase.need)
            assert shown.number_format == "0"
    kinds = {row[15]: row[12] for row in values["Purchases"].iter_rows(min_row=5, values_only=True)}
    for row, line in enumerate(estimate.lines, 5):
        kind = values["Takeoff"].cell(row, 7).value
        bought = [kinds[one.id] for one in estimate.purchases if line.id in one.line_ids]
        assert set(bought) in ({kind}, set())
        assert (kind == "labor") is (line.kind is kit.records.Kind.DO)
        if line.unit == "each" and line.quantity.is_integer():
            assert book["Takeoff"].cell(row, 3).number_format == "0"


def test_what_stands_twice_in_a_step_says_for_what(written):
    """Three beads of one sealant are told apart on paper, where their working is not printed."""
    estimate, _, values = written
    rows = [row[:2] for row in values["Takeoff"].iter_rows(min_row=5, values_only=True)]
    twice = [what for (_, what), line in zip(rows, estimate.lines, strict=True) if line.step is not Step.TRIPS and rows.count((_, what)) > 1]
    assert twice == []
    rim = "Silicone sealant for kitchen and bath" + ("" if estimate.design.setting.plain_swap else ": rim")  # a plain swap seals its rim only
    assert (estimate.step_names[Step.SEAL], rim) in rows


def test_hours_of_a_step_follow_from_those_beside_them_as_both_are_shown(written):
    """A tie in the fifth decimal is shown, so that nobody reads 3.1922 h beside the 3.1923 h that it makes."""
    estimate, book, values = written
    shown = [sheet["Labor"].cell(row, 2) for sheet, row in ((book, 5), (values, 5))]
    places = len(shown[0].number_format.split(".")[1].split('"')[0])
    for row, task in enumerate(estimate.tasks, 5):
        before, factor = (Decimal(str(values["Labor"].cell(row, column).value)) for column in (2, 3))
        read = before.quantize(Decimal(10) ** -places, ROUND_HALF_UP)
        assert float((read * factor).quantize(Decimal("0.0001"), ROUND_HALF_UP)) == task.hours_likely, task.step


def test_the_heads_of_the_purchases_fit_the_cut_plan_on_a_next_page(written):
    """The repeated heads stand above whatever the page begins with."""
    _, book, _ = written
    assert [book["Purchases"].cell(4, column).value for column in (1, 2, 3)] == ["What", "Supplier", "Sold as, or cut into"]


def test_prices_packs_and_totals_are_live(written):
    """What follows from something else is a formula; only packs that no formula gives are plain, and say where from."""
    estimate, book, _ = written
    for row in book["Purchases"].iter_rows(min_row=5, max_row=place_figures(estimate)["all:buy"].row):
        need, pack, packs, charged, price, amount, counted = (row[column] for column in (6, 8, 9, 3, 4, 5, 10))
        assert amount.data_type == "f"
        assert price.data_type == "n"
        if counted.value == "whole packs":
            assert packs.value == f"=ROUNDUP(ROUND({need.coordinate}/{pack.coordinate},6),0)"
            assert charged.value == f"={packs.coordinate}"
        elif counted.value == "as measured":
            assert charged.data_type == "f"
        else:
            assert counted.value.startswith(("from the cut plan", "from a cut plan", "as bought", "as charged")) or counted.value.endswith("charged by use")


def test_inputs_are_open_boxed_marked_and_checked_and_nothing_else_is_open(written):
    """Exactly the input cells are unlocked; each has a box, a mark and a rule for what may be typed."""
    estimate, book, _ = written
    cells = input_cells(estimate)
    wanted = {(cell.sheet, cell.cell) for cell in cells}
    assert len(wanted) == len(cells) > 40
    open_cells = {(sheet.title, cell.coordinate) for sheet in book for row in sheet.iter_rows() for cell in row if not cell.protection.locked}
    assert open_cells == wanted
    assert all(sheet.protection.sheet and not sheet.protection.password for sheet in book if sheet.title != "Import")
    checked = {(sheet.title, str(rule.sqref)) for sheet in book for rule in sheet.data_validations.dataValidation}
    assert checked == wanted
    for cell in cells:
        found = book[cell.sheet][cell.cell]
        assert found.value == float(cell.value)
        assert found.number_format.startswith('"› "')
        assert {found.border.left.style, found.border.right.style, found.border.top.style, found.border.bottom.style} == {"medium"}


def test_inputs_are_every_price_hour_factor_and_term(written):
    """Each purchase, each driver of the work, each factor that holds and each term of the price has its cell."""
    estimate, _, _ = written
    names = {"prices": set(), "rates": set(), "terms": set()}
    for cell in input_cells(estimate):
        names[cell.kind].add(cell.name)
    assert names["prices"] == {purchase.id for purchase in estimate.purchases}
    assert names["terms"] == {term.id for term in estimate.terms.inputs}
    drivers = {line.item for line in estimate.lines if line.kind is kit.records.Kind.DO}
    assert names["rates"] == drivers | {f"factor:{name}" for task in estimate.tasks for name, _ in task.factors}


def test_terms_rates_and_factors_have_names(written):
    """A term, the hours for one unit and a factor can be used by name in a formula of one's own; the name stands beside the cell."""
    estimate, book, _ = written
    named = {}
    for cell in input_cells(estimate):
        if cell.kind != "prices":
            word = {"terms": cell.name.replace("in:", "term_"), "rates": cell.name.replace("factor:", "factor_")}[cell.kind]
            name = (word if cell.kind == "terms" or word.startswith("factor_") else f"rate_{word}").replace("-", "_")
            assert book.defined_names[name].attr_text.replace("$", "") == f"'{cell.sheet}'!{cell.cell}"
            named[cell.cell] = name
    assert len(set(named.values())) == len(named) > 20
    shown = {f"B{row[0].row}": row[6].value for row in book["Terms and rates"].iter_rows(min_row=5) if row[6].value}
    assert named.items() <= shown.items()


def test_a_factor_stands_with_the_name_by_which_the_labor_sheet_calls_it(written):
    """Name first, then what it means; the labor sheet has the name alone."""
    estimate, book, _ = written
    used = {name for task in estimate.tasks for name, _ in task.factors} & estimate.lists.factors.keys()  # the job's own factor stands among its terms
    terms = {cell.value for row in book["Terms and rates"] for cell in row if isinstance(cell.value, str)}
    assert {f"{estimate.lists.factors[name].name}: {estimate.lists.factors[name].says}" for name in used} <= terms


def test_rows_of_the_build_up_look_like_what_they_are(written):
    """Money with its cents, shares in percent, steps of the rounding as whole numbers, factors with their decimals."""
    estimate, book, _ = written
    kinds, places = row_kinds(estimate.build_up, estimate.terms), place_figures(estimate)
    for row in estimate.build_up:
        look = book["Build-up"][places[f"row:{row.id}"].cell].number_format
        if kinds[row.id] == "money":
            assert look == "$#,##0.00", row.id
        else:
            share = row.id in {"margin", "keep", "overhead-marked-up"}
            assert look == ("0.0%" if row.id == "margin" else "0.0#%" if share else "0" if row.places == 0 else "#,##0.00####"), row.id


def test_a_minimum_that_is_reached_is_not_counted_as_a_purchase(written):
    """The build-up says of how many purchases a sum is made: those that cost something."""
    estimate, _, values = written
    kinds = [estimate.lists.item(one.item).cost_type for one in estimate.purchases]
    said: dict[str, str] = {}
    for name, _, words in values["Build-up"].iter_rows(max_col=3, values_only=True):
        said.setdefault(name, words)
    for label, kind in (("Material", CostType.MATERIAL), ("Hired trades and countertop shop", CostType.HIRED), ("Permits and fees", CostType.FEE)):
        count = kinds.count(kind)
        assert said[label] == (f"sum of {count} purchase{'' if count == 1 else 's'}" if count else "none on this job"), label


def test_the_checks_of_the_terms_hold_in_what_is_written(written):
    """One for each divisor and for the stated price of material; all hold in an estimate that the kit priced."""
    estimate, book, values = written
    place = place_figures(estimate)["all:checks"]
    count = sum(row.op == "divide" for row in estimate.build_up) + estimate.terms.has("in:material-markup")
    answers = [values["Build-up"].cell(place.row + 1 - back, place.column + 1).value for back in range(count + 1)]
    assert answers == [1] * (count + 1)
    assert book["Build-up"].cell(place.row - count, 1).value == "Can this price stand?"
    overview = {row[0].value: row[1] for row in book["Overview"].iter_rows()}
    assert overview["Can this price stand?"].value == f"='Build-up'!{place.cell}"
    assert overview["Can this price stand?"].number_format == '"yes";;"NO"'


def test_pages_are_set_up_for_print(written):
    """As wide as the paper, heads on each page, panes that stay; of the rows for the books what a person checks."""
    _, book, _ = written
    for sheet in book:
        assert sheet.oddFooter.left.text.startswith("Job ")
        assert sheet.page_setup.orientation == "portrait", sheet.title
        assert sheet.page_setup.paperSize == 1  # US letter
        if sheet.title != "Drawings":
            assert sheet.sheet_properties.pageSetUpPr.fitToPage
            assert sheet.page_setup.fitToWidth is None  # left out, it is 1
        if sheet.title != "Overview":
            assert sheet.freeze_panes
        if sheet.title not in {"Overview", *UNPRINTED}:
            assert sheet.print_title_rows
    for title in UNPRINTED:
        assert book[title][book[title].print_area.partition("!")[2].replace("$", "").partition(":")[0]].value is None


def test_no_drawing_is_cut_by_the_end_of_a_page(written):
    """Upright paper, breaks above pictures only, what stands between two breaks fits a page; no fit to the paper that would undo it."""
    _, book, _ = written
    sheet = book["Drawings"]
    assert sheet.page_setup.orientation == "portrait"
    assert not (sheet.sheet_properties.pageSetUpPr and sheet.sheet_properties.pageSetUpPr.fitToPage)
    assert all(picture.anchor._from.rowOff > 0 for picture in sheet._images)  # the line of the head above stays whole
    starts = [picture.anchor._from.row for picture in sheet._images]
    ends = [picture.anchor.to.row for picture in sheet._images]
    breaks = [pause.id for pause in sheet.row_breaks.brk]
    end = int(sheet.print_area.rpartition("$")[2])
    printed = [row for row in starts if row < end]  # what to set out and the frame taken apart are for the screen
    assert 0 < len(breaks) < len(printed) - 1
    assert set(breaks) < set(printed)
    for first, last in zip([printed[0], *breaks], [*(printed[printed.index(row) - 1] for row in breaks), printed[-1]], strict=True):
        assert ends[starts.index(last)] - first <= 10.05 * 72 / (12.75 * 0.71) - 5.5  # rows of 12.75 pt at 71 % on 10.05 in, title and head left out


def test_the_head_of_the_drawings_names_those_that_stand_there():
    """A sink that hangs in its countertop has no frame, so none is promised; one on a frame has."""
    for name, hand_frame in (("laminate_top_mount", False), ("stone_apron_single_bowl", True)):
        rows = openpyxl.load_workbook(io.BytesIO(workbook_bytes(demo.example(name))))["Drawings"].iter_rows(max_row=4, values_only=True)
        said = " ".join(str(value) for row in rows for value in row if value)
        assert "Front elevation, side section, plan of the countertop" in said
        assert ("plan of the countertop, the frame" in said, "the frame taken apart" in said) == (hand_frame, hand_frame)


def test_a_temporary_sink_that_spares_no_day_is_not_offered():
    """Of the solid-surface job the kitchen is without a sink as long with it; that of the stone is not."""
    says = {}
    for name in ("solid_surface_flush", "stone_apron_single_bowl"):
        rows = openpyxl.load_workbook(io.BytesIO(workbook_bytes(demo.example(name))))["Overview"].iter_rows(values_only=True)
        says[name] = next(row[1] for row in rows if row[0] == "Without a kitchen sink")
    assert says == {"solid_surface_flush": "5 days", "stone_apron_single_bowl": "18 days; 3 days with a temporary sink"}


def test_findings_and_assumptions_are_all_there(written):
    """Nothing that was found or assumed is left out; what is not ok has the number of its flag in the drawings."""
    estimate, _, values = written
    rows = [row[:3] for row in values["Findings"].iter_rows(min_row=5, values_only=True)]
    numbers = {finding.id: number for number, finding in number_findings(estimate.findings)}
    wanted = [(numbers.get(finding.id), finding.level.word, finding.check) for finding in estimate.findings]
    assumed = [(None, "assumed", label_of(assumed.field)) for assumed in estimate.assumptions]
    assert rows == [row for row in wanted if row[1] != "ok"] + assumed + [row for row in wanted if row[1] == "ok"]


def test_overview_answers_what_how_much_when_and_what_to_decide(written):
    """On one page: every payment live with its planned day, our money out, days at the house, the findings worst first; no fingerprint."""
    estimate, book, values = written
    sheet, visit = values["Overview"], estimate.job.identity.visit_date
    rows = [[cell.value for cell in row] for row in sheet.iter_rows()]
    assert [row[0] for row in rows if row[0] in {"What", "How much", "When", "What to decide"}] == ["What", "How much", "When", "What to decide"]
    paid = [(row[0].partition(", ")[2], row[1], row[2]) for row in rows if str(row[0]).startswith("Payment ")]
    cash = cash_of(estimate)
    assert paid == [(format_day(day, beside=visit), float(draw.due), draw.label) for draw, day in zip(plan_draws(estimate).draws, cash.draw_days, strict=True)]
    assert {row[1].data_type for row in book["Overview"].iter_rows() if str(row[0].value).startswith("Payment ")} == {"f"}
    said = {row[0]: row[1] for row in rows if row[0]}
    assert format_day(cash.worst.day, beside=visit) in said["Our money out"] or not cash.most_fronted
    assert format_day(plan_schedule(estimate).finish.date()) in said["At the house"]
    decided = [row[1] for row in rows if str(row[0]).endswith(("STOP", "UNKNOWN", "CAUTION"))]
    open_ones = [finding for _, finding in number_findings(estimate.findings)][:8]
    assert len(decided) == len(open_ones)
    assert all(text.startswith(f"{finding.check}: {finding.measured}".rstrip(".")) for text, finding in zip(decided, open_ones, strict=True))
    needs = [f"; need {finding.limit}".rstrip(".") for finding in open_ones if finding.limit]
    assert all(need in text for need, text in zip(needs, (text for text, finding in zip(decided, open_ones, strict=True) if finding.limit), strict=True))
    assert "fingerprint" not in str(rows)
    assert (book["Overview"].page_setup.fitToWidth, book["Overview"].page_setup.fitToHeight) == (None, None)  # left out, they are 1


def test_last_sheet_says_whose_figures_these_are(written):
    """Invented data say so on the first; each list file stands with its fingerprint on the last, which names every sheet."""
    estimate, book, values = written
    assert any("Invented demo data" in str(cell.value) for row in values["Overview"].iter_rows() for cell in row)
    texts = {cell.value for row in values["Lists"].iter_rows() for cell in row}
    assert set(book.sheetnames) - {"Lists"} <= texts
    for file in estimate.lists.files:
        assert file.name in texts
        assert file.name in estimate.lists.changed_files or f"fingerprint {file.sha256[:12]}" in texts


def test_a_company_of_ones_own_is_not_called_invented(tmp_path):
    """The note stands only where the lists say that they are invented."""
    found = demo.example(demo.FIRST)
    lists = replace(found.lists, company=replace(found.lists.company, name="Own Company", region="Own County"))
    own = replace(found, lists=lists, purchases=tuple(replace(purchase, supplier="Own Yard") for purchase in found.purchases))
    book = openpyxl.load_workbook(write_workbook(own, tmp_path / "own.xlsx"))
    assert not any("Invented demo data" in str(cell.value) for row in book["Overview"].iter_rows() for cell in row)


def test_a_job_that_stops_says_so_on_the_first_sheet(tmp_path):
    """What can't be built is told beside its price."""
    found = demo.example(demo.FIRST)
    stop = replace(found.findings[0], level=kit.records.Level.STOP)
    book = openpyxl.load_workbook(write_workbook(replace(found, findings=(stop, *found.findings)), tmp_path / "stop.xlsx"))
    assert "NO: a finding says stop" in {row[1].value for row in book["Overview"].iter_rows()}


@pytest.mark.parametrize("text", one_in(3, ["=1+1", "+1", "-1", "@x", "\t=1+1", "\n=1+1", " =1+1", "12", "2025-12-31", "http://example.invalid"]))
def test_texts_stay_texts(tmp_path, text):
    """A text is stored as text, sign for sign, and marked so that it stays one when edited."""
    path = write_workbook(demo.with_texts(text, text), tmp_path / "texts.xlsx")
    book = openpyxl.load_workbook(path)
    found = [cell for row in book["Overview"].iter_rows() for cell in row if cell.value == text]
    assert len(found) == 3
    assert {cell.data_type for cell in found} == {"s"}
    assert {cell.quotePrefix for cell in found} == {text.strip().startswith(("=", "+", "-", "@"))}
    assert all(cell.hyperlink is None for cell in found)


@pytest.mark.parametrize("text", ["a" * 40_000, "\x00\x01bell\x07", "￾￿", "& <b> ]]> &amp; _x0041_", "&12&A&P"])
def test_texts_that_a_sheet_can_not_hold_do_not_break_it(tmp_path, text):
    """Over-long texts are cut at what a cell holds; control and non-characters leave a file that opens."""
    path = write_workbook(demo.with_texts(text, "note"), tmp_path / "texts.xlsx")
    book = openpyxl.load_workbook(path)
    shown = next(row[1].value for row in book["Overview"].iter_rows() if row[0].value == "Customer")
    assert len(shown or "") <= 32_767
    if text.startswith(("a", "&")):
        assert shown == text[:32_767]


def test_the_same_estimate_gives_the_same_bytes():
    """Twice here, and in another process with other hash seeds."""
    path = demo.example_path(demo.FIRST)
    here = [hashlib.sha256(workbook_bytes(demo.example(demo.FIRST))).hexdigest() for _ in range(2)]
    code = (
        "import sys, kit, pathlib, hashlib\n"
        "from kit.export.workbook import workbook_bytes\n"
        "found = kit.estimate(kit.read_job(pathlib.Path(sys.argv[1])), kit.load_lists(kit.shipped('price_lists')))\n"
        "print(hashlib.sha256(workbook_bytes(found)).hexdigest())\n"
    )
    environment = {**os.environ, "PYTHONHASHSEED": "7", "TZ": "Pacific/Auckland"}
    run = subprocess.run([sys.executable, "-c", code, str(path)], capture_output=True, text=True, check=True, env=environment)
    assert {*here, run.stdout.strip()} == {here[0]}


def test_days_of_two_years_find_room_in_the_calendar(tmp_path):
    """A day of next year has its year: the column is as wide as that asks for, where all days are of one year as it was."""
    job = change_job(demo.example(demo.FIRST).job_as_read, {"terms.signed_on": dt.date(2026, 12, 10)})
    for estimate, longest in ((demo.example(demo.FIRST), 22), (kit.estimate(job, demo.example(demo.FIRST).lists), 28)):
        sheet = openpyxl.load_workbook(write_workbook(estimate, tmp_path / f"{longest}.xlsx"))["Calendar"]
        widths = {number: one.width for one in sheet.column_dimensions.values() for number in range(one.min, one.max + 1)}
        for number, column in enumerate("DEF", 4):
            days = [sheet[f"{column}{row}"].value for row in range(5, 5 + len(plan_schedule(estimate).schedule.steps))]
            assert max(map(len, days)) <= longest
            assert widths[number] >= max(map(len, days)) - 2
        assert any(len(sheet[f"D{row}"].value) > 22 for row in range(5, 30)) == (longest > 22)


def test_the_file_is_dated_as_the_job(tmp_path):
    """The creation date is the day of the visit, since only issuing reads the clock."""
    found = demo.example(demo.FIRST)
    book = openpyxl.load_workbook(write_workbook(found, tmp_path / "job.xlsx"))
    assert book.properties.created.date() == found.job.identity.visit_date


def test_costs_that_do_not_sum_are_refused():
    """An estimate whose rows miss its direct cost gives no workbook."""
    found = demo.example(demo.FIRST)
    broken = replace(found, build_up=tuple(replace(row, amount=row.amount + 1) if row.id == "cost" else row for row in found.build_up))
    with pytest.raises(PriceError, match=r"rows for the books sum to .*, but the direct cost is "):
        workbook_bytes(broken)


def test_hours_that_no_formula_would_give_are_refused():
    """Hours that somebody put in by hand follow from nothing."""
    found = demo.example(demo.FIRST)
    broken = replace(found, tasks=(replace(found.tasks[0], hours_likely=99.0), *found.tasks[1:]))
    with pytest.raises(PriceError, match="Hours don't follow from the lists"):
        workbook_bytes(broken)


def test_hours_and_prices_changed_in_memory_are_written_and_said():
    """Revalued hours stand in their input cell; the sheet of the lists says what no file says."""
    found = demo.example(demo.FIRST)
    driver = next(cell.name for cell in input_cells(found) if cell.kind == "rates")
    dearer = kit.revalue(found, {found.purchases[0].id: "99.00 USD"}, {driver: 9.0}, {})
    book = openpyxl.load_workbook(io.BytesIO(workbook_bytes(dearer)), data_only=True)
    said = [row[1].value for row in book["Lists"].iter_rows() if row[0].value == "Changed in memory"]
    assert len(said) == 2
    assert said[0].endswith(": $99.00")
    assert said[1].startswith("hours for one: ")
    assert 9.0 in [row[1].value for row in book["Terms and rates"].iter_rows()]


def test_amounts_that_are_no_numbers_are_refused():
    """A sheet holds finite numbers only."""
    found = demo.example(demo.FIRST)
    broken = replace(found, lines=(replace(found.lines[0], quantity=float("nan")), *found.lines[1:]))
    with pytest.raises(PriceError, match="nan is not a number that a sheet can hold"):
        workbook_bytes(broken)


def test_a_cut_plan_stands_with_its_pieces(tmp_path):
    """Each stick or sheet has its row, like pieces counted together; packs from it are plain and marked, an unproven plan says so."""
    found = demo.charged_otherwise()
    planned = [purchase for purchase in found.purchases if purchase.plan]
    book = openpyxl.load_workbook(write_workbook(found, tmp_path / "job.xlsx"))
    rows = list(book["Purchases"].iter_rows(min_row=5, values_only=True))
    cut = rows[[row[0] for row in rows].index("Cut plan") + 1 :]
    assert len(cut) == sum(len(purchase.plan) for purchase in planned)
    assert [row[2] for row in cut if "side" in row[2]] == ["(2) side; (1) back; left none"] * 2
    assert [row[1] for row in cut] == [purchase.supplier for purchase in found.purchases for _ in purchase.plan]
    counted = {row[15].value: (row[9].data_type, row[10].value) for row in book["Purchases"].iter_rows(min_row=5)}
    for purchase in planned:
        assert counted[purchase.id] == ("n", "from the cut plan" if purchase.proven else "from a cut plan not proven cheapest")
    assert {"as bought", "as charged", "whole packs, charged by use"} <= {words for _, words in counted.values()}


def test_rates_of_a_hired_trade_stand_as_given(tmp_path):
    """A step done by another trade at its own rate shows that rate as a plain figure, and its amount follows."""
    found = demo.example(demo.FIRST)
    task = found.tasks[0]
    hired = replace(task, trade="plumber", rate=Decimal("95.00"), amount=kit.money.round_cents(Decimal("95.00") * Decimal(str(task.hours_likely))))
    changed = replace(found, tasks=(hired, *found.tasks[1:]))
    changed = demo.with_purchases(changed, changed.purchases)
    book = openpyxl.load_workbook(write_workbook(changed, tmp_path / "job.xlsx"))
    row = [cell.value for cell in book["Labor"][5]]
    assert (row[6], row[8]) == (95, "plumber")


def _shown(cell):
    """A figure as its format shows it: rounded to the most places that it has, a factor of 1 as a dash."""
    if cell.number_format.startswith("[=1]") and cell.value == 1:
        return 1.0
    return round(cell.value, len(re.search(r"\.([0#]+)", cell.number_format)[1]))


def test_hours_have_as_many_decimals_in_every_row(written):
    """A column of hours is read down: 0.7000 above 1.8728, and not 0.7 above 1.8728; the total has as many."""
    estimate, book, _ = written
    rows = range(5, 6 + len(estimate.tasks))
    assert {book["Labor"].cell(row, 4).number_format for row in rows} == {'#,##0.0000" h"'}
    assert {book["Labor"].cell(row, 2).number_format for row in rows[:-1]} == {'#,##0.000000" h"'}


def test_what_comes_to_nothing_says_that_the_job_has_none():
    """A job without hired work: the row is there, and its working says why it is 0.00."""
    book = openpyxl.load_workbook(io.BytesIO(demo.workbook_of("wood_apron_two_bowl")))
    rows = {row[0].value: row for row in book["Build-up"].iter_rows()}
    assert any(cell.value == "none on this job" for cell in rows["Hired trades and countertop shop"])


def test_a_countertop_that_stays_is_not_called_cut_on_site():
    """Who cut it is no part of a job that leaves it where it is."""
    book = openpyxl.load_workbook(io.BytesIO(demo.workbook_of("counter_stays_sink_only")))
    facts = {row[0].value: row[1].value for row in book["Overview"].iter_rows()}
    assert facts["Countertop"] == "Laminate countertop, which stays"
    assert facts["The checks say"].endswith("; nothing assumed")


def test_hours_that_are_shown_multiply(written):
    """Before factors times factor is hours, and quantity times hours for one is hours, as they are printed, to the last place shown."""
    estimate, _, values = written
    rows = list(values["Labor"].iter_rows(min_row=5))
    steps, work = rows[: len(estimate.tasks)], [row for row in rows if isinstance(row[3].value, float) and isinstance(row[2].value, str)]
    assert len(work) >= len(steps)
    for row in steps:
        assert _shown(row[1]) * _shown(row[2]) == pytest.approx(_shown(row[3]), abs=0.00015)
    for row in work:
        assert _shown(row[1]) * _shown(row[3]) == pytest.approx(_shown(row[4]), abs=0.0005 + 0.00005 * row[1].value)


def test_charts_follow_the_figures(written):
    """Two native bar charts in gray, each bar beside its figure: parts that sum to the price, hours that sum to the own hours, all of them live."""
    estimate, book, values = written
    places, sheet, shown = place_figures(estimate), book["Build-up"], values["Build-up"]
    first = next(row[0].row for row in shown.iter_rows() if row[0].value == "What the price is made of") + 1
    parts = [(formula[1].data_type, value[1].value) for formula, value in zip(sheet.iter_rows(min_row=first), shown.iter_rows(min_row=first), strict=True)]
    assert {kind for kind, _ in parts} == {"f"}
    assert round_cents(sum((Decimal(repr(value)) for _, value in parts), Decimal(0))) == estimate.price
    hours = [places[f"hours:{task.step}"] for task in estimate.tasks]
    assert sum(values["Labor"][place.cell].value for place in hours) == pytest.approx(estimate.hours)
    ranges = {"Build-up": f"'Build-up'!B{first}:B{first + len(parts) - 1}", "Labor": f"Labor!{hours[0].cell}:{hours[-1].cell}"}
    for title, cells in ranges.items():
        (chart,) = book[title]._charts
        assert type(chart).__name__ == "BarChart"
        assert chart.series[0].val.numRef.f.replace("$", "") == cells
        assert chart.series[0].spPr.solidFill.srgbClr == "595959"
        assert chart.anchor._from.row == int(cells.partition("!")[2].partition(":")[0][1:]) - 1


def test_payments_follow_the_price(written):
    """Each draw of the plan with its live amount, those of nothing among them; they sum to the price."""
    estimate, book, values = written
    draws, places = plan_draws(estimate, keep_empty=True).draws, place_figures(estimate)
    first = places[f"due:{draws[0].id}"].row + 1
    rows = [[cell.value for cell in row[:7]] for row in values["Build-up"].iter_rows(min_row=first, max_row=first + len(draws))]
    assert [(row[0], row[1]) for row in rows[:-1]] == [(draw.label, float(draw.due)) for draw in draws]
    assert [row[6] for row in rows[:-1]] == [float(sum(one.due for one in draws[:place])) for place in range(len(draws))]
    assert (rows[-1][0], rows[-1][1]) == ("Total", float(estimate.price))
    assert {row[1].data_type for row in book["Build-up"].iter_rows(min_row=first, max_row=first + len(draws))} == {"f"}
    assert [draw for draw in draws if draw.due] == list(plan_draws(estimate).draws)
