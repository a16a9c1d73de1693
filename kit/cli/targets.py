"""Working back: what is wanted, the price and profit that give it, and what the owner then gets."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Literal

from kit.compare import Figures, weigh_option, weigh_terms
from kit.document import lists_document, money_text, plain_job
from kit.errors import Fault, KitError, PriceError
from kit.estimate import Estimate, revalue
from kit.money import format_money, parse_money, to_decimal
from kit.pricing import WorkedBack, find_price, find_price_for_crew_days, find_price_for_margin
from kit.units import parse_quantity

__all__ = ["Found", "Wanted", "read_targets", "target_document", "work_back"]

Kind = Literal["margin", "price", "crew_day"]
_PLACES = 6


@dataclass(frozen=True, slots=True)
class Wanted:
    """One thing that is asked for: a share, or an amount [USD]."""

    kind: Kind
    value: Decimal

    @property
    def words(self) -> str:
        """What is asked for, as people say it."""
        match self.kind:
            case "margin":
                return f"Margin of {float(self.value) * 100:.10g} %"
            case "price":
                return f"Price of {format_money(self.value)}"
            case "crew_day":
                return f"{format_money(self.value)} for each crew-day"


@dataclass(frozen=True, slots=True)
class Found:
    """The estimate as its terms say, its figures, and for each thing wanted its answer with the figures then."""

    estimate: Estimate
    figures: Figures
    answers: tuple[tuple[Wanted, WorkedBack, Figures], ...]


def read_targets(*, margin: str | None, price: str | None, crew_day: str | None) -> tuple[Wanted, ...]:
    """What the options say.

    Raises
    ------
    KitError
        With every one that can't be read.
    """
    found: list[Wanted] = []
    faults: list[Fault] = []
    readers: tuple[tuple[Kind, str | None, Callable[[str], Decimal]], ...] = (
        ("margin", margin, _share),
        ("price", price, parse_money),
        ("crew_day", crew_day, parse_money),
    )
    for kind, given, read in readers:
        if given is None:
            continue
        try:
            found.append(Wanted(kind, read(given)))
        except KitError as error:
            faults += [Fault(f"--{kind.replace('_', '-')}", fault.message) for fault in error.faults]
    if faults:
        raise KitError(faults)
    return tuple(found)


def _share(text: str) -> Decimal:
    return to_decimal(parse_quantity(text, "share"), _PLACES)


def work_back(estimate: Estimate, wanted: Sequence[Wanted]) -> Found:
    """The answer to each.

    Raises
    ------
    PriceError
        With every one that no price reaches.
    """
    figures = weigh_option(estimate)
    answers = []
    faults: list[Fault] = []
    for one in wanted:
        try:
            answer = _answer(estimate, figures, one)
            answers.append((one, answer, weigh_terms(figures, revalue(estimate, {}, {}, answer.terms))))
        except PriceError as error:
            faults += [Fault(one.words, fault.message) for fault in error.faults]
    if faults:
        raise PriceError(faults)
    return Found(estimate, figures, tuple(answers))


def _answer(estimate: Estimate, figures: Figures, one: Wanted) -> WorkedBack:
    match one.kind:
        case "margin":
            return find_price_for_margin(estimate, one.value)
        case "price":
            return find_price(estimate, one.value)
        case "crew_day":
            return find_price_for_crew_days(estimate, one.value, to_decimal(figures.crew_days, _PLACES))


def target_document(found: Found) -> dict[str, Any]:
    """`as_it_is`, and `targets` with what was wanted and what it takes; `profit` is the share that the terms then hold."""
    made = found.estimate
    return {
        "job": plain_job(made.job),
        "profit_as": made.terms.profit_as,
        "crew_days": round(found.figures.crew_days, _PLACES),
        "as_it_is": _figures(found.figures, made.terms.value("in:profit")),
        "targets": [
            {
                "wanted": one.kind,
                "value": float(one.value) if one.kind == "margin" else money_text(one.value),
                "exact": answer.exact,
                **_figures(figures, answer.profit),
            }
            for one, answer, figures in found.answers
        ],
        "lists": lists_document(made.lists),
    }


def _figures(figures: Figures, profit: Decimal) -> dict[str, Any]:
    return {
        "price": money_text(figures.price),
        "cost": money_text(figures.cost),
        "gross": money_text(figures.gross),
        "margin": float(figures.margin),
        "per_crew_day": None if figures.per_crew_day is None else money_text(figures.per_crew_day),
        "most_fronted": money_text(figures.fronted),
        "profit": float(profit),
    }
