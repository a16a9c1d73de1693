"""How fast is it, all in one table? Run by hand: python tests/bench/all.py (prints seconds of CPU; asserts nothing).

Each figure stands beside an anchor measured in the same run and beside what is wanted of it; growth is the exponent between the smallest
and the largest size. The load of the machine stands on top: CPU seconds rise with it too, by what the cores share.
"""

import os
import resource
import subprocess
import sys
import tempfile
import time
import tracemalloc
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from math import log
from pathlib import Path
from statistics import median

sys.path.insert(0, str(Path(__file__).parent))
from start import COMMAND, compiled_in
from workbook import lengthened

import kit
from kit.compare.figures import weigh_option
from kit.compare.options import compare_alternates
from kit.export.workbook import workbook_bytes
from kit.job import change_job
from kit.outlook import assess_risk

JOB = kit.shipped("examples") / "stone_apron_single_bowl.toml"
ROOMS = "import kit.cli.commands, kit.cli.job_source, kit.cli.estimate_document, kit.cli.report, numpy.random"
"""Loads what pricing a job needs and does nothing with it: no job read, no estimate."""
LINES, MANY_LINES, TRIALS, ALTERNATES, MOVES = 150, 600, 100_000, 16, 1_000


@dataclass(frozen=True)
class Figure:
    """One row: what was measured, its CPU [s], what it is held against, and the most that is wanted [s]."""

    name: str
    took_s: float
    anchor: str
    anchor_s: float
    wanted: str
    most_s: float


def command_s(cache: str, *words: str, runs: int = 5) -> float:
    """Median CPU of a process of Python, its children with it [s]; compiled modules are kept in a folder."""
    took = []
    for _ in range(runs + 1):  # the first fills the folder
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        subprocess.run([sys.executable, *words], check=True, capture_output=True, env=compiled_in(cache))
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        took.append(after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime)
    return median(took[1:])


def call_s(call: Callable[[], object], runs: int = 5) -> float:
    """Median CPU of a call in this process, after one to warm up [s]."""
    took = []
    for _ in range(runs + 1):
        start = time.process_time()
        call()
        took.append(time.process_time() - start)
    return median(took[1:])


def started(folder: Path) -> list[Figure]:
    """Imports and commands."""
    cpu_of, out = partial(command_s, str(folder / "compiled")), str(folder / "out")
    job, python, pydantic = str(JOB), cpu_of("-c", "pass"), cpu_of("-c", "import pydantic; pydantic.BaseModel")
    first = "import kit; kit.estimate(kit.read_job(kit.shipped('examples') / 'stone_apron_single_bowl.toml'), kit.load_lists(kit.shipped('price_lists')))"
    aid, version, rooms = cpu_of("-c", COMMAND, "--help"), cpu_of("-c", COMMAND, "--version"), cpu_of("-c", ROOMS)
    as_json, report = cpu_of("-c", COMMAND, "estimate", job, "--json"), cpu_of("-c", COMMAND, "estimate", job)
    return [
        Figure("import kit", cpu_of("-c", "import kit"), "import pydantic", pydantic, "2.5 x", 2.5 * pydantic),
        Figure("import and first estimate", cpu_of("-c", first), "python alone", python, "0.6 s", 0.6),
        Figure("sinkset estimate JOB --json", as_json, "sinkset --help", aid, "1.5 x", 1.5 * aid),
        Figure("the same", as_json, "rooms and libraries", rooms, "1.5 x", 1.5 * rooms),
        Figure("sinkset estimate JOB", report, "sinkset --help", aid, "2 x", 2 * aid),
        Figure("the same", report, "rooms and libraries", rooms, "2 x", 2 * rooms),
        Figure("sinkset compare JOB", cpu_of("-c", COMMAND, "compare", job), "sinkset --version", version, "no limit", float("inf")),
        Figure("estimate --out", cpu_of("-c", COMMAND, "estimate", job, "--out", out, runs=3), "sinkset --help", aid, "no limit", float("inf")),
    ]


def weigh(priced: list[kit.Estimate], count: int) -> None:
    """So many alternates estimated anew, each with its trials."""
    for number in range(count):
        weigh_option(kit.estimate(priced[number % len(priced)].job, priced[0].lists))


def computed(lists: kit.Lists) -> list[Figure]:
    """What the engine takes, and how it grows."""
    job = kit.read_job(JOB)
    found = kit.estimate(job, lists)
    read = call_s(lambda: kit.read_job(JOB), 20)
    lengths = iter(range(100_000))
    moved = call_s(lambda: kit.estimate(change_job(job, {"cabinet.depth": f"{23 + next(lengths) / 4096!r} in"}), lists, exact=False), 60)
    priced = [option.estimate for option in compare_alternates(job, lists) if option.estimate is not None]
    compared = call_s(lambda: [weigh_option(option.estimate) for option in compare_alternates(job, lists) if option.estimate is not None], 3)
    few, many = call_s(lambda: assess_risk(found, trials=1_000), 3), call_s(lambda: assess_risk(found, trials=TRIALS), 3)
    hundred, ten = call_s(lambda: weigh(priced, 100), 1), call_s(lambda: weigh(priced, 10), 1)
    books = {count: call_s(partial(workbook_bytes, lengthened(found, count)), 3) for count in (LINES, MANY_LINES)}
    print(
        f"growth: trials 1,000 to {TRIALS:,} exponent {log(many / few) / log(TRIALS / 1_000):.2f}; alternates 10 to 100 {log(hundred / ten) / log(10):.2f}; ",
        end="",
    )
    print(f"workbook {LINES} to {MANY_LINES} lines {log(books[MANY_LINES] / books[LINES]) / log(MANY_LINES / LINES):.2f}")
    return [
        Figure("estimate while a slider moves", moved, "reading the job file", read, "no limit", float("inf")),
        Figure(f"compare, each of {len(priced)} alternates x {ALTERNATES}", compared / len(priced) * ALTERNATES, "one estimate", moved, "0.6 s", 0.6),
        Figure("100 alternates with risk, each", hundred / 100, "one estimate", moved, "15 ms", 0.015),
        Figure(f"{TRIALS:,} trials of cost and finish", many, "1,000 trials", few, "0.3 s", 0.3),
        Figure(f"workbook of {LINES} lines", books[LINES], "one estimate", moved, "0.3 s", 0.3),
    ]


def moved_memory(lists: kit.Lists) -> str:
    """Memory that 1,000 moves of a slider leave behind."""
    job = kit.read_job(JOB)
    for number in range(50):
        kit.estimate(change_job(job, {"cabinet.depth": f"{23 + number / 4096!r} in"}), lists, exact=False)
    tracemalloc.start()
    for number in range(MOVES):
        kit.estimate(change_job(job, {"cabinet.depth": f"{22 + number / 4096!r} in"}), lists, exact=False)
        if number == MOVES // 2:
            half = tracemalloc.get_traced_memory()[0]
    left = tracemalloc.get_traced_memory()[0]
    tracemalloc.stop()
    return f"memory that {MOVES:,} moves leave: {left / 1e6:.1f} MB, the second half {(left - half) / 1e6:+.1f} MB of it"


def main() -> None:
    """The table."""
    lists = kit.load_lists(kit.shipped("price_lists"))
    print(f"{os.cpu_count()} cores, load {os.getloadavg()[0]:.1f}")
    with tempfile.TemporaryDirectory() as folder:
        rows = [*started(Path(folder)), *computed(lists)]
    print(moved_memory(lists))
    print(f"{'':44} {'CPU [s]':>9}   {'anchor':24} {'[s]':>8} {'times':>8}   {'wanted':10}")
    for row in rows:
        verdict = "" if row.took_s <= row.most_s else "falls short"
        print(f"{row.name:44} {row.took_s:9.4f}   {row.anchor:24} {row.anchor_s:8.4f} {row.took_s / row.anchor_s:8.2f}   {row.wanted:10} {verdict}")


if __name__ == "__main__":
    main()
