"""When does the customer pay, and how much? Deposit, draws as the work goes on, what is held back for the punch list."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import ROUND_FLOOR, Decimal

from kit.lists.money_rows import DrawRow, StatePreset
from kit.money import CENT, EXACT, require_money, round_cents, sum_money, times
from kit.pricing.priced import Priced, step_of_purchase, work_order
from kit.steps import Step

__all__ = ["Draw", "DrawSchedule", "due_now", "limit_deposit", "plan_draws"]

_ONE = Decimal(1)


@dataclass(frozen=True, slots=True)
class Draw:
    """One payment of the customer [USD]: due at the end of `step`, or at signing where that is None.

    `earned` and `held` are what is earned of the contract and held back by then; `worth` is the part of the contract for work done and
    goods delivered by then.
    """

    id: str
    label: str
    step: Step | None
    earned: Decimal
    held: Decimal
    due: Decimal
    worth: Decimal


@dataclass(frozen=True, slots=True)
class DrawSchedule:
    """The payments of one contract; they sum to it to the cent. `deposit_limit` is the cap of the state's preset, None where it sets none."""

    contract: Decimal
    draws: tuple[Draw, ...]
    deposit_limit: Decimal | None

    @property
    def deposit(self) -> Decimal:
        """What is paid at signing [USD]."""
        return sum_money([draw.due for draw in self.draws if draw.step is None])


def due_now(contract: Decimal, earned_share: Decimal, hold_share: Decimal, paid_before: Decimal) -> Decimal:
    """What is due [USD]: what is earned, less what is held back of it, less what was paid before; never below 0.

    Examples
    --------
    >>> due_now(Decimal("8400.00"), Decimal("0.6"), Decimal("0.1"), Decimal("840.00"))
    Decimal('3696.00')
    """
    earned = round_cents(times(contract, earned_share))
    held = round_cents(times(earned, hold_share))
    return max(EXACT.subtract(EXACT.subtract(earned, held), paid_before), Decimal("0.00"))


def limit_deposit(contract: Decimal, preset: StatePreset | None) -> Decimal | None:
    """The largest deposit that a preset lets us ask for [USD]: the lesser of its share and its amount; None where it sets no limit."""
    if preset is None:
        return None
    share = None if preset.deposit_share is None else _floor_cents(times(contract, preset.deposit_share))
    limits = [limit for limit in (share, preset.deposit_amount) if limit is not None]
    return min(limits, default=None)


def plan_draws(
    job: Priced, *, contract: Decimal | str | None = None, paid: Mapping[str, Decimal | str] | None = None, keep_empty: bool = False
) -> DrawSchedule:
    """The draws of a priced job by `draws.csv`, its terms and its preset.

    Parameters
    ----------
    job
        The estimate.
    contract
        Contract sum [USD, whole cents, above 0] in place of its price, such as one with change orders carried forward.
    paid
        Payments that were made already [USD], by draw; they stay, whatever the contract has come to, and the later ones follow from them.
    keep_empty
        Keep draws that come to nothing, as a sheet does whose terms may change.

    Raises
    ------
    PriceError
        If the contract sum or a payment is a float or no money.

    Notes
    -----
    A draw whose step neither we nor a hired trade do in this job, such as setting a counter that stays or that the customer sets, is left
    out; what it would have earned is in the next, because shares are counted to date.
    What is due once the whole contract is earned, such as at completion, waits for the final inspection where the job has one.
    With a preset that wants draws to follow the work, none but the last runs ahead of work done and goods delivered. The last pays
    what is left, so that the draws sum to the contract.
    """
    whole = job.price if contract is None else require_money(contract, "contract sum")
    payments = {draw: require_money(amount, f"paid at {draw}") for draw, amount in (paid or {}).items()}
    order, terms = work_order(job), job.terms
    limit = limit_deposit(whole, terms.preset)
    follow = terms.preset is not None and terms.preset.draws_follow_work
    done = {task.step for task in (*job.tasks, *job.hired)}
    draws: list[Draw] = []
    sum_paid = Decimal("0.00")
    last = job.lists.draws[-1]
    for row in job.lists.draws:
        if row.step is not None and row.step not in done and row is not last and row.draw not in payments:
            continue
        step, label = _completed(row, order)
        worth = _worth(job, step, order, whole)
        earned = round_cents(times(whole, row.earned))
        if row is last:
            due, held = EXACT.subtract(whole, sum_paid), Decimal("0.00")
        elif row.pays == "deposit":
            deposit = round_cents(times(whole, terms.deposit_share))
            due, held = deposit if limit is None else min(deposit, limit), Decimal("0.00")
        else:
            held = round_cents(times(earned, terms.hold_share))
            due = due_now(whole, Decimal(repr(row.earned)), terms.hold_share, sum_paid)
            due = min(due, max(EXACT.subtract(worth, sum_paid), Decimal("0.00"))) if follow else due
        if row is not last:
            due = payments.get(row.draw, due)
        sum_paid = EXACT.add(sum_paid, due)
        if due or keep_empty:
            draws.append(Draw(row.draw, label, step, earned, held, due, worth))
    return DrawSchedule(whole, tuple(draws), limit)


def _completed(row: DrawRow, order: Sequence[Step]) -> tuple[Step | None, str]:
    """The step at whose end a draw is due, and its label: work is complete when it has passed its final inspection."""
    inspected = Step.INSPECT_FINAL
    if row.step in order and row.earned == 1 and inspected in order and order.index(row.step) < order.index(inspected):
        return inspected, f"{row.name}, final inspection passed"
    return row.step, row.name


def _worth(job: Priced, step: Step | None, order: Sequence[Step], contract: Decimal) -> Decimal:
    """The part of the contract [USD] for work done and goods delivered when a step ends, by their share of the cost; rounded down."""
    if step is None:
        return Decimal("0.00")
    reached = set(order[: order.index(step) + 1]) if step in order else set(order)
    costs = [(step_of_purchase(job, purchase, order), purchase.amount) for purchase in job.purchases]
    costs += [(task.step, task.amount) for task in job.tasks]
    done, cost = (sum_money([amount for at, amount in costs if at in steps]) for steps in (reached, set(order)))
    share = EXACT.divide(done, cost) if cost else _ONE
    return _floor_cents(EXACT.multiply(contract, share))


def _floor_cents(amount: Decimal) -> Decimal:
    return amount.quantize(CENT, ROUND_FLOOR, EXACT)
