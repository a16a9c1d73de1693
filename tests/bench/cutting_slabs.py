"""How fast counter parts are laid on slabs, and how the plans compare with a general-purpose solver.

    python tests/bench/cutting_slabs.py [JOBS] [JOBS OF TWELVE PARTS] [JOBS FOR THE GENERAL SOLVER]

Run by hand; one process, wall times. Jobs are seeded and invented (tests/cutting/cutting_jobs.py). Every plan is followed, parted by through cuts.
The general-purpose solver (scipy.optimize.milp) gets the usual two-stage model: parts on levels, levels on slabs, both directions tried, 10 s each.
"""

import sys
import time
from collections import Counter as Tally
from collections.abc import Callable
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1] / "cutting"))

from cutting_jobs import KERF_IN, Counter, bins_of, kitchen_jobs, read_instances
from plan_checks import check_slabs
from slab_oracles import first_fit_levels, solve_by_levels

from kit.cutting.slabs import plan_slabs

SOLVER_S = 10.0


def timed(work: Callable[[], Any]) -> tuple[Any, float]:
    """An answer and its time [ms]."""
    start = time.perf_counter()
    answer = work()
    return answer, (time.perf_counter() - start) * 1000


def spread(times: list[float]) -> str:
    """Median, 95th percentile and greatest time [ms]."""
    order = sorted(times)
    return f"median {order[len(order) // 2]:.2f}  p95 {order[min(len(order) - 1, int(len(order) * 0.95))]:.2f}  max {order[-1]:.2f} ms"


def run_jobs(title: str, jobs: list[Counter]) -> None:
    """Times, proofs and faults of all plans."""
    times = list[float]()
    proofs: Tally[str] = Tally()
    proven = 0
    for job in jobs:
        plan, took = timed(lambda job=job: plan_slabs(*job, kerf_in=KERF_IN))
        times.append(took)
        check_slabs(plan, *job, KERF_IN)
        proven += plan.proven
        proofs[plan.proof] += 1
    count = len(jobs)
    print(f"\n{title}: {count} jobs, median {sorted(len(parts) for parts, _ in jobs)[count // 2]} parts")
    print(f"  {spread(times)}; proven {proven} of {count}; {dict(proofs)}")


def compare(jobs: list[Counter]) -> None:
    """The exact plan, the two-stage model and first fit on levels, on the same jobs in one run."""
    ours, theirs, fits = list[float](), list[float](), list[float]()
    gave_up = worse = better = fit_dearer = 0
    for job in jobs:
        plan, took = timed(lambda job=job: plan_slabs(*job, kerf_in=KERF_IN))
        ours.append(took)
        check_slabs(plan, *job, KERF_IN)
        solved, took = timed(lambda job=job: solve_by_levels(*job, KERF_IN, SOLVER_S))
        theirs.append(took)
        fitted, took = timed(lambda job=job: first_fit_levels(*job, KERF_IN))
        fits.append(took)
        gave_up += solved is None
        worse += (solved is not None and plan.cost > solved) or plan.cost > fitted
        better += solved is not None and plan.cost < solved
        fit_dearer += fitted > plan.cost
    print(f"\nAgainst others: {len(jobs)} jobs, the same for all three")
    print(f"  exact plan                    {spread(ours)}; worse than either of the others: {worse}")
    print(f"  general solver, two stages    {spread(theirs)}; not finished: {gave_up}; its two stages dearer in {better}")
    print(f"    its time / ours: all {sum(theirs) / sum(ours):.1f}")
    print(f"  first fit decreasing, levels  {spread(fits)}; dearer in {fit_dearer}; its time / ours: all {sum(fits) / sum(ours):.3f}")


def run_instances() -> None:
    """The published instances; the optimum is that of free layouts."""
    print("\nPublished instances (tests/data/cutting_data.md)")
    reached = 0
    instances = read_instances("slabs_2d.json")
    for instance in instances:
        parts, slabs = bins_of(instance)
        plan, took = timed(lambda parts=parts, slabs=slabs: plan_slabs(parts, slabs, kerf_in=0.0))
        check_slabs(plan, parts, slabs, 0.0)
        reached += plan.cost == instance["optimum"]
        print(f"  {instance['name']:40} free optimum {instance['optimum']:3}  plan {plan.cost:>6}  bound {plan.bound:>6}  {plan.proof:7} {took:8.1f} ms")
    print(f"  reached {reached} of {len(instances)}")


if __name__ == "__main__":
    number, large, solved_number = [int(word) for word in sys.argv[1:]] + [300, 60, 60][len(sys.argv) - 1 :]
    run_jobs("Kitchen countertops", kitchen_jobs(number, 7))
    run_jobs("Countertops of exactly twelve parts", kitchen_jobs(large, 7, parts=12))
    compare(kitchen_jobs(solved_number, 8))
    run_instances()
