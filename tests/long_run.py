"""Of many like cases, those that every run tries: each so many-th, spread over all; the others wait for the long run."""

from collections.abc import Iterable
from typing import Any

import pytest


def one_in(step: int, cases: Iterable[Any]) -> list[Any]:
    """Parameters for one argument: one in `step` of the cases for every run, the rest of them marked `long`."""
    return [case if place % step == 0 else pytest.param(case, marks=pytest.mark.long) for place, case in enumerate(cases)]
