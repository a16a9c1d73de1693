"""Who the job is for, where, and who measured it."""

import datetime as dt

from kit.job.fields import Record, day, text

__all__ = ["Identity"]


class Identity(Record):
    """Customer, address and visit."""

    job_number: str = text("Your own number for the job")
    customer: str = text("Name of the customer")
    address: str = text("Street and town where the work is done")
    tax_place: str = text("Place whose sales tax and permits apply, such as a county and state")
    visit_date: dt.date = day("Day of the measuring visit; every date counts from it")
    measured_by: str = text("Who held the tape")
    note: str | None = text("What the crew should know; in the shipped examples: that the scenario is invented", optional=True)
