"""How long does one estimate take? Run by hand: python tests/bench/estimate.py (prints milliseconds; asserts nothing).

Each example is estimated again and again with one measure changed every time, as a slider does, in one process after a
warm-up. Wanted: 5 ms or less at the 95th percentile. `moving` is what a slider asks for while it moves, `at rest`
what stands at its end, overlaps tried as well.
"""

import time
from statistics import median, quantiles

from kit import estimate, load_lists, read_job, shipped
from kit.job import Job, change_job

WARM_UP, TRIALS = 10, 200


def changed(job: Job, number: int) -> Job:
    """The job with its counter a little longer each time, so that nothing can be remembered."""
    length = job.counter.runs[0].length_in + number / 64
    return change_job(job, {"counter.runs[1].length": f"{length!r} in", "cabinet.depth": f"{23 + number / 256!r} in"})


def measure(jobs: list[Job], *, exact: bool) -> list[float]:
    """Milliseconds of each estimate."""
    lists, took = load_lists(shipped("price_lists")), []
    for job in jobs:
        start = time.perf_counter()
        estimate(job, lists, exact=exact)
        took.append((time.perf_counter() - start) * 1000)
    return took[WARM_UP:]


def main() -> None:
    """One line for each example and kind of estimate."""
    print(f"{'example':36} {'':8} {'median':>8} {'p95':>8} {'most':>8}   [ms]")
    for path in sorted(shipped("examples").glob("*.toml")):
        jobs = [changed(read_job(path), number) for number in range(WARM_UP + TRIALS)]
        for exact in (False, True):
            took = measure(jobs, exact=exact)
            print(f"{path.stem:36} {'at rest' if exact else 'moving':8} {median(took):8.2f} {quantiles(took, n=20)[-1]:8.2f} {max(took):8.2f}")


if __name__ == "__main__":
    main()
