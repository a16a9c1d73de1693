"""What does a signature freeze? The sum, the payments and the rules of an issued estimate."""

from kit.contract.events import ContractDraw, Offered, Signed
from kit.issued import Issued
from kit.pricing.draws import DrawSchedule

__all__ = ["contract_draws", "offer_of", "signature_of"]


def offer_of(issued: Issued) -> Offered:
    """The event that offers an issued estimate to the customer."""
    return Offered(document=issued.document, revision=issued.revision, sha256=issued.sha256, price=issued.price)


def signature_of(issued: Issued) -> Signed:
    """That the customer signed it: price, sales tax in it, payments, and the company's rules of that day, as they were promised."""
    figures = issued.figures
    return Signed(
        document=issued.document,
        revision=issued.revision,
        sha256=issued.sha256,
        contract_sum=figures.price,
        tax=figures.tax_collected,
        draws=contract_draws(figures.payments),
        change_falls=figures.change_falls,
        deposit_earned=figures.deposit_earned,
    )


def contract_draws(schedule: DrawSchedule) -> tuple[ContractDraw, ...]:
    """The payments of a plan as a contract keeps them."""
    return tuple(
        ContractDraw(draw=draw.id, label=draw.label, step=draw.step, deposit=draw.step is None, earned=draw.earned, held=draw.held, due=draw.due)
        for draw in schedule.draws
    )
