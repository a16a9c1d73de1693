"""The pictures of the README, made from a shipped example: python tests/pictures/make.py (needs chromium)."""

import sys
from pathlib import Path
from tempfile import TemporaryDirectory

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE.parent / "browser"))

from browsing import ARGS, open_notebook, serving  # noqa: E402

import kit  # noqa: E402
from kit.cli.start import lay_folder  # noqa: E402
from kit.draw.drawings import list_pictures, render_pngs  # noqa: E402

EXAMPLE = "stone_apron_single_bowl"
SIZE = {"width": 1280, "height": 900}


def draw_frame() -> bytes:
    """The frame of the example taken apart, as PNG."""
    made = kit.estimate(kit.read_job(kit.shipped("examples") / f"{EXAMPLE}.toml"), kit.load_lists(kit.shipped("price_lists")))
    return render_pngs([dict(list_pictures(made))["frame-apart"]])[0]


def shoot_estimator() -> bytes:
    """The estimator's screen at the step of the cabinet, as PNG."""
    from playwright.sync_api import sync_playwright

    with TemporaryDirectory() as folder:
        home = Path(folder) / "mine"
        lay_folder(home)
        with sync_playwright() as driver, serving(home, "pages", "/") as address:
            browser = driver.chromium.launch(executable_path="/usr/bin/chromium", args=ARGS)
            page = browser.new_page(viewport=SIZE)
            screen = open_notebook(page, address, "page", "1_estimator.ipynb")
            screen.price()
            screen.turn("Cabinet")
            page.locator(".sk-fill").first.wait_for()
            page.wait_for_timeout(500)
            picture = page.screenshot()
            browser.close()
    return picture


if __name__ == "__main__":
    (HERE / "frame.png").write_bytes(draw_frame())
    (HERE / "estimator.png").write_bytes(shoot_estimator())
