"""What the customer sees: picture, choices, price, dates and care. It is worked out from the words of the proposal, which hold no cost."""

from collections.abc import Iterable
from functools import partial
from html import escape

from kit.draw.tables import draw_table
from kit.draw.widths import draw_for_widths
from kit.estimating import Estimate
from kit.export.proposal import front_for_customer
from kit.export.proposal_terms import day_rows, money_words
from kit.export.proposal_words import TO_WRITE_IN, care_rows, choice_rows, summary_of
from kit.job import Job
from kit.outlook import plan_schedule

__all__ = ["draw_customer_view", "draw_waiting_view"]


def draw_customer_view(estimate: Estimate) -> str:
    """The page for the customer of a priced job."""
    visit = estimate.job.identity.visit_date
    return (
        f"<div class='sk-customer'><h2>{escape(_name(estimate.job_as_read))}</h2><p>{escape(summary_of(estimate))}</p>"
        f"<p class='sk-customer-price'><b class='sk-price'>{escape(money_words(estimate, estimate.price))}</b></p>"
        f"{draw_for_widths(partial(front_for_customer, estimate))}"
        f"{_table('Your choices', 'As written down', ((row['choice'], row['taken'].replace(TO_WRITE_IN, 'still to choose')) for row in choice_rows(estimate)))}"
        f"{_table('Days', 'When', ((row['what'], row['when']) for row in day_rows(estimate, plan_schedule(estimate), visit)))}"
        f"{_table('Care', 'How to look after it', ((row['what'], row['says']) for row in care_rows(estimate)))}</div>"
    )


def draw_waiting_view(job: Job) -> str:
    """The page while there is no price yet."""
    return f"<div class='sk-customer'><h2>{escape(_name(job))}</h2><p>The price comes once everything is measured.</p></div>"


def _name(job: Job) -> str:
    return "" if "identity.customer" in job.open_places else job.identity.customer


def _table(caption: str, says: str, rows: Iterable[tuple[str, str]]) -> str:
    return draw_table(caption, ("What", says), list(rows), heads=True)
