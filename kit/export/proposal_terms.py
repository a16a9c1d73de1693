"""What a customer can count on besides the work: days ahead, how payments are counted, warranty, insurance, the price of a change."""

import datetime as dt
from decimal import Decimal

from kit.change.agreed_finds import agreed_finds
from kit.estimating import Estimate
from kit.export.change_words import agreed_falls_words
from kit.export.lists_used import currency_of
from kit.labor.clock import last_day
from kit.labor.job_schedule import JobSchedule, signing_day
from kit.lists.money_rows import DepositEarned
from kit.money import EXACT, format_money, round_cents, sum_money, to_decimal
from kit.outlook import price_temporary_sink, site_risks_of
from kit.pricing.draws import DrawSchedule, plan_draws
from kit.records import CostType
from kit.units import format_days, format_long_day

__all__ = ["day_rows", "deposit_words", "find_rows", "money_words", "payment_words", "surprise_names", "term_words"]

_DEPOSIT_EARNED: dict[DepositEarned, str] = {
    "first-bill": "The deposit is your money until we send the first bill after it.",
    "by-shares": "The deposit becomes ours bit by bit, as we send the bills after it.",
    "last-bill": "The deposit is your money until we send the last bill.",
}


def money_words(estimate: Estimate, amount: Decimal) -> str:
    """An amount in the currency of the lists."""
    return format_money(amount, currency_of(estimate))


def deposit_words(rule: DepositEarned) -> str:
    """With which bill a deposit is earned; until then the money is the customer's on our books."""
    return _DEPOSIT_EARNED[rule]


def payment_words(estimate: Estimate) -> str:
    """How the payments are counted: what is held back until the punch list is done, when the deposit is earned, who takes the odd cents."""
    plan = plan_draws(estimate)
    words = ["Each payment is due when its row says, and not before."]
    if plan.deposit:
        words.append(deposit_words(estimate.lists.company.deposit_earned))
    if len(plan.draws) > 1:
        words.append("Payments are rounded to the cent; the last one takes what is left.")
    return " ".join([*words, *_hold_words(estimate, plan)])


def _hold_words(estimate: Estimate, plan: DrawSchedule) -> list[str]:
    holds = {row.draw for row in estimate.lists.draws if row.pays == "hold"}
    last = sum_money([draw.due for draw in plan.draws if draw.id in holds])
    share = to_decimal(estimate.terms.hold_share * 100, 1).normalize()
    if not last or not share:
        return []
    return [f"{share:f}% of the price is held back until the punch list is done: that is the last payment, {money_words(estimate, last)}."]


def term_words(estimate: Estimate) -> list[str]:
    """Warranty and insurance as the company file says them; what an hour that a change adds costs the customer, and on which payments a change falls."""
    company = estimate.lists.company
    return [words for words in (_change_words(estimate), company.warranty_words, company.insurance) if words]


def _change_words(estimate: Estimate) -> str:
    rule = estimate.lists.change_rules.get((estimate.lists.company.change_rule, CostType.LABOR))
    if rule is None or not estimate.tasks:
        return ""
    hour = round_cents(EXACT.multiply(estimate.tasks[0].rate, EXACT.add(Decimal(1), to_decimal(rule.on_adds, 6))))
    falls = agreed_falls_words(estimate.lists.company.change_falls)
    return f"We charge {money_words(estimate, hour)} for each hour of our work that a change adds; materials and hired work as that change order says. {falls}"


def find_rows(estimate: Estimate) -> list[dict[str, str]]:
    """Prices agreed in advance for what may turn up in this house."""
    return [{"what": row.name, "unit": row.unit, "price": money_words(estimate, row.price)} for row in agreed_finds(estimate).values()]


def surprise_names(estimate: Estimate) -> list[str]:
    """What else may turn up at the customer's expense, and has no price yet."""
    return [risk.name for risk in site_risks_of(estimate) if risk.borne_by == "customer" and risk.agreed is None]


def day_rows(estimate: Estimate, schedule: JobSchedule, today: dt.date) -> list[dict[str, str]]:
    """What happens on which day, none before the day of the paper but the signature; then how long the kitchen has no sink."""
    terms, company = estimate.job.terms, estimate.lists.company
    signed = signing_day(estimate.job, company)
    days: list[tuple[str, dt.date | None]] = [
        ("You have signed" if terms.signed_on else "You sign (expected)", signed),
        ("We order, after the time to cancel", schedule.ordered.date() if schedule.ordered else None),
        ("Work in the house starts", schedule.house_start),
        ("The old sink is out", last_day(schedule.sink_out) if schedule.sink_out else None),
        ("The new sink is in use", last_day(schedule.sink_back) if schedule.sink_back else None),
        ("Work complete", last_day(schedule.finish)),
    ]
    rows = [{"what": what, "when": format_long_day(day)} for what, day in days if day is not None and (day >= today or day == terms.signed_on)]
    without, lent = schedule.days_without_sink, schedule.days_with_temporary_sink
    if without is not None and lent is not None:
        counted = lent if terms.temporary_sink else without
        rows.append({"what": "Without a kitchen sink", "when": f"about {format_days(counted)}"})
        if not terms.temporary_sink and format_days(lent) != format_days(without):
            more = money_words(estimate, price_temporary_sink(estimate))
            rows.append({"what": f"With a temporary sink, for {more} more", "when": f"about {format_days(lent)}"})
    return rows
