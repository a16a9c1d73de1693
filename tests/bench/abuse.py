"""Damaged inputs of every kind: no exception but ours, at most 2 s of CPU and 500 MB for one, nothing written (20,000: four minutes).

Usage: python tests/bench/abuse.py [inputs] [first seed]
"""

import os
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from fuzzed_inputs import KINDS, MOST_SECONDS, Outcome, try_input

INPUTS, FIRST = 20_000, 1_000_000


def main() -> None:
    inputs, first = [*map(int, sys.argv[1:]), *(INPUTS, FIRST)[len(sys.argv) - 1 :]]
    start = time.process_time()
    print(f"load {os.getloadavg()[0]:.1f}")
    for kind in KINDS:
        outcomes: list[Outcome] = []
        for seed in range(first, first + inputs // len(KINDS)):
            with tempfile.TemporaryDirectory() as folder:
                outcomes.append(try_input(kind, seed, Path(folder)))
            if outcomes[-1].fault:
                print(f"  {kind}, seed {seed}: {outcomes[-1].fault}")
        refused, faults = sum(one.refused for one in outcomes), sum(bool(one.fault) for one in outcomes)
        slowest = max(one.seconds for one in outcomes)
        print(f"{kind:16} {len(outcomes):6} tried, {refused:6} refused in words, {faults} faults, slowest {slowest:.2f} s of at most {MOST_SECONDS:g}")
    print(f"{time.process_time() - start:.0f} s of CPU")


if __name__ == "__main__":
    main()
