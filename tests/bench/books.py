"""Do workbook, rows and payments of many seeded jobs come to what the kit says? Run by hand: python tests/bench/books.py [JOBS] (prints; asserts nothing).

Each job is an example with fields moved by chance, under terms and a company drawn by chance; the first 60 are those of the tests. One
run of LibreOffice recalculates every workbook, as written and after each of three changes of many inputs.
"""

import sys
import time
from pathlib import Path
from tempfile import TemporaryDirectory

sys.path.insert(0, str(Path(__file__).parents[1]))
sys.path.insert(0, str(Path(__file__).parents[1] / "export"))
import export_office as office
from book_checks import change_inputs, faults_of_rows, faults_of_workbook, request_of
from export_demo import write_workbook
from random_jobs import random_estimate

JOBS = 500
CHUNK = 100  # workbooks for one run of the office, so that their files need not all be kept


def check_workbooks(seeds: range, folder: Path) -> tuple[list[str], float, float]:
    """Faults in words, seconds to write the workbooks, seconds of the office."""
    start = time.perf_counter()
    changes = {seed: change_inputs(random_estimate(seed), seed) for seed in seeds}
    requests = [request_of(random_estimate(seed), write_workbook(random_estimate(seed), folder / f"{seed}.xlsx"), changes[seed]) for seed in seeds]
    written = time.perf_counter()
    answers = office.recalculate(requests, folder)
    faults = [
        f"seed {seed}: {fault}"
        for seed, answer in zip(seeds, answers, strict=True)
        for fault in faults_of_workbook(random_estimate(seed), changes[seed], answer)
    ]
    return faults, written - start, time.perf_counter() - written


def main(jobs: int) -> None:
    """One line for each fault, then times."""
    faults: list[str] = []
    writing = asking = reading = 0.0
    for first in range(0, jobs, CHUNK):
        seeds = range(first, min(first + CHUNK, jobs))
        with TemporaryDirectory() as folder:
            found, write_s, ask_s = check_workbooks(seeds, Path(folder))
            start = time.perf_counter()
            found += [f"seed {seed}: {fault}" for seed in seeds for fault in faults_of_rows(random_estimate(seed), Path(folder))]
        writing, asking, reading = writing + write_s, asking + ask_s, reading + time.perf_counter() - start
        faults += found
        print("\n".join([*found, f"{seeds.stop} jobs, {len(faults)} faults"]), flush=True)
    for name, taken in (("writing", writing), ("LibreOffice", asking), ("pandas and frictionless", reading)):
        print(f"{name:24} {taken:6.1f} s, {1000 * taken / jobs:5.0f} ms for each job")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else JOBS)
