"""Nothing is lost or changed behind a person's back, on the rarer paths: answers of Open, two windows, lists and disks that change, other people's files.

Each is tried without a browser in every run (`tests/panels/test_nothing_lost.py`); here on the page, in the long run.
"""

import errno
import re
import shutil
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from browsing import RETRY_S, Screen, estimate_outside, free_port, kernels_in, money, open_notebook, serving, wait_until

import kit
from kit.issued import open_issued
from kit.job import change_job, read_job, write_job

pytestmark = pytest.mark.long

ESTIMATOR, OWNER, BOOKKEEPER, PRICE_LISTS = "1_estimator.ipynb", "2_owner.ipynb", "3_bookkeeper.ipynb", "4_price_lists.ipynb"
STONE, LAMINATE = "stone_apron_single_bowl.toml", "laminate_top_mount.toml"
ONE, THREE = "Invented Customer One, DEMO-001", "Invented Customer Three, DEMO-003"
WIDTH, HEIGHT = "Sink base width [in]", "Sink base height [in]"
SHIM = "14,14,,,3.80"


@pytest.fixture
def own(home: Path, jobs: Path) -> Iterator[Path]:
    """The folder of jobs with two jobs in it; the lists beside it are as they were once a test has ended."""
    jobs.mkdir()
    for name in (STONE, LAMINATE):
        shutil.copy(home / "examples" / name, jobs / name)
    lists = {path: path.read_bytes() for path in (home / "price_lists").iterdir()}
    yield jobs
    for path, content in lists.items():
        path.write_bytes(content)
    for made in home.glob("price_lists_*"):
        shutil.rmtree(made)


def make_dearer(jobs: Path, wage: str = "61.00") -> None:
    """Another wage in the person's own lists."""
    path = jobs.parent / "price_lists" / "company.csv"
    path.write_text(re.sub(r"(?m)^wage,[0-9.]+", f"wage,{wage}", path.read_text(encoding="utf-8")), encoding="utf-8")


def say(tab: Any, words: str) -> None:
    """Wait until the screen says something."""
    tab.locator(".sk-screen").get_by_text(words).filter(visible=True).first.wait_for()


def open_job(screen: Screen, label: str) -> None:
    """Choose a job in the step Start, and press Open."""
    screen.turn("Start")
    screen.field("Open").select_option(label)
    screen.turn("Open")


def type_width(screen: Screen, typed: str) -> None:
    """Type the width of the sink base, and wait until it is priced and kept."""
    screen.turn("Cabinet")
    screen.field(WIDTH).wait_for()
    price = screen.price()
    screen.type(WIDTH, typed)
    screen.change_of_price(price)


def shown_width(screen: Screen) -> str:
    """The width of the sink base as it stands in its field."""
    screen.turn("Cabinet")
    screen.field(WIDTH).wait_for()
    return str(screen.field(WIDTH).input_value())


def width_of(path: Path) -> float:
    return read_job(path).cabinet.width_in


def test_every_answer_of_open_keeps_its_word(tab, pages, own):
    """Keep: the file stays, the work is offered when the job is opened again. Save: it is in the file. Drop: it is gone, also after a reload. Stay: nothing
    moves. Undo after Open brings no other customer's job, and Save writes none into another's file."""
    screen = open_notebook(tab, pages, "page", ESTIMATOR)
    open_job(screen, ONE)
    say(tab, f"Opened {STONE}.")
    type_width(screen, "39")
    open_job(screen, THREE)
    say(tab, f"{STONE} has unsaved work. What should happen to it before {LAMINATE} opens?")
    screen.turn("Stay here")
    screen.turn("Cabinet")
    assert screen.field(WIDTH).input_value() == "39 in"
    open_job(screen, THREE)
    screen.turn("Keep it for later")
    say(tab, f"Opened {LAMINATE}.")
    assert screen.root.get_by_role("button", name="Undo").is_disabled()
    tab.keyboard.press("Control+z")
    screen.turn("Save")
    say(tab, f"Saved {LAMINATE} in jobs.")
    assert (own / LAMINATE).read_bytes() == (own.parent / "examples" / LAMINATE).read_bytes()
    assert width_of(own / STONE) == 36.0
    tab.reload()
    say(tab, f"{LAMINATE} is open again.")
    open_job(screen, ONE)
    say(tab, f"There is unsaved work on {STONE}, too.")
    tab.locator(".sk-question tr", has_text="Sink base width").get_by_text("39 in").wait_for()
    screen.turn("Open it")
    say(tab, f"Unsaved work on {STONE} is back.")
    open_job(screen, THREE)
    screen.turn("Save it first")
    say(tab, f"Opened {LAMINATE}.")
    assert width_of(own / STONE) == 39.0
    open_job(screen, ONE)
    say(tab, f"Opened {STONE}.")
    type_width(screen, "42")
    open_job(screen, THREE)
    screen.turn("Discard it")
    say(tab, f"Opened {LAMINATE}.")
    tab.reload()
    say(tab, f"{LAMINATE} is open again.")
    open_job(screen, ONE)
    say(tab, f"Opened {STONE}.")
    assert screen.root.locator(".sk-question").is_hidden()
    assert shown_width(screen) == "39 in"
    assert list(own.glob(".*.kept*")) == []


def test_two_windows_on_one_job(tab, pages, own):
    """Each keeps its own unsaved work; the second to save is shown what differs and chooses; what was changed on disk is not issued."""
    one = open_notebook(tab, pages, "page", ESTIMATOR)
    open_job(one, ONE)
    say(tab, f"Opened {STONE}.")
    second = tab.context.new_page()
    two = open_notebook(second, pages, "page", ESTIMATOR)
    say(second, f"{STONE} is open again.")
    type_width(one, "39")
    type_width(two, "42")
    wait_until(tab, lambda: {width_of(path) for path in own.glob(".*.kept*")} == {39.0, 42.0})
    one.turn("Save")
    say(tab, f"Saved {STONE} in jobs.")
    two.turn("Price and papers")
    two.turn("Issue")
    second.locator("[role=alert]", has_text=f"Nothing is issued yet: {STONE} was changed on disk").wait_for()
    assert list(own.glob("*.json")) == []
    two.turn("Not now")
    two.turn("Save")
    cells = second.locator(".sk-question tr", has_text="Sink base width").locator("td")
    cells.first.wait_for()
    assert cells.all_inner_texts() == ["39 in", "42 in"]
    assert width_of(own / STONE) == 39.0
    two.turn("Save mine under another name")
    say(second, "Saved stone_apron_single_bowl_2.toml in jobs.")
    assert (width_of(own / STONE), width_of(own / "stone_apron_single_bowl_2.toml")) == (39.0, 42.0)
    type_width(one, "40")
    write_job(change_job(read_job(own / STONE), {"cabinet.width": "38 in"}), own / STONE)
    one.turn("Save")
    one.turn("Take what is in the file")
    say(tab, f"{STONE} is on the screen as in the file.")
    one.turn("Cabinet")
    tab.wait_for_function("() => document.querySelector(\"[class*='sk-at:cabinet.width'] input\")?.value === '38 in'")
    assert one.price() == money(estimate_outside(own / STONE).price)


def test_what_is_being_typed_is_offered_back_after_a_reload(tab, pages, own):
    """Right after a job was opened, not handed on yet by Enter: in a field and in the picture."""
    screen = open_notebook(tab, pages, "page", ESTIMATOR)
    open_job(screen, ONE)
    say(tab, f"Opened {STONE}.")
    screen.turn("Cabinet")
    screen.price()
    screen.field(WIDTH).fill("39 1/4")
    tab.reload()
    say(tab, "not in the job yet: Sink base width: 39 1/4.")
    screen.turn("Put it back")
    screen.turn("Cabinet")
    tab.wait_for_function("() => document.querySelector(\"[class*='sk-at:cabinet.width'] input\")?.value === '39 1/4 in'")
    tab.locator(".sk-fill[data-field='cabinet.height']:visible").click()
    tab.keyboard.type("36")
    tab.reload()
    say(tab, "not in the job yet: Sink base height: 36.")
    assert width_of(own / STONE) == 36.0


def test_each_of_two_windows_returns_to_its_own_job(tab, pages, own):
    """Also by its own reload after the other one has gone on, and with what it shows: only one of them is in the customer's view."""
    one = open_notebook(tab, pages, "page", ESTIMATOR)
    open_job(one, ONE)
    say(tab, f"Opened {STONE}.")
    second = tab.context.new_page()
    two = open_notebook(second, pages, "page", ESTIMATOR)
    open_job(two, THREE)
    say(second, f"Opened {LAMINATE}.")
    type_width(one, "39")
    type_width(two, "42")
    wait_until(tab, lambda: len(list(own.glob(".*.kept*"))) == 2)
    two.turn("Customer's view")
    second.locator(".sk-customer").wait_for()
    tab.reload()
    say(tab, f"Unsaved work on {STONE} is back.")
    assert shown_width(one) == "39 in"
    second.reload()
    second.locator(".sk-customer", has_text="Invented Customer Three").wait_for()
    two.turn("Back to the job")
    assert shown_width(two) == "42 in"


def test_a_duplicated_tab_goes_its_own_way(tab, pages, own):
    """It has the address of the first one, which names its window. Each comes back with its own unsaved work; what one drops stays with the other."""
    one = open_notebook(tab, pages, "page", ESTIMATOR)
    open_job(one, ONE)
    say(tab, f"Opened {STONE}.")
    type_width(one, "39")
    wait_until(tab, lambda: len(list(own.glob(".*.kept*"))) == 1)
    shared = tab.url
    with tab.expect_popup() as opened:  # it takes over what the first one holds for itself, as a duplicate does
        tab.evaluate("() => { window.open(location.href); }")
    second = opened.value
    two = Screen(second, "page")
    say(second, f"Unsaved work on {STONE} is back.")
    second.wait_for_function("shared => location.href !== shared", arg=shared)
    assert tab.url == shared
    assert len({page.evaluate("() => sessionStorage.getItem('sinkset-tab')") for page in (tab, second)}) == 2
    wait_until(tab, lambda: len(list(own.glob(".*.kept*"))) == 2)
    open_job(one, THREE)
    one.turn("Discard it")
    say(tab, f"Opened {LAMINATE}.")
    second.reload()
    say(second, f"Unsaved work on {STONE} is back.")
    assert shown_width(two) == "39 in"
    tab.reload()
    say(tab, f"{LAMINATE} is open again.")
    assert tab.url == shared


def test_a_refused_entry_is_open_on_everything_that_goes_out(tab, pages, own):
    """Issue refuses and names it, a paper says that it is not in it, and it stands in its field, marked, after a reload."""
    screen = open_notebook(tab, pages, "page", ESTIMATOR)
    open_job(screen, ONE)
    say(tab, f"Opened {STONE}.")
    screen.turn("Cabinet")
    screen.type(WIDTH, "500")
    screen.root.locator(".sk-fault").wait_for()
    screen.type(HEIGHT, "34 1/4")
    tab.locator(".sk-faults", has_text='Sink base width: "500 in" is outside the range').wait_for()
    screen.turn("Price and papers")
    screen.turn("Crew sheet")
    tab.locator(".sk-papers [role=alert]", has_text="Not in it: Sink base width").wait_for()
    screen.turn("Issue")
    tab.locator(".sk-promise [role=alert]", has_text="Not issued: fix what was not accepted").wait_for()
    assert list(own.glob("*.json")) == []
    tab.reload()
    say(tab, f"Unsaved work on {STONE} is back.")
    tab.locator(".sk-faults", has_text="Sink base width").wait_for()
    screen.turn("Cabinet")
    tab.wait_for_function("() => document.querySelector(\"[class*='sk-at:cabinet.width'] input\")?.getAttribute('aria-invalid') === 'true'")
    assert (screen.field(WIDTH).input_value().removesuffix(" in"), screen.field(HEIGHT).input_value()) == ("500", "34 1/4 in")


def test_lists_that_change_on_the_disk_are_seen_by_options_compare_and_issue(tab, pages, own):
    """Without a restart: an issue freezes the price of the lists as they are now, after it was said; Options and Compare show what these lists give."""
    screen = open_notebook(tab, pages, "page", ESTIMATOR)
    open_job(screen, ONE)
    say(tab, f"Opened {STONE}.")
    before = screen.price()
    screen.turn("Price and papers")
    screen.type("Reason", "Invented prices, and a visit of long ago")
    make_dearer(own)
    dear = money(estimate_outside(own / STONE).price)
    assert dear != before
    screen.turn("Issue")
    tab.locator(".sk-promise [role=alert]", has_text=f"the price was {before} and is {dear} now").wait_for()
    assert (screen.price(), list(own.glob("*.json"))) == (dear, [])
    screen.turn("Issue")
    say(tab, "Issued as DEMO-001-r01.json")
    assert money(open_issued(own / "DEMO-001-r01.json").estimate.price) == dear
    screen.turn("Options")
    rows = tab.locator(".sk-options-step tr.sk-chosen, .sk-options-step tr[data-option]")
    rows.filter(has_text=dear).first.wait_for()
    make_dearer(own, "34.00")
    screen.turn("Save")
    say(tab, f"the price was {dear} and is {before} now")
    rows.filter(has_text=before).first.wait_for()
    assert rows.filter(has_text=dear).count() == 0
    owner = open_notebook(tab, pages, "page", OWNER)
    for job in (THREE, ONE):  # the page opens with one of them: what it says of the other one comes from the press
        owner.field("Job").select_option(job)
        owner.turn("Compare")
        say(tab, f"{job}: ")
    chosen = tab.locator(".sk-alternates tr.sk-chosen")
    chosen.filter(has_text=before).wait_for()
    make_dearer(own)
    owner.turn("Compare")
    say(tab, "The price lists have changed since.")
    chosen.filter(has_text=dear).wait_for()
    others = tab.locator(".sk-alternates tr[data-option] td:nth-of-type(1)").all_inner_texts()
    options = kit.compare_options(read_job(own / STONE), kit.load_lists(own.parent / "price_lists"))
    assert len(others) == len(options)


def test_the_owner_saves_an_alternate_with_its_terms_name_and_a_number_of_its_own(tab, pages, own):
    """At the sliders' profit and overhead, under the name of the job that was compared though another one is chosen since; at the price that was shown."""
    screen = open_notebook(tab, pages, "page", OWNER)
    screen.field("Job").select_option(ONE)
    screen.turn("Compare")
    say(tab, f"{ONE}: ")
    screen.field("Job").select_option(THREE)
    screen.turn("What if")
    slider = screen.root.get_by_role("slider").first
    assert slider.get_attribute("aria-label").startswith("Profit, mar")
    percent = float(slider.get_attribute("aria-valuetext").rstrip(" %")) + 1.0
    for _ in range(2):  # by half a percent each
        slider.press("ArrowRight")
    tab.wait_for_function("([node, percent]) => parseFloat(node.getAttribute('aria-valuetext')) === percent", arg=[slider.element_handle(), percent])
    screen.turn("Two compared")
    screen.turn("Save as a job file")
    say(tab, "as a job of its own with a new job number")
    (path,) = (path for path in own.glob("stone_apron_single_bowl_*.toml"))
    made = tomllib.loads(path.read_text(encoding="utf-8"))
    assert (made["identity"]["job_number"], made["terms"]["profit"]) == ("DEMO-001-2", f"{percent:g} %")
    tab.locator(".sk-alternates tr[data-option]", has_text=money(estimate_outside(path).price)).first.wait_for()
    assert width_of(own / STONE) == 36.0


END_IDLE = f"import kit.cli.serving as serving; serving.IDLE_S, serving.LOOK_S = {RETRY_S * 2:g}, 1; "  # for half a day
END_LEFT = f"import kit.cli.serving as serving; serving.CLOSED_S, serving.LOOK_S = {RETRY_S:g}, 1; "  # for two minutes


def test_a_disk_that_refuses_is_said_in_words_until_it_takes_work_again(tab, pages, own, refuse, tmp_path):
    """Autosave goes on elsewhere, and Save says what to do; where nothing takes the work the page is to stay open. The warning goes by itself."""
    screen = open_notebook(tab, pages, "page", ESTIMATOR)
    open_job(screen, ONE)
    say(tab, f"Opened {STONE}.")
    read_only, full = "the disk is read-only. Use another folder", "the disk is full. Free some space"
    refuse(errno.EROFS, own)
    type_width(screen, "39")
    warning = tab.locator(".sk-column [role=alert]", has_text="Unsaved work is kept in")
    warning.filter(has_text=read_only).wait_for()
    (kept,) = tmp_path.glob(f".sinkset/kept/*/.{STONE.removesuffix('.toml')}.kept.toml")
    assert width_of(kept) == 39.0
    screen.turn("Save")
    tab.locator(".sk-column [role=alert]", has_text=f"{STONE} is not saved: {read_only}").wait_for()
    assert width_of(own / STONE) == 36.0
    refuse(errno.ENOSPC, own, tmp_path)
    type_width(screen, "40")
    tab.locator(".sk-column [role=alert]", has_text="Unsaved work can't be saved for now").filter(has_text=full).wait_for()
    text = tab.locator(".sk-screen").inner_text()
    assert not [word for word in ("Errno", "Traceback", "OSError", "as the system says") if word in text]
    refuse()
    tab.locator(".sk-column [role=alert]", has_text="Unsaved work").wait_for(state="detached")  # tried again without a press
    assert [width_of(path) for path in own.glob(".*.kept*")] == [40.0]
    screen.turn("Save")
    say(tab, f"Saved {STONE} in jobs.")
    assert width_of(own / STONE) == 40.0


def test_a_server_that_is_gone_is_said_and_the_fields_are_locked(tab, home, own):
    """Its banner stays until it is there again; after a reload the job is as it was kept."""
    port = free_port()
    with serving(home, "pages", "/", port=port) as address:
        screen = open_notebook(tab, address, "page", ESTIMATOR)
        open_job(screen, ONE)
        say(tab, f"Opened {STONE}.")
        type_width(screen, "39")
        wait_until(tab, lambda: list(own.glob(".*.kept*")))
    tab.locator(".sk-lost", has_text="restart the pages, then reload").wait_for()
    assert screen.field(WIDTH).evaluate("node => Boolean(node.closest('[inert]'))")
    with serving(home, "pages", "/", port=port):
        tab.reload()
        say(tab, f"Unsaved work on {STONE} is back.")
        assert tab.locator(".sk-lost").is_hidden()
        screen.turn("Cabinet")
        screen.field(WIDTH).wait_for()
        assert screen.field(WIDTH).input_value() == "39 in"


def test_a_kernel_is_ended_for_idleness_only_when_nothing_is_unsaved(tab, home, own, refuse, tmp_path):
    """The time that a closed page's kernel has is cut to seconds here: it goes on while the disk takes no work, and ends once the work is kept."""
    others = set(kernels_in(home / "notebooks"))
    with serving(home, "pages", "/", first=END_IDLE) as address:
        page = tab.context.new_page()
        screen = open_notebook(page, address, "page", ESTIMATOR)
        open_job(screen, ONE)
        say(page, f"Opened {STONE}.")
        (kernel,) = set(kernels_in(home / "notebooks")) - others
        refuse(errno.ENOSPC, own, tmp_path)
        type_width(screen, "39")
        page.locator(".sk-column [role=alert]", has_text="Unsaved work can't be saved for now").wait_for()
        page.close()
        tab.wait_for_timeout(RETRY_S * 6 * 1000)
        assert kernel in kernels_in(home / "notebooks")
        assert list(own.glob(".*.kept*")) == []
        refuse()
        wait_until(tab, lambda: kernel not in kernels_in(home / "notebooks"))
        assert [width_of(path) for path in own.glob(".*.kept*")] == [39.0]
        screen = open_notebook(tab, address, "page", ESTIMATOR)
        say(tab, f"Unsaved work on {STONE} is back.")


def test_a_page_that_is_left_leaves_no_kernel_behind_and_loses_nothing(tab, home, own):
    """Reloaded right after an entry: the kernel of before ends once the entry is kept, and that of the page that is open stays."""
    others = set(kernels_in(home / "notebooks"))

    def kernels() -> set[int]:
        return set(kernels_in(home / "notebooks")) - others

    with serving(home, "pages", "/", first=END_LEFT) as address:
        screen = open_notebook(tab, address, "page", ESTIMATOR)
        open_job(screen, ONE)
        say(tab, f"Opened {STONE}.")
        (left,) = kernels()
        type_width(screen, "39")
        tab.reload()
        say(tab, f"Unsaved work on {STONE} is back.")
        (now,) = kernels() - {left}
        wait_until(tab, lambda: left not in kernels())
        tab.wait_for_timeout(RETRY_S * 2 * 1000)
        assert kernels() == {now}
        assert [width_of(path) for path in own.glob(".*.kept*")] == [39.0]


def test_one_job_that_can_not_be_priced_breaks_no_page(tab, pages, own):
    """The owner is told why and compares another; price lists name it and go on; the bookkeeper issues, and his list stands."""
    write_job(change_job(read_job(own / STONE), {"prices": "../gone"}), own / STONE)
    (own / "broken.toml").write_text("[cabinet\n", encoding="utf-8")
    screen = open_notebook(tab, pages, "page", OWNER)
    screen.field("Job").select_option(ONE)
    screen.turn("Compare")
    tab.locator("[role=alert]", has_text=re.compile(r'^\s*Price lists: "../gone" is not a folder')).first.wait_for()
    screen.field("Job").select_option("broken")
    screen.turn("Compare")
    tab.locator("[role=alert]", has_text="can't be read as a job file").first.wait_for()
    screen.field("Job").select_option(THREE)
    screen.turn("Compare")
    price = money(estimate_outside(own / LAMINATE).price)
    tab.locator(".sk-alternates tr.sk-chosen", has_text=price).wait_for()
    screen = open_notebook(tab, pages, "page", BOOKKEEPER)
    screen.field("Example").select_option("Example: laminate top mount")
    screen.turn("Issue this example")
    say(tab, "Issued DEMO-003, revision 1, in your folder jobs")
    (own / "DEMO-009-r01.json").write_text("{", encoding="utf-8")
    screen.turn("Look again")
    screen.turn("Customer signed")
    say(tab, "Signed: the contract is in the ledger.")
    screen = open_notebook(tab, pages, "page", PRICE_LISTS)
    screen.upload("Upload lists", changed_prices(own, SHIM, "14,14,,,4.18", own.parent / "prices.csv"))
    rows = tab.locator(".sk-effect tbody tr")
    rows.filter(has_text=THREE).filter(has_text=price).wait_for(state="attached")  # folded where its price stays
    rows.filter(has_text=ONE).filter(has_text='with its lists in use: Price lists: "../gone" is not a folder.').wait_for(state="attached")
    (own.parent / "prices.csv").unlink()


def changed_prices(own: Path, old: str, new: str, path: Path) -> Path:
    """The prices in use with another text in one row, as a file."""
    text = (own.parent / "price_lists" / "prices.csv").read_text(encoding="utf-8")
    assert text.count(old) == 1
    path.write_text(text.replace(old, new), encoding="utf-8")
    return path


def test_a_part_of_a_list_or_a_price_of_nothing_is_not_taken_into_use_unasked(tab, pages, own, tmp_path):
    """What would cost nothing, lose its price, or leave a job without one is said first; left as it is, nothing is written."""
    screen = open_notebook(tab, pages, "page", PRICE_LISTS)
    screen.upload("Upload lists", changed_prices(own, SHIM, "14,14,,,0.00", tmp_path / "free.csv"))
    screen.root.locator(".sk-effect", has_text=ONE).wait_for()
    screen.turn("Take into use")
    tab.locator(".sk-question", has_text="1 item would cost nothing: ").wait_for()
    screen.turn("Leave the lists as they are")
    prices = (own.parent / "price_lists" / "prices.csv").read_text(encoding="utf-8")
    part = tmp_path / "part.csv"
    part.write_text("".join(line for line in prices.splitlines(keepends=True) if not line.startswith("shim,")), encoding="utf-8")
    screen.upload("Upload lists", part)
    tab.locator("[role=alert]", has_text="would no longer have a price").first.wait_for()
    screen.turn("Take into use")
    question = tab.locator(".sk-question", has_text="on hand would no longer have a price")
    question.wait_for()
    assert "1 of " in question.inner_text()
    screen.turn("Leave the lists as they are")
    assert [path.name for path in own.parent.glob("price_lists*")] == ["price_lists"]
    screen.turn("Take into use")
    screen.turn("Take it anyway")
    say(tab, "Written: price_lists_")
    assert len(list(own.parent.glob("price_lists_*"))) == 1
