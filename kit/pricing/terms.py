"""The terms of one job: the company's, unless the job's own say otherwise."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from kit.job import Job
from kit.lists import Company
from kit.money import to_decimal

__all__ = ["Input", "PriceTerms", "resolve_terms"]

SHARE_PLACES = 6


@dataclass(frozen=True, slots=True)
class Input:
    """A number that the price depends on and that a person may change: in the sheet it is a marked, named cell."""

    id: str
    label: str
    value: Decimal
    kind: Literal["share", "money"]


@dataclass(frozen=True, slots=True)
class PriceTerms:
    """The inputs of the build-up, and the two choices that shape it."""

    inputs: tuple[Input, ...]
    profit_as: Literal["markup", "margin"]
    tax_on: Literal["material-cost", "exempt"]

    def value(self, name: str) -> Decimal:
        """The value of an input by its id, such as `in:overhead`."""
        return self.input(name).value

    def input(self, name: str) -> Input:
        """An input by its id."""
        return next(term for term in self.inputs if term.id == name)


def _contingency(job: Job, company: Company) -> Input:
    """An amount where the job's terms hold one, else a share of direct cost."""
    terms = job.terms
    if terms.contingency_amount is None:
        own = company.contingency if terms.contingency_share is None else terms.contingency_share
        return Input("in:contingency", "Contingency on direct cost", to_decimal(own, SHARE_PLACES), "share")
    known = [] if terms.contingency_confidence_share is None else [f"enough in {terms.contingency_confidence_share * 100:g} % of the trials"]
    known += [] if terms.contingency_seed is None else [f"seed {terms.contingency_seed}"]
    label = "Contingency as an amount" + (f" ({', '.join(known)})" if known else "")
    return Input("in:contingency", label, terms.contingency_amount, "money")


def resolve_terms(job: Job, company: Company) -> PriceTerms:
    """The job's own terms where it has some, else the company's."""
    terms = job.terms

    def share(own: float | None, general: float) -> Decimal:
        return to_decimal(general if own is None else own, SHARE_PLACES)

    profit_as = terms.profit_as or company.profit_as
    return PriceTerms(
        inputs=(
            Input("in:wage", "Wage of an hour", company.wage, "money"),
            Input("in:burden", "Burden on the wage", to_decimal(company.burden, SHARE_PLACES), "share"),
            Input("in:tax", "Sales tax that we pay on material", share(terms.tax_share, company.tax), "share"),
            _contingency(job, company),
            Input("in:overhead", "Overhead on direct cost", share(terms.overhead_share, company.overhead), "share"),
            Input("in:profit", f"Profit as {profit_as}", share(terms.profit_share, company.profit), "share"),
            Input("in:least", "Least charge", company.least_charge, "money"),
        ),
        profit_as=profit_as,
        tax_on=terms.tax_on or company.tax_on,
    )
