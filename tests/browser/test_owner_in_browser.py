"""The owner's screen as people use it, and its prices against the job files that the command line writes."""

import json
import subprocess
import sys
from typing import Any

from browsing import COMMAND, TABLET, estimate_outside, money, open_notebook, shoot, violations, wait_until_it_fits

import kit

NOTEBOOK = "2_owner.ipynb"


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
    words = ["compare", str(home / "examples" / "stone_apron_single_bowl.toml"), "--json", "--out", str(out)]
    ended = subprocess.run([sys.executable, "-c", COMMAND, *words], capture_output=True, check=True)
    swaps = json.loads(ended.stdout)["alternates"]
    assert len(swaps) == len(shown)
    for one in swaps:
        price = shown[f"{one['mount']} mount, {name_of(one['sink'])} in {name_of(one['counter'])}"]
        if one["file"] is None:
            assert price == "-"
        else:
            assert price == money(estimate_outside(out / one["file"]).price), one["file"]
    shoot(tab, f"owner_{served[1]}", full=served[1] == "page")


def test_sliders_act_on_all_and_two_are_compared(tab, pages):
    """Axe finds nothing serious. A key press on overhead moves every price; two alternates are picked; a margin is worked back; another job is opened."""
    screen = open_notebook(tab, pages, "page", NOTEBOOK)
    tab.locator(".sk-alternates tbody tr").first.wait_for()
    assert violations(tab) == []
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
    wait_until_it_fits(tab)
    shoot(tab, "owner_768", full=True)
