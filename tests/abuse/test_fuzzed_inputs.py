"""A small share of damaged inputs of every kind; `tests/bench/abuse.py` tries 20,000."""

from pathlib import Path

import pytest
from fuzzed_inputs import KINDS, try_input

SHARE = {"job": 60, "list": 12, "spent table": 60, "spent workbook": 20, "issued estimate": 12, "ledger": 40}

FOUND = (("issued estimate", 1_000_375), ("issued estimate", 1_000_865))  # ended in an exception once: a day past the calendar, a row that is none


@pytest.mark.parametrize(("kind", "seed"), FOUND)
def test_what_once_ended_in_an_exception_is_refused(kind: str, seed: int, tmp_path: Path) -> None:
    outcome = try_input(kind, seed, tmp_path)
    assert (outcome.refused, outcome.fault) == (True, "")


@pytest.mark.parametrize("kind", KINDS)
def test_a_damaged_input_ends_with_an_answer_or_one_report(kind: str, tmp_path: Path) -> None:
    outcomes = []
    for seed in range(SHARE[kind]):
        folder = tmp_path / str(seed)
        folder.mkdir()
        outcomes.append(try_input(kind, seed, folder))
    assert {seed: one.fault for seed, one in enumerate(outcomes) if one.fault} == {}
    assert any(one.refused for one in outcomes)  # the damage is felt
