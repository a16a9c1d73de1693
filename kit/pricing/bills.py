"""What does the bill for a draw say? What was billed before, what is due now, what is left of the contract and what of it is held back."""

from dataclasses import dataclass
from decimal import Decimal

from kit.money import EXACT, sum_money
from kit.pricing.draws import DrawSchedule

__all__ = ["Bill", "list_bills"]


@dataclass(frozen=True, slots=True)
class Bill:
    """The bill for one draw of a contract [USD]: `number` counts from 1; `label` says when it is due.

    `earned` and `held` are what is earned of the contract and held back by then; a deposit is due before anything is earned.
    """

    number: int
    label: str
    contract: Decimal
    earned: Decimal
    held: Decimal
    billed_before: Decimal
    due: Decimal
    deposit: bool

    @property
    def balance(self) -> Decimal:
        """What is left of the contract after this bill [USD]; what is held back is part of it."""
        return EXACT.subtract(EXACT.subtract(self.contract, self.billed_before), self.due)

    @property
    def later(self) -> Decimal:
        """What is earned and not held back and yet left for a later bill, because payments may not run ahead of work and goods [USD]."""
        if self.deposit:
            return Decimal("0.00")
        return EXACT.subtract(EXACT.subtract(EXACT.subtract(self.earned, self.held), self.billed_before), self.due)


def list_bills(draws: DrawSchedule) -> tuple[Bill, ...]:
    """A bill for each draw, in their order; what is due on all of them is the contract to the cent."""
    due = [draw.due for draw in draws.draws]
    return tuple(
        Bill(number, draw.label, draws.contract, draw.earned, draw.held, sum_money(due[: number - 1]), draw.due, draw.step is None)
        for number, draw in enumerate(draws.draws, 1)
    )
