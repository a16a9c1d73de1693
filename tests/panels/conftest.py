"""For all tests of the screens: papers and drawings that were set once are not set again, nor trials run again."""

from collections.abc import Iterator
from typing import Any

import pytest
from comm import DummyComm
from set_once import set_once
from tried_once import tried_once


@pytest.fixture
def sent(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Every message to the page, as text."""
    messages: list[str] = []

    def publish(_: Any, message: str, data: Any = None, metadata: Any = None, buffers: Any = None, **more: Any) -> None:
        messages.append(repr((message, data, metadata, buffers, more)))

    monkeypatch.setattr(DummyComm, "publish_msg", publish)
    return messages


@pytest.fixture(scope="module", autouse=True)
def _each_paper_is_set_once() -> Iterator[None]:
    """The screens hand on what the exports make, and show what the trials give."""
    with set_once(), tried_once():
        yield
