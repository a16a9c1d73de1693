"""The change order to sign as PDF: what changes, what it costs, the new contract sum, payments and days.

It holds what the customer pays and nothing of what it is made of: no direct cost, markup, wage, margin or hour.
"""

import datetime as dt
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cached_property
from typing import Any

from kit.change.effect import ChangedDays, ChangedDraw, change_days
from kit.change.priced_change import ChangeOrder, ChangeRow
from kit.errors import Fault, PriceError
from kit.estimating import Estimate
from kit.export.change_words import changed_sentences, changed_steps, changed_words, falls_words
from kit.export.lists_used import currency_of
from kit.export.papers import mark_of, paper_head, refuse_unsound, sentences, settle_rows
from kit.export.typeset import typeset
from kit.issued import Issued
from kit.lists.money_rows import ChangeFalls
from kit.money import EXACT, format_money, split_cents, sum_money
from kit.outlook import counted_from
from kit.pricing.taxed import pays_tax
from kit.records import CostType
from kit.units import format_days, format_long_day, format_quantity

__all__ = ["ChangeOrderSource", "change_order_bytes", "change_order_document"]

_TEMPLATE = "change_order.typ"
_GROUPS = (("add", "Added"), ("find", "Found at the price agreed in advance"), ("credit", "Taken away"), ("tax", "Sales tax"))

_ONLY_THE_CHANGE = "Only what changes is priced here, by the terms for changes. A new proposal for the whole job could come to a different total."


@dataclass(frozen=True)
class ChangeOrderSource:
    """A change order and what it goes from and to.

    `draws` are the customer's payments before and after it; `old_issued` and `new_issued` the issued documents of the estimates, None for
    drafts; `reason` says in the owner's own words why there is a change, `falls` which payments it moves, `agreed` which ones the contract says;
    `signed_on` is the day of its signature, from which the days count; without it each counts as its estimate says.
    """

    order: ChangeOrder
    old: Estimate
    new: Estimate
    day: dt.date
    draws: tuple[ChangedDraw, ...]
    old_issued: Issued | None = None
    new_issued: Issued | None = None
    reason: str = ""
    falls: ChangeFalls = "by-shares"
    agreed: ChangeFalls = "by-shares"
    signed_on: dt.date | None = None

    @property
    def falls_words(self) -> str:
        """Which payments it moves, in words for the paper."""
        return falls_words(self.falls, self.draws, self.order.amount, agreed=self.agreed)

    @cached_property
    def days(self) -> ChangedDays:
        """What it does to the calendar; errors as `change_days`."""
        if self.signed_on is None:
            return change_days(self.old, self.new)
        return change_days(counted_from(self.old, self.signed_on), counted_from(self.new, self.signed_on))


def change_order_bytes(changing: ChangeOrderSource) -> bytes:
    """The paper as PDF; the same input gives the same bytes.

    Raises PriceError if nothing changes. Raises IssueError if a finding of the new estimate says stop and it was not issued with a reason, or a cut plan is
    not proven.
    """
    return typeset(_TEMPLATE, change_order_document(changing))


def change_order_document(changing: ChangeOrderSource) -> dict[str, Any]:
    """Every word and figure of the paper, as the template reads it; errors as `change_order_bytes`."""
    order, old, new = changing.order, changing.old, changing.new
    refuse_unsound(new, changing.new_issued)
    if not order.rows:
        raise PriceError(Fault(f"change order {order.number}", "changes nothing: there is nothing to sign."))
    mark, currency, name = mark_of(old, changing.old_issued), currency_of(old), f"Change order {order.number}"
    days, draws = changing.days, changing.draws
    groups = _groups(changing, currency)

    def money(amount: Decimal) -> str:
        return format_money(amount, currency)

    return {
        **paper_head(
            old,
            changing.day,
            title=f"{name} to {mark.number}",
            document=f"{mark.number}, {mark.words}",
            foot=f"{old.lists.company.name} · {name} to {mark.number}",
        ),
        "number": str(order.number),
        "draft": changing.old_issued is None,
        "changes": f"Proposal {mark.number}, {mark.words}, of {format_long_day(mark.day)}"
        f"{'' if order.number == 1 else ', with the change orders before this one'}.",
        "contract-before": money(order.contract_before),
        "amount": _signed(order.amount, currency),
        "contract-after": money(order.contract_after),
        "price-note": _tax_words(order, currency),
        "reason": changing.reason,
        "words": changed_words(old, new),
        **changed_steps(old, new),
        **changed_sentences(old, new),
        "groups": groups,
        "count": sum(len(group["rows"]) + 1 for group in groups),
        "payments": _payments(draws, currency),
        "cost-note": _ONLY_THE_CHANGE,
        "payment-note": f"{_paid_words(draws)} {changing.falls_words}",
        "days": _day_rows(days),
        "days-note": _days_words(changing, found=any(row.kind == "find" for row in order.rows)),
        "settle": list(settle_rows(new, changing.new_issued)),
        "terms": list(sentences(new, "change")),
        "agreed": f"We agree to this change for {_in_words(order.amount, currency)}; the contract sum is then {money(order.contract_after)}. "
        "Each of us keeps a signed copy.",
    }


def _signed(amount: Decimal, currency: str) -> str:
    return f"{'+' if amount > 0 else ''}{format_money(amount, currency)}"


def _in_words(amount: Decimal, currency: str) -> str:
    return f"a credit of {format_money(-amount, currency)}" if amount < 0 else format_money(amount, currency)


def _tax_words(order: ChangeOrder, currency: str) -> str:
    collected = sum_money([row.amount for row in order.rows if row.kind == "tax"])
    return f"Sales tax of {format_money(collected, currency)} is in this change." if collected else "No sales tax is added to this change."


def _groups(changing: ChangeOrderSource, currency: str) -> list[dict[str, Any]]:
    rows = _with_tax_paid(changing)
    return [
        {
            "name": name,
            "rows": [
                {
                    "what": "on this change" if row.kind == "tax" else row.label,
                    "quantity": _quantity(row, currency),
                    "amount": format_money(row.amount, currency),
                }
                for row in rows
                if row.kind == kind and row.amount
            ],
        }
        for kind, name in _GROUPS
        if any(row.kind == kind and row.amount for row in rows)
    ]


def _with_tax_paid(changing: ChangeOrderSource) -> list[ChangeRow]:
    """The rows with the tax that we pay on goods in the amounts of these goods: it is our cost, and no tax that a customer is billed."""
    rows = [row for row in changing.order.rows if not row.id.startswith("tax-paid/")]
    tax_on = changing.old.terms.tax_on
    taxed = {f"buy:{purchase.item}" for one in (changing.old, changing.new) for purchase in one.purchases if pays_tax(purchase, tax_on)}
    for tax in (row for row in changing.order.rows if row.id.startswith("tax-paid/")):
        goods = [row for row in rows if row.id in taxed and (row.cost > 0) is (tax.cost > 0)]
        parts = dict(zip([row.id for row in goods], split_cents(tax.amount, [row.cost.copy_abs() for row in goods]), strict=True))
        rows = [replace(row, amount=EXACT.add(row.amount, parts.get(row.id, Decimal(0)))) for row in rows]
    return rows


def _quantity(row: ChangeRow, currency: str) -> str:
    """How many before and after; hours of own people and bare money are left out. What is counted is a whole number: a part of a pack is none."""
    if row.cost_type is CostType.LABOR or row.unit in {"", currency}:
        return ""
    before, after = (math.ceil(amount) if row.unit == "each" else amount for amount in (row.before, row.after))
    if before == after:
        return ""
    said = format_quantity(after, row.unit)
    return said if row.kind == "find" else f"{format_quantity(before, row.unit).removesuffix(f' {row.unit}')} → {said}"


def _payments(draws: Sequence[ChangedDraw], currency: str) -> list[dict[str, str]]:
    return [
        {
            "number": str(number),
            "due": f"{draw.label}{' (paid)' if draw.paid else ' (billed)' if draw.billed else ''}",
            "before": format_money(draw.before, currency),
            "after": format_money(draw.after, currency),
            "difference": "" if draw.after == draw.before else _signed(EXACT.subtract(draw.after, draw.before), currency),
        }
        for number, draw in enumerate(draws, 1)
    ]


def _paid_words(draws: Sequence[ChangedDraw]) -> str:
    if any(draw.billed for draw in draws):
        return "What was billed before this change stays as it was billed."
    count = sum(draw.paid for draw in draws)
    if not count:
        return "No payment was made before this change."
    return f"{'The first payment was' if count == 1 else f'The first {count} payments were'} made before this change; what was paid stays as it was."


def _day_rows(days: ChangedDays) -> list[dict[str, str]]:
    rows = [{"what": "Work complete", "before": format_long_day(days.done_before), "after": format_long_day(days.done_after)}]
    if days.without_sink_before is not None or days.without_sink_after is not None:
        before, after = ("–" if without is None else f"about {format_days(without)}" for without in (days.without_sink_before, days.without_sink_after))
        rows.append({"what": "Without a kitchen sink", "before": before, "after": after})
    return rows


def _days_words(changing: ChangeOrderSource, *, found: bool) -> str:
    later = changing.days.later
    count, signed = abs(later), changing.signed_on
    moved = f"{count} {'day' if count == 1 else 'days'} {'later' if later > 0 else 'earlier'}"
    says = f"With this change the job is done {moved}." if count else "The job is done on the same day as before."
    counted = f" Both columns count from the day you signed, {format_long_day(signed)}." if signed else ""
    return f"{says}{counted}{' Work on what was found is not in these days.' if found else ''}"
