"""How long a person waits on the estimator's screen, in headless Chromium, beside an empty slider and its label: headline, drawing, views, alternates.

Then what a thousand moves leave in the memory of page and program.

Run by hand: python tests/bench/screen.py [presses]
"""

import gc
import resource
import sys
import tempfile
import time
from functools import partial
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1] / "browser"))

import shutil

from browsing import ARGS, STEPS, WIDE, open_notebook, serving
from latency import ECHO, limit_ms, percentile, time_acts, time_presses, time_settling, told, write_echo

import kit
from kit.cli.start import lay_folder
from kit.panels import Estimator

ANSWER = ".sk-was-now"
DRAWING_MS, VIEW_MS, ALTERNATES_MS = 150.0, 100.0, 1500.0
MOVES = 1000
SLIDERS = ("Overhead [%]", "All hours, times [%]")


def measure(presses: int) -> None:
    """Print the figures of both ways to serve."""
    from playwright.sync_api import sync_playwright

    with tempfile.TemporaryDirectory() as place, sync_playwright() as driver:
        home = Path(place) / "mine"
        lay_folder(home)
        write_echo(home)
        browser = driver.chromium.launch(executable_path=shutil.which("chromium"), args=[*ARGS, "--js-flags=--expose-gc"])
        for command, mode, path in (("pages", "page", "/"), ("lab", "lab", "/api")):
            with serving(home, command, path) as address:
                page = browser.new_page(viewport=WIDE)
                screen = open_notebook(page, address, mode, ECHO)
                time_presses(page, screen.root.get_by_role("slider").first, ".echo", 10)
                echo = time_presses(page, screen.root.get_by_role("slider").first, ".echo", presses)
                print(told(f"{mode}: echo", echo), f"  limit {limit_ms(echo):.0f} ms")
                page.close()
                page = browser.new_page(viewport=WIDE)
                screen = open_notebook(page, address, mode, "1_estimator.ipynb")
                screen.turn("Options")
                page.locator(".sk-options-step .sk-scroll tr").first.wait_for()  # the alternates are there: a press beside their pricing waits up to 60 ms
                for name in SLIDERS:
                    handle = screen.root.get_by_role("slider", name=name)
                    handle.wait_for()
                    total = time_presses(page, handle, ANSWER, presses)
                    verdict = "within" if percentile(total, 0.95) <= limit_ms(echo) else "ABOVE"
                    print(told(f"{mode}: what if, {name}", total), f"  {verdict}")
                settled, changes = time_settling(page, screen.root.get_by_role("slider", name=SLIDERS[1]), ANSWER)
                print(f"{mode}: drag of a second: {changes} answers shown, the last {settled:.0f} ms after letting go")
                page.close()
                if mode == "page":
                    measure_views(browser, address, mode, limit_ms(echo))
        browser.close()
    measure_memory()


def measure_views(browser: Any, address: str, mode: str, headline_ms: float) -> None:
    """Headline and drawing after an entry, turning to a step, and the first alternates of the Options step; the page's memory over many moves."""
    page = browser.new_page(viewport=WIDE)
    screen = open_notebook(page, address, mode, "1_estimator.ipynb")
    screen.price()
    screen.turn("Options")
    page.locator(".sk-options-step table").first.wait_for()
    length = screen.field("Run 1: length [in]")

    def turn_to_length() -> None:
        screen.turn("Countertop")
        page.locator(".sk-main", has_text=STEPS["Countertop"]).wait_for()  # a slider of the Options step has the same name
        length.wait_for()

    turn_to_length()

    def enter(number: int) -> None:
        length.fill(f"{96 + number % 24} in")
        length.press("Enter")

    for what, place, most in (("headline", ".sk-top", headline_ms), ("drawing", ".sk-picture-form", DRAWING_MS)):
        times = time_acts(page, place, [partial(enter, number) for number in range(1, 41)])
        say(f"{mode}: {what} after an entry", times, most)
    screen.price()  # else the first turn waits for the last entry to come to rest
    names = [name for name in STEPS if name not in {"Options", "Check", "Price and papers"}] * 2
    times = time_acts(page, ".sk-main", [partial(press_step, page, name) for name in names])
    say(f"{mode}: turn to a step", times, VIEW_MS)
    alternates = []
    for number in (1, 2, 3):
        turn_to_length()
        enter(number)
        screen.price()
        started = time.perf_counter()
        press_step(page, "Options")
        page.wait_for_function("() => { const rows = document.querySelectorAll('.sk-options-step .sk-scroll tr'); return rows.length > 8; }")
        alternates.append(1000.0 * (time.perf_counter() - started))
    say(f"{mode}: all alternates shown", alternates, ALTERNATES_MS)
    handle = screen.root.get_by_role("slider", name=SLIDERS[0])
    heaps = []
    for _ in range(3):
        for number in range(MOVES // 2):
            handle.press("ArrowRight" if number % 10 < 5 else "ArrowLeft")
        page.wait_for_timeout(2000)
        heaps.append(page.evaluate("() => { window.gc(); return performance.memory.usedJSHeapSize / 1e6; }"))
    print(f"{mode}: page's memory after {', '.join(f'{MOVES // 2 * (number + 1)} moves {heap:.1f} MB' for number, heap in enumerate(heaps))}")
    page.close()


def press_step(page: Any, name: str) -> None:
    page.locator(f'.sk-step[data-name="{name}"]').click()


def say(what: str, times: list[float], most: float) -> None:
    print(told(what, times), f"  limit {most:.0f} ms  {'within' if percentile(times, 0.95) <= most else 'ABOVE'}")


def measure_memory() -> None:
    """What the program holds after a thousand moves of a slider and after two thousand."""
    with tempfile.TemporaryDirectory() as place:
        screen = Estimator(kit.shipped("examples") / "stone_apron_single_bowl.toml", folder=Path(place))
        screen.go("options")
        held = []
        for number in range(2 * MOVES):
            screen.state.change({"counter.runs[1].length": f"{96 + number % 24} in"})
            if (number + 1) % MOVES == 0 or number == 99:
                screen.state.settle()
                gc.collect()
                held.append((number + 1, int(Path("/proc/self/statm").read_text(encoding="ascii").split()[1]) * resource.getpagesize() / 1e6))
        print("program's memory after", ", ".join(f"{moves} moves {size:.1f} MB" for moves, size in held))


if __name__ == "__main__":
    measure(-(-int(sys.argv[1] if len(sys.argv) > 1 else 50) // 10) * 10)  # five to the right, five back: no slider reaches its end
