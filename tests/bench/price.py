"""Does the price of many seeded jobs add up, and how long does it take? Run by hand: python tests/bench/price.py (prints; asserts nothing).

Each job is an example with fields moved by chance, under terms drawn by chance; the first 60 are those of the tests.
"""

import sys
import time
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path
from statistics import median, quantiles

sys.path.insert(0, str(Path(__file__).parents[1]))
from random_jobs import random_estimate

from kit import Estimate, revalue
from kit.pricing.build_up import price_job
from kit.pricing.draws import plan_draws
from kit.pricing.job_terms import resolve_terms
from kit.pricing.work_back import find_price_for_margin

JOBS = 500
PARTS = ("cost", "handling", "contingency", "warranty", "overhead", "profit", "tax-collected")
WORK: dict[str, Callable[[Estimate], object]] = {
    "price": lambda found: price_job(found.purchases, found.cost_types, found.tasks, resolve_terms(found.job, found.lists)),
    "revalue": lambda found: revalue(found, {}, {}, {"in:overhead": Decimal("0.2")}),
    "working back": lambda found: find_price_for_margin(found, Decimal("0.3")),
}


def faults_of(found: Estimate) -> list[str]:
    """What does not add up."""
    rows = {row.id: row.amount for row in found.build_up}
    bought = sum((one.amount for one in (*found.purchases, *found.tasks)), rows["tax-paid"])
    wrong = [] if bought == found.cost else [f"cost {found.cost}, of its parts {bought}"]
    parts = sum((rows.get(name, Decimal(0)) for name in PARTS), Decimal(0))
    wrong += [] if parts == found.price else [f"price {found.price}, of its parts {parts}"]
    draws = sum(draw.due for draw in plan_draws(found).draws)
    return wrong + ([] if draws == found.price else [f"draws sum to {draws}, not {found.price}"])


def main() -> None:
    """One line for each job that does not add up, then times."""
    took: dict[str, list[float]] = {name: [] for name in WORK}
    wrong = 0
    for seed in range(JOBS):
        found = random_estimate(seed)
        for fault in faults_of(found):
            wrong += 1
            print(f"seed {seed}: {fault}")
        for name, work in WORK.items():
            start = time.perf_counter()
            work(found)
            took[name].append((time.perf_counter() - start) * 1000)
    print(f"{JOBS} jobs, {wrong} faults")
    for name, times in took.items():
        print(f"{name:14} median {median(times):6.2f} ms, p95 {quantiles(times, n=20)[-1]:6.2f} ms")


if __name__ == "__main__":
    main()
