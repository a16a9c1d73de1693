"""The screen for price lists, driven from Python: pick, faults, changes, jobs, and what is written."""

import datetime as dt
import shutil
from decimal import Decimal
from pathlib import Path

import pytest
from turning import control

import kit
from kit.cli.start import lay_folder
from kit.errors import KitError
from kit.issued import issue_estimate, open_issued
from kit.job import change_job, write_job
from kit.lists.facts import is_passed_on, price_ages
from kit.lists.list_files import FILES
from kit.money import format_money
from kit.panels import Estimator, PriceListScreen
from kit.panels.price_files import ALL_LISTS, USUAL

DAY = dt.date(2026, 11, 25)
SHIM = "shim,Invented Lumber Yard,2026-01-01,,bundle of 14,14,,,3.80,USD"
STONE = "stone_apron_single_bowl.toml"
STONE_TITLE, COUNTER_TITLE = "Invented Customer One, DEMO-001", "Invented Customer Five, DEMO-005"


@pytest.fixture
def home(tmp_path: Path) -> Path:
    """A person's own folder as it is laid, with two jobs on hand."""
    folder = tmp_path / "mine"
    lay_folder(folder)
    (folder / "jobs").mkdir()
    for name in (STONE, "counter_stays_sink_only.toml"):
        shutil.copy(folder / "examples" / name, folder / "jobs" / name)
    return folder


@pytest.fixture
def screen(home: Path) -> PriceListScreen:
    """The screen of that folder on a known day."""
    return PriceListScreen(folder=home / "jobs", day=DAY)


def prices(home: Path, old: str = SHIM, new: str = SHIM.replace("3.80", "38.00")) -> bytes:
    """The prices in use with one text replaced."""
    text = (home / "price_lists" / "prices.csv").read_text(encoding="utf-8")
    assert old in text
    return text.replace(old, new, 1).encode()


def test_a_fresh_folder_shows_the_lists_in_use(screen, home):
    """Date, region, currency, every file with its rows; stale and invented are said; nothing can be taken into use."""
    for fact in ("price_lists", "Example County", "USD", "Thu, Jan 1, 2026"):
        assert f">{fact}<" in screen.summary.value
    for file in FILES:
        assert f">{file}<" in screen.in_use_table.value
    (drywall,) = (words for words, _ in screen.raises.prices.options if words.startswith("1/2 in drywall, 2 x 2 ft"))
    assert drywall.endswith("Invented Lumber Yard: $7.90")
    lists = kit.load_lists(home / "price_lists")
    rows = sum(not is_passed_on(lists, price) for found in lists.prices.values() for price in found)
    assert f"{rows} prices in force on Wed, Nov 25, 2026, the oldest from Thu, Jan 1, 2026; " in screen.in_use_table.value
    assert f"\u25b3 {rows} of them are older than {lists.company.stale_after_days} days" in screen.in_use_table.value
    assert "None starts later." in screen.in_use_table.value
    assert "<td data-label='Marked as'>invented</td>" in screen.in_use_table.value
    assert "Nothing is picked yet" in screen.note.box.value
    assert screen._weighed.layout.display == "none"
    assert screen.use.disabled


def test_without_jobs_or_lists_of_their_own_the_shipped_ones_serve(tmp_path):
    """An empty folder: shipped lists, examples in place of jobs, nothing written."""
    screen = PriceListScreen(folder=tmp_path / "jobs", day=DAY)
    screen.bring({"prices.csv": kit.load_lists(kit.shipped("price_lists")).texts["prices.csv"].replace("3.80,USD", "3.90,USD", 1).encode()})
    assert "the examples are priced instead" in screen.note.box.value
    assert all(one.name.startswith("examples/") for one in screen.repriced)
    assert list(tmp_path.iterdir()) == []


def test_faults_stand_by_row_and_nothing_is_taken_over(screen, home):
    """One report; the button stays shut and says why when it is pressed all the same."""
    text = prices(home, "14,14,,,3.80", "14,fourteen,,,-3.80").decode()
    number = next(number for number, row in enumerate(text.splitlines(), 1) if "fourteen" in row)
    screen.bring({"spring.csv": text.encode()})
    assert "2 faults" in screen.note.box.value
    assert "role='alert'" in screen.note.box.value
    assert f"<th scope='row'>prices.csv, from spring.csv</th><td class='sk-number'>{number}</td><td>pack</td>" in screen.picked_table.value
    assert "&quot;fourteen&quot; is not a number." in screen.picked_table.value
    assert "<td>not taken in</td>" in screen.picked_table.value
    assert (screen.changes.value, screen.effect.value) == ("", "")
    assert screen._sound.layout.display == "none"  # which jobs are to use them is not asked
    assert screen.use.disabled
    with pytest.raises(KitError, match="nothing to take into use"):
        screen.take_into_use()
    assert sorted(path.name for path in home.glob("price_lists*")) == ["price_lists"]


def test_a_sound_list_shows_changes_and_jobs_before_and_after(screen, home):
    """Each price is the kit's own; the largest difference first."""
    screen.bring({"prices.csv": prices(home)})
    assert screen._sound.layout.display == ""
    assert "Tapered wood shim, bundle of 14, Invented Lumber Yard" in screen.changes.value
    assert "+900.0%" in screen.changes.value
    old, new = kit.load_lists(home / "price_lists"), screen.taken.lists
    assert screen.repriced[0].name == STONE
    for one in screen.repriced:
        job = kit.read_job(home / "jobs" / one.name)
        assert (one.before, one.after) == (kit.estimate(job, old).price, kit.estimate(job, new).price)
        assert format_money(one.after) in screen.effect.value
    assert screen.repriced[0].difference > 0


def test_a_job_that_can_no_longer_be_priced_stands_first_with_its_reason(screen, home):
    """A price that begins after the visit."""
    screen.bring({"prices.csv": prices(home, SHIM, SHIM.replace("2026-01-01", "2026-10-01"))})
    assert [one.name for one in screen.repriced] == [STONE, "counter_stays_sink_only.toml"]
    assert "no price" in screen.effect.value
    assert "has no price in force on Mon, Mar 2, 2026" in screen.effect.value


def test_taken_into_use_without_marked_jobs_no_job_moves(screen, home):
    """A new dated folder; every job file stays byte by byte as it was; the sentence says so."""
    before = {path: path.read_bytes() for path in (home / "jobs").iterdir()}
    screen.bring({"prices.csv": prices(home)})
    made = screen.take_into_use()
    assert made == home / "price_lists_2026-11-25"
    assert {path: path.read_bytes() for path in (home / "jobs").iterdir()} == before
    assert "Written: price_lists_2026-11-25" in screen.use_note.box.value
    assert "No job uses it yet: choose it under Price lists on the estimator&#x27;s screen" in screen.use_note.box.value
    assert "No job file was changed, and no issued estimate." in screen.use_note.box.value
    assert kit.load_lists(made).company.price_date == "2026-11-25"
    assert kit.load_lists(made).prices_on("shim", DAY)[0].price == Decimal("38.00")
    assert ">price_lists_2026-11-25<" in screen.summary.value
    assert screen.use.disabled


@pytest.mark.parametrize(
    ("old", "new", "hand_doubt"),
    [
        ("14,14,,,3.80", "14,14,,,0.00", "1 item would cost nothing: "),
        (None, None, "1 of "),
    ],
)
def test_a_part_of_a_list_or_an_empty_price_is_asked_about(screen, home, old, new, hand_doubt):
    """What would have no price, cost nothing, or leave a job without a price is said before anything is written."""
    text = prices(home, old, new) if old else b"".join(row for row in prices(home).splitlines(keepends=True) if not row.startswith(b"shim,"))
    screen.bring({"prices.csv": text})
    assert "alert" in screen.note.box.value
    assert "sk-primary" not in screen.use._dom_classes  # nothing beside an alarm invites a press
    assert ("would have no price: " in screen.summary.value) == (old is None)  # the jobs are named once
    assert "on hand would" not in screen.note.box.value
    screen.use.click()
    assert hand_doubt in screen.question.text.value
    assert ("on hand would no longer have a price: " in screen.question.text.value) == (old is None)
    assert STONE not in screen.question.text.value  # jobs go by customer and number
    assert screen.question.box.layout.display == ""
    assert screen.note.box.value == ""  # the same is not said a second time below
    screen.extent.value = "a part: merge its rows"  # what was asked about is no longer what is shown
    assert screen.question.box.layout.display == "none"
    screen.extent.value = "the whole list"
    screen.use.click()
    screen.question.answer("Leave the lists as they are")
    assert hand_doubt in screen.note.box.value
    assert "Nothing is taken into use." in screen.use_note.box.value
    assert sorted(path.name for path in home.glob("price_lists*")) == ["price_lists"]
    screen.use.click()
    screen.question.answer("Take it anyway")
    assert len(list(home.glob("price_lists*"))) == 2


def test_examples_that_stand_in_for_jobs_are_called_so(tmp_path):
    """Without a job file of one's own the examples are priced: they are no jobs on hand."""
    lay_folder(tmp_path / "mine")
    (tmp_path / "mine" / "jobs").mkdir()
    screen = PriceListScreen(folder=tmp_path / "mine" / "jobs", day=DAY)
    screen.bring({"prices.csv": prices(tmp_path / "mine")})
    assert "sk-primary" in screen.use._dom_classes
    assert "No job files of your own yet: the examples are priced instead." in screen.note.box.value
    assert f"{len(screen.repriced)} examples: <b>" in screen.summary.value
    assert f"{len(screen.repriced)} examples, before and after" in screen.effect.value
    assert "on hand" not in screen.summary.value + screen.effect.value
    screen.bring({"prices.csv": b"".join(row for row in prices(tmp_path / "mine").splitlines(keepends=True) if not row.startswith(b"shim,"))})
    screen.use.click()
    assert " examples would no longer have a price: " in screen.question.text.value
    assert "on hand" not in screen.question.text.value
    assert screen.users.box.layout.display == "none"  # none of the person's own could use the new lists
    shutil.copy(tmp_path / "mine" / "examples" / STONE, tmp_path / "mine" / "jobs" / STONE)
    screen.look_again()
    assert screen.users.box.layout.display == ""


def test_marked_jobs_use_the_new_lists_and_only_their_prices_field_changes(screen, home):
    """One line is added to the job file, and the estimate of the file is what the screen foretold."""
    path = home / "jobs" / STONE
    before = path.read_text(encoding="utf-8")
    screen.bring({"prices.csv": prices(home)})
    foretold = {one.name: one.after for one in screen.repriced}
    made = screen.take_into_use([STONE])
    line = 'prices = "../price_lists_2026-11-25"\n'
    assert path.read_text(encoding="utf-8").replace(line, "") == before
    job = kit.read_job(path)
    assert kit.estimate(job, kit.load_lists(kit.job.price_folder(job, path))).price == foretold[STONE]
    assert kit.estimate(job, kit.load_lists(made)).price == foretold[STONE]
    assert f"{STONE_TITLE} uses it from now on" in screen.use_note.box.value
    assert kit.read_job(home / "jobs" / "counter_stays_sink_only.toml").prices is None


def test_a_second_one_of_the_day_gets_a_number(screen, home):
    """Nothing is written over; the second is compared with the first."""
    screen.bring({"prices.csv": prices(home)})
    first = screen.take_into_use([STONE])
    seen = {path.name: path.read_bytes() for path in first.iterdir()}
    screen.bring({"prices.csv": prices(home, SHIM, SHIM.replace("3.80", "3.90"))})
    assert "$38.00 for 14</td><td data-label='New'>$3.90 for 14" in screen.changes.value
    assert screen.take_into_use([STONE]).name == "price_lists_2026-11-25_2"
    assert {path.name: path.read_bytes() for path in first.iterdir()} == seen
    assert kit.read_job(home / "jobs" / STONE).prices == "../price_lists_2026-11-25_2"


def test_a_job_with_unsaved_work_is_not_pointed(screen, home):
    """What is unsaved on the estimator's screen would bring the old lists back: told, and the file is left alone."""
    estimator = Estimator(home / "jobs" / STONE, folder=home / "jobs")
    control(estimator, "cabinet.width").value = "37 3/8"
    estimator.state.settle()
    before = (home / "jobs" / STONE).read_bytes()
    screen.bring({"prices.csv": prices(home)})
    screen.take_into_use([STONE])
    assert f"{STONE} has unsaved work" in screen.use_note.box.value
    assert (home / "jobs" / STONE).read_bytes() == before


def test_issued_estimates_are_not_touched(screen, home):
    """An issued revision holds its lists: the same bytes, the same price."""
    made = kit.estimate(kit.read_job(home / "jobs" / STONE), kit.load_lists(home / "price_lists"))
    issued = issue_estimate(made, home / "jobs", today=made.job.identity.visit_date)
    before = issued.read_bytes()
    screen.bring({"prices.csv": prices(home)})
    screen.take_into_use([STONE])
    assert issued.read_bytes() == before
    assert open_issued(issued).estimate.price == made.price


def test_a_job_that_uses_other_lists_is_compared_with_those(screen, home):
    """Before is what the job costs with its own lists."""
    screen.bring({"prices.csv": prices(home)})
    made = screen.take_into_use([STONE])
    screen.choose(USUAL)
    screen.bring({"prices.csv": prices(home, SHIM, SHIM.replace("3.80", "3.90"))})
    one = next(one for one in screen.repriced if one.name == STONE)
    assert one.before == kit.estimate(kit.read_job(home / "jobs" / STONE), kit.load_lists(made)).price
    assert ">price_lists_2026-11-25<" in screen.effect.value
    assert ("price_lists_2026-11-25", "../price_lists_2026-11-25") in screen._base.options


def test_files_and_folders_of_the_own_folder_can_be_picked(screen, home):
    """A file, a folder of lists, and nothing that lies outside, hidden, or behind a link that leads out."""
    outside = home.parent / "outside.csv"
    outside.write_bytes(prices(home))
    (home / "link.csv").symlink_to(outside)
    shutil.copytree(home / "price_lists", home.parent / "elsewhere")
    (home / "linked").symlink_to(home.parent / "elsewhere")
    (home / ".hidden.csv").write_bytes(prices(home))
    (home / "offers").mkdir()
    (home / "offers" / "spring.csv").write_bytes(prices(home))
    shutil.copytree(home / "price_lists", home / "of_the_yard")
    (home / "of_the_yard" / "prices.csv").write_bytes(prices(home))
    screen.look_again()
    shown = screen.price_files.pickable()
    assert {"offers/spring.csv", "of_the_yard/", "price_lists/"} <= set(shown)
    assert not {name for name in shown if "link" in name or "hidden" in name or "outside" in name}
    for name in ("offers/spring.csv", "of_the_yard/"):
        screen.pick(name)
        assert screen.taken.lists.prices_on("shim", DAY)[0].price == Decimal("38.00")
    for name in ("../outside.csv", str(outside), "link.csv", "", "offers"):
        with pytest.raises(KitError, match="is no file or folder that can be picked"):
            screen.pick(name)


def test_a_large_file_of_the_folder_is_refused_in_words(screen, home):
    """It is not read at all."""
    (home / "large.csv").write_bytes(b"a\n" + b"x" * 5_000_000)
    screen.look_again()
    screen.choice.value = "large.csv"
    screen.take.click()
    assert "large.csv is larger than 5 MB." in screen.note.box.value
    assert "alert" in screen.note.box.value


def test_an_upload_comes_in_through_the_widget(screen, home):
    """Name and content of each file; the widget is empty again for the next one."""
    content = prices(home)
    screen.upload.box.children[0].value = (
        {
            "name": "prices.csv",
            "type": "text/csv",
            "size": len(content),
            "content": memoryview(content),
            "last_modified": dt.datetime(2026, 1, 1, tzinfo=dt.UTC),
        },
    )
    assert screen.taken.sources[0].file == "prices.csv"
    assert screen.upload.box.children[0].value == ()
    assert "+900.0%" in screen.changes.value


def test_lists_in_use_that_have_faults_are_told_in_place(screen, home):
    """The report stands where the lists would; picking says why nothing can be compared; the screen works on when they are mended."""
    path = home / "price_lists" / "rates.csv"
    sound = path.read_text(encoding="utf-8")
    path.write_text(sound.replace("0.15 h", "a while", 1), encoding="utf-8")
    screen.look_again()
    assert "a while" in screen.in_use_table.value
    screen.note.guard(lambda: screen.bring({"prices.csv": prices(home)}))(None)
    assert "The lists in use have faults" in screen.note.box.value
    path.write_text(sound, encoding="utf-8")
    screen.look_again()
    assert "No faults." in screen.note.box.value


def test_a_job_that_is_none_is_told_and_the_others_are_priced(screen, home):
    """One sentence for the file that can't be read."""
    (home / "jobs" / "broken.toml").write_text("not = [toml", encoding="utf-8")
    screen.bring({"prices.csv": prices(home)})
    assert "broken.toml can&#x27;t be read" in screen.note.box.value
    assert len(screen.repriced) == 2


def test_without_a_day_nothing_is_compared(screen, home):
    """The empty field is said; a day put back brings everything."""
    screen.date.value = None
    screen.note.guard(lambda: screen.bring({"prices.csv": prices(home)}))(None)
    assert "The day is missing" in screen.note.box.value
    screen.date.value = DAY
    assert "No faults." in screen.note.box.value


def test_the_same_lists_can_not_be_taken_into_use(screen, home):
    """Nothing differs: the button stays shut."""
    screen.dated.value = False
    screen.bring({"prices.csv": (home / "price_lists" / "prices.csv").read_bytes()})
    assert "the same as the lists in use" in screen.note.box.value
    assert "Nothing changes on Wed, Nov 25, 2026." in screen.changes.value
    assert screen.use.disabled


@pytest.mark.parametrize("file", ["prices.csv", "company.csv", ALL_LISTS])
def test_a_download_comes_back_without_a_change(screen, file):
    """As XLSX, and as CSV where it is one list."""
    screen.dated.value = False
    screen.which.value = file
    name, _, content = screen.as_xlsx._make_file()
    screen.bring({name: content})
    assert "No faults" in screen.note.box.value
    assert "Nothing changes" in screen.changes.value
    made = screen.as_csv._make_file()
    if file == ALL_LISTS:
        assert made is None
        assert "A CSV file holds one list" in screen.note.box.value
    else:
        assert made[2].decode() == screen.lists.texts[file]


def test_hostile_text_is_shown_as_text(screen, home):
    """Markup in a file name, a header or a cell does nothing."""
    screen.bring({"<img src=x onerror=alert(1)>.csv": prices(home, "14,14,,,3.80", "14,<img src=x>,,,3.80")})
    screen.note.say("<img>")
    for text in (screen.picked_table.value, screen.note.box.value):
        assert "<img" not in text
        assert "&lt;img" in text


def test_a_job_pointed_elsewhere_is_said_with_its_reason(screen, home):
    """A job that names lists that are not there has no price now, and one with the new lists."""
    job = change_job(kit.read_job(home / "jobs" / STONE), {"prices": "../gone"})
    write_job(job, home / "jobs" / STONE)
    screen.bring({"prices.csv": prices(home)})
    one = next(one for one in screen.repriced if one.name == STONE)
    assert one.before is None
    assert one.after is not None
    assert "is not a folder" in one.problem


def test_lists_behind_a_link_that_leads_out_are_not_shown(screen, home):
    """Chosen as the lists in use, such a folder is refused in place; the usual ones are there again at a press."""
    shutil.copytree(home / "price_lists", home.parent / "elsewhere")
    (home / "linked").symlink_to(home.parent / "elsewhere")
    screen.look_again()
    screen.choose("../linked")
    assert "leads out of your own folder" in screen.in_use_table.value
    assert "Example County" not in screen.summary.value
    screen.choose(USUAL)
    assert "Example County" in screen.summary.value


def test_a_bar_moves_while_jobs_are_priced(screen, home):
    """A step for each job and one for the lists; gone when all is done."""
    seen = []
    screen.working.box.observe(lambda change: seen.append((change["new"], screen.working.box.max, screen.working.box.layout.display)), names="value")
    screen.bring({"prices.csv": prices(home)})
    assert seen == [(1, 3, ""), (2, 3, "")]
    assert screen.working.box.layout.display == "none"


PART = b"item,supplier,sold_as,price\nshim,Invented Lumber Yard,bundle of 14,38.00\n"
LUMBER, ALL = "from Invented Lumber Yard", "all prices"


def test_a_suppliers_part_is_shown_before_it_is_merged_and_used(screen, home):
    """Taken as a whole it is refused by row with the way out; merged it moves one price from the day on, and the old one stays for older jobs."""
    screen.bring({"offer of the yard.csv": PART})
    assert "Is it a part of a list?" in screen.note.box.value
    assert "No faults" not in screen.note.box.value  # it can be read; what stands in the alarm is what is wrong
    assert screen.use.disabled
    screen.extent.value = "a part: merge its rows"
    assert "1 row merged into the list in use" in screen.picked_table.value
    assert "Changes: <b>1 price and the date of the lists</b>" in screen.summary.value
    assert "Prices move by: <b>+900.0%</b>" in screen.summary.value
    assert [path.name for path in home.glob("price_lists*")] == ["price_lists"]
    stone = next(one for one in screen.repriced if one.name == STONE)
    job = change_job(kit.read_job(home / "jobs" / STONE), {"identity.visit_date": DAY})
    assert (stone.before, stone.after) == tuple(kit.estimate(job, lists).price for lists in (screen.lists, screen.taken.lists))
    assert stone.difference > 0
    screen.use.click()
    lists = kit.load_lists(home / "price_lists_2026-11-25")
    assert [str(price.price) for price in lists.prices["shim"]] == ["3.80", "38.00"]
    screen.extent.value = "the whole list"
    screen.bring({"prices.csv": prices(home)[: len(prices(home)) // 3].rpartition(b"\n")[0] + b"\n"})
    assert "would no longer have a price" in screen.note.box.value
    assert "alert" in screen.note.box.value


def test_prices_of_one_supplier_are_raised_and_put_back(screen, home):
    """8 %, then 7 % in its place; nothing is written before it is taken into use; Undo brings back every byte and takes the folder away."""
    before = {path: path.read_bytes() for path in home.rglob("*.*") if path.is_file()}
    screen.raises.group.value = LUMBER
    for share in ("8", "7 %"):
        screen.raises.share.value = share
        screen.raises.button.click()
    held = len(screen.raises.prices.options)
    assert f"Raised: {held} prices {LUMBER} by 7%." in screen.note.box.value
    assert f"Changes: <b>{held} prices and the date of the lists</b>" in screen.summary.value
    assert f"Every change ({held + 1})" in screen.changes.value
    assert "each keeps a price" in screen.summary.value
    assert screen.taken.lists.prices_on("shim", DAY)[0].price == Decimal("4.07")  # 3.80 x 1.07 = 4.066
    assert {path: path.read_bytes() for path in home.rglob("*.*") if path.is_file()} == before
    screen.take_into_use([STONE])
    assert not screen.undo_button.disabled
    again = PriceListScreen(folder=home / "jobs", day=DAY)
    again.undo_button.click()
    assert f"{STONE_TITLE} uses the usual lists again." in again.use_note.box.value
    assert {path: path.read_bytes() for path in home.rglob("*.*") if path.is_file()} == before
    assert again.undo_button.disabled


def test_undo_goes_back_step_by_step(screen, home):
    """Two raises taken into use one after the other, and put back one after the other, by another screen: every byte is that of before."""
    before = {path: path.read_bytes() for path in home.rglob("*.*") if path.is_file()}
    folders = []
    for _ in range(2):
        screen.raises.share.value = "8"
        screen.raises.button.click()
        folders.append(screen.take_into_use([STONE]).name)
    again = PriceListScreen(folder=home / "jobs", day=DAY)
    again.undo_button.click()
    assert f"{STONE_TITLE} uses {folders[0]} again." in again.use_note.box.value
    assert f"Undo once more puts back what was in use before {folders[0]}." in again.use_note.box.value
    again.undo_button.click()
    assert f"{STONE_TITLE} uses the usual lists again." in again.use_note.box.value
    assert {path: path.read_bytes() for path in home.rglob("*.*") if path.is_file()} == before
    assert again.undo_button.disabled


def test_a_job_file_that_cannot_be_read_is_said_before_undo(screen, home):
    """One that may use the folder keeps it from being taken away; it is asked first, and one that names other lists is no matter."""
    screen.raises.share.value = "8"
    screen.raises.button.click()
    made = screen.take_into_use([STONE])
    (home / "jobs" / "other.toml").write_text("no job", encoding="utf-8")
    (home / "jobs" / "broken.toml").write_text(f'prices = "../{made.name}"\n[identity', encoding="utf-8")
    screen.undo_button.click()
    assert f"broken.toml can&#x27;t be read, and it may use {made.name}" in screen.question.text.value
    assert kit.read_job(home / "jobs" / STONE).prices == f"../{made.name}"
    screen.question.answer("Leave all as it is")
    assert kit.read_job(home / "jobs" / STONE).prices == f"../{made.name}"
    screen.undo_button.click()
    screen.question.answer("Put the rest back")
    assert kit.read_job(home / "jobs" / STONE).prices is None
    assert f"{made.name} stays: broken.toml can&#x27;t be read and may use it." in screen.use_note.box.value
    assert made.is_dir()


def test_a_slip_in_the_percents_is_said_and_start_over_drops_all(screen, home):
    """Nothing is raised by a word; of all prices the one that is not raised is named; single prices can be marked."""
    screen.raises.share.value = "much"
    screen.raises.button.click()
    assert "&quot;much&quot; is not a percentage" in screen.note.box.value
    screen.raises.group.value = ALL
    screen.raises.share.value = "-3"
    screen.raises.button.click()
    held = price_ages(kit.load_lists(home / "price_lists"), DAY).holding  # as the table of the lists in use counts them
    assert f"Raised: all {held} prices by -3% (Permit fee: only passed on, not raised)." in screen.note.box.value
    screen.drop.click()
    screen.raises.share.value = "-3"
    screen.raises.prices.value = [screen.raises.prices.options[0][1]]
    screen.raises.button.click()
    assert "Raised: 1 price by -3%." in screen.note.box.value
    assert "Changes: <b>1 price and the date of the lists</b>" in screen.summary.value
    assert screen._weighed.layout.display == ""
    screen.drop.click()
    assert "Nothing is picked yet" in screen.note.box.value
    assert screen.use.disabled


def test_what_others_changed_on_the_disk_is_said_before_it_is_used(screen, home):
    """A list, a job file and the picked file that moved meanwhile; compared anew the question is gone."""
    offer = home / "offer_prices.csv"
    offer.write_bytes(PART)
    screen.extent.value = "a part: merge its rows"
    screen.look_again()
    screen.pick("offer_prices.csv")
    rates = home / "price_lists" / "rates.csv"
    rates.write_text(rates.read_text(encoding="utf-8").replace("0.15 h", "0.16 h", 1), encoding="utf-8")
    write_job(change_job(kit.read_job(home / "jobs" / STONE), {"cabinet.width": "37 in"}), home / "jobs" / STONE)
    offer.write_bytes(PART.replace(b"38.00", b"39.00"))
    screen.use.click()
    for words in ("since they were compared: rates.csv.", f"since it was priced here: {STONE}.", "offer_prices.csv was changed on disk"):
        assert words in screen.question.text.value
    screen.question.answer("Compare again")
    assert len(list(home.glob("price_lists*"))) == 1
    screen.use.click()
    made = kit.load_lists(home / "price_lists_2026-11-25")
    assert str(made.prices_on("shim", DAY)[0].price) == "39.00"
    assert "0.16 h" in made.texts["rates.csv"]


def test_undo_leaves_alone_what_others_did_since(screen, home):
    """A job that went on to other lists stays there; a folder that was changed, or that another job uses, stays too."""
    screen.bring({"prices.csv": prices(home)})
    made = screen.take_into_use([STONE])
    screen.files.point("counter_stays_sink_only.toml", f"../{made.name}")
    screen.undo()
    assert f"{made.name} stays: {COUNTER_TITLE} uses it." in screen.use_note.box.value
    assert kit.read_job(home / "jobs" / STONE).prices is None
    screen.files.point("counter_stays_sink_only.toml", None)
    screen.choose(USUAL)
    screen.bring({"prices.csv": prices(home)})
    second = screen.take_into_use([STONE])
    (second / "prices.csv").write_bytes(prices(home, SHIM, SHIM.replace("3.80", "3.99")))
    screen.files.point(STONE, "../price_lists")
    screen.undo()
    assert f"{STONE_TITLE} uses other lists now: it stays as it is." in screen.use_note.box.value
    assert f"{second.name} stays: somebody has changed it." in screen.use_note.box.value
