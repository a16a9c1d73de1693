"""Which job takes longest? Run by hand: python tests/bench/slowest.py (prints milliseconds of CPU; asserts nothing).

Jobs of the slowest kinds, then the five slowest of 300 random ones, in one process after a warm-up: estimate and calendar.
"""

import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from random_jobs import random_estimate
from slow_jobs import slow_jobs
from work_jobs import STONE, estimated, lists

from kit.estimating import estimate
from kit.outlook import plan_schedule


def cpu_ms(work) -> float:
    """Milliseconds of CPU that a piece of work takes."""
    start = time.process_time()
    work()
    return (time.process_time() - start) * 1000


def main() -> None:
    """One line for each kind, then the slowest by chance."""
    plan_schedule(estimated(STONE))
    for kind, job in slow_jobs().items():
        print(f"{kind:50} {cpu_ms(lambda job=job: plan_schedule(estimate(job, lists()))):8.1f} ms")
    took = sorted(((cpu_ms(lambda seed=seed: plan_schedule(random_estimate(seed))), seed) for seed in range(300)), reverse=True)
    for milliseconds, seed in took[:5]:
        print(f"random job {seed:<39} {milliseconds:8.1f} ms")


if __name__ == "__main__":
    main()
