"""Do the days of a job fit together? A signature before the visit, or long after it, is a slip of the pen or wants another visit."""

from datetime import timedelta

from kit.checks.finding import plain_finding
from kit.design.design import Design
from kit.job import FilledJob
from kit.lists import Lists
from kit.records import Finding, Level
from kit.sources import row
from kit.units import format_day

__all__ = ["check_days"]


def check_days(job: FilledJob, design: Design, lists: Lists) -> list[Finding]:  # noqa: ARG001 - as every check
    """One finding where the terms name the day of the signature: every date of the job counts from it."""
    signed, visit = job.terms.signed_on, job.identity.visit_date
    if signed is None:
        return []
    most = row("calendar", "job/signature-most")
    last = visit + timedelta(days=most.value)
    remedy = "Correct the day of the signature, or that of the visit." if signed < visit else "Check the year. Measures and prices this old want a new visit."
    holds = visit <= signed <= last
    return [
        plain_finding(
            "terms/signature",
            "Day of the signature",
            Level.OK if holds else Level.CAUTION,
            format_day(signed),
            f"from the visit of {format_day(visit)} to {format_day(last)}",
            basis=f"orders, deliveries and work are dated from it; {most.value:g} days after the visit at most",
            source=most,
            remedy="" if holds else remedy,
        )
    ]
