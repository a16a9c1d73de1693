"""When it is done, how sure we are, and when money moves: calendar, risk, payments and cash, each as a part of a report."""

from datetime import datetime
from decimal import Decimal

from kit.cli.estimate_document import dated_draws
from kit.cli.report_text import Page, days_text, hours_text, share_text
from kit.estimating import Estimate
from kit.labor.schedule import ScheduledStep, performer_name
from kit.labor.trips import explain_people, explain_wait
from kit.money import EXACT, format_money
from kit.outlook import JobRisk, assess_risk, cash_of, crew_days_of, plan_schedule, price_temporary_sink, without_disposer
from kit.pricing.cash import CashPlan
from kit.pricing.draws import DrawSchedule, plan_draws
from kit.takeoff.working import counted
from kit.units import CHANCE_WORDS, format_day, format_days, format_half_day, format_length, format_trials

__all__ = ["add_calendar", "add_payments", "add_risk"]

DRIVERS_SHOWN = 8


def add_calendar(page: Page, estimate: Estimate) -> None:
    """The calendar step by step, the trips, the days without a sink."""
    schedule = plan_schedule(estimate)
    steps = schedule.schedule
    page.table("Calendar", ("Step", "Who", ">People", "Start", "End", ">Spare hours"), [_calendar_row(estimate, row) for row in steps.steps])
    names = estimate.step_names
    trips = [(names[trip.first], names[trip.steps[-1]], explain_people(trip, names), explain_wait(trip, names, estimate.lists)) for trip in schedule.trips]
    extra = estimate.job.terms.extra_trips
    asked = f": {len(estimate.trips)} for the work and {extra} extra that this job asks for" if extra else ""
    page.table("Our trips, in the order of the work", ("From", "To", "Who goes, and what for", "Waits for"), trips)
    page.note(
        f"Crew-days {days_text(crew_days_of(estimate))}, on {counted(steps.crew_days, 'day', 'days').text} in the house; "
        f"{counted(schedule.trips_priced, 'trip', 'trips').text} in the price{asked}; "
        f"{hours_text(schedule.own_hours)} hours of our own{f', {hours_text(schedule.hired_hours)} hired' if schedule.hired_hours else ''}."
    )
    if schedule.days_without_sink is not None and schedule.days_with_temporary_sink is not None:
        gone, lent = format_days(schedule.days_without_sink), format_days(schedule.days_with_temporary_sink)
        cost = f"at {format_money(price_temporary_sink(estimate))}{' (in the price)' if estimate.job.terms.temporary_sink else ' more'}"
        spared = f"with a temporary sink {lent}, {cost}" if lent != gone else f"a temporary sink, {cost}, would not shorten that"
        page.note(f"Without a kitchen sink {gone}, {_when(schedule.sink_out)} to {_when(schedule.sink_back)}; {spared}.")
    plain = without_disposer(estimate)
    if plain is not None:
        lower, lower_plain = (one.design.drain.lower_by_in or 0.0 for one in (estimate, plain))
        page.note(
            f"Without the disposer the price is {format_money(plain.price)}, not {format_money(estimate.price)}, and the drain stub "
            f"{f'comes down by {format_length(lower_plain)}' if lower_plain else 'stays where it is'}; with it the stub comes down by {format_length(lower)}."
        )


def add_risk(page: Page, estimate: Estimate) -> None:
    """The trials: cost and finish at their shares, the contingency that they ask for, and what drives them."""
    risk = assess_risk(estimate)
    rows = [(words, format_money(risk.cost_at(chance)), _when(risk.finish_at(chance))) for chance, words in CHANCE_WORDS.items()]
    page.table("How sure the cost and the finish are", ("How often", ">Direct cost at most", ">Done by"), rows)
    page.note(
        f"{risk.cost.trials:,} trials, seed {risk.cost.seed}, correlation {risk.cost.correlation:g}. To cover the cost in {format_trials(risk.confidence)} "
        f"takes a contingency of {format_money(risk.contingency)}. Chance that the job loses money: {share_text(risk.chance_to_lose)}; that it "
        f"does not pay its overhead: {share_text(risk.chance_to_miss_overhead)}. The chances and costs of surprises are from your lists: check them."
    )
    _add_drivers(page, risk)


def _points(share: float) -> str:
    """More or less in points of a percent; none has no sign."""
    points = round(share * 100, 1)
    return f"{points:+.1f}" if points else "0.0"


def _add_drivers(page: Page, risk: JobRisk) -> None:
    rows = [
        (
            driver.label,
            "" if driver.chance is None else share_text(driver.chance),
            share_text(driver.share),
            f"{format_money(effect.price_low)} to {format_money(effect.price_high)}",
            f"{_points(effect.margin_low)} to {_points(effect.margin_high)}",
        )
        for driver, effect in risk.drivers[:DRIVERS_SHOWN]
    ]
    page.table("What drives the spread", ("What", ">Chance", ">Share", ">Effect on price", ">Effect on margin, points"), rows)


def _calendar_row(estimate: Estimate, row: ScheduledStep) -> tuple[str, ...]:
    steps, visit = estimate.step_names, estimate.job.identity.visit_date
    return (
        steps[row.step],
        performer_name(row.trade),
        str(row.crew),
        format_half_day(row.start, beside=visit),
        format_half_day(row.finish, beside=visit),
        "none" if row.critical else hours_text(row.float_h),
    )


def _when(when: datetime | None) -> str:
    return "" if when is None else format_half_day(when)


def add_payments(page: Page, estimate: Estimate) -> None:
    """The customer's payments, then the days on which money moves; nothing where the price is nothing."""
    if not estimate.price:
        return
    draws, cash = plan_draws(estimate), cash_of(estimate)
    rows = [
        (str(number), draw.label, format_day(day), _share(draws, draw.earned), format_money(draw.held), format_money(draw.due))
        for number, draw, day in dated_draws(draws, cash)
    ]
    page.table("Customer's payments", ("No.", "When", ">Day", ">Earned by then", ">Held back", ">Due"), rows)
    if draws.deposit_limit is not None:
        page.note(f"A deposit of {format_money(draws.deposit_limit)} is the most the state's preset allows.")
    moves = [
        (
            format_day(row.day),
            format_money(row.paid_to_us) if row.paid_to_us else "",
            format_money(row.paid_by_us) if row.paid_by_us else "",
            format_money(row.fronted),
        )
        for row in cash.days
    ]
    page.table("Cash by day", ("Day", ">Paid to us", ">Paid by us", ">Our money in the job"), moves)
    page.note(_worst(cash))


def _share(draws: DrawSchedule, earned: Decimal) -> str:
    return share_text(float(EXACT.divide(earned, draws.contract))) if earned else ""


def _worst(cash: CashPlan) -> str:
    said = "The customer's payments are always ahead of ours."
    if cash.most_fronted:
        said = f"Our money out is {format_money(cash.most_fronted)} at most, on {format_day(cash.worst.day)}."
    return f"{said} Overhead is left out. Below 0, the customer's money pays for the job."
