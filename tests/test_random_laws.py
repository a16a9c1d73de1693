"""What must hold of any estimate, tried on random jobs; `tests/bench/random_jobs.py` tries ten thousand."""

import hashlib
import subprocess
import sys
from pathlib import Path

import pytest
from random_laws import bytes_elsewhere, bytes_of, faults_of_sums

FEW, MANY = range(40), range(300)
ELSEWHERE = range(0, 300, 10)
IN_A_PROCESS = (
    "import hashlib, sys; from random_laws import bytes_of; [print(hashlib.sha256(bytes_of(int(seed), whole=True)).hexdigest()) for seed in sys.argv[1:]]"
)


@pytest.mark.parametrize("seeds", [FEW, pytest.param(MANY[len(FEW) :], marks=pytest.mark.long)], ids=str)
def test_sums_bounds_and_calendar_hold_for_any_job(seeds: range) -> None:
    """To the cent; no figure below its least, without end or none; no step before what it waits for."""
    assert {seed: found for seed in seeds if (found := faults_of_sums(seed))} == {}


@pytest.mark.parametrize("seeds", [ELSEWHERE[:6], pytest.param(ELSEWHERE[6:], marks=pytest.mark.long)], ids=str)
def test_the_same_bytes_in_another_thread_process_and_decimal_context(seeds: range) -> None:
    """The estimate with calendar, payments, cash and risk; found so: prices of drivers and days of the cash that a poor context cut off."""
    here = [hashlib.sha256(bytes_of(seed, whole=True)).hexdigest() for seed in seeds]
    assert [hashlib.sha256(bytes_elsewhere(seed, whole=True)).hexdigest() for seed in seeds] == here
    command = [sys.executable, "-c", IN_A_PROCESS, *map(str, seeds)]
    ended = subprocess.run(command, cwd=Path(__file__).parent, capture_output=True, text=True, check=True)
    assert ended.stdout.split() == here
