"""Do the laws of the model hold on ten thousand jobs of the generator, and what wants the same place in them? Prints figures (three minutes).

python tests/bench/model.py [JOBS [FIRST]]: no exception, no overlap unreported, no member without a place, loads that are placed and arrive.
"""

import sys
import time
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))
sys.path.insert(0, str(Path(__file__).parents[1] / "design"))

from random_jobs import is_far
from test_laws import hold

JOBS, SHOWN = 10_000, 12


def main() -> None:
    """The laws first, then what was found."""
    jobs, first = (*(int(word) for word in sys.argv[1:3]), *(JOBS, 0)[len(sys.argv[1:3]) :])
    found: Counter[tuple[str, str, str]] = Counter()
    tried, clean, broken, start = Counter[str](), Counter[str](), [], time.process_time()
    for seed in range(first, first + jobs):
        kind = "far" if is_far(seed) else "near"
        try:
            built, early = hold(seed)
        except Exception as error:  # noqa: BLE001 - every kind of failure is a figure here
            broken.append(f"seed {seed}: {type(error).__name__} {error}"[:160])
            continue
        tried[kind] += 1
        clean[kind] += not built
        found.update((kind, "before" if finding in early else "built", f"{finding.level.word}: {finding.check}") for finding in (*built, *early))
    print(f"{jobs} jobs from seed {first}, {(time.process_time() - start) / jobs * 1000:.1f} ms each; laws broken: {len(broken)}", *broken[:SHOWN], sep="\n  ")
    for kind in ("near", "far"):
        print(f"{kind}: {tried[kind]} jobs, {clean[kind]} of them with nothing in the same place as built")
        for (_, when, words), times in [(key, times) for key, times in found.most_common() if key[0] == kind][:SHOWN]:
            print(f"{times:7}  {when:6}  {words}")


if __name__ == "__main__":
    main()
