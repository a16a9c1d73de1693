"""When the customer pays, and how much of our own money is in the job day by day, in a report."""

from kit.cli.page import Page, share_text
from kit.estimate import Estimate
from kit.money import EXACT, format_money
from kit.outlook import cash_of
from kit.pricing import CashPlan, DrawSchedule, plan_draws

__all__ = ["add_payments"]


def add_payments(page: Page, estimate: Estimate) -> None:
    """The customer's payments, then the days on which money moves; nothing where the price is nothing."""
    if not estimate.price:
        return
    draws, cash = plan_draws(estimate), cash_of(estimate)
    rows = [
        (str(number), draw.label, day.strftime("%a %Y-%m-%d"), _share(draws, number), format_money(draw.held), format_money(draw.due))
        for number, (draw, day) in enumerate(zip(draws.draws, cash.draw_days, strict=True), 1)
    ]
    page.table("Payments of the customer", ("No.", "When", ">Day", ">Earned by then", ">Held back", ">Due"), rows)
    if draws.deposit_limit is not None:
        page.note(f"A deposit of {format_money(draws.deposit_limit)} is the most that the state's preset lets us ask for.")
    moves = [
        (
            row.day.strftime("%a %Y-%m-%d"),
            format_money(row.paid_to_us) if row.paid_to_us else "",
            format_money(row.paid_by_us) if row.paid_by_us else "",
            format_money(row.fronted),
        )
        for row in cash.days
    ]
    page.table("Cash by day", ("Day", ">Paid to us", ">Paid by us", ">Our money in the job"), moves)
    page.note(_worst(cash))


def _share(draws: DrawSchedule, number: int) -> str:
    earned = draws.draws[number - 1].earned
    return share_text(float(EXACT.divide(earned, draws.contract))) if earned else ""


def _worst(cash: CashPlan) -> str:
    if not cash.most_fronted:
        return "The customer's payments are always ahead of ours. Overhead is left out; below 0 it is the customer's money."
    return (
        f"Most of our own money is in the job on {cash.worst.day:%a %Y-%m-%d}: {format_money(cash.most_fronted)}. "
        "Overhead is left out; below 0 it is the customer's money."
    )
