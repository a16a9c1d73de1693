"""For all tests of the exports: a drawing that was rendered once is not rendered again."""

from collections.abc import Iterator
from functools import cache

import pytest

from kit.export import picture_sheets


@pytest.fixture(scope="session", autouse=True)
def _each_drawing_is_rendered_once() -> Iterator[None]:
    """The same SVG gives the same picture (a test in another process says so); three of them take half the time of a workbook."""
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(picture_sheets, "render_png", cache(picture_sheets.render_png))
        yield
