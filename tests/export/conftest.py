"""For all tests of the exports: a paper or drawing that was set once is not set again, unless the test is about that."""

from collections.abc import Iterator

import pytest
from set_once import set_anew, set_once
from tried_once import tried_once


@pytest.fixture(scope="module", autouse=True)
def _each_paper_is_set_once() -> Iterator[None]:
    """The same text gives the same file: tests with the fixture below say so. The same estimate has the same trials."""
    with set_once(), tried_once():
        yield


@pytest.fixture
def each_set_anew() -> Iterator[None]:
    """For tests that hold two settings of one text against each other."""
    with set_anew():
        yield
