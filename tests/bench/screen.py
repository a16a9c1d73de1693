"""From key press to new total on the screen, in headless Chromium: an empty slider and its label, then the what-if sliders of the estimator's screen.

Run by hand: python tests/bench/screen.py [presses]
"""

import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "browser"))

import shutil

from browsing import ARGS, WIDE, open_notebook, serving
from latency import ECHO, limit_ms, percentile, time_presses, time_settling, told, write_echo

from kit.cli.start import lay_folder

ANSWER = ".sk-was-now"
SLIDERS = ("Overhead [%]", "All hours, times [%]")


def measure(presses: int) -> None:
    """Print the figures of both ways to serve."""
    from playwright.sync_api import sync_playwright

    with tempfile.TemporaryDirectory() as place, sync_playwright() as driver:
        home = Path(place) / "mine"
        lay_folder(home)
        write_echo(home)
        browser = driver.chromium.launch(executable_path=shutil.which("chromium"), args=ARGS)
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
                for name in SLIDERS:
                    handle = screen.root.get_by_role("slider", name=name)
                    handle.wait_for()
                    total = time_presses(page, handle, ANSWER, presses)
                    verdict = "within" if percentile(total, 0.95) <= limit_ms(echo) else "ABOVE"
                    print(told(f"{mode}: what if, {name}", total), f"  {verdict}")
                settled, changes = time_settling(page, screen.root.get_by_role("slider", name=SLIDERS[1]), ANSWER)
                print(f"{mode}: drag of a second: {changes} answers shown, the last {settled:.0f} ms after letting go")
                page.close()
        browser.close()


if __name__ == "__main__":
    measure(-(-int(sys.argv[1] if len(sys.argv) > 1 else 50) // 10) * 10)  # five to the right, five back: no slider reaches its end
