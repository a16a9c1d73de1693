"""What the random jobs of the tests are: share buildable, how often each kind, which options and which ends of ranges occur (seven minutes)."""

import sys
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from random_jobs import fields_drawn, is_far, lists, random_job, unseen_options, unseen_ranges

from kit.errors import KitError
from kit.estimating import estimate

JOBS = 10_000


def main() -> None:
    jobs = [random_job(seed) for seed in range(JOBS)]
    print(f"{JOBS} jobs, {len(set(map(repr, jobs)))} of them different")
    kinds = Counter((job.sink.mount, job.sink.carried_at, job.sink.style) for job in jobs)
    for kind, times in sorted(kinds.items(), key=str):
        print(f"{times:6} ", *kind)
    drawn = fields_drawn(jobs)
    print("options that never occur:", unseen_options(drawn) or "none")
    print("ranges with an end never reached:", unseen_ranges(drawn) or "none")
    levels: Counter[str] = Counter()
    for seed, job in enumerate(jobs):
        try:
            answer = "buildable" if estimate(job, lists(), exact=False).buildable else "stop"
        except KitError as error:
            answer = f"refused, {type(error).__name__}"
            print(f"seed {seed}: {error}"[:160])
        levels[f"{'far' if is_far(seed) else 'near'}: {answer}"] += 1
    for answer, times in sorted(levels.items()):
        print(f"{times:6}  {answer}")


if __name__ == "__main__":
    main()
