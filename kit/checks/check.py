"""All checks of a job, worst first."""

from collections.abc import Callable

from kit.checks.cabinet import check_cabinet
from kit.design import Design
from kit.job import Job
from kit.lists import Lists
from kit.records import Finding

__all__ = ["CHECKS", "check_job"]

CHECKS: tuple[Callable[[Job, Design, Lists], list[Finding]], ...] = (check_cabinet,)


def check_job(job: Job, design: Design, lists: Lists) -> tuple[Finding, ...]:
    """Every finding, worst first; among equals in the order of the checks."""
    found = [finding for check in CHECKS for finding in check(job, design, lists)]
    return tuple(sorted(found, key=lambda finding: -finding.level))
