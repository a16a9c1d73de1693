"""For all tests of the exports: a drawing that was rendered once is not rendered again."""

from collections.abc import Iterator

import pytest
from set_once import pictures_set_once


@pytest.fixture(scope="module", autouse=True)
def _each_drawing_is_rendered_once() -> Iterator[None]:
    """A test in another process says that the same SVG gives the same picture."""
    with pictures_set_once():
        yield
