"""How long do the trials take? Run by hand: python tests/bench/risk.py (prints milliseconds; asserts nothing)."""

import subprocess
import sys
import time
from datetime import date
from decimal import Decimal
from statistics import median

from kit.labor.calendar import WorkCalendar
from kit.lists.work_rows import SiteRiskRow
from kit.records import Purchase, Task
from kit.risk.cost import cost_risk
from kit.risk.finish import finish_risk
from kit.steps import Step

TRIALS = 100_000
REPEATS = 7


def invented_tasks() -> list[Task]:
    """Thirty steps one after the other, with invented hours."""
    steps = list(Step)
    return [
        Task(
            step=step,
            line_ids=(),
            hours_low=0.5 + 0.01 * n,
            hours_likely=1.0 + 0.02 * n,
            hours_high=2.5 + 0.05 * n,
            crew=1 + n % 2,
            duration_h=(1.0 + 0.02 * n) / (1 + n % 2),
            trade="fabricator" if step in {Step.TEMPLATE, Step.SET_COUNTER} else "crew",
            rate=Decimal("41.30"),
            amount=Decimal("41.30"),
            factors=(),
            basis="",
            after=tuple(steps[n - 1 : n]) if n else (),
            wait_h={Step.SEAL: 24.0, Step.TEMPLATE: 240.0}.get(step, 0.0),
            clock="elapsed",
        )
        for n, step in enumerate(steps)
    ]


def invented_purchases(count: int) -> list[Purchase]:
    """Purchases with invented prices."""
    return [
        Purchase(
            id=f"p{n}",
            line_ids=(),
            item=f"item {n}",
            supplier="demo",
            price_row="",
            need=9.0 + n / 10,
            unit="ft",
            pack=4.0,
            packs=3,
            charged=3.0,
            unit_price=Decimal("12.40"),
            amount=Decimal("37.20"),
            taxable=True,
            used=0.8,
            left_over="",
        )
        for n in range(count)
    ]


def invented_risks() -> list[SiteRiskRow]:
    """Eight site risks with invented chances and costs."""
    costs, hours = (Decimal(60), Decimal(150), Decimal(600)), (1.0, 2.0, 6.0)
    return [SiteRiskRow(f"r{n}", f"risk {n}", 0.02 + 0.03 * n, *costs, "USD", *hours, "always", Step.LEVEL, 0.0, "demo", "") for n in range(8)]


def milliseconds(call: object) -> str:
    """First and median time of a call."""
    spent = []
    for _ in range(REPEATS):
        start = time.perf_counter()
        call()  # type: ignore[operator]
        spent.append(1000 * (time.perf_counter() - start))
    return f"first {spent[0]:6.1f} ms, median {median(spent):6.1f} ms"


def main() -> None:
    """Print the table."""
    tasks, risks = invented_tasks(), invented_risks()
    few, many = invented_purchases(5), invented_purchases(35)
    setting = {"seed": 7, "trials": TRIALS, "correlation": 0.2}
    prices = {"price_spread": (-0.05, 0.15), "waste_spread": (-0.05, 0.2)}
    probe = "import sys, time; a = time.perf_counter(); import kit.risk.cost, kit.risk.finish; "
    probe += "print(round(1000 * (time.perf_counter() - a)), 'numpy' in sys.modules)"
    print(
        "import kit.risk.cost, kit.risk.finish [ms], numpy loaded:",
        subprocess.run([sys.executable, "-c", probe], capture_output=True, text=True, check=True).stdout.strip(),
    )
    print("30 steps + 8 site risks          ", milliseconds(lambda: cost_risk(tasks, [], risks, **setting)))
    print("35 items (30 steps, 5 prices) + 8", milliseconds(lambda: cost_risk(tasks, few, risks, **setting, price_spread=(-0.05, 0.15))))
    print("100 items (30, 35, 35 wastes) + 8", milliseconds(lambda: cost_risk(tasks, many, risks, **setting, **prices)))
    print("finish, 30 steps + 8 site risks  ", milliseconds(lambda: finish_risk(tasks, WorkCalendar(), date(2026, 6, 1), risks, **setting)))


if __name__ == "__main__":
    main()
