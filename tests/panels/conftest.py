"""For all tests of the screens: papers and drawings that were set once are not set again, nor trials run again."""

from collections.abc import Iterator

import pytest
from set_once import set_once
from tried_once import tried_once


@pytest.fixture(scope="module", autouse=True)
def _each_paper_is_set_once() -> Iterator[None]:
    """The screens hand on what the exports make, and show what the trials give."""
    with set_once(), tried_once():
        yield
