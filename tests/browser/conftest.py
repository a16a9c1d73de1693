"""Fixtures: a real browser, the notebooks in JupyterLab and as pages, and a folder of a person's own that they work in."""

import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from browsing import ARGS, PATIENCE_MS, RETRY_S, SCREENS, WIDE, missing, serving

from kit.cli.start import lay_folder

OF_THIS_MACHINE = ("http://127.0.0.1:", "http://127.0.0.2:", "data:", "blob:", "chrome-extension:", "chrome:")  # the last two: how the browser shows a PDF
OF_A_KERNEL_THAT_HAS_GONE = ("Canceled future for", "Kernel connection disconnected")  # what the Lab's own script then raises

REFUSAL = """import os, pathlib, tempfile
os.environ["HOME"] = {home!r}
_honest = tempfile.mkdtemp
def _mkdtemp(suffix=None, prefix=None, dir=None):
    refused = pathlib.Path({home!r}, "refused")
    if refused.is_file() and any(pathlib.Path(dir or ".").resolve().is_relative_to(line) for line in refused.read_text().splitlines()[1:]):
        raise OSError(int(refused.read_text().splitlines()[0]), "as the system says", str(dir))
    return _honest(suffix, prefix, dir)
tempfile.mkdtemp = _mkdtemp
from kit.panels import keeping
keeping.RETRY_S = {retry_s}
"""


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """On a busy machine a page can move away from under a press. What fails is tried once more, and said; what fails twice has a fault."""
    for item in items:
        if item.path.parent == Path(__file__).parent:
            item.add_marker(pytest.mark.flaky(reruns=1))


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item: pytest.Item, call: pytest.CallInfo[None]) -> Iterator[Any]:
    """Why a try failed is kept beside the pictures: of what holds at the second one nothing else would say it."""
    report = yield
    if report.failed:
        SCREENS.parent.mkdir(exist_ok=True)
        with (SCREENS.parent / "failed_tries.txt").open("a", encoding="utf-8") as file:
            file.write(f"{report.nodeid}, {report.when}, {report.duration:.0f} s\n{report.longreprtext}\n\n")
    return report


@pytest.fixture(scope="session")
def chromium() -> Iterator[Any]:
    """The system's browser without a window."""
    path = shutil.which("chromium") or shutil.which("chromium-browser")
    if path is None:
        missing("chromium")
    try:
        from playwright.sync_api import sync_playwright
    except ImportError:
        missing("playwright")
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=path, args=ARGS)
        yield browser
        browser.close()


@pytest.fixture(scope="session")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder laid by `sinkset start`."""
    folder = tmp_path_factory.mktemp("browser") / "mine"
    lay_folder(folder)
    return folder


@pytest.fixture
def jobs(home: Path) -> Path:
    """The person's folder of jobs, empty."""
    folder = home / "jobs"
    shutil.rmtree(folder, ignore_errors=True)
    return folder


@pytest.fixture(scope="session")
def pages(home: Path, chromium: Any) -> Iterator[str]:
    """`sinkset pages`."""
    with serving(home, "pages", "/") as address:
        yield address


@pytest.fixture(scope="session")
def dark_pages(home: Path, chromium: Any) -> Iterator[str]:
    """`sinkset pages --dark`."""
    with serving(home, "pages", "/", "--dark") as address:
        yield address


@pytest.fixture(scope="session")
def lab(home: Path, chromium: Any) -> Iterator[str]:
    """`sinkset lab`."""
    with serving(home, "lab", "/api") as address:
        yield address


@pytest.fixture
def tab(chromium: Any) -> Iterator[Any]:
    """A tab with a context of its own, by mouse, keys and finger; an error that the page's script raises, or a request to another machine, fails the test."""
    context = chromium.new_context(viewport=WIDE, accept_downloads=True, has_touch=True)
    context.set_default_timeout(PATIENCE_MS)
    page = context.new_page()
    raised: list[str] = []
    outside: set[str] = set()
    page.on("pageerror", lambda error: raised.append(str(error)))
    page.on("request", lambda request: None if request.url.startswith(OF_THIS_MACHINE) else outside.add(request.url))
    yield page
    ours = [error for error in raised if not any(words in error for words in OF_A_KERNEL_THAT_HAS_GONE)]
    context.close()
    assert not ours
    assert not outside


@pytest.fixture
def refuse(home: Path, tmp_path: Path) -> Iterator[Any]:
    """Kernels that start from here on hold a folder for full or read-only from `refuse(number of the error, folders)` on, until `refuse()`."""
    startup = home.parent / "pages-ipythondir" / "profile_default" / "startup" / "refusing.py"
    startup.parent.mkdir(parents=True, exist_ok=True)
    startup.write_text(REFUSAL.format(home=str(tmp_path), retry_s=RETRY_S), encoding="utf-8")

    def set_refusal(number: int = 0, *folders: Path) -> None:
        (tmp_path / "refused").unlink(missing_ok=True)
        if number:
            (tmp_path / "refused").write_text("\n".join(map(str, (number, *folders))), encoding="utf-8")

    yield set_refusal
    startup.unlink()


@pytest.fixture(params=["page", pytest.param("lab", marks=pytest.mark.long)])
def served(request: pytest.FixtureRequest) -> tuple[str, str]:
    """The address of each way to serve the notebooks, and its name; the Lab, which is slow to start, in the long run."""
    mode = str(request.param)
    return request.getfixturevalue("pages" if mode == "page" else "lab"), mode
