"""Papers and pictures that are set once for all tests of a process, for tests that look at what is done with them.

The same text is the same file: tests of the papers themselves, which set each anew, say so.
"""

import json
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from functools import cache
from typing import Any

import pytest

from kit.export import bill, change_order, crew_sheet, picture_sheets, proposal, purchase_list
from kit.export.typeset import typeset

__all__ = ["pictures_set_once", "set_once"]

_render = cache(picture_sheets.render_png)
_papers: dict[str, bytes] = {}


def _typeset(template: str, data: Mapping[str, Any], pictures: Mapping[str, str] | None = None) -> bytes:
    key = json.dumps([template, data, pictures and dict(pictures)])
    if key not in _papers:
        _papers[key] = typeset(template, data, pictures)
    return _papers[key]


@contextmanager
def pictures_set_once() -> Iterator[None]:
    """Drawings of a workbook; three of them take half the time of it."""
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(picture_sheets, "render_png", _render)
        yield


@contextmanager
def set_once() -> Iterator[None]:
    """Drawings and papers."""
    with pictures_set_once(), pytest.MonkeyPatch.context() as patched:
        for room in (bill, change_order, crew_sheet, proposal, purchase_list):
            patched.setattr(room, "typeset", _typeset)
        yield
