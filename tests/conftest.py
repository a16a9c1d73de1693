"""What every test may use: the shipped examples and lists. How the tests are run: property tests without a clock, files shared out among processes."""

import gc
import os
import sys
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, settings
from long_run import one_in

from kit import Estimate, Lists, estimate, load_lists, read_job, shipped

EXAMPLES = sorted(shipped("examples").glob("*.toml"))
TESTS = Path(__file__).resolve().parent
SLOW_FIRST = (
    "browser",
    "export",
    "cli",
    "panels",
    "takeoff",
    "compare",
    "draw",
    "cutting",
    "sources",
)  # folders that a process should not meet last, the slowest first
# folders whose tests share what takes long to make: workbooks, papers and drawings; trials of alternates
TOGETHER = ("export", "cli", "panels", "compare")

# A process that a test starts, and each of those that share the tests, would compile kit and tests anew, which takes it seconds.
sys.dont_write_bytecode = False
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)

gc.disable()  # until all tests are read: what stands by then is there to stay, and looking through it again and again takes seconds

settings.register_profile("house", max_examples=50, deadline=None, suppress_health_check=[HealthCheck.too_slow], print_blob=True)
settings.load_profile("house")


@pytest.fixture(scope="session")
def lists() -> Lists:
    """The shipped price lists."""
    return load_lists(shipped("price_lists"))


@pytest.fixture(scope="session", params=EXAMPLES, ids=[path.stem for path in EXAMPLES])
def example(request: pytest.FixtureRequest) -> Path:
    """Each shipped example job in turn."""
    return request.param


@pytest.fixture(params=one_in(3, EXAMPLES), ids=[path.stem for path in EXAMPLES])
def some_example(request: pytest.FixtureRequest) -> Path:
    """Some of the shipped examples in every run, all of them in the long run: for tests that take seconds."""
    return request.param


@pytest.fixture(scope="session")
def example_estimate(example: Path, lists: Lists) -> Estimate:
    """The estimate of each shipped example in turn."""
    return estimate(read_job(example), lists)


@cache
def _place_in_turn(path: Path) -> int:
    """Where the folder of a file stands in `SLOW_FIRST`; the notebooks go with the first."""
    folder = path.relative_to(TESTS).parts[0] if path.is_relative_to(TESTS) else SLOW_FIRST[0]
    return SLOW_FIRST.index(folder) if folder in SLOW_FIRST else len(SLOW_FIRST)


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Slow folders first, so that processes end together. Left out: what is long, unless `-m` names it, and with `-n` what must run alone."""
    marks = [{mark.name for mark in item.iter_markers()} for item in items]
    stray = [item.nodeid for item, marked in zip(items, marks, strict=True) if "alone" in marked and item.path.parent.name != "browser"]
    if stray:
        raise pytest.UsageError(f"The README runs `-m alone` in tests/browser, and would never run {', '.join(stray)}.")
    left_out = {mark for mark, out in (("long", "long" not in config.option.markexpr), ("alone", hasattr(config, "workerinput"))) if out}
    dropped = [item for item, marked in zip(items, marks, strict=True) if marked & left_out]
    if dropped:
        config.hook.pytest_deselected(items=dropped)
    items[:] = sorted((item for item, marked in zip(items, marks, strict=True) if not marked & left_out), key=lambda item: _place_in_turn(item.path))


def pytest_collection_finish() -> None:
    """What stands now is never looked through again; what the tests make is, seldom: as often as usual takes a tenth of their time."""
    gc.freeze()
    gc.set_threshold(20_000, 20, 20)
    gc.enable()


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_auto_num_workers(config: pytest.Config) -> int:
    """One process more than cores: those in a browser wait half of their time for pages."""
    return (os.cpu_count() or 1) + 1


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> Any:
    """With `-n` a file goes to one process as a whole, and some folders do: what their tests share is made once."""
    from xdist.scheduler import LoadScopeScheduling

    class ByFile(LoadScopeScheduling):  # type: ignore[misc]
        def _split_scope(self, nodeid: str) -> str:
            file = nodeid.split("::", 1)[0]
            return next((folder for folder in TOGETHER if file.startswith(f"tests/{folder}/")), file)

    config.option.loadscopereorder = False
    return ByFile(config, log)


def pytest_sessionfinish(session: pytest.Session, exitstatus: int) -> None:
    """A skip is a failure where the machine is meant to have everything (SINKSET_NO_SKIPS=1); what processes skipped is counted where they report to."""
    reporter = session.config.pluginmanager.get_plugin("terminalreporter")
    skipped = reporter.stats.get("skipped", []) if reporter else []
    if skipped and os.environ.get("SINKSET_NO_SKIPS") == "1":
        reporter.write_line(f"\n{len(skipped)} skipped, and SINKSET_NO_SKIPS is set: that counts as a failure.", red=True)
        session.exitstatus = exitstatus or pytest.ExitCode.TESTS_FAILED
