"""Working back, in a report: a row for each thing wanted, and what to write into the job file."""

from decimal import Decimal

from kit.cli.page import Page, days_text, share_text
from kit.cli.targets import Found
from kit.compare import Figures
from kit.errors import KitError
from kit.estimate import Estimate
from kit.job import change_job
from kit.money import EXACT, format_money

__all__ = ["target_report"]


def target_report(found: Found) -> str:
    """As the terms say and as wanted, a row each; then what to write into the job file."""
    made, page = found.estimate, Page()
    who = made.job.identity
    page.title(f"Worked back: {who.job_number}, {who.customer}", f"Direct cost {format_money(made.cost)}, {days_text(found.figures.crew_days)} crew-days")
    profit = made.terms.value("in:profit")
    rows = [_row("As the terms say", found.figures, profit, met="")]
    rows += [_row(one.words, figures, answer.profit, met="to the cent" if answer.exact else "next there is") for one, answer, figures in found.answers]
    page.table("Prices", ("Wanted", ">Price", ">Over direct cost", ">Margin", ">A crew-day", ">Most fronted", ">Profit", "Met"), rows)
    if not all(answer.exact for _, answer, _ in found.answers):
        page.note("Next there is: the least charge, the rounding of the price or its tax skip what was wanted.")
    page.note(
        f'Margin is the share of the price before tax collected that is over direct cost; overhead is still in it. Profit is counted "{made.terms.profit_as}"; '
        "to keep an answer write its profit into the job file, under [terms]:"
    )
    for one, answer, _ in found.answers:
        page.note(f"{one.words}: {_line(made, answer.profit)}")
    return page.text()


def _row(wanted: str, figures: Figures, profit: Decimal, *, met: str) -> tuple[str, ...]:
    per_day = figures.per_crew_day
    return (
        wanted,
        format_money(figures.price),
        format_money(figures.gross),
        share_text(float(figures.margin)),
        "" if per_day is None else format_money(per_day),
        format_money(figures.fronted),
        _percent(profit),
        met,
    )


def _percent(profit: Decimal) -> str:
    """A share in percent with all the decimals it has."""
    return f"{EXACT.multiply(profit, Decimal(100)).normalize():f} %"


def _line(made: Estimate, profit: Decimal) -> str:
    """The line of a job file, or why it can't be one."""
    try:
        change_job(made.job_as_read, {"terms.profit": _percent(profit)})
    except KitError as error:
        return f"a job file can't hold it: {error.faults[0].message}"
    return f'profit = "{_percent(profit)}"'
