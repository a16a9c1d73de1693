"""Writers killed at random moments: python tests/bench/killed.py [how many, 200 when left out]. Prints counts; ends with the first loss.

The same as tests/test_killed_writers.py, more often: ledger writes, issue, save and taking lists into use in turn.
"""

import sys
from collections import Counter
from pathlib import Path
from tempfile import TemporaryDirectory

sys.path.insert(0, str(Path(__file__).parents[1]))
from killed_writers import KINDS, kill_one


def main(times: int) -> None:
    """One line for each kind: kills, and what had been confirmed by then."""
    kills, confirmed = Counter(), Counter()
    for number in range(times):
        kind = list(KINDS)[number % len(KINDS)]
        with TemporaryDirectory() as folder:
            confirmed[kind] += kill_one(kind, Path(folder), 1000 + number)
        kills[kind] += 1
    for kind in KINDS:
        print(f"{kind:16} {kills[kind]:4} kills, {confirmed[kind]:6} writings confirmed, none lost, none half-written")


if __name__ == "__main__":
    main(int(sys.argv[1]) if sys.argv[1:] else 200)
