"""Does the scope say one thing? What no rule settles is a stop: nothing is promised that is not priced."""

from kit.checks.finding import plain_finding
from kit.design.design import Design
from kit.design.settled_scope import find_conflicts
from kit.job import FilledJob
from kit.lists import Lists
from kit.records import Finding, Level

__all__ = ["check_scope"]


def check_scope(job: FilledJob, _: Design, __: Lists) -> list[Finding]:
    """One stop for each item of the scope that contradicts itself."""
    return [
        plain_finding(
            f"scope/{name}",
            f"Scope: {name.replace('_', ' ')}",
            Level.STOP,
            said,
            "one thing, with a price",
            basis="the scope table beside what is planned",
            source="judgement",
            remedy=remedy,
        )
        for name, (said, remedy) in find_conflicts(job).items()
    ]
