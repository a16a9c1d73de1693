"""The owner's screen as people use it, and its prices against the job files that the command line writes."""

import json
import subprocess
import sys
from typing import Any

from browsing import COMMAND, SCREENS, TABLET, open_notebook

import kit

NOTEBOOK = "2_owner.ipynb"


def run(*words: str) -> Any:
    ended = subprocess.run([sys.executable, "-c", COMMAND, *words], capture_output=True, check=True)
    return json.loads(ended.stdout)


def names_and_prices(tab: Any) -> dict[str, str]:
    """What stands in the table of alternates: price by name."""
    rows = (
        tab.locator(".sk-alternates table")
        .first.locator("tbody tr")
        .evaluate_all("rows => rows.map(row => [row.children[0].textContent, row.children[1].textContent])")
    )
    return {name.removesuffix(" (this job)"): price for name, price in rows}


def test_each_alternate_is_the_estimate_of_its_job_file(tab, served, home, tmp_path):
    """`compare --out` writes the job of each alternate; `estimate` of each gives the price in the table."""
    open_notebook(tab, *served, NOTEBOOK)
    tab.locator(".sk-alternates tbody tr").first.wait_for()
    shown, name_of = names_and_prices(tab), kit.load_lists(kit.shipped("price_lists")).name_of
    out = tmp_path / "out"
    swaps = run("compare", str(home / "examples" / "stone_apron_single_bowl.toml"), "--json", "--out", str(out))["alternates"]
    assert len(swaps) == len(shown)
    for one in swaps[::5]:  # the panel's own test reads every row; each of these is a command of its own
        price = shown[f"{one['mount']} mount, {name_of(one['sink'])} in {name_of(one['counter'])}"]
        if one["file"] is None:
            assert price == "-"
        else:
            assert price == f"${float(run('estimate', str(out / one['file']), '--json')['price']):,.2f}"
    SCREENS.mkdir(parents=True, exist_ok=True)
    tab.screenshot(path=SCREENS / f"owner_{served[1]}.png", full_page=served[1] == "page")


def test_sliders_act_on_all_and_two_are_compared(tab, pages):
    """A key press on overhead moves every price; two alternates are picked; a margin is worked back; another job is opened."""
    screen = open_notebook(tab, pages, "page", NOTEBOOK)
    tab.locator(".sk-alternates tbody tr").first.wait_for()
    before = names_and_prices(tab)
    handle = screen.root.get_by_role("slider", name="Overhead [%]")
    handle.press("ArrowRight")
    tab.wait_for_function("before => document.querySelector('.sk-alternates tbody td').textContent !== before", arg=next(iter(before.values())))
    after = names_and_prices(tab)
    assert all(after[name] != price for name, price in before.items() if price != "-")
    screen.turn("As in the job")
    tab.wait_for_function("before => document.querySelector('.sk-alternates tbody td').textContent === before", arg=next(iter(before.values())))
    screen.field("To").select_option("top mount, 33 in two-bowl cast-iron drop-in sink in 3 cm stone countertop")
    tab.locator(".sk-changes", has_text="stays whole").wait_for()
    screen.type("Wanted margin [%]", "40")
    tab.locator(".sk-back", has_text="40.0%").wait_for()
    screen.field("Job file").select_option("examples/counter_stays_sink_only.toml")
    screen.turn("Compare")
    tab.get_by_text("counter_stays_sink_only.toml: 3 alternates").wait_for()
    tab.set_viewport_size(TABLET)
    assert tab.evaluate("() => document.documentElement.scrollWidth <= window.innerWidth")
    tab.screenshot(path=SCREENS / "owner_768.png", full_page=True)
