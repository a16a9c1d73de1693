"""The scope settled: one rule where two cells of a job could be read two ways.

It is settled as a job's assumptions are filled in, so that nobody can design or take off a scope that says two things.
"""

from typing import Any

from kit.job.counter import Counter
from kit.job.old import Old
from kit.job.plumbing import Plumbing
from kit.job.scope import Scope, ScopeItem
from kit.job.sink import Sink

__all__ = ["settle_counter", "settle_scope"]

_NO_PART = ScopeItem(supplied_by="excluded", installed_by="nobody")
_STAYS = ScopeItem(supplied_by="stays", installed_by="nobody")
_OURS = ScopeItem(supplied_by="us", installed_by="us")
_FIRM = {"trade": ScopeItem(supplied_by="trade", installed_by="trade"), "customer": ScopeItem(supplied_by="customer", installed_by="customer")}
_LEFT_ALONE = ("wall_repair", "haul_away", "asbestos")  # what stays here is what nobody does


def settle_scope(scope: Scope, *, sink: Sink[Any], counter: Counter[Any], plumbing: Plumbing[Any], old: Old[Any]) -> Scope:
    """A scope that says one thing, beside what the job plans.

    Notes
    -----
    What is not there is no part of the job: a disposer or dishwasher that the plumbing has not. What is no part of it is fitted by nobody.
    A wall that stays is not patched, debris that stays is not taken away: both are no part of it. A counter that its maker's row says stays,
    stays; the shop sets what it makes, also where the cell says us, and the splash with it. Every outlet without a disposer has a strainer:
    a new sink comes without one, so whoever brings and fits the sink does the same with it; where a disposer leaves a sink that stays, we do.
    Where each outlet has a disposer there is none. A firm for asbestos brings what it works with, whoever hires it.
    """
    rows = {name: _NO_PART if getattr(scope, name).excluded else getattr(scope, name) for name in Scope.model_fields}
    if plumbing.disposer == "none":
        rows["disposer"] = _NO_PART
    if not plumbing.dishwasher:
        rows["dishwasher"] = _NO_PART
    if counter.made_by == "stays" and rows["counter"].renewed:
        rows["counter"] = _STAYS
    for name in _LEFT_ALONE:
        rows[name] = _NO_PART if rows[name].stays else rows[name]
    if counter.made_by == "fabricator":
        rows |= {name: _by_shop(rows[name]) for name in ("counter", *(("splash",) if counter.splash == "same" else ()))}
    if rows["asbestos"].installed_by in {"trade", "customer"}:
        rows["asbestos"] = _FIRM[rows["asbestos"].installed_by]
    rows["strainer"] = _strainer(scope, sink, plumbing, old)
    return scope if rows == {name: getattr(scope, name) for name in rows} else scope.model_copy(update=rows)


def settle_counter(counter: Counter[Any], scope: Scope) -> Counter[Any]:
    """The counter as the settled scope has it: one that is no part of the job, or stays, is made by nobody."""
    return counter if scope.counter.renewed or counter.made_by == "stays" else counter.model_copy(update={"made_by": "stays"})


def _by_shop(item: ScopeItem) -> ScopeItem:
    return item.model_copy(update={"installed_by": "fabricator"}) if item.renewed and item.ours_to_install else item


def _strainer(scope: Scope, sink: Sink[Any], plumbing: Plumbing[Any], old: Old[Any]) -> ScopeItem:
    row = scope.strainer
    if len(sink.bowls) <= (plumbing.disposer != "none"):
        return _NO_PART
    if row.renewed:
        return row
    if scope.sink.renewed:
        return ScopeItem(supplied_by=scope.sink.supplied_by, installed_by=scope.sink.installed_by)
    if old.disposer and plumbing.disposer == "none":
        return _OURS
    return _NO_PART if row.excluded else row
