"""What comes out of the old kitchen, and who takes it out: read by quantities, hours, risks and papers, worked out nowhere else."""

from dataclasses import dataclass
from typing import Literal

from kit.job import FilledJob
from kit.job.scope import ScopeItem

__all__ = ["Removal", "Remover", "design_removal", "opens_drain", "sets_sink"]

Remover = Literal["us", "customer", "nobody"]


@dataclass(frozen=True, slots=True)
class Removal:
    """Who takes out the old counter, splash and sink; nobody where it stays or is not there."""

    counter_by: Remover
    splash_by: Remover
    sink_by: Remover

    @property
    def counter_comes_off(self) -> bool:
        """Whether the old counter makes room for a new one, whoever takes it off."""
        return self.counter_by != "nobody"


def design_removal(job: FilledJob) -> Removal:
    """Each part goes for a new one in its place; splash and sink also with the counter that they sit on.

    Fabricators and trades expect the place cleared, so we clear it for them; a customer who sets the new part clears it too.
    """
    old, scope = job.old, job.scope
    counter_by = "nobody" if job.counter.made_by == "stays" else _cleared_by(scope.counter)
    return Removal(
        counter_by=counter_by,
        splash_by="nobody" if old.splash == "none" or scope.splash.stays else _first(_cleared_by(scope.splash), counter_by),
        sink_by="nobody" if old.sink_kind == "none" else _first(_cleared_by(scope.sink), counter_by),
    )


def _cleared_by(item: ScopeItem) -> Remover:
    """Who makes room for a new part."""
    if not item.renewed or item.installed_by == "nobody":
        return "nobody"
    return "customer" if item.installed_by == "customer" else "us"


def _first(*removers: Remover) -> Remover:
    """Us where one of the reasons is ours, else the customer where one is his."""
    return "us" if "us" in removers else "customer" if "customer" in removers else "nobody"


def sets_sink(job: FilledJob, removal: Removal) -> bool:
    """Whether a sink is set: a new one, or the old one again because the counter round it changes."""
    scope = job.scope.sink
    return scope.renewed or (scope.stays and removal.counter_by == "us")


def opens_drain(job: FilledJob, removal: Removal, *, lowered: bool) -> bool:
    """Whether trap and hoses come apart: for a sink that is set, a new disposer, or a stub that comes down."""
    new_disposer = job.plumbing.disposer == "new" and not job.scope.disposer.excluded
    return sets_sink(job, removal) or new_disposer or lowered
