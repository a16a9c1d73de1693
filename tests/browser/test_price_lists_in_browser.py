"""The screen for price lists as people use it: as a page and in the Lab."""

import csv
import io
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from browsing import PHONE, TABLET, WIDE, Screen, estimate_outside, money, open_notebook, shoot, shoot_whole, violations, wait_until_it_fits
from openpyxl import Workbook, load_workbook

NOTEBOOK = "4_price_lists.ipynb"
JOBS = ("stone_apron_single_bowl.toml", "wood_apron_two_bowl.toml")
NAMES = ("Invented Customer One, DEMO-001", "Invented Customer Two, DEMO-002")
SHIM = ",bundle of 14,14,,,3.80,USD"
HEADS = """heads => heads.map(head => [...head.children[0].children].map(cell => Math.round(cell.getBoundingClientRect().bottom)))"""
"""How low the heads of each table's columns end [px]: on one line, also where the first stays in sight while the others move sideways."""
SCROLLS_AWAY = """setInterval(() => {
  const page = document.querySelector(".jp-WindowedPanel-outer");
  if (window.wentTo || !page || !document.querySelector(".sk-screen") || page.scrollHeight < page.clientHeight + 600) return;
  page.scrollTop = 500;
  window.wentTo = page.scrollTop;
}, 50)"""


@pytest.fixture
def own(home: Path, jobs: Path) -> Iterator[Path]:
    """The person's own folder with two jobs on hand; lists that a test takes into use are gone after it."""
    jobs.mkdir()
    for name in JOBS:
        shutil.copy(home / "examples" / name, jobs / name)
    yield home
    for folder in [*home.glob("price_lists_*"), jobs]:
        shutil.rmtree(folder, ignore_errors=True)


def prices(home: Path, old: str, new: str, path: Path) -> Path:
    """The prices in use with one text replaced, as a file to upload."""
    text = (home / "price_lists" / "prices.csv").read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    return path


def as_workbook(path: Path, sheet: str) -> Path:
    """A CSV list as a workbook, numbers as numbers, on a sheet of this name."""
    book = Workbook()
    book.active.title = sheet
    for row in csv.reader(io.StringIO(path.read_text(encoding="utf-8"))):
        book.active.append([float(cell) if cell.replace(".", "", 1).isdecimal() else cell or None for cell in row])
    book.save(path.with_suffix(".xlsx"))
    return path.with_suffix(".xlsx")


LINE_CUT = """box => { const end = box.getBoundingClientRect().top + box.clientTop + box.clientHeight; return [...box.options].filter(option => {
  const seen = option.getBoundingClientRect(), words = document.createRange(); words.selectNodeContents(option);
  const lines = Math.max(1, Math.round(seen.height / parseFloat(getComputedStyle(box).fontSize) / 1.3));
  const cut = (end - seen.top) / (seen.height / lines);
  return seen.top < end && seen.bottom > end + 1 && Math.abs(cut - Math.round(cut)) > 0.15; }).map(option => option.text); }"""
"""Choices of a list of which its lower edge cuts a line."""


def upload(screen: Screen, *paths: Path) -> None:
    screen.upload("Upload lists", *paths)


def prices_then(screen: Screen) -> dict[str, tuple[str, str]]:
    """Price now and then of each job in the table."""
    screen.root.locator(".sk-effect summary").click()
    rows = screen.root.locator(".sk-effect tbody tr")
    rows.first.wait_for()
    cells = rows.evaluate_all("rows => rows.map(row => [...row.children].map(cell => cell.textContent))")
    return {JOBS[NAMES.index(row[0])]: (row[2], row[3]) for row in cells}


def price_outside(path: Path, prices: Path | None = None) -> str:
    """The price that the command `estimate` gives for a job file."""
    return money(estimate_outside(path, prices).price)


def test_from_faults_to_lists_in_use(tab, served, own, tmp_path):
    """Faults by row, then a sound list: changes, jobs before and after, taken into use; the prices are those of another process."""
    tab.add_init_script(SCROLLS_AWAY)
    screen = open_notebook(tab, *served, NOTEBOOK)
    tab.locator(".sk-top", has_text="Example County").wait_for()
    if served[1] == "lab":  # wherever Run All ends, the screen comes back
        tab.wait_for_function("() => window.wentTo > 0 && document.querySelector('.jp-WindowedPanel-outer').scrollTop === 0")
    before = {name: price_outside(own / "jobs" / name) for name in JOBS}

    faulty = prices(own, SHIM, ",bundle of 14,fourteen,,,-3.80,EUR", tmp_path / "spring.csv")
    number = next(number for number, row in enumerate(faulty.read_text().splitlines(), 1) if "fourteen" in row)
    upload(screen, faulty)
    tab.get_by_text("3 faults: fix the rows below and pick again.").wait_for()
    told = screen.root.locator(".sk-came-in table").last.locator("tbody tr").all_inner_texts()
    assert [line.split("\t")[:3] for line in told] == [["prices.csv, from spring.csv", str(number), column] for column in ("pack", "price", "currency")]
    assert screen.root.get_by_role("button", name="Take into use").is_disabled()
    shoot_whole(tab, f"price_lists_faults_{served[1]}", 1500)
    if served[1] == "page":  # beside the Lab's own columns a telephone has no room left
        tab.set_viewport_size(PHONE)
        tab.wait_for_function("() => getComputedStyle(document.querySelector('.sk-came-in')).overflowX === 'auto'")
        heads = screen.root.locator(".sk-came-in thead").evaluate_all(HEADS)
        assert [len(set(tops)) for tops in heads] == [1, 1]
        tab.set_viewport_size(WIDE)

    upload(screen, prices(own, SHIM, ",bundle of 14,14,,,38.00,USD", tmp_path / "summer.csv"))
    tab.locator(".sk-list-changes", has_text="+900.0%").wait_for()
    shown = prices_then(screen)
    assert {name: now for name, (now, _) in shown.items()} == before
    assert all(now != then for now, then in shown.values())
    screen.field("Jobs that are to use them").select_option(NAMES[0])
    screen.turn("Take into use")
    tab.get_by_text(f"{NAMES[0]} uses it from now on").wait_for()
    (made,) = own.glob("price_lists_*")
    assert made.name in screen.root.inner_text()
    for name in JOBS:
        assert price_outside(own / "jobs" / name, made) == shown[name][1]
    assert price_outside(own / "jobs" / JOBS[0]) == shown[JOBS[0]][1]
    assert price_outside(own / "jobs" / JOBS[1]) == before[JOBS[1]]
    shoot_whole(tab, f"price_lists_{served[1]}", 2600)
    screen.turn("Undo")
    tab.get_by_text(f"{NAMES[0]} uses the usual lists again.").wait_for()
    assert not list(own.glob("price_lists_*"))

    screen.field("Prices").select_option("from Invented Lumber Yard")
    screen.type("Raise by [%]", "8")
    assert tab.locator("select[multiple]:visible").first.evaluate("box => box.scrollWidth <= box.clientWidth")  # no price is cut off
    assert tab.locator("select[multiple]:visible").first.evaluate(LINE_CUT) == []
    screen.turn("Raise these")
    tab.locator(".sk-top", has_text="each keeps a price").wait_for()
    to_use = tab.get_by_label("Jobs that are to use them")
    to_use.evaluate("box => { while (box.options.length < 14) box.append(new Option('One more')); }")
    assert to_use.evaluate(LINE_CUT) == []
    tab.mouse.wheel(0, 600)
    tab.wait_for_timeout(300)
    button = screen.root.get_by_role("button", name="Take into use").bounding_box()
    assert 0 <= button["y"] < tab.viewport_size["height"]
    shoot_whole(tab, f"price_lists_raised_{served[1]}", 1800)


@pytest.mark.long  # tried without a browser in every run
def test_a_workbook_comes_in_and_a_download_goes_round(tab, served, own, tmp_path):
    """XLSX with its list on a named sheet; a list in use as XLSX, edited and brought back under the name of the download."""
    screen = open_notebook(tab, *served, NOTEBOOK)
    upload(screen, as_workbook(prices(own, SHIM, ",bundle of 14,14,,,4.18,USD", tmp_path / "yard.csv"), "prices"))
    tab.locator(".sk-list-changes", has_text="+10.0%").wait_for()
    tab.locator(".sk-came-in", has_text="yard.xlsx, sheet prices").wait_for()
    with tab.expect_download() as download:
        screen.turn("Download as XLSX")
    assert download.value.suggested_filename == "prices.xlsx"
    book = load_workbook(io.BytesIO(Path(download.value.path()).read_bytes()))
    cell = next(row[8] for row in book["prices"].iter_rows() if row[0].value == "shim")
    cell.value = 5.7
    book.save(tmp_path / "prices (1).xlsx")
    upload(screen, tmp_path / "prices (1).xlsx")
    tab.locator(".sk-list-changes", has_text="+50.0%").wait_for()
    screen.field("List").select_option("Company")
    with tab.expect_download() as download:
        screen.turn("Download as CSV")
    assert Path(download.value.path()).read_bytes() == (own / "price_lists" / "company.csv").read_bytes()


@pytest.mark.long  # the estimator's screen is tried so in every run
def test_keyboard_alone_from_choice_to_lists_in_use(tab, pages, own, tmp_path):
    """A file of the own folder is chosen, looked at, a job marked, and taken into use without a mouse; the upload is reached too."""
    offer = prices(own, SHIM, ",bundle of 14,14,,,4.18,USD", own / "prices_of_the_yard.csv")
    try:
        tab.on("filechooser", lambda _: None)  # from here on the browser hands its file dialogs over to the test; a key press does not wait for that
        screen = open_notebook(tab, pages, "page", NOTEBOOK)
        tab.locator(".sk-top", has_text="Example County").wait_for()
        screen.field("Lists in use").focus()
        screen.tab_to("Upload lists")
        with tab.expect_event("filechooser") as chooser:
            tab.keyboard.press("Enter")
        assert chooser.value.is_multiple()
        screen.tab_to("From your folder")
        tab.keyboard.type("prices_of")
        screen.tab_to("Bring it in")
        tab.keyboard.press("Enter")
        tab.locator(".sk-effect", has_text=NAMES[0]).wait_for()
        screen.tab_to("Jobs that are to use them")
        tab.keyboard.press("ArrowDown")
        screen.tab_to("Take into use")
        tab.keyboard.press("Enter")
        tab.get_by_text("uses it from now on").wait_for()
        assert len(list(own.glob("price_lists_*"))) == 1
    finally:
        offer.unlink()


@pytest.mark.long
def test_a_question_leaves_room_to_read_on_a_telephone(tab, pages, own, tmp_path):
    """A part of a list, taken for the whole: what is asked stays on top while the page moves, on 3/5 of the window at most, clear of the tape below it."""
    screen = open_notebook(tab, pages, "page", NOTEBOOK)
    tab.locator(".sk-top", has_text="Example County").wait_for()
    part = tmp_path / "prices.csv"
    part.write_text("\n".join((own / "price_lists" / "prices.csv").read_text(encoding="utf-8").splitlines()[:6]) + "\n", encoding="utf-8")
    upload(screen, part)
    tab.locator(".sk-top", has_text="would have no price").wait_for()
    tab.set_viewport_size(PHONE)
    screen.turn("Take into use")
    safest = screen.root.get_by_role("button", name="Leave the lists as they are")
    safest.wait_for()
    tab.mouse.wheel(0, 900)
    tab.wait_for_function("() => document.querySelector('.sk-top').offsetHeight <= 0.6 * window.innerHeight", timeout=20_000)
    assert 0 <= safest.bounding_box()["y"] < 0.6 * PHONE["height"]
    shoot(tab, "price_lists_question_phone")
    tab.set_viewport_size(TABLET)
    box, top = safest.bounding_box(), tab.locator(".sk-top").bounding_box()
    assert top["y"] + top["height"] - 12 - (box["y"] + box["height"]) > 4  # clear of the edge of the tape
    safest.click()
    screen.root.get_by_role("button", name="Take into use").wait_for()


@pytest.mark.long  # the estimator's screen is tried so in every run
def test_tablet_desk_access_and_hostile_text(tab, pages, own, tmp_path):
    """Fresh, with faults, with changes, at both widths: nothing is wider than the window, axe finds nothing serious. Markup in an upload is text."""
    alerts: list[str] = []
    tab.on("dialog", lambda dialog: (alerts.append(dialog.message), dialog.dismiss()))
    screen = open_notebook(tab, pages, "page", NOTEBOOK)
    tab.get_by_text("Nothing is picked yet").wait_for()
    assert violations(tab) == []
    upload(screen, prices(own, SHIM, ",<img src=x onerror=alert(2)>,<img src=x onerror=alert(1)>,,,3.80,USD", tmp_path / "<img src=x onerror=alert(3)>.csv"))
    tab.locator(".sk-came-in", has_text="<img src=x onerror=alert(1)>").wait_for()
    assert violations(tab) == []
    upload(screen, prices(own, SHIM, ",<img src=x onerror=alert(2)>,14,,,4.18,USD", tmp_path / "prices.csv"))
    tab.locator(".sk-list-changes", has_text="<img src=x onerror=alert(2)>").wait_for()
    screen.root.locator(".sk-effect", has_text=NAMES[0]).wait_for()
    assert alerts == []
    assert tab.locator(".sk-screen img").count() == 0
    for size in (WIDE, TABLET):
        tab.set_viewport_size(size)
        wait_until_it_fits(tab)
        assert violations(tab) == []
    downloads = [screen.root.get_by_role("button", name=f"Download as {kind}").bounding_box()["y"] for kind in ("CSV", "XLSX")]
    assert downloads[0] == downloads[1]  # side by side
    shoot_whole(tab, "price_lists_768", 2600)


@pytest.mark.long  # waits for a connection to break
def test_a_file_that_is_too_large_is_told_or_warned_of(tab, served, own, tmp_path):
    """Up to 10 MB the answer says so in words; what never arrives leaves the rest alive, and Look again brings a button that takes files."""
    screen = open_notebook(tab, *served, NOTEBOOK)
    tab.locator(".sk-top", has_text="Example County").wait_for()
    large = tmp_path / "prices.csv"
    large.write_bytes(b"a\n" + b"x" * 6_000_000)
    upload(screen, large)
    tab.get_by_text("is larger than 5 MB").wait_for()
    large.write_bytes(b"a\n" + b"x" * 12_000_000)
    upload(screen, large)
    answer = tab.locator(".sk-came-in", has_text="the same as the one in use")
    for _ in range(20):  # what is pressed while the connection breaks goes down with the file: a person presses again
        if not answer.is_visible():
            screen.turn("Bring it in")
            tab.wait_for_timeout(3_000)
    answer.wait_for()
    screen.look_again("Upload lists")
    upload(screen, prices(own, SHIM, ",bundle of 14,14,,,4.18,USD", large))
    tab.locator(".sk-list-changes", has_text="+10.0%").wait_for()


@pytest.mark.long
def test_dark_pages(tab, dark_pages, own):
    """Dark pages, kept as a picture; axe finds nothing serious there either."""
    screen = open_notebook(tab, dark_pages, "page", NOTEBOOK)
    screen.root.locator(".sk-top", has_text="Example County").wait_for()
    assert violations(tab) == []
    shoot_whole(tab, "price_lists_dark", 1300)
