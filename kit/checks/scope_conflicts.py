"""Does the scope say one thing? What no rule settles is a stop: nothing is promised that is not priced."""

from kit.checks.finding import plain_finding
from kit.design.design import Design
from kit.job import FilledJob
from kit.job.scope import Scope, ScopeItem
from kit.lists import Lists
from kit.records import Finding, Level

__all__ = ["check_scope", "find_conflicts"]

_GOODS = ("sink", "faucet", "strainer", "disposer", "dishwasher")
_NAMES = {"counter": "countertop", "splash": "backsplash", "drain_move": "drain in the wall", "wall_repair": "wall", "haul_away": "debris"}


def check_scope(job: FilledJob, _: Design, __: Lists) -> list[Finding]:
    """One stop for each item of the scope that contradicts itself."""
    return [
        plain_finding(
            f"scope/{name}",
            f"Scope: {_NAMES.get(name, name)}",
            Level.STOP,
            said,
            "one answer, with a price",
            basis="the scope table beside what is planned",
            source="judgement",
            remedy=remedy,
        )
        for name, (said, remedy) in find_conflicts(job).items()
    ]


def find_conflicts(job: FilledJob) -> dict[str, tuple[str, str]]:
    """What a settled scope still says two ways, by the item: what it says, and what to enter."""
    conflicts = {name: said for name in Scope.model_fields if (said := _conflict(job, name, getattr(job.scope, name))) is not None}
    disposer = job.scope.disposer
    if job.plumbing.disposer == "new" and not disposer.renewed:
        conflicts["disposer"] = ("a new disposer, and the scope has none", "Say who supplies and installs it, or plan without a new one.")
    return conflicts


def _conflict(job: FilledJob, name: str, item: ScopeItem) -> tuple[str, str] | None:
    what = _NAMES.get(name, name)
    if not item.renewed:
        return None
    if item.installed_by == "nobody":
        return f"the {what} is in the scope, but nobody is to do the work", "Say who does it, or take it out of the scope."
    if name in _GOODS and (item.supplied_by in {"fabricator", "trade"} or item.installed_by == "fabricator"):
        return (
            f"no price for the {what} from whoever is to supply or install it",
            "Let us or the customer supply it; let us, a trade or the customer install it.",
        )
    if name in {"drain_move", "wall_repair", "haul_away"} and "fabricator" in {item.supplied_by, item.installed_by}:
        return f"the countertop shop has no price for the {what}", "Let us, a trade or the customer do it."
    if name == "asbestos" and item.installed_by not in {"trade", "customer"}:
        return "a certified firm removes asbestos, not our crew or the countertop shop", "Enter a hired trade or the customer, or take it out of the scope."
    if name in {"counter", "splash"}:
        return _counter_conflict(job, name, what, item)
    return None


def _counter_conflict(job: FilledJob, name: str, what: str, item: ScopeItem) -> tuple[str, str] | None:
    if "trade" in {item.supplied_by, item.installed_by}:
        return f"no price for a trade's {what}", "Enter the countertop shop, us or the customer."
    if job.counter.made_by == "us" and item.installed_by == "fabricator":
        return f"we make the countertop and the shop is to install the {what}", "Let us install what we make, or let the shop make it."
    return _splash_conflict(job, item) if name == "splash" else _setting_conflict(job, item)


def _setting_conflict(job: FilledJob, item: ScopeItem) -> tuple[str, str] | None:
    """The shop's price has the setting in it."""
    if job.counter.made_by == "fabricator" and item.installed_by == "customer" and item.supplied_by != "customer":
        return (
            "the shop's price includes setting the countertop, but the customer is to set it",
            "Let the shop set what it makes, or let the customer order it directly.",
        )
    return None


def _splash_conflict(job: FilledJob, item: ScopeItem) -> tuple[str, str] | None:
    """A splash of the counter's material is cut and fitted with a new counter, by one hand."""
    if job.counter.splash != "same":
        return None
    if not job.scope.counter.renewed:
        return (
            "a new backsplash of the countertop's material, and no new countertop that it comes with",
            "Let the backsplash stay, or replace the countertop too.",
        )
    if (item.supplied_by == "customer") != (item.installed_by == "customer"):
        return (
            "one supplies the backsplash and another installs it, which nobody has priced",
            "Let one supply and install it: the countertop's maker, or the customer.",
        )
    return None
