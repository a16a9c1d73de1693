"""Is the dishwasher's drain hose kept from siphoning?"""

from kit.checks.finding import CONFIRM, plain_finding
from kit.design.design import Design
from kit.job import FilledJob
from kit.job.field_names import say_choice
from kit.records import Finding, Level

__all__ = ["check_hose"]

_HOSE_SOURCES = {"irc": "irc-memory", "ipc": "ipc", "upc": "king-county-dishwasher"}


def check_hose(job: FilledJob, design: Design) -> list[Finding]:
    """How the hose is kept from siphoning, by what the code family asks for."""
    if not job.plumbing.dishwasher:
        return []
    way, family = job.plumbing.dishwasher_drain, job.site.code_family
    if way == "none":
        level, remedy = Level.STOP, "Install an air gap in the deck." if family == "upc" else "Install a high loop under the countertop, or an air gap."
    elif way == "high-loop" and family == "upc":
        level, remedy = Level.STOP, f"This code asks for a listed air gap above the flood level: one more hole in the deck. {CONFIRM}"
    elif way == "air-gap" and not any(hole.use == "air-gap" for hole in design.placed.holes):
        level, remedy = Level.CAUTION, "The deck has no hole for the air gap: add one before the countertop is cut."
    else:
        level, remedy = Level.OK, ""
    return [
        plain_finding(
            "drain/dishwasher",
            "Dishwasher drain hose kept from siphoning",
            level,
            way.replace("-", " "),
            "air gap" if family == "upc" else "high loop or air gap",
            basis=f"settings of the {say_choice('site.code_family', family)}",
            source=_HOSE_SOURCES[family],
            remedy=remedy,
            parts=("disposer",),
        )
    ]
