"""A real browser, the notebooks in JupyterLab and as pages, and a folder of a person's own that they work in.

Skipped where chromium or playwright is missing; with CI=true that is a failure. Screenshots are kept under .ci-output/screens.
"""

import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

import kit
from kit.cli.job_source import open_source

PATIENCE_S = 150  # for what a person would see, however slow the machine
END_S = 60  # for a server to end by itself
PATIENCE_MS = PATIENCE_S * 1000
RETRY_S = 3.0  # in place of half a minute, in kernels of the fixture `refuse`
TOKEN = "a-token-of-the-test"
COMMAND = "from kit.cli import main; main()"  # what starts a server
SERIOUS = {"serious", "critical"}
SCREENS = Path(__file__).parents[2] / ".ci-output" / "screens"
ARGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
STEPS = {  # of the estimator's screen, each with words of it
    "House": "Year the house was built",
    "Cabinet": "Front elevation",
    "What is there": "Old countertop material",
    "Sink": "Sink from the list",
    "Countertop": "Countertop from the list",
    "Plumbing": "Drain stub-out above the floor",
    "Level": "Readings",
    "Who does what": "Sink: supplied by",
    "Check": "Fine (",
    "Options": "What it would do",
    "Price and papers": "Build-up of the price",
    "Start": "Kind of job",
}
SHEETS = {  # of its step "Price and papers"
    "Quantities and their working": "takeoff lines",
    "Purchases and cut plans": "purchases",
    "Days, cash and hours": "Dates, if signed",
    "All drawings": "Set out the job",
    "What the price is made of": "What drives the spread",
}
WIDE, TABLET = {"width": 1280, "height": 900}, {"width": 768, "height": 1024}
PHONE = {"width": 320, "height": 800}
LEAST_LETTERS = 11  # px
_LETTERS = """() => [...document.querySelectorAll(".sk-drawing svg text")].filter(text => text.getClientRects().length).map(
  text => { const to = text.getScreenCTM(); return parseFloat(getComputedStyle(text).fontSize) * Math.hypot(to.a, to.b); })"""
_WIDER = """() => [...document.querySelectorAll(".sk-at-desk, .sk-on-phone")].filter(
  box => box.offsetParent && box.scrollWidth > box.clientWidth).map(box => `${box.textContent.slice(0, 40)}: ${box.scrollWidth} in ${box.clientWidth}`)"""
_SMALL = """() => [...document.querySelectorAll('.sk-screen :is(button, select, input:not([type=checkbox]), summary, .widget-label-basic)')].filter(node => {
  const around = getComputedStyle(node, '::after');
  return node.offsetParent && (around.position === 'absolute' ? parseFloat(around.height) : node.offsetHeight) < 43;
}).map(node => node.outerHTML.slice(0, 90))"""


def wait_until(page: Any, holds: Callable[[], object]) -> None:
    """Wait for what a file or a process shows, and not the page."""
    end = time.monotonic() + PATIENCE_S
    while not holds():
        assert time.monotonic() < end, "it never came"
        page.wait_for_timeout(100)


def kernels_in(folder: Path) -> Iterator[int]:
    """The processes of the notebooks of a folder."""
    for process in Path("/proc").glob("[0-9]*"):
        try:
            if (process / "cwd").resolve() == folder.resolve() and b"ipykernel" in (process / "cmdline").read_bytes():
                yield int(process.name)
        except OSError:  # it has ended, or is somebody else's
            continue


def missing(what: str) -> None:
    """Skip with what to install; where everything is meant to be there, fail."""
    sentence = f"{what} is missing: the screens are not tried in a browser. Install chromium, and the extra [test] of this project."
    if os.environ.get("CI") == "true":
        pytest.fail(sentence)
    pytest.skip(sentence)


def free_port() -> int:
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        return int(one.getsockname()[1])


def estimate_outside(path: Path, prices: Path | None = None) -> kit.Estimate:
    """What the command `estimate` works with for a job file: here, in another process than that of the screen."""
    return open_source(path, prices).estimate


def money(amount: object) -> str:
    """An amount as screens write it."""
    return f"${amount:,.2f}"


@contextmanager
def serving(home: Path, command: str, path: str, *more: str, port: int = 0, first: str = "", host: str = "127.0.0.1") -> Iterator[str]:
    """The address of a server that is up, with no settings of whoever runs the test; on a free port unless one is given, with other code run `first`."""
    import http.client

    port, place = port or free_port(), home.parent
    folders = {name: str(place / f"{command}-{name.lower()}") for name in ("JUPYTER_CONFIG_DIR", "JUPYTER_DATA_DIR", "JUPYTER_RUNTIME_DIR", "IPYTHONDIR")}
    env = {**os.environ, **folders, "JUPYTER_TOKEN": TOKEN}
    words = [command, str(home), "--no-browser", "--port", str(port), *more]
    log = place / f"{command}{port}.log"
    with log.open("wb") as out:
        server = subprocess.Popen([sys.executable, "-c", first + COMMAND, *words], env=env, stdout=out, stderr=out, stdin=subprocess.DEVNULL)
    try:
        end = time.monotonic() + PATIENCE_S
        while True:
            assert server.poll() is None, log.read_text(encoding="utf-8")
            assert time.monotonic() < end, log.read_text(encoding="utf-8")
            line = http.client.HTTPConnection(host, port, timeout=PATIENCE_S)
            try:
                line.request("GET", path)
                line.getresponse().read()
                break
            except OSError:
                time.sleep(0.1)
            finally:
                line.close()
        yield f"http://{host}:{port}"
    finally:
        server.send_signal(signal.SIGTERM)
        try:
            server.wait(END_S)
        except subprocess.TimeoutExpired:
            server.kill()


class Screen:
    """What a person does with a screen: look at the price, turn to parts, type, move sliders."""

    def __init__(self, page: Any, mode: str) -> None:
        self.page, self.mode = page, mode
        self.root = page.locator(".sk-screen").first

    def price(self) -> str:
        """The price once the job is at rest."""
        self.page.wait_for_selector(".sk-headline[data-rest=yes]")
        return str(self.page.locator(".sk-price").inner_text())

    def worst(self) -> str:
        """Whether it can be built, once the job is at rest."""
        self.page.wait_for_selector(".sk-headline[data-rest=yes]")
        return str(self.page.locator(".sk-worst").text_content())

    def turn(self, name: str) -> None:
        """Press a step of the visit, or a button."""
        self.root.locator(f'.sk-step[data-name="{name}"]').or_(self.root.get_by_role("button", name=name, exact=True)).first.click()

    def look_again(self, upload: str) -> None:
        """Press Look again, and wait until the upload button of this name is a new one: only that one takes files."""
        self.root.get_by_role("button", name=upload).evaluate("button => button.classList.add('of-before')")
        self.turn("Look again")
        self.page.locator("button.of-before").wait_for(state="detached")

    def upload(self, label: str, *paths: Path) -> None:
        """Press an upload button and pick files."""
        with self.page.expect_file_chooser() as chooser:
            self.root.get_by_role("button", name=label).click()
        chooser.value.set_files([str(path) for path in paths])

    def field(self, label: str) -> Any:
        """The input, list or step with this label."""
        return self.root.get_by_label(label, exact=True)

    def type(self, label: str, text: str) -> None:
        """Type over what a field holds and go on."""
        self.field(label).fill(text)
        self.field(label).press("Enter")

    def tab_to(self, name: str, presses: int = 80) -> None:
        """Press Tab until the control of this name has the focus."""
        seen = set()
        for _ in range(presses):
            self.page.keyboard.press("Tab")
            told = self.page.evaluate(
                "() => { const node = document.activeElement; const label = node.id && document.querySelector(`label[for='${node.id}']`);"
                " return node.getAttribute('aria-label') || (label ? label.textContent : node.textContent) || ''; }"
            ).strip()
            seen.add(told)
            if told == name:
                return
        raise AssertionError(f"{name} is not reached; reached: {sorted(seen)}")

    def change_of_price(self, before: str) -> str:
        """The price after it is no longer what it was, at rest."""
        self.page.wait_for_function("before => document.querySelector('.sk-price').textContent !== before", arg=before)
        return self.price()


def run_all(page: Any, seen: str) -> None:
    """Run all cells of the notebook that the Lab opens, until something of it is seen."""
    from playwright.sync_api import TimeoutError as Late

    for _ in range(8):
        try:
            page.locator("#jp-main-statusbar", has_text="| Idle").wait_for(timeout=25_000)  # in a narrow window the toolbar hides its own sign
            while page.locator("dialog .jp-mod-accept").count():  # the Lab asks something of its own, such as which kernel
                page.locator("dialog .jp-mod-accept").first.click(timeout=5_000)
            page.get_by_role("menuitem", name="Run", exact=True).click(timeout=5_000)
            page.get_by_role("menuitem", name="Run All Cells", exact=True).click(timeout=5_000)
            page.wait_for_selector(seen, timeout=25_000)
            break
        except Late:  # the press is lost now and then while the Lab starts: press again
            page.keyboard.press("Escape")


def open_notebook(page: Any, address: str, mode: str, name: str) -> Screen:
    """A notebook run from top to bottom, as a page or in the Lab."""
    if mode == "page":
        page.goto(f"{address}/voila/render/{name}?token={TOKEN}")
    else:
        page.goto(f"{address}/lab/tree/notebooks/{name}?token={TOKEN}&reset")
        run_all(page, ".sk-screen")
    page.wait_for_selector(".sk-screen .jupyter-button:visible")
    return Screen(page, mode)


def left_behind(page: Any, go: Callable[[], object], first: int, more: int) -> int:
    """How many elements doing something `more` times leaves in the memory of a page; the `first` times it still makes what stays.

    No handle of an element may be taken meanwhile: it would hold what it stands in.
    """
    session = page.context.new_cdp_session(page)

    def count() -> int:
        page.wait_for_timeout(3_000)  # what is no longer on the page is let go a second after the page has come to rest
        session.send("HeapProfiler.collectGarbage")
        return int(session.send("Memory.getDOMCounters")["nodes"])

    for _ in range(first):
        go()
    before = count()
    for _ in range(more):
        go()
    end = time.monotonic() + END_S
    while (after := count()) > before and time.monotonic() < end:
        go()  # what left the page in its last moment is let go when the page comes to rest again; what stays for good grows
    return max(after - before, 0)


def wait_until_it_fits(page: Any) -> None:
    """Wait until nothing is wider than the window, nor than the part of the page that scrolls."""
    page.wait_for_function("() => document.documentElement.scrollWidth <= window.innerWidth")
    page.wait_for_function("() => [...document.querySelectorAll('#rendered_cells')].every(node => node.scrollWidth <= node.clientWidth)")


def smallest_letters(page: Any) -> float:
    """The height of the smallest letters of the drawings on show [px]; that of large enough ones where there are none."""
    return float(min(page.evaluate(_LETTERS), default=LEAST_LETTERS))


def small_targets(page: Any) -> list[str]:
    """What is pressed and is smaller than a finger."""
    found: list[str] = page.evaluate(_SMALL)
    return found


def wider_charts(page: Any) -> list[str]:
    """Charts on show that are wider than their place: they would have to be moved sideways."""
    found: list[str] = page.evaluate(_WIDER)
    return found


def shoot(page: Any, name: str, *, full: bool = False) -> None:
    """Keep a picture of the window or, in full, of the page."""
    SCREENS.mkdir(parents=True, exist_ok=True)
    page.screenshot(path=SCREENS / f"{name}.png", full_page=full)


def shoot_whole(page: Any, name: str, height: int = 3200) -> None:
    """A picture of a page that scrolls inside the window."""
    size = page.viewport_size
    page.set_viewport_size({**size, "height": height})
    shoot(page, name)
    page.set_viewport_size(size)


def violations(page: Any, context: str | None = None) -> list[str]:
    """The serious findings of axe, in words."""
    try:
        from axe_playwright_python.sync_playwright import Axe
    except ImportError:
        missing("axe-playwright-python")
    found = Axe().run(page, context=context)
    return [
        f"{one['id']} ({one['impact']}): {one['help']}: {node['html'][:160]}"
        for one in found.response["violations"]
        if one["impact"] in SERIOUS
        for node in one["nodes"]
    ]
