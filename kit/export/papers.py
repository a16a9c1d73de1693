"""What every paper says of itself and how it speaks: number, revision, day, status, fingerprint; sentences from the lists."""

import datetime as dt
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Literal

from kit.contract.state import ContractState
from kit.document import estimate_document, fingerprint_of
from kit.errors import Fault, IssueError
from kit.estimating import Estimate
from kit.export.lists_used import names_invented
from kit.issued import Issued
from kit.job.open_fields import find_unnamed
from kit.labor.conditions import holding_conditions
from kit.labor.step_names import wording_holds
from kit.lists.company import Company
from kit.lists.money_rows import WordingUse
from kit.money import to_decimal
from kit.pricing.draws import plan_draws
from kit.records import Level
from kit.steps import Step
from kit.units import format_long_day

__all__ = [
    "PaperMark",
    "Payment",
    "agreed_words",
    "company_lines",
    "mark_of",
    "paper_head",
    "payments_of",
    "refuse_unnamed",
    "refuse_unsound",
    "sentences",
    "settle_rows",
]


_FINGERPRINT = 16
_UNSAFE = re.compile(r"[^A-Za-z0-9-]+")


@dataclass(frozen=True, slots=True)
class Payment:
    """One payment of the customer: its number, when it is due in words, how much, whether it is taken before it is earned.

    `share` says in words what part of the price is earned by then; `step` is the step with whose end it is due, None at signing or where
    that is agreed otherwise. `draw` is its name in draws.csv, as bills have it.
    """

    number: int
    due: str
    amount: Decimal
    share: str = ""
    deposit: bool = False
    step: Step | None = None
    draw: str = ""


@dataclass(frozen=True, slots=True)
class PaperMark:
    """How a document is identified: its number, revision (0 for a draft), day, status and fingerprint."""

    number: str
    revision: int
    day: dt.date
    status: Literal["draft", "issued"]
    sha256: str

    @property
    def document(self) -> str:
        """Number and revision, such as `DEMO-001-r02`; a draft is `DEMO-001-draft`."""
        return f"{self.number}-r{self.revision:02d}" if self.revision else f"{self.number}-draft"

    @property
    def replaces(self) -> str:
        """The revision whose place this one takes, such as `DEMO-001-r01`; "" for the first one and for a draft."""
        return f"{self.number}-r{self.revision - 1:02d}" if self.revision > 1 else ""

    @property
    def fingerprint(self) -> str:
        """Its fingerprint as columns hold it: short, and never read as a number."""
        return f"sha256:{self.sha256[:_FINGERPRINT]}"

    @property
    def file_stem(self) -> str:
        """The same as a part of file names that every system takes."""
        return _UNSAFE.sub("-", self.document).strip("-") or "document"

    @property
    def words(self) -> str:
        """The same for people."""
        return f"revision {self.revision}" if self.revision else "draft, not issued"


def mark_of_issued(issued: Issued) -> PaperMark:
    """The mark of an issued estimate."""
    return PaperMark(issued.number, issued.revision, issued.issued, "issued", issued.sha256)


def mark_of(estimate: Estimate, issued: Issued | None = None) -> PaperMark:
    """The mark of an estimate as issued; a draft is dated by the visit and marked by all that it says."""
    if issued is not None:
        return mark_of_issued(issued)
    identity = estimate.job.identity
    return PaperMark(identity.job_number, 0, identity.visit_date, "draft", fingerprint_of(estimate_document(estimate)))


def company_lines(company: Company) -> list[str]:
    """Address, phone and licenses of the company for the head of a paper, without what the company file leaves out."""
    return [line for line in (company.address, company.phone, company.licenses) if line]


def paper_head(estimate: Estimate, day: dt.date, *, title: str, document: str, foot: str) -> dict[str, Any]:
    """What every paper says of itself, as `paper.typ` reads it: company, day, document, customer; its foot says what is invented.

    Raises IssueError if the job does not say yet whose it is.
    """
    refuse_unnamed(estimate)
    company, identity, suppliers = estimate.lists.company, estimate.job.identity, [purchase.supplier for purchase in estimate.purchases]
    return _head(company, (identity.customer, identity.address), suppliers, day, title=title, document=document, foot=foot)


def issued_head(issued: Issued, day: dt.date, *, title: str, document: str, foot: str) -> dict[str, Any]:
    """The same for a paper of an issued estimate, from what was promised: nothing is worked out again."""
    result = issued.content["result"]
    identity, suppliers = result["job"]["identity"], [str(purchase["supplier"]) for purchase in result["purchases"]]
    return _head(issued.lists.company, (identity["customer"], identity["address"]), suppliers, day, title=title, document=document, foot=foot)


def agreed_words(issued: Issued, state: ContractState) -> str:
    """The proposal that a contract goes by and when it was signed, as papers under the contract name it."""
    signed = f", signed {format_long_day(state.signed_on)}" if state.signed_on else ""
    return f"Proposal {state.number}, revision {issued.revision}{signed}"


def _head(company: Company, customer: tuple[str, str], suppliers: Iterable[str], day: dt.date, *, title: str, document: str, foot: str) -> dict[str, Any]:
    return {
        "title": title,
        "company": company.name,
        "company-lines": company_lines(company),
        "day": day.isoformat(),
        "day-words": format_long_day(day),
        "document": document,
        "foot": f"{foot}{' · invented demo data' if names_invented(company, suppliers) else ''}",
        "customer": customer[0],
        "address": customer[1],
        "pictures": {},
    }


def payments_of(estimate: Estimate) -> tuple[Payment, ...]:
    """The customer's payments as papers show them, planned from the lists; none where the price is nothing."""
    if not estimate.price:
        return ()
    return tuple(
        Payment(
            number=number,
            due=draw.label,
            amount=draw.due,
            share=f"{to_decimal(draw.earned / estimate.price * 100, 0)}%" if draw.earned else "",
            deposit=draw.step is None,
            step=draw.step,
            draw=draw.id,
        )
        for number, draw in enumerate(plan_draws(estimate).draws, 1)
    )


def refuse_unnamed(estimate: Estimate) -> None:
    """Refuse what names the customer while the job does not say whose it is. Raises IssueError with every field that is not filled in yet."""
    if faults := [*find_unnamed(estimate.job_as_read.open_places)]:
        raise IssueError(faults)


def refuse_unsound(estimate: Estimate, issued: Issued | None) -> None:
    """Refuse to put before a customer what can't be built, unless it was issued with a reason.

    Raises IssueError with every finding that says stop, and every cut plan that is not proven.
    """
    faults = [
        Fault(purchase.item, "has a cut plan that is not proven cheapest. List fewer offcuts or fewer sizes of stock.")
        for purchase in estimate.purchases
        if not purchase.proven
    ]
    if issued is None or not issued.stop_reason:
        faults += [
            Fault(f'"{finding.check}"', f"says stop: {finding.measured}, need {finding.limit}. Fix it, or issue the estimate with a reason first.")
            for finding in estimate.findings
            if finding.level is Level.STOP
        ]
    if faults:
        raise IssueError(faults)


def sentences(estimate: Estimate, use: WordingUse, about: str | None = None) -> Iterator[str]:
    """The sentences of the lists for one use that hold for this job, in the order of the file."""
    holding = holding_conditions(estimate.job, estimate.design, estimate.lists)
    for wording in estimate.lists.wording:
        if wording.use == use and wording.about == about and wording_holds(wording, estimate.lines, holding):
            yield wording.says


def settle_rows(estimate: Estimate, issued: Issued | None) -> Iterator[dict[str, str]]:
    """Findings that say stop, with the reason for which it was issued all the same."""
    reason = issued.stop_reason if issued else None
    for finding in estimate.findings:
        if finding.level is Level.STOP:
            yield {"check": finding.check, "says": f"{finding.measured}, need {finding.limit}. Agreed all the same: {reason}"}
