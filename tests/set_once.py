"""Papers and pictures that are set once for all tests of a process, for tests that look at what is done with them.

The same text is the same file: tests of the papers themselves, which set each anew, say so.
"""

import json
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from functools import cache
from typing import Any

import pytest

from kit.draw.drawings import render_pngs
from kit.export import bill, change_order, crew_sheet, drawings_sheet, proposal, purchase_list
from kit.export.typeset import typeset

__all__ = ["set_anew", "set_once"]

_papers: dict[str, bytes] = {}


def _typeset(template: str, data: Mapping[str, Any], pictures: Mapping[str, str] | None = None) -> bytes:
    key = json.dumps([template, data, pictures and dict(pictures)])
    if key not in _papers:
        _papers[key] = typeset(template, data, pictures)
    return _papers[key]


def _patched(set_paper: Callable[..., bytes], set_pictures: Callable[..., list[bytes]]) -> Iterator[None]:
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(drawings_sheet, "render_pngs", set_pictures)
        for room in (bill, change_order, crew_sheet, proposal, purchase_list):
            patched.setattr(room, "typeset", set_paper)
        yield


@cache
def _set_picture(svg: str, zoom: float) -> bytes:
    return render_pngs([svg], zoom=zoom)[0]


def _set_pictures(svgs: Sequence[str], *, zoom: float = 2.0) -> list[bytes]:
    return [_set_picture(svg, zoom) for svg in svgs]


@contextmanager
def set_once() -> Iterator[None]:
    """Drawings and papers are set once; three drawings take half the time of a workbook."""
    yield from _patched(_typeset, _set_pictures)


@contextmanager
def set_anew() -> Iterator[None]:
    """Each is set again, within `set_once`."""
    yield from _patched(typeset, render_pngs)
