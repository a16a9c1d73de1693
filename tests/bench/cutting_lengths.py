"""How fast stock lengths are planned, and how the plans compare with a general-purpose solver and textbook first fit.

    python tests/bench/cutting_lengths.py [JOBS] [JOBS FOR THE GENERAL SOLVER]

Run by hand; one process, wall times. Jobs are seeded and invented (tests/cutting/cutting_jobs.py). Every plan is followed;
certificates are rechecked in whole numbers. The general-purpose solver (scipy.optimize.milp, arc-flow model) gets 10 s a job.
"""

import sys
import time
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1] / "cutting"))

from cutting_jobs import KERF_IN, Lumber, bars_of, lumber_jobs, offcut_jobs, read_instances
from cutting_oracles import first_fit, solve_by_arcs
from plan_checks import certify_cuts, check_cuts

from kit.cutting.lengths import plan_cuts
from kit.cutting.plans import CutPlan

SOLVER_S = 10.0


def timed(work: Callable[[], Any]) -> tuple[Any, float]:
    """An answer and its time [ms]."""
    start = time.perf_counter()
    answer = work()
    return answer, (time.perf_counter() - start) * 1000


def spread(times: list[float]) -> str:
    """Median, 95th and 99th percentile and greatest time [ms]."""
    order = sorted(times)
    marks = [order[min(len(order) - 1, int(len(order) * share))] for share in (0.5, 0.95, 0.99)]
    return f"median {marks[0]:.2f}  p95 {marks[1]:.2f}  p99 {marks[2]:.2f}  max {order[-1]:.2f} ms"


def is_wrong(plan: CutPlan, job: Lumber) -> bool:
    """Whether a plan's certificate, where it has one, does not give its bound."""
    check_cuts(plan, *job, KERF_IN)
    return plan.proof in {"sizes", "values"} and certify_cuts(plan, *job, KERF_IN) != plan.bound


def run_jobs(title: str, jobs: list[Lumber]) -> None:
    """Times, proofs and faults of all plans."""
    times = list[float]()
    proofs: Counter[str] = Counter()
    proven = wrong = 0
    for job in jobs:
        plan, took = timed(lambda job=job: plan_cuts(*job, kerf_in=KERF_IN))
        times.append(took)
        wrong += is_wrong(plan, job)
        proofs[plan.proof] += 1
        proven += plan.proven
    count = len(jobs)
    print(f"\n{title}: {count} jobs")
    print(f"  {spread(times)}; proven {proven} of {count}")
    print(f"  wrong: {wrong}; proven by {dict(proofs)}")


def compare(title: str, jobs: list[Lumber]) -> None:
    """The exact plan, the general-purpose solver and first fit on the same jobs in one run."""
    ours, theirs, fits = list[float](), list[float](), list[float]()
    gave_up = worse = dearer = 0
    excess = 0.0
    for job in jobs:
        plan, took = timed(lambda job=job: plan_cuts(*job, kerf_in=KERF_IN))
        ours.append(took)
        check_cuts(plan, *job, KERF_IN)
        solved, took = timed(lambda job=job: solve_by_arcs(*job, KERF_IN, SOLVER_S))
        theirs.append(took)
        fitted, took = timed(lambda job=job: first_fit(*job, KERF_IN))
        fits.append(took)
        cents = int(plan.cost * 100)
        gave_up += solved is None
        worse += (solved is not None and cents > solved[0]) or (fitted is not None and cents > fitted)
        dearer += fitted is not None and fitted > cents
        excess += fitted / cents - 1 if fitted is not None else 0.0
    ratios = sorted(one / other for one, other in zip(theirs, ours, strict=True))
    print(f"\n{title}: {len(jobs)} jobs, the same for all three")
    print(f"  exact plan            {spread(ours)}; worse than either of the others: {worse}")
    print(f"  general solver        {spread(theirs)}; not finished in {SOLVER_S:g} s: {gave_up}")
    print(f"    its time / ours: median {ratios[len(ratios) // 2]:.1f}, all {sum(theirs) / sum(ours):.1f}")
    print(f"  first fit decreasing  {spread(fits)}; dearer in {dearer}, {excess / len(jobs):+.2%} cost on average")
    print(f"    its time / ours: all {sum(fits) / sum(ours):.2f}")


def run_instances() -> None:
    """The published instances."""
    print("\nPublished instances (tests/data/cutting_data.md)")
    for instance in read_instances("cutting_stock_1d.json"):
        pieces, stock = bars_of(instance)
        plan, took = timed(lambda pieces=pieces, stock=stock: plan_cuts(pieces, stock, kerf_in=0.0))
        check_cuts(plan, pieces, stock, 0.0)
        print(f"  {instance['name']:36} optimum {instance['optimum']:4}  plan {len(plan.cut):4}  bound {plan.bound:>6}  {plan.proof:8} {took:8.1f} ms")


if __name__ == "__main__":
    number = int(sys.argv[1]) if len(sys.argv) > 1 else 2000
    solved_number = int(sys.argv[2]) if len(sys.argv) > 2 else 40
    opening = lumber_jobs(3, 99)
    print(f"first call in a process, libraries loaded with it: {timed(lambda: [plan_cuts(*job, kerf_in=KERF_IN) for job in opening])[1]:.0f} ms for three jobs")
    run_jobs("Four priced stock lengths", lumber_jobs(number, 1))
    run_jobs("One stock length", lumber_jobs(number, 1, one_stock=True))
    run_jobs("Four priced lengths and offcuts on hand", offcut_jobs(max(1, number // 4), 2, most_pieces=40))
    compare("Against others, four priced lengths", lumber_jobs(solved_number, 3))
    compare("Against others, one length", lumber_jobs(solved_number, 3, one_stock=True))
    run_instances()
