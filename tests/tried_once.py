"""Trials that are run once for all tests of a process, for tests that look at what is made of them.

The same tasks, purchases and risks with the same settings have the same spread; tests of the trials themselves don't use this.
"""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

import pytest

from kit import outlook

__all__ = ["tried_once"]

_known: dict[str, Any] = {}


def _once(run: Callable[..., Any]) -> Callable[..., Any]:
    def try_once(*records: Any, **settings: Any) -> Any:
        key = repr((run.__name__, records, sorted((name, sorted(value) if isinstance(value, set) else value) for name, value in settings.items())))
        if key not in _known:
            _known[key] = run(*records, **settings)
        return _known[key]

    return try_once


_cost, _finish = _once(outlook.cost_risk), _once(outlook.finish_risk)


@contextmanager
def tried_once() -> Iterator[None]:
    """Cost and finish of the same records are tried once."""
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(outlook, "cost_risk", _cost)
        patched.setattr(outlook, "finish_risk", _finish)
        yield
