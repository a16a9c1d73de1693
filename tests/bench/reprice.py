"""How long does re-pricing all jobs take, what does a second worker bring, and does memory stay flat?

Run by hand: python tests/bench/reprice.py [jobs, 10000 when left out]. Prints seconds by the clock and of the processor, the exponent by which the latter
grow, the gain of two workers by the clock (only a quiet machine shows it) and the memory: what a worker holds at the end, and its peak, which one large
cut plan among many jobs may set. Asserts nothing. Each size is done in a fresh process by one worker.
Wanted: exponent at most 1.05 from 100 jobs on, two workers at least 1.7 times as fast as one, memory the same once the largest jobs are among them.
"""

import json
import resource
import subprocess
import sys
import time
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path
from tempfile import TemporaryDirectory

sys.path.insert(0, str(Path(__file__).parents[1]))
from random_jobs import random_job

import kit
from kit.job.file import write_job
from kit.repricing import reprice

FIRST = 100


def lay(home: Path, jobs: int) -> None:
    """Random job files beside the shipped lists, and a folder of lists with another wage."""
    for name, wage in (("price_lists", "34.00"), ("dearer", "36.00")):
        (home / name).mkdir()
        for path in kit.shipped("price_lists").iterdir():
            text = path.read_text(encoding="utf-8")
            (home / name / path.name).write_text(text.replace("wage,34.00 USD", f"wage,{wage} USD"), encoding="utf-8")
    (home / "jobs").mkdir()
    for seed in range(jobs):
        write_job(random_job(seed), home / "jobs" / f"{seed:05d}.toml")


def measure(home: Path, jobs: int, workers: int) -> None:
    """Price them, in this process's own workers; print seconds and memory [MB] as JSON. The workers are up before the clock runs."""
    files = [home / "jobs" / f"{seed:05d}.toml" for seed in range(jobs)]
    moved = 0
    with ProcessPoolExecutor(workers, mp_context=get_context("spawn")) as pool:
        list(reprice(files[: 16 * workers], home / "dearer", executor=pool))
        start, busy = time.perf_counter(), pool.submit(time.process_time).result()
        for one in reprice(files, home / "dearer", executor=pool):
            moved += bool(one.difference)
        took, busy = time.perf_counter() - start, pool.submit(time.process_time).result() - busy  # of one worker
        held = pool.submit(held_mb).result()
    memory = {"worker": resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024}
    sys.stdout.write(json.dumps({"took": took, "busy": busy, "moved": moved, "held": held, **memory}))


def held_mb() -> float:
    """What this process holds in memory [MB]."""
    return int(Path("/proc/self/statm").read_text(encoding="ascii").split()[1]) * resource.getpagesize() / 1e6


def measured(home: Path, jobs: int, workers: int) -> dict[str, float]:
    """The same in a fresh process."""
    call = [sys.executable, __file__, "measure", str(home), str(jobs), str(workers)]
    return dict(json.loads(subprocess.run(call, capture_output=True, text=True, check=True).stdout))


def main(most: int) -> None:
    """One line for each size; then the exponent by least squares of the logarithms, and the gain of two workers."""
    from math import log

    sizes = [size for size in (FIRST, 316, 1000, 3162, 10_000) if size <= most]
    in_memory = Path("/dev/shm")  # where there is one: the time of a disk is not what is measured
    with TemporaryDirectory(dir=in_memory if in_memory.is_dir() else None) as folder:
        home = Path(folder)
        lay(home, max(sizes))
        print(f"{'jobs':>6} {'workers':>8} {'s':>9} {'busy s':>9} {'ms each':>8} {'moved':>6} {'worker MB':>10} {'its peak':>9}")
        found = {}
        for size, workers in (*((size, 1) for size in sizes), (sizes[-1], 2)):
            one = found[size, workers] = measured(home, size, workers)
            each = one["busy"] * 1000 * workers / size
            print(
                f"{size:6} {workers:8} {one['took']:9.2f} {one['busy']:9.2f} {each:8.2f} {one['moved']:6} {one['held']:10.0f} {one['worker']:9.0f}", flush=True
            )
    points = [(log(size), log(found[size, 1]["busy"])) for size in sizes]
    middle = [sum(values) / len(points) for values in zip(*points, strict=True)]
    slope = sum((x - middle[0]) * (y - middle[1]) for x, y in points) / sum((x - middle[0]) ** 2 for x, _ in points)
    gain = found[sizes[-1], 1]["took"] / found[sizes[-1], 2]["took"]
    print(f"exponent {slope:.3f} from {sizes[0]} to {sizes[-1]} jobs; two workers are {gain:.2f} times as fast")


if __name__ == "__main__":
    if sys.argv[1:2] == ["measure"]:
        measure(Path(sys.argv[2]), int(sys.argv[3]), int(sys.argv[4]))
    else:
        main(int(sys.argv[1]) if sys.argv[1:] else 10_000)
