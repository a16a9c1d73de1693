"""The bookkeeper's screen as people use it: as a page and in the Lab."""

import csv
import datetime as dt
import io
import json
from decimal import Decimal
from pathlib import Path

import pypdf
import pytest
from browsing import (
    PHONE,
    TABLET,
    WIDE,
    Screen,
    estimate_outside,
    left_behind,
    money,
    open_notebook,
    shoot,
    shoot_whole,
    violations,
    wait_until,
    wait_until_it_fits,
    wider_charts,
)
from openpyxl import Workbook, load_workbook

NOTEBOOK = "3_bookkeeper.ipynb"
EXAMPLE = "stone_apron_single_bowl"
FAULTY = """date,cost_code,cost_type,text,amount,currency,hours
2026-03-17,310,labor,Frame,93.84,USD,2
2026-03-32,999,material,<img src=x onerror=alert(1)>,-8.60,EUR,
"""


def issue(screen: Screen) -> None:
    """Issue the invented example from a folder in which nothing is issued yet."""
    screen.page.get_by_text("Nothing is issued in your folder jobs yet").wait_for()
    assert screen.root.get_by_role("button", name="Download budget file").is_hidden()
    screen.field("Example").select_option("Example: stone apron single bowl")
    screen.turn("Issue this example")
    screen.page.get_by_text("Issued DEMO-001, revision 1, in your folder jobs").wait_for()


def fetch(screen: Screen, label: str) -> tuple[str, bytes]:
    """Press a download button; gives name and content of the file that arrives."""
    with screen.page.expect_download() as download:
        screen.turn(label)
    return download.value.suggested_filename, Path(download.value.path()).read_bytes()


def upload(screen: Screen, path: Path) -> None:
    screen.upload("Upload what was spent", path)


def as_workbook(content: bytes, path: Path) -> Path:
    """A CSV table as a workbook, numbers as numbers."""
    book = Workbook()
    for line in csv.reader(io.StringIO(content.decode())):
        book.active.append([float(cell) if cell.replace(".", "").removeprefix("-").isdecimal() else cell or None for cell in line])
    book.save(path)
    return path


def test_from_an_issued_estimate_to_the_difference_by_cost_code(tab, served, home, jobs, tmp_path):
    """Issue, see the control totals, open every file, bring a table with faults, then a sound one, write it into the ledger."""
    screen = open_notebook(tab, *served, NOTEBOOK)
    issue(screen)
    assert sorted(path.name for path in jobs.iterdir()) == ["DEMO-001-r01", "DEMO-001-r01.json", "contracts.sqlite"]
    outside = estimate_outside(home / "examples" / f"{EXAMPLE}.toml")
    screen.turn("Rows to import")
    tab.locator(".sk-control", has_text="totals match the file").wait_for()
    tab.locator(".sk-control summary").click()

    name, content = fetch(screen, "Download budget file")
    rows = list(csv.DictReader(io.StringIO(content.decode(), newline="")))
    assert name == "DEMO-001-r01-books.csv"
    assert sum(Decimal(row["sell"]) for row in rows) == outside.price
    assert sum(Decimal(row["cost"]) for row in rows) == outside.cost
    assert tab.locator(".sk-control tbody tr").first.locator("td").first.inner_text() == str(len(rows))
    assert json.loads(fetch(screen, "Download its control totals")[1])["sum_sell"] == str(outside.price)
    assert json.loads(fetch(screen, "Download its description")[1])["resources"][0]["path"] == name
    screen.turn("As issued")
    book = load_workbook(io.BytesIO(fetch(screen, "Download workbook")[1]), data_only=True)
    values = [cell.value for row in book.worksheets[0].iter_rows() for cell in row if isinstance(cell.value, (int, float))]
    assert any(f"{value:.2f}" == str(outside.price) for value in values)
    name, content = fetch(screen, "Download purchase list")
    assert name == "DEMO-001-r01-purchases.pdf"
    assert "Total" in pypdf.PdfReader(io.BytesIO(content)).pages[-1].extract_text()

    screen.turn("Customer signed")
    screen.turn("Bills")
    tab.locator(".sk-contract", has_text="next to bill").wait_for()
    screen.turn("Make the next bill")
    row = tab.locator(".sk-contract tbody tr", has_text="bill 1, pay by")
    row.wait_for()
    amount = row.locator("td").nth(1).inner_text()
    name, content = fetch(screen, "Download paper")
    assert name == "DEMO-001-bill-1.pdf"
    assert amount in pypdf.PdfReader(io.BytesIO(content)).pages[0].extract_text()
    screen.field("Amount [USD]").fill(amount.removeprefix("$"))  # a bare number is in the unit of its label
    screen.turn("Payment came in")
    tab.locator(".sk-sums div", has_text="Paid").get_by_text(amount).wait_for()

    faulty = tmp_path / "mine.csv"
    faulty.write_text(FAULTY, encoding="utf-8")
    screen.turn("Spending")
    upload(screen, faulty)
    tab.get_by_text("mine.csv: 4 faults.").wait_for()
    told = tab.locator(".sk-spent tbody tr").all_inner_texts()
    assert [line.split("\t")[:2] for line in told] == [["3", "date"], ["3", "cost_code"], ["3", "currency"], ["3", "amount"]]
    tab.locator(".sk-spent").scroll_into_view_if_needed()
    shoot(tab, f"bookkeeper_faults_{served[1]}")

    sound = (home / "examples" / f"{EXAMPLE}_spent.csv").read_bytes()
    upload(screen, as_workbook(sound, tmp_path / "mine.xlsx"))
    tab.get_by_text("mine.xlsx: 28 rows, no faults, not written yet. Spent $6,572.46").wait_for()
    tab.locator(".sk-spent summary", has_text="By cost code").click()
    total = tab.locator(".sk-spent table").first.locator("tbody tr").last.inner_text().split("\t")
    difference = Decimal("6572.46") - outside.cost
    assert total[:4] == ["Total", money(outside.cost), "$6,572.46", f"{'+' if difference > 0 else '-'}{money(abs(difference))}"]
    screen.turn("Record in the ledger")
    tab.get_by_text("28 rows recorded in the ledger. Spent $6,572.46").wait_for()
    tab.locator(".sk-cost", has_text="Margin when all is done").wait_for()
    if served[1] == "page":  # beside the Lab's own columns a telephone has no room left
        tab.set_viewport_size(PHONE)
        tab.locator(".sk-spent .sk-on-phone svg").wait_for()
        assert wider_charts(tab) == []
        tab.set_viewport_size(TABLET)
        tab.locator(".sk-spent .sk-at-desk svg").wait_for()
        assert tab.locator(".sk-spent.sk-scroll").evaluate("box => box.scrollWidth <= box.clientWidth")  # neither chart nor tables
        tab.set_viewport_size(WIDE)
    screen.turn("Read the finished jobs")
    tab.locator(".sk-lessons", has_text="Nothing is proposed.").wait_for()
    assert sorted(path.name for path in jobs.iterdir()) == ["DEMO-001-r01", "DEMO-001-r01.json", "contracts.sqlite"]
    tab.locator(".sk-spent").scroll_into_view_if_needed()
    shoot(tab, f"bookkeeper_spent_{served[1]}", full=served[1] == "page")


TORN = """all => all.filter(cell => { const words = document.createRange(); words.selectNodeContents(cell);
  return !/\\s/.test(cell.textContent) && words.getClientRects().length > 1; }).map(cell => cell.textContent)"""
"""Cells of one word that is broken."""


def tops(*those) -> set[int]:
    """Where controls begin, from above [px]."""
    return {round(one.bounding_box()["y"]) for one in those}


def test_what_belongs_together_stands_on_one_line(tab, pages, jobs):
    """Two bills, the first overdue: at a desk all that can be done about it is one row; the button of a list stands beside it, also where the list's choice
    does not fit and is repeated below; on a tablet the six sums are one row, and names of columns are whole. A closed contract asks for no payment."""
    screen = open_notebook(tab, pages, "page", NOTEBOOK)
    issue(screen)
    day = screen.field("Day")
    today = dt.date.fromisoformat(day.input_value())
    day.fill(str(today - dt.timedelta(days=30)))
    day.press("Tab")
    screen.turn("Customer signed")
    screen.turn("Make the next bill")
    tab.locator(".sk-contract tbody tr", has_text="bill 1, overdue, was due").wait_for()
    screen.turn("Make the next bill")
    tab.locator(".sk-contract tbody tr", has_text="bill 2, ").wait_for()
    button = lambda name: screen.root.get_by_role("button", name=name, exact=True)  # noqa: E731 - a word for it
    assert len(tops(screen.field("Amount [USD]"), button("Payment came in"), button("Download reminder"), button("Make the next bill"))) == 1
    paper = screen.field("Paper")
    assert len(tops(paper, button("Download paper"))) == 1
    assert screen.root.locator(".sk-bills .widget-dropdown[data-whole]").count() == 0  # at a desk there is room for it
    tab.set_viewport_size(TABLET)
    wait_until_it_fits(tab)
    tab.locator(".sk-bills .widget-dropdown[data-whole]").wait_for()
    assert len(tops(screen.field("Amount [USD]"), button("Payment came in"))) == len(tops(button("Download reminder"), button("Make the next bill"))) == 1
    assert screen.field("Paid how").evaluate("field => field.scrollWidth <= field.clientWidth")  # its example is whole
    assert len(tops(paper, button("Download paper"))) == 1
    assert len(tops(*screen.root.locator(".sk-contract-top .sk-sums dt").all())) == 1
    assert screen.root.locator(".sk-contract-top .sk-sums dt").count() == 6
    assert len(tops(screen.field("Amount [USD]"), screen.field("Paid how"), button("Payment came in"))) == 1
    assert violations(tab) == []
    screen.turn("Rows to import")
    button("Download description").wait_for()
    assert max(button(f"Download {what}").bounding_box()["height"] for what in ("posting rows", "description", "control totals")) < 46  # on one line each
    screen.turn("Spending")
    screen.root.locator("summary", has_text="What the columns mean").click()
    tab.get_by_text("delivery_day", exact=True).wait_for()
    names = screen.root.locator("table", has_text="Columns of the table of what was spent").locator("th")
    assert names.evaluate_all(TORN) == []


@pytest.mark.long  # reloads and refusals are tried without a browser in every run
def test_nothing_is_lost_by_a_reload_and_a_signature_wants_a_day(tab, pages, jobs):
    """The issued estimate and what was spent are there again; the last one issued stands first. No date: told in place, all else works on."""
    screen = open_notebook(tab, pages, "page", NOTEBOOK)
    issue(screen)
    screen.turn("Spending")
    screen.field("From your folder").select_option(f"examples/{EXAMPLE}_spent.csv")
    screen.turn("Take this table")
    tab.get_by_text("28 rows, no faults").wait_for()
    screen.turn("Record in the ledger")
    tab.get_by_text("28 rows recorded in the ledger").wait_for()
    screen = open_notebook(tab, pages, "page", NOTEBOOK)
    screen.turn("Spending")
    tab.get_by_text("In the ledger: Spent $6,572.46").wait_for()
    screen.turn("Bills")
    assert screen.field("Issued estimate").input_value() == "Invented Customer One, DEMO-001"
    assert screen.root.get_by_role("button", name="Issue this example").is_hidden()
    day = screen.field("Day")
    kept = day.input_value()
    day.fill("")
    day.press("Tab")
    screen.turn("Customer signed")
    tab.locator("[role=alert]", has_text="The day is missing. Give one.").wait_for()
    day.fill(kept)
    day.press("Tab")
    screen.turn("Customer signed")
    tab.locator(".sk-contracts tbody tr", has_text="bill 1 is next").wait_for()
    assert screen.root.get_by_role("button", name="Customer signed", exact=True).is_hidden()
    screen.turn("Open DEMO-001")
    tab.get_by_text("Shown below: DEMO-001, revision 1").wait_for()
    screen.turn("Make the next bill")
    tab.locator(".sk-contracts tbody tr", has_text="to pay by").wait_for()
    tab.locator(".sk-contract", has_text="next to bill").wait_for()
    tab.locator(".sk-contracts").scroll_into_view_if_needed()
    shoot_whole(tab, "bookkeeper_contract")


@pytest.mark.long  # the estimator's screen is tried so in every run
def test_looking_again_leaves_nothing_behind(tab, pages, jobs):
    """Every part of the page read anew eight times: no element more than after two times, and what was typed of a change is still there."""
    screen = open_notebook(tab, pages, "page", NOTEBOOK)
    issue(screen)
    screen.turn("Customer signed")
    tab.locator(".sk-contracts tbody tr", has_text="bill 1 is next").wait_for()
    screen.turn("Changes")
    found = screen.root.locator(".sk-change-form .sk-bar .widget-text input").last
    found.fill("2")
    found.press("Tab")

    def look_at_all():
        screen.turn("Look again")
        for part in ("Changes", "Spending", "Rows to import", "Ledger", "As issued", "Bills"):
            screen.turn(part)

    assert left_behind(tab, look_at_all, 2, 6) == 0
    screen.turn("Changes")
    assert found.input_value() == "2"


WATCH = """name => {
  window.seen = [];
  const look = () => {
    const button = [...document.querySelectorAll(".sk-screen button")].find(node => node.textContent.trim() === name && node.offsetParent);
    const runs = [...document.querySelectorAll(".sk-screen .widget-hprogress")].some(node => node.offsetParent);
    window.seen.push([runs, button ? Math.round(button.getBoundingClientRect().top + window.scrollY) : null]);
    requestAnimationFrame(look);
  };
  look();
}"""
"""In every frame: whether something runs, and where a button stands."""


def test_nothing_moves_away_from_under_a_finger_while_the_program_works(tab, pages, jobs):
    """The bar that says so takes no room: a button that is pressed just then was pressed, and not let go of beside it."""
    screen = open_notebook(tab, pages, "page", NOTEBOOK)
    issue(screen)
    screen.turn("Customer signed")
    tab.locator(".sk-contracts tbody tr", has_text="bill 1 is next").wait_for()
    tab.evaluate(WATCH, "Make the next bill")
    tab.wait_for_function("() => window.seen.length > 60 && new Set(window.seen.slice(-60).map(String)).size === 1")  # all has arrived
    tab.evaluate("() => { window.seen = []; }")

    def opened_in_sight() -> bool:  # a busy browser may draw no frame while it runs
        screen.turn("Open DEMO-001")
        tab.wait_for_timeout(1_000)
        return any(runs for runs, _ in tab.evaluate("() => window.seen"))

    wait_until(tab, opened_in_sight)
    tab.wait_for_function("() => !window.seen.at(-1)[0]")
    assert len({place for _, place in tab.evaluate("() => window.seen")}) == 1


@pytest.mark.long  # the estimator's screen is tried so in every run
def test_keyboard_alone_from_first_control_to_the_lessons(tab, served, jobs):
    """Tab, arrows and Enter: issue, sign, bill, download the budget file, take the invented table, write it into the ledger."""
    screen = open_notebook(tab, *served, NOTEBOOK)
    tab.get_by_text("Nothing is issued").wait_for()
    screen.field("Issued estimate").focus()
    screen.tab_to("Example")
    screen.tab_to("Issue this example")
    tab.keyboard.press("Enter")
    tab.get_by_text("Issued DEMO-001, revision 1").wait_for()
    screen.field("Issued estimate").focus()
    screen.tab_to("Customer signed")
    tab.keyboard.press("Enter")
    tab.get_by_text("Signed: the contract is in the ledger.").wait_for()
    screen.field("Day").focus()
    screen.tab_to("Make the next bill")
    tab.keyboard.press("Enter")
    tab.get_by_text("Bill 1 is made.").wait_for()
    screen.field("Day").focus()
    screen.field("Day").focus()
    screen.tab_to("Download paper")
    with tab.expect_download() as download:
        tab.keyboard.press("Enter")
    assert download.value.suggested_filename == "DEMO-001-bill-1.pdf"
    screen.tab_to("Rows to import")
    tab.keyboard.press("Enter")
    screen.tab_to("Download budget file")
    with tab.expect_download() as download:
        tab.keyboard.press("Enter")
    assert download.value.suggested_filename == "DEMO-001-r01-books.csv"
    screen.field("Day").focus()
    screen.tab_to("Spending")
    tab.keyboard.press("Enter")
    screen.tab_to("Upload what was spent")
    screen.tab_to("From your folder")
    screen.tab_to("Take this table")
    tab.keyboard.press("Enter")
    tab.get_by_text("28 rows, no faults").wait_for()
    screen.tab_to("Record in the ledger")
    tab.keyboard.press("Enter")
    tab.get_by_text("28 rows recorded in the ledger").wait_for()


@pytest.mark.long  # the estimator's screen is tried so in every run
def test_tablet_desk_and_other_senses(tab, pages, jobs, tmp_path):
    """At both widths nothing is wider than the window; axe finds nothing serious: fresh, with faults, with a difference. Markup in a table is text."""
    screen = open_notebook(tab, pages, "page", NOTEBOOK)
    alerts: list[str] = []
    tab.on("dialog", lambda dialog: (alerts.append(dialog.message), dialog.dismiss()))
    tab.get_by_text("Nothing is issued").wait_for()
    assert violations(tab) == []
    shoot(tab, "bookkeeper_fresh_1280", full=True)
    issue(screen)
    evil = tmp_path / "<img src=x onerror=alert(2)>.csv"
    screen.turn("Spending")
    evil.write_text(FAULTY.replace("999", "<img src=x onerror=alert(3)>"), encoding="utf-8")
    upload(screen, evil)
    tab.locator(".sk-spent", has_text="<img src=x onerror=alert(3)>").wait_for()
    tab.get_by_text(f"{evil.name}: 4 faults.").wait_for()
    assert alerts == []
    assert tab.locator(".sk-screen img").count() == 0
    assert violations(tab) == []
    screen.field("From your folder").select_option(f"examples/{EXAMPLE}_spent.csv")
    screen.turn("Take this table")
    tab.get_by_text("28 rows, no faults").wait_for()
    tab.get_by_text("What the columns mean", exact=True).click()
    for name, size in (("1280", WIDE), ("768", TABLET), ("320", {"width": 320, "height": 900})):
        tab.set_viewport_size(size)
        wait_until_it_fits(tab)
        assert violations(tab) == []
        shoot_whole(tab, f"bookkeeper_{name}")


@pytest.mark.long
def test_dark_theme(tab, dark_pages, jobs):
    """Dark pages: text stands light on dark, and axe finds nothing serious; kept as a picture."""
    screen = open_notebook(tab, dark_pages, "page", NOTEBOOK)
    issue(screen)
    screen.turn("Spending")
    screen.field("From your folder").select_option(f"examples/{EXAMPLE}_spent.csv")
    screen.turn("Take this table")
    tab.get_by_text("28 rows, no faults").wait_for()
    colors = tab.locator(".sk-spent td").first.evaluate("node => [getComputedStyle(node).color, getComputedStyle(document.body).backgroundColor]")
    light, dark = (sum(int(part) for part in color.split("(")[1].rstrip(")").split(",")[:3]) for color in colors)
    assert light > 500
    assert dark < 200
    assert violations(tab) == []
    shoot_whole(tab, "bookkeeper_dark")


@pytest.mark.long
def test_in_the_lab_axe_finds_nothing_serious(tab, lab, jobs):
    """What we render there; the Lab around it is not ours."""
    screen = open_notebook(tab, lab, "lab", NOTEBOOK)
    issue(screen)
    assert violations(tab, ".sk-screen") == []


@pytest.mark.long  # as a page; the screen of price lists has the same control, and is tried in the Lab too
def test_a_file_that_is_too_large_is_told_or_never_arrives(tab, pages, home, jobs, tmp_path):
    """6 MB arrives and is refused in words; 12 MB never arrives, the screen works on, and Look again brings a button that takes files."""
    screen = open_notebook(tab, pages, "page", NOTEBOOK)
    issue(screen)
    screen.turn("Spending")
    for megabytes in (6, 12):
        large = tmp_path / f"large{megabytes}.csv"
        large.write_bytes(b"date,cost_code\n" + b"x" * (megabytes * 1_000_000))
        upload(screen, large)
        if megabytes == 6:
            tab.locator(".sk-spent", has_text="is larger than 5 MB").wait_for()
    tab.get_by_text("A file over 10 MB never arrives").wait_for(state="attached")  # folded away
    tab.wait_for_timeout(5_000)
    assert tab.get_by_text("large12").count() == 0
    screen.turn("Rows to import")
    assert fetch(screen, "Download budget file")[0] == "DEMO-001-r01-books.csv"
    screen.turn("Spending")
    screen.turn("Take this table")
    tab.get_by_text("28 rows, no faults").wait_for()
    screen.look_again("Upload what was spent")
    sound = tmp_path / "sound.csv"
    sound.write_bytes((home / "examples" / f"{EXAMPLE}_spent.csv").read_bytes())
    upload(screen, sound)
    tab.get_by_text("sound.csv: 28 rows, no faults").wait_for()


def test_a_choice_longer_than_its_box_stands_whole_below_it(tab, pages, jobs):
    """On a telephone the estimate that is open is longer than its list is wide; at a desk it is not. How many files wait is never said."""
    screen = open_notebook(tab, pages, "page", NOTEBOOK)
    issue(screen)
    tab.set_viewport_size(PHONE)
    whole = tab.locator(".widget-dropdown[data-whole]", has=tab.get_by_label("Issued estimate"))
    whole.wait_for()
    assert whole.get_attribute("data-whole") == "Invented Customer One, DEMO-001"
    line, letters = whole.evaluate("node => ['lineHeight', 'fontSize'].map(name => parseFloat(getComputedStyle(node, '::after')[name]))")
    assert line < 1.6 * letters  # on two lines it reads on
    wait_until_it_fits(tab)
    tab.set_viewport_size(WIDE)
    whole.wait_for(state="detached")
    screen.turn("Spending")
    assert screen.root.get_by_role("button", name="Upload what was spent").inner_text() == "Upload what was spent"
