"""The frozen rows behind papers and books: cost codes, books, suppliers, sentences."""

from dataclasses import dataclass
from typing import Literal

__all__ = ["BOOK_USES", "WORDING_USES", "BookEntry", "BookUse", "CostCode", "SupplierRow", "Wording", "WordingUse"]

BookUse = Literal["deposit-liability", "tax-liability", "tax-code-paid", "tax-code-none"]
WordingUse = Literal["step", "care", "right", "term", "exclusion", "crew", "change"]
BOOK_USES = ("deposit-liability", "tax-liability", "tax-code-paid", "tax-code-none")
WORDING_USES = ("step", "care", "right", "term", "exclusion", "crew", "change")


@dataclass(frozen=True, slots=True)
class CostCode:
    """An own cost code: its name, and its class in UNIFORMAT II where it has one."""

    cost_code: str
    name: str
    uniformat: str | None
    says: str


@dataclass(frozen=True, slots=True)
class BookEntry:
    """An account or code of the own books for what is no cost type: deposits, sales tax collected, purchases with tax paid and without."""

    use: BookUse
    entry: str
    says: str


@dataclass(frozen=True, slots=True)
class SupplierRow:
    """Whether payments to a supplier are told on a contractor form at the end of the year: yes, no, or ask."""

    supplier: str
    contractor_form: Literal["yes", "no", "ask"]
    says: str


@dataclass(frozen=True, slots=True)
class Wording:
    """A sentence that papers print.

    `use` says where: `step` (what is done in a step), `care` (about a material), `right`, `term` and `exclusion` in the proposal, `change`
    in a change order, `crew` (about a step, or "all") on the crew sheet. It is printed when its condition holds.
    """

    wording: str
    use: WordingUse
    about: str | None
    applies_when: str
    says: str
    source: str
