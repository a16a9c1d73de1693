"""Fixtures: a real browser, the notebooks in JupyterLab and as pages, and a folder of a person's own that they work in."""

import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from browsing import ARGS, PATIENCE_MS, WIDE, missing, serving

from kit.cli.start import lay_folder

OF_THIS_MACHINE = ("http://127.0.0.1:", "data:", "blob:", "chrome-extension:", "chrome:")  # the last two: how the browser itself shows a PDF


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
    ours = [error for error in raised if "Canceled future for" not in error]  # what the Lab says of a kernel that has gone
    context.close()
    assert not ours
    assert not outside


@pytest.fixture(params=["page", pytest.param("lab", marks=pytest.mark.long)])
def served(request: pytest.FixtureRequest) -> tuple[str, str]:
    """The address of each way to serve the notebooks, and its name; the Lab, which is slow to start, in the long run."""
    mode = str(request.param)
    return request.getfixturevalue("pages" if mode == "page" else "lab"), mode
