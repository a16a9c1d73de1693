"""What the random jobs of the tests are: share buildable, how often each kind, which options and which ends of ranges occur; and that all laws hold of them.

Usage: python tests/bench/random_jobs.py [jobs] [first seed] (10,000 from 0: fifteen minutes); in slices, options and ranges are those of the slice.
"""

import sys
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from random_jobs import fields_drawn, is_far, random_estimate, random_job, unseen_options, unseen_ranges
from random_laws import bytes_elsewhere, bytes_of, faults_of_sums

from kit.errors import KitError

JOBS, ELSEWHERE = 10_000, 10  # one in ten is worked out in another thread too


def main() -> None:
    count, first = [*map(int, sys.argv[1:]), *(JOBS, 0)[len(sys.argv) - 1 :]]
    jobs = [random_job(seed) for seed in range(first, first + count)]
    print(f"{count} jobs, {len({job.model_dump_json() for job in jobs})} of them different")
    kinds = Counter((job.sink.mount, job.sink.carried_at, job.sink.style) for job in jobs)
    for kind, times in sorted(kinds.items(), key=str):
        print(f"{times:6} ", *kind)
    drawn = fields_drawn(jobs)
    print("options that never occur:", unseen_options(drawn) or "none")
    print("ranges with an end never reached:", unseen_ranges(drawn) or "none")
    levels: Counter[str] = Counter()
    for seed in range(first, first + count):
        try:
            answer = "buildable" if random_estimate(seed).buildable else "stop"
            faults = faults_of_sums(seed)
            if seed % ELSEWHERE == 0 and bytes_of(seed, whole=True) != bytes_elsewhere(seed, whole=True):
                faults.append("other bytes in another thread and decimal context")
            levels["with a fault"] += bool(faults)
            for fault in faults:
                print(f"seed {seed}: {fault}")
        except KitError as error:
            answer = f"refused, {type(error).__name__}"
            print(f"seed {seed}: {error}"[:160])
        levels[f"{'far' if is_far(seed) else 'near'}: {answer}"] += 1
    for answer, times in sorted(levels.items()):
        print(f"{times:6}  {answer}")


if __name__ == "__main__":
    main()
