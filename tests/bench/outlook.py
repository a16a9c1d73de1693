"""How long do calendar and risk of an estimate take? Run by hand: python tests/bench/outlook.py (prints milliseconds; asserts nothing).

For each example: what the work adds to an estimate, its calendar, its trials of cost and finish. Wanted: one estimate within 5 ms
at the 95th percentile (tests/bench/estimate.py), 100,000 trials of the cost within 300 ms.
"""

import time
from collections.abc import Callable
from statistics import median

from kit import estimate, load_lists, read_job, shipped
from kit.labor.job_work import plan_work
from kit.outlook import TRIALS, assess_risk, plan_schedule, site_risks_of
from kit.risk.cost import cost_risk

MANY = 100_000


def spent(call: Callable[[], object], repeats: int) -> str:
    """First and median time of a call [ms]."""
    took = []
    for _ in range(repeats):
        start = time.perf_counter()
        call()
        took.append(1000 * (time.perf_counter() - start))
    return f"{took[0]:8.2f} {median(took):8.2f}"


def main() -> None:
    """One line for each example and question."""
    lists = load_lists(shipped("price_lists"))
    print(f"{'example':32} {'':28} {'first':>8} {'median':>8}   [ms]")
    for path in sorted(shipped("examples").glob("*.toml")):
        found = estimate(read_job(path), lists)
        company, risks = lists.company, site_risks_of(found)
        setting = {"seed": 1, "trials": MANY, "correlation": company.risk_correlation}
        spreads = {"price_spread": company.price_spread, "waste_spread": company.waste_spread}
        lines = tuple(line for line in found.lines if line.step != "trips")

        def cost(found=found, risks=risks, setting=setting, spreads=spreads) -> object:
            return cost_risk(found.tasks, found.purchases, risks, **setting, **spreads)

        for name, call, repeats in (
            (
                "hours, order, trips",
                lambda found=found, lines=lines: plan_work(found.job, found.design, lines, found.purchases, lists, found.tasks[0].rate),
                50,
            ),
            ("calendar", lambda found=found: plan_schedule(found), 50),
            (f"cost, {MANY} trials", cost, 5),
            (f"cost and finish, {TRIALS} trials", lambda found=found: assess_risk(found), 5),
            (f"cost and finish, {MANY} trials", lambda found=found: assess_risk(found, trials=MANY), 5),
        ):
            print(f"{path.stem:32} {name:28} {spent(call, repeats)}")


if __name__ == "__main__":
    main()
