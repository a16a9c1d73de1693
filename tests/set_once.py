"""Papers and pictures that are set once for all tests of a process, for tests that look at what is done with them.

The same text is the same file: tests of the papers themselves, which set each anew, say so.
"""

import json
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from functools import cache
from typing import Any

import pytest

from kit.draw.drawings import render_png
from kit.export import bill, change_order, crew_sheet, drawings_sheet, proposal, purchase_list
from kit.export.typeset import typeset

__all__ = ["set_anew", "set_once"]

_render = cache(render_png)
_papers: dict[str, bytes] = {}


def _typeset(template: str, data: Mapping[str, Any], pictures: Mapping[str, str] | None = None) -> bytes:
    key = json.dumps([template, data, pictures and dict(pictures)])
    if key not in _papers:
        _papers[key] = typeset(template, data, pictures)
    return _papers[key]


def _patched(set_paper: Callable[..., bytes], set_picture: Callable[..., bytes]) -> Iterator[None]:
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(drawings_sheet, "render_png", set_picture)
        for room in (bill, change_order, crew_sheet, proposal, purchase_list):
            patched.setattr(room, "typeset", set_paper)
        yield


@contextmanager
def set_once() -> Iterator[None]:
    """Drawings and papers are set once; three drawings take half the time of a workbook."""
    yield from _patched(_typeset, _render)


@contextmanager
def set_anew() -> Iterator[None]:
    """Each is set again, within `set_once`."""
    yield from _patched(typeset, render_png)
