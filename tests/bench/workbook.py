"""How long does a workbook take? Run by hand: python tests/bench/workbook.py (prints milliseconds; asserts nothing).

The wanted figure is 400 ms for 150 lines. The lines are those of the largest example, repeated under other names until there
are as many, then bought, timed and priced as the kit does it.
"""

import time
from dataclasses import replace
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

import kit
from kit.buying.buy import plan_purchases
from kit.export.workbook import workbook_bytes
from kit.labor.hours import estimate_hours
from kit.pricing.build_up import price_job

LINES = 150
REPEATS = 15


def lengthened(found: kit.Estimate, count: int) -> kit.Estimate:
    """The estimate with so many lines."""
    lines = [replace(line, id=f"{line.id} {turn}") for turn in range(1 + count // len(found.lines)) for line in found.lines][:count]
    purchases = plan_purchases(found.job, lines, found.lists)
    tasks = estimate_hours(found.job, found.design, lines, found.lists, found.tasks[0].rate, conditions=(), after={line.step: () for line in lines})
    types = {purchase.item: found.lists.item(purchase.item).cost_type for purchase in purchases}
    return replace(found, lines=tuple(lines), purchases=purchases, tasks=tasks, build_up=price_job(purchases, types, tasks, found.terms))


def main() -> None:
    """Print the median and the worst of some runs."""
    lists = kit.load_lists(kit.shipped("price_lists"))
    jobs = (kit.estimate(kit.read_job(path), lists) for path in sorted(kit.shipped("examples").glob("*.toml")))
    found = lengthened(max(jobs, key=lambda estimate: len(estimate.lines)), LINES)
    with TemporaryDirectory() as folder:
        path, times = Path(folder) / "job.xlsx", []
        for _ in range(REPEATS):
            start = time.perf_counter()
            path.write_bytes(workbook_bytes(found))
            times.append(1000 * (time.perf_counter() - start))
        size = path.stat().st_size
    print(f"{len(found.lines)} lines, {len(found.purchases)} purchases, {len(found.tasks)} tasks, {len(found.findings)} findings: {size / 1000:.0f} kB")
    print(f"first {times[0]:.0f} ms (with the library's import), then median {median(times[1:]):.0f} ms, worst {max(times[1:]):.0f} ms")


if __name__ == "__main__":
    main()
