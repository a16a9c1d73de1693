"""The proposal for the customer as PDF: what is done, what not, choices to sign, price, payments, days, rights, care.

It holds what the customer pays and nothing of what it is made of: no direct cost, wage, share or hour.
"""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from kit.compare.options import Option
from kit.compare.sink_out import why_sink_out
from kit.draw.front_elevation import draw_front
from kit.errors import Fault, PriceError
from kit.estimating import Estimate
from kit.export.papers import Payment, mark_of, paper_head, payments_of, refuse_unsound, sentences, settle_rows
from kit.export.proposal_scope import excluded_parts
from kit.export.proposal_terms import day_rows, find_rows, money_words, payment_words, surprise_names, term_words
from kit.export.proposal_words import allowance_rows, assumed_rows, care_rows, choice_rows, scope_rows, step_sentences, summary_of
from kit.export.typeset import share_of_width, typeset
from kit.issued import Issued
from kit.job.field_names import lower_first
from kit.money import EXACT, format_money, require_decimal, sum_money
from kit.outlook import ahead_of, plan_schedule
from kit.units import format_days, format_long_day

__all__ = ["Offer", "offers_from", "proposal_bytes", "proposal_document"]

_TEMPLATE = "proposal.typ"
_DAYS_NOTE = "These days hold if you sign on that day and deliveries take their usual time. Late goods move the later days."
_TALLEST = 0.6  # of the text's width
_FRONT_SHARE = 0.65  # of the usual scale: the picture leaves room for the words
_NATURAL = 820.0  # a drawing of so many units is as wide as the text: letters of 6.7 pt


@dataclass(frozen=True, slots=True)
class Offer:
    """An alternate that the customer may choose: its name, what is different in words, and the whole price then."""

    label: str
    says: str
    price: Decimal


def offers_from(options: Sequence[Option]) -> list[Offer]:
    """The usable alternates that keep sink and counter, the job itself left out, as offers."""
    own = next((_without_sink(one.estimate) for one in options if one.chosen and one.estimate is not None), ("", ""))
    words = {"top": "Top mount", "flush": "Flush mount", "under": "Undermount"}
    return [
        Offer(words[one.mount], f"{one.reason[:1].upper()}{one.reason[1:]}.{_sink_words(_without_sink(one.estimate), own)}", one.estimate.price)
        for one in options
        if one.estimate is not None and one.usable and not one.chosen and not one.swapped
    ]


def _days_note(estimate: Estimate) -> str:
    why = why_sink_out(estimate)
    return f"{_DAYS_NOTE} Time without a sink: {lower_first(why)}" if why else _DAYS_NOTE


def _without_sink(estimate: Estimate) -> tuple[str, str]:
    """How long the kitchen is without a sink, and why, in words; "" where it never is."""
    days = plan_schedule(estimate).days_without_sink
    return ("", "") if days is None else (format_days(days), why_sink_out(estimate))


def _sink_words(then: tuple[str, str], own: tuple[str, str]) -> str:
    """The days without a sink under an option, as far as they are others than those of the work described."""
    if then == own:
        return " Just as long without a sink." if then[0] else ""
    return f" Without a kitchen sink about {then[0]}.{f' {then[1]}' if then[1] != own[1] else ''}" if then[0] else " The kitchen keeps a sink."


def proposal_bytes(
    estimate: Estimate,
    *,
    options: Sequence[Offer] = (),
    draws: Sequence[Payment] | None = None,
    issued: Issued | None = None,
    dated: Estimate | None = None,
) -> bytes:
    """The proposal as PDF; the same input gives the same bytes.

    Parameters
    ----------
    estimate
        As `kit.estimate` gives it.
    options
        Alternates with their whole price.
    draws
        Payments; together the price. None plans them from the lists; an empty list says that they are agreed in writing before signing.
    issued
        The issued document that this paper is of; without it the paper says that it is a draft.
    dated
        The estimate whose days are shown; without it they are counted from the paper where that goes out late, as `ahead_of` says.

    Raises
    ------
    IssueError
        If a finding says stop and it was not issued with a reason, or a cut plan is not proven.
    PriceError
        If the draws don't sum to the price, or an amount is a float.
    """
    data = proposal_document(estimate, options=options, draws=draws, issued=issued, dated=dated)
    return typeset(_TEMPLATE, data, {"front": front_for_customer(estimate)})


def front_for_customer(estimate: Estimate, *, narrow: bool = False) -> str:
    """The front elevation as a customer sees it, without what speaks to the crew; a `narrow` one for a telephone."""
    return draw_front(estimate, share=_FRONT_SHARE, narrow=narrow, for_crew=False)


def proposal_document(
    estimate: Estimate,
    *,
    options: Sequence[Offer] = (),
    draws: Sequence[Payment] | None = None,
    issued: Issued | None = None,
    dated: Estimate | None = None,
) -> dict[str, Any]:
    """Every word and figure of the proposal, as the template reads it; parameters and errors as `proposal_bytes`."""
    refuse_unsound(estimate, issued)
    counted = payment_words(estimate) if draws is None else "Each payment is due when its row says, and not before."
    draws = payments_of(estimate) if draws is None else draws
    _check_money(estimate, draws, options)
    mark, company = mark_of(estimate, issued), estimate.lists.company
    dated = dated or ahead_of(estimate, mark.day)
    schedule = plan_schedule(dated)
    until = mark.day + dt.timedelta(days=estimate.job.terms.validity_days or company.validity_days)
    return {
        **paper_head(
            estimate,
            mark.day,
            title=f"Proposal {mark.number}",
            document=f"{mark.number}, {mark.words}",
            foot=f"{company.name} · Proposal {mark.number}, {mark.words}",
        ),
        "draft": mark.status == "draft",
        "summary": summary_of(estimate),
        "price": money_words(estimate, estimate.price),
        "price-note": f"{_tax_words(estimate)} This price holds until {format_long_day(until)}.",
        "steps": step_sentences(estimate, schedule),
        "scope": scope_rows(estimate),
        "excluded": excluded_parts(estimate),
        "choices": choice_rows(estimate),
        "options": [_option_row(estimate, option) for option in options],
        "pictures": {"front": "Front elevation of the sink cabinet with the new sink"},
        "front-share": share_of_width(front_for_customer(estimate), widest=_NATURAL, tallest=_TALLEST),
        "draws": [_draw_row(estimate, draw, before) for before, draw in zip((None, *draws), draws, strict=False)],
        "payment-note": counted if draws else "When which part is paid is agreed in writing before you sign.",
        "days": day_rows(dated, schedule, mark.day),
        "days-note": _days_note(dated),
        "finds": find_rows(estimate),
        "surprises": surprise_names(estimate),
        "assumed": assumed_rows(estimate),
        "allowances": allowance_rows(estimate),
        "settle": list(settle_rows(estimate, issued)),
        "rights": list(sentences(estimate, "right")),
        "notices": list(sentences(estimate, "notice")),
        "yours": list(sentences(estimate, "yours")),
        "terms": [*sentences(estimate, "term"), *term_words(estimate)],
        "care": list(care_rows(estimate)),
        "agreed": f"We agree to what stands on these pages for {money_words(estimate, estimate.price)}, with the choices and options initialed above. "
        "Each of us keeps a signed copy.",
    }


def _check_money(estimate: Estimate, draws: Sequence[Payment], options: Sequence[Offer]) -> None:
    for name, amount in (*((draw.due, draw.amount) for draw in draws), *((option.label, option.price) for option in options)):
        require_decimal(amount, name, 'a Decimal such as Decimal("12.50")')
    together = sum_money([draw.amount for draw in draws])
    if draws and together != estimate.price:
        raise PriceError(Fault("draws", f"sum to {format_money(together)}, but the price is {format_money(estimate.price)}."))


def _tax_words(estimate: Estimate) -> str:
    collected = estimate.amount("tax-collected")
    return f"Sales tax of {money_words(estimate, collected)} is included." if collected else "No sales tax is added."


def _draw_row(estimate: Estimate, draw: Payment, before: Payment | None) -> dict[str, str]:
    """A payment; how much is done by then is said once, not again where the rest is only held back."""
    share = "" if before is not None and before.share == draw.share else draw.share
    return {"number": str(draw.number), "due": draw.due, "share": share, "amount": money_words(estimate, draw.amount)}


def _option_row(estimate: Estimate, option: Offer) -> dict[str, str]:
    more = EXACT.subtract(option.price, estimate.price)
    sign = "+" if more > 0 else ""
    return {"label": option.label, "says": option.says, "difference": f"{sign}{money_words(estimate, more)}", "price": money_words(estimate, option.price)}
