"""What every test may use: the shipped examples and lists; and, where asked for, no test may be skipped."""

import os
from pathlib import Path

import pytest

from kit import Estimate, Lists, estimate, load_lists, read_job, shipped

EXAMPLES = sorted(shipped("examples").glob("*.toml"))


@pytest.fixture(scope="session")
def lists() -> Lists:
    """The shipped price lists."""
    return load_lists(shipped("price_lists"))


@pytest.fixture(scope="session", params=EXAMPLES, ids=[path.stem for path in EXAMPLES])
def example(request: pytest.FixtureRequest) -> Path:
    """Each shipped example job in turn."""
    return request.param


@pytest.fixture(scope="session")
def example_estimate(example: Path, lists: Lists) -> Estimate:
    """The estimate of each shipped example in turn."""
    return estimate(read_job(example), lists)


def pytest_sessionfinish(session: pytest.Session, exitstatus: int) -> None:
    """A skip is a failure where the machine is meant to have everything (SINKSET_NO_SKIPS=1)."""
    reporter = session.config.pluginmanager.get_plugin("terminalreporter")
    skipped = reporter.stats.get("skipped", []) if reporter else []
    if skipped and os.environ.get("SINKSET_NO_SKIPS") == "1":
        reporter.write_line(f"\n{len(skipped)} skipped, and SINKSET_NO_SKIPS is set: that counts as a failure.", red=True)
        session.exitstatus = exitstatus or pytest.ExitCode.TESTS_FAILED
