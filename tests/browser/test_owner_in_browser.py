"""The owner's screen as people use it, and its prices against the job files that the command line writes."""

import json
import subprocess
import sys
from typing import Any

import pytest
from browsing import (
    COMMAND,
    LEAST_LETTERS,
    PHONE,
    TABLET,
    WIDE,
    estimate_outside,
    left_behind,
    money,
    open_notebook,
    shoot,
    small_targets,
    smallest_letters,
    violations,
    wait_until_it_fits,
    wider_charts,
)

import kit

NOTEBOOK = "2_owner.ipynb"
ROWS = """rows => rows.map(row => ({id: row.dataset.option, name: row.querySelector("th").innerText, price: row.children[1].firstChild.textContent,
  hours: parseFloat(row.children[5].dataset.value)}))"""
COLORS = """() => { const seen = new Set([getComputedStyle(document.body).backgroundColor]);
  for (let node = document.querySelector(".sk-screen"); node; node = node.parentElement) seen.add(getComputedStyle(node).backgroundColor);
  return [...seen].filter(color => color !== "rgba(0, 0, 0, 0)"); }"""


def shown_rows(tab: Any) -> list[dict[str, Any]]:
    """Id, words, price and hours of each alternate, in the order on the screen."""
    rows: list[dict[str, Any]] = tab.locator(".sk-alternates tr[data-option]").evaluate_all(ROWS)
    return rows


@pytest.mark.long  # held for table and command apart in every run
def test_each_alternate_is_the_estimate_of_its_job_file(tab, pages, home, tmp_path):
    """`compare --out` writes the job of each alternate; `estimate` of each gives the price in the table."""
    open_notebook(tab, pages, "page", NOTEBOOK)
    tab.locator(".sk-alternates tr[data-option]").first.wait_for()
    shown, name_of = {row["id"]: row for row in shown_rows(tab)}, kit.load_lists(kit.shipped("price_lists")).name_of
    out = tmp_path / "out"
    words = ["compare", str(home / "examples" / "stone_apron_single_bowl.toml"), "--json", "--out", str(out)]
    ended = subprocess.run([sys.executable, "-c", COMMAND, *words], capture_output=True, check=True)
    swaps = json.loads(ended.stdout)["alternates"]
    assert len(swaps) == len(shown)
    for one in swaps:
        row = shown[f"{one['mount']}_{one['counter']}"]
        assert name_of(one["sink"]) in row["name"]
        if one["file"] is None:
            assert row["price"] == "-"
        else:
            assert row["price"] == money(estimate_outside(out / one["file"]).price), one["file"]
    assert len(tab.evaluate(COLORS)) == 1
    shoot(tab, "owner_page", full=True)


def test_alternates_are_sorted_compared_and_worked_back(tab, pages):
    """Axe finds nothing. A head sorts, and the order holds while overhead moves every price; was and now; two are compared; a figure is worked back;
    another job is opened; nothing is wider than a tablet or a telephone, and everything that is pressed is large enough for a finger."""
    screen = open_notebook(tab, pages, "page", NOTEBOOK)
    tab.locator(".sk-alternates tr[data-option]").first.wait_for()
    screen.turn("Day by day")
    tab.locator(".sk-days .sk-at-desk svg", has_text="Spread of the direct cost").wait_for()
    assert violations(tab) == []
    head = screen.root.get_by_role("button", name="Own hours")
    for way in ("ascending", "descending"):
        head.click()
        tab.locator(f".sk-alternates th[aria-sort={way}]").wait_for()
        hours = [row["hours"] for row in shown_rows(tab)]
        mounts, counters = hours[:3], hours[3:]
        assert (mounts, counters) == (sorted(mounts, reverse=way == "descending"), sorted(counters, reverse=way == "descending"))
    before = {row["id"]: row["price"] for row in shown_rows(tab)}
    order = list(before)
    first = tab.locator(f".sk-alternates tr[data-option='{order[0]}'] td").first
    screen.turn("What if")
    slider = screen.root.get_by_role("slider", name="Overhead [%]")
    assert slider.bounding_box()["width"] > 200  # half a percent is a pixel or two
    slider.press("ArrowRight")
    assert slider.evaluate("node => parseFloat(getComputedStyle(node).outlineOffset)") < 0  # nothing around it cuts the ring
    tab.wait_for_function(
        "([row, before]) => !document.querySelector(`tr[data-option='${row}'] td`).textContent.startsWith(before)", arg=[order[0], before[order[0]]]
    )
    after = {row["id"]: row["price"] for row in shown_rows(tab)}
    assert list(after) == order
    assert all(after[name] != price for name, price in before.items() if price != "-")
    own = tab.locator(".sk-alternates tr.sk-chosen").get_attribute("data-option")
    tab.locator(".sk-what-if td", has_text=after[own]).first.wait_for()
    assert tab.locator(".sk-what-if td", has_text=before[own]).count() == 1
    screen.turn("As in the job")
    first.get_by_text(before[order[0]]).wait_for()
    screen.turn("Two compared")
    tab.locator(".sk-changes .sk-at-desk svg").wait_for()
    to, save = screen.field("To"), screen.root.get_by_role("button", name="Save as a job file")
    assert abs(to.bounding_box()["y"] - save.bounding_box()["y"]) < LEAST_LETTERS  # beside what it saves
    to.select_option("Top mount")
    tab.locator(".sk-changes", has_text="left whole").wait_for()
    tab.locator(".sk-changes .sk-at-desk svg", has_text=before["top_stone-3cm"]).wait_for()
    tab.set_viewport_size(TABLET)
    wait_until_it_fits(tab)
    assert wider_charts(tab) == []
    tab.set_viewport_size(WIDE)
    screen.turn("Working back")
    screen.type("How much", "40")
    tab.locator(".sk-back", has_text="a margin of 40%").wait_for()
    screen.field("Target").select_option("margin per crew-day [USD]")
    tab.locator(".sk-back", has_text="a margin of $1,000.00 per crew-day").wait_for()
    assert small_targets(tab) == []
    head = screen.root.get_by_role("button", name="Margin per crew-day")
    for size, way in ((TABLET, "ascending"), (PHONE, "descending")):  # fewer columns on a tablet; rows are cards on a telephone, heads a row of their own
        tab.set_viewport_size(size)
        wait_until_it_fits(tab)
        assert tab.locator(".sk-alternates").evaluate("box => box.scrollWidth <= box.clientWidth")  # nothing of a card is cut off
        head.click()
        tab.locator(f".sk-alternates th[aria-sort={way}]").wait_for()
        assert violations(tab) == []
        assert small_targets(tab) == []
        shoot(tab, f"owner_{size['width']}", full=True)
    screen.field("Job").select_option("Example: counter stays sink only")
    screen.turn("Compare")
    tab.get_by_text("Example: counter stays sink only: 3 alternates").wait_for()
    for size in (PHONE, WIDE):
        tab.set_viewport_size(size)
        wait_until_it_fits(tab)
        marks = tab.locator("summary > .sk-level:visible").evaluate_all("those => those.map(one => one.getClientRects().length)")
        assert set(marks) == {1}  # the frame of none is broken between two lines


@pytest.mark.long  # the estimator's screen is tried so in every run
def test_comparing_again_leaves_nothing_behind(tab, pages, home):
    """A job compared and every part looked at, five times: no element more than after two times."""
    screen = open_notebook(tab, pages, "page", NOTEBOOK)

    def compare_all():
        for name in ("Example: counter stays sink only", "Example: laminate top mount"):
            screen.field("Job").select_option(name)
            screen.turn("Compare")
            tab.get_by_text(f"{name}: ").wait_for()
            for part in ("Two compared", "Day by day", "Working back", "Jobs on hand", "What if"):
                screen.turn(part)

    assert left_behind(tab, compare_all, 2, 3) == 0


def test_what_pays_is_seen_at_once_on_a_tablet(tab, pages):
    """The mounts and the first countertops stand in the first screen, the other countertops behind a button that shows all; it holds while they are sorted.
    Letters of the charts of a day keep their size on a telephone."""
    tab.set_viewport_size(TABLET)
    screen = open_notebook(tab, pages, "page", NOTEBOOK)
    rows = tab.locator(".sk-alternates tr[data-option]:visible")
    rows.first.wait_for()
    assert rows.nth(4).bounding_box()["y"] < TABLET["height"] - 50
    every = tab.locator(".sk-alternates tr[data-option]").count()
    assert (rows.count(), every) == (3 + 5, 17)
    shown = screen.root.get_by_role("button", name="Show all 14")
    shown.click()
    assert rows.count() == every
    screen.root.get_by_role("button", name="Margin per crew-day").click()
    tab.locator(".sk-alternates th[aria-sort=ascending]").wait_for()
    assert rows.count() == every
    assert shown.get_attribute("aria-pressed") == "true"
    shown.click()
    assert rows.count() == 3 + 5
    screen.turn("Two compared")
    screen.field("From").wait_for()
    above, below = (screen.field(name).bounding_box() for name in ("From", "To"))
    assert below["y"] - above["y"] - above["height"] > 4  # apart
    screen.turn("Day by day")
    tab.locator(".sk-days .sk-at-desk svg", has_text="Spread of the direct cost").wait_for()
    for width in (320, 768, 1024, 1280, 1440):
        tab.set_viewport_size({"width": width, "height": 900})
        wait_until_it_fits(tab)
        assert smallest_letters(tab) > LEAST_LETTERS - 0.1, width
        assert wider_charts(tab) == [], width
    screen.turn("Two compared")
    tab.set_viewport_size(PHONE)
    tab.locator(".sk-changes .sk-on-phone svg").wait_for()
    screen.root.get_by_text("What the price of every alternate is made of").click()
    assert wider_charts(tab) == []
