"""SIGKILL at random moments of ledger writes, issue, save and taking lists into use: nothing confirmed is lost, nothing half-written is read."""

from pathlib import Path

import pytest
from killed_writers import KINDS, kill_one
from long_run import one_in


@pytest.mark.parametrize("case", one_in(9, [(kind, seed) for seed in range(5) for kind in KINDS]), ids=lambda case: f"{case[0]}-{case[1]}")
def test_a_killed_writer_loses_nothing_that_it_confirmed(tmp_path: Path, case: tuple[str, int]) -> None:
    """Five of each kind; one in five of these twenty in every run, each kind among them."""
    assert kill_one(case[0], tmp_path, case[1]) >= 0
