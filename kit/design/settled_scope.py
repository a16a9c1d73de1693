"""The scope settled: one rule where two cells of a job could be read two ways, and what no rule can settle.

`settle_scope` runs once, before anything is designed: takeoff, hours, calendar, payments and papers then read the same scope.
"""

from kit.job import FilledJob
from kit.job.scope import Scope, ScopeItem

__all__ = ["find_conflicts", "settle_scope"]

_NO_PART = ScopeItem(supplied_by="excluded", installed_by="nobody")
_STAYS = ScopeItem(supplied_by="stays", installed_by="nobody")
_OURS = ScopeItem(supplied_by="us", installed_by="us")
_GOODS = ("sink", "faucet", "strainer", "disposer", "dishwasher")
_NAMES = {"drain_move": "drain in the wall", "wall_repair": "wall", "haul_away": "debris"}


def settle_scope(job: FilledJob) -> FilledJob:
    """The job with a scope that says one thing.

    Notes
    -----
    What is not there is no part of the job: a disposer or dishwasher that the plumbing has not. What is no part of it is fitted by nobody.
    A counter that its maker's row says stays, stays. Every outlet without a disposer has a strainer: a new sink comes without one, so
    whoever brings and fits the sink does the same with it; where a disposer leaves a sink that stays, we do. Where each outlet has a disposer there is none.
    """
    scope, plumbing = job.scope, job.plumbing
    rows = {name: _NO_PART if getattr(scope, name).excluded else getattr(scope, name) for name in Scope.model_fields}
    if plumbing.disposer == "none":
        rows["disposer"] = _NO_PART
    if not plumbing.dishwasher:
        rows["dishwasher"] = _NO_PART
    if job.counter.made_by == "stays" and rows["counter"].renewed:
        rows["counter"] = _STAYS
    rows["strainer"] = _strainer(job)
    return job if rows == {name: getattr(scope, name) for name in rows} else job.model_copy(update={"scope": scope.model_copy(update=rows)})


def _strainer(job: FilledJob) -> ScopeItem:
    row, plumbing, sink = job.scope.strainer, job.plumbing, job.scope.sink
    if len(job.sink.bowls) <= (plumbing.disposer != "none"):
        return _NO_PART
    if row.renewed:
        return row
    if sink.renewed:
        return ScopeItem(supplied_by=sink.supplied_by, installed_by=sink.installed_by)
    if job.old.disposer and plumbing.disposer == "none":
        return _OURS
    return _NO_PART if row.excluded else row


def find_conflicts(job: FilledJob) -> dict[str, tuple[str, str]]:
    """What a settled scope still says two ways, by the item: what it says, and what to enter."""
    found = {name: said for name in Scope.model_fields if (said := _conflict(job, name, getattr(job.scope, name))) is not None}
    disposer = job.scope.disposer
    if job.plumbing.disposer == "new" and not disposer.renewed:
        found["disposer"] = ("a new disposer, and the scope brings none", "Say who brings and fits it, or plan without a new one.")
    return found


def _conflict(job: FilledJob, name: str, item: ScopeItem) -> tuple[str, str] | None:
    what = _NAMES.get(name, name)
    if not item.renewed:
        return None
    if item.installed_by == "nobody":
        return f"the {what} is brought and nobody does the work", "Say who does it, or take it out of the scope."
    if name in _GOODS and (item.supplied_by in {"fabricator", "trade"} or item.installed_by == "fabricator"):
        return f"no price for the {what} from whoever shall bring or fit it", "Let us or the customer bring it; let us, a trade or the customer fit it."
    if name in {"drain_move", "wall_repair", "haul_away"} and "fabricator" in {item.supplied_by, item.installed_by}:
        return f"the counter shop has no price for the {what}", "Let us, a trade or the customer do it."
    if name in {"counter", "splash"}:
        return _counter_conflict(job, what, item)
    return None


def _counter_conflict(job: FilledJob, what: str, item: ScopeItem) -> tuple[str, str] | None:
    if "trade" in {item.supplied_by, item.installed_by}:
        return f"no price for a trade's {what}", "Enter the counter shop, us or the customer."
    if job.counter.made_by == "us" and item.installed_by == "fabricator":
        return f"we make the counter and the shop shall fit the {what}", "Let us fit what we make, or let the shop make it."
    return None
