"""What must hold of any estimate: sums to the cent, bounds, finite figures, a calendar in order, and the same bytes wherever it is worked out."""

import json
import threading
from collections.abc import Iterator
from decimal import ROUND_DOWN, Decimal, localcontext

from random_jobs import random_estimate, random_job, random_lists

from kit.cli.estimate_document import whole_document
from kit.document import document_bytes, estimate_document
from kit.estimating import Estimate, estimate
from kit.outlook import cash_of, plan_schedule
from kit.pricing.draws import plan_draws

__all__ = ["bytes_elsewhere", "bytes_of", "faults_of_sums"]

NOTHING = Decimal(0)


def bytes_of(seed: int, *, whole: bool = False) -> bytes:
    """The estimate of a seed as JSON, worked out anew; `whole` with calendar, payments, cash and risk."""
    found = estimate(random_job(seed), random_lists(seed), exact=False)
    return document_bytes(whole_document(found) if whole else estimate_document(found))


def bytes_elsewhere(seed: int, *, whole: bool = False) -> bytes:
    """The same in another thread, whose decimals have five digits and are cut off."""
    found: list[bytes] = []

    def work() -> None:
        with localcontext() as context:
            context.prec, context.rounding = 5, ROUND_DOWN
            found.append(bytes_of(seed, whole=whole))

    thread = threading.Thread(target=work)
    thread.start()
    thread.join()
    return found[0]


def faults_of_sums(seed: int) -> list[str]:
    """What does not hold of the estimate of a seed, in words."""
    found = random_estimate(seed)
    json.dumps(estimate_document(found), allow_nan=False)  # no figure that is not a number, and none without end
    return [*_sums(found), *_bounds(found), *_order(found)]


def _sums(found: Estimate) -> Iterator[str]:
    rows = {row.id: row.amount for row in found.build_up}
    parts = ("cost", "handling", "contingency", "warranty", "overhead", "profit")
    sums = {
        "cost": (found.cost, sum((one.amount for one in (*found.purchases, *found.tasks)), rows["tax-paid"])),
        "net": (rows["net"], sum((rows.get(name, NOTHING) for name in parts), NOTHING)),
        "price": (found.price, rows["net"] + rows["tax-collected"]),
        "payments": (found.price, sum(draw.due for draw in plan_draws(found).draws)),
        "cash": (cash_of(found).days[-1].fronted, found.cost + rows["tax-collected"] - found.price),
    }
    yield from (f"{name}: {left}, not {right}" for name, (left, right) in sums.items() if left != right)
    yield from (f"{name}: {rows[name]} is no cent" for name in ("cost", "net", "price") if rows[name] != round(rows[name], 2))


def _bounds(found: Estimate) -> Iterator[str]:
    if not found.price > 0:
        yield f"price {found.price}"
    for line in found.lines:
        if line.quantity < 0 or line.waste < 0:
            yield f"{line.id}: {line.quantity}, waste {line.waste}"
    for one in found.purchases:
        short = one.packs and not one.plan and one.pack * one.packs < one.need * (1 - 1e-6)  # a cut plan counts its own sticks
        if one.amount < 0 or short or not 0 <= one.used <= 1:
            yield f"{one.id}: {one.amount}, {one.packs} packs of {one.pack} for {one.need}"
    for task in (*found.tasks, *found.hired):
        if not 0 <= task.hours_low <= task.hours_likely <= task.hours_high or task.crew < 1 or task.amount < 0:
            yield f"{task.step}: {task.hours_low}, {task.hours_likely}, {task.hours_high} h by {task.crew} for {task.amount}"
        if task in found.tasks and abs(task.duration_h * task.crew - task.hours_likely) > 1e-9 * max(task.hours_likely, 1.0):
            yield f"{task.step}: {task.duration_h} h by {task.crew} are not {task.hours_likely}"


def _order(found: Estimate) -> Iterator[str]:
    plan = plan_schedule(found)
    rows = {row.step: row for row in plan.schedule.steps}
    for row in rows.values():
        if not plan.schedule.start <= row.start <= row.finish <= plan.finish or row.latest_start < row.start:
            yield f"{row.step}: {row.start} to {row.finish}"
        if row.held_by is not None and rows[row.held_by].finish > row.start:
            yield f"{row.step} begins before {row.held_by} is done"
    for task in (*found.tasks, *found.hired):
        for before in task.after:
            if before in rows and task.step in rows and rows[before].finish > rows[task.step].start:
                yield f"{task.step} begins before {before} is done"
