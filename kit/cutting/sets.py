"""Sets of sticks in the order of their cost, and the rules that show which of them can't hold the pieces.

Give each piece a value. A set of sticks whose contents can't be worth as much as all pieces together does not hold
them: that is a rule, and it holds for whatever values. The cheapest set that meets all rules known is a bound on
every plan. Length is the first value; better ones come from linear programs, whose rounding can make a rule weaker
but never wrong, because what a stick can be worth is worked out in whole numbers.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Protocol

from kit.cutting.bars import Bars

__all__ = ["OnSale", "Rule", "SetList", "SetSearch", "StickSet", "cheapest_sets", "length_rules"]


class OnSale(Protocol):
    """What a job has on sale: the cost of one of each stock, and how many there are."""

    @property
    def costs(self) -> tuple[int, ...]:
        """Cost of one."""

    @property
    def supply(self) -> tuple[int, ...]:
        """How many there are."""


StickSet = tuple[int, tuple[int, ...]]
"""Cost of a set in the unit of `Bars.costs`, and its sticks of each stock."""

NEVER = 1 << 62


@dataclass(frozen=True, slots=True)
class Rule:
    """What all pieces are worth, and what the contents of one stick of each stock are worth at most, for some piece values."""

    values: tuple[int, ...]
    worths: tuple[int, ...]
    total: int

    def allows(self, counts: Sequence[int]) -> bool:
        """Whether a set of sticks can be worth as much as the pieces."""
        held = 0
        for worth, count in zip(self.worths, counts, strict=True):
            held += worth * count
        return held >= self.total


@dataclass(frozen=True, slots=True)
class SetList:
    """Sets, cheapest first; `bound`: no set that meets the rules costs less; `complete`: none was passed over up to the last one listed."""

    sets: list[StickSet]
    bound: int
    complete: bool


def cheapest_sets(job: OnSale, rules: Sequence[Rule], floor: int, ceiling: int | None, wanted: int, steps: int = 20_000) -> SetList:
    """The cheapest sets of sticks that meet all rules.

    Parameters
    ----------
    job, rules
        The cutting job, and rules of it (one or more).
    floor, ceiling
        Least and greatest cost of a set; no ceiling means any cost.
    wanted
        How many sets are enough; all sets of the dearest cost listed are listed.
    steps
        Limit of steps; job with many priced stocks have very many sets.

    Returns
    -------
    The sets; fewer than `wanted` only when there are no more up to the ceiling or the steps ran out. Free sticks are all in every set.
    """
    if not all(rule.allows(job.supply) for rule in rules):
        return SetList([], NEVER, complete=True)
    search = max((SetSearch(job, rules, rule, floor, steps) for rule in rules), key=lambda search: search.start)
    top = search.dearest if ceiling is None else min(ceiling, search.dearest)
    bound, slack = search.start, max(1, search.start // 1000)
    while True:
        limit = min(top, search.start + slack)
        found = sorted(search.up_to(limit))
        if search.steps < 0:
            return SetList(found, bound, complete=False)
        if len(found) >= wanted or limit == top:
            cut = found[: wanted + sum(1 for entry in found[wanted:] if entry[0] == found[wanted - 1][0])]
            return SetList(cut, found[0][0] if found else top + 1, complete=True)
        bound = found[0][0] if found else limit + 1
        slack *= 3


class SetSearch:
    """Lists sets under a cost limit, guided by one rule: first how many of the stock that is dearest by worth."""

    def __init__(self, job: OnSale, rules: Sequence[Rule], guide: Rule, floor: int, steps: int) -> None:
        self.job, self.rules, self.guide, self.floor, self.steps = job, rules, guide, floor, steps
        self.counts = [0 if cost else supply for cost, supply in zip(job.costs, job.supply, strict=True)]
        self.rates = [cost / worth if worth else 1e30 for cost, worth in zip(job.costs, guide.worths, strict=True)]
        self.order = sorted((stock for stock, cost in enumerate(job.costs) if cost), key=lambda stock: -self.rates[stock])
        self.need = guide.total - sum(worth * count for worth, count in zip(guide.worths, self.counts, strict=True))
        self.start = max(floor, self.least(self.need, 0))

    @cached_property
    def dearest(self) -> int:
        """Cost of all sticks there are."""
        return sum(cost * supply for cost, supply in zip(self.job.costs, self.job.supply, strict=True))

    def least(self, need: int, place: int) -> int:
        """A bound on what `need` of worth costs from the stocks of the order from `place` on (any part of a stick may be bought)."""
        total = 0.0
        for stock in reversed(self.order[place:]):
            if need <= 0:
                break
            held = self.guide.worths[stock] * self.job.supply[stock]
            total += min(need, held) * self.rates[stock]
            need -= held
        return NEVER if need > 0 else int(total * (1 - 1e-12))

    def up_to(self, limit: int) -> list[StickSet]:
        """Every set with a cost from `floor` to `limit` that meets the rules."""
        found: list[StickSet] = []
        self._choose(0, self.need, limit, 0, found)
        return found

    def _choose(self, place: int, need: int, limit: int, spent: int, found: list[StickSet]) -> None:
        self.steps -= 1
        if self.steps < 0:
            return
        if place == len(self.order):
            if need <= 0 and spent >= self.floor and all(rule.allows(self.counts) for rule in self.rules):
                found.append((spent, tuple(self.counts)))
            return
        stock = self.order[place]
        cost, worth = self.job.costs[stock], self.guide.worths[stock]
        first = 0
        if place == len(self.order) - 1 and worth:
            first = max(0, -(-need // worth), -((spent - self.floor) // cost))
        for count in range(first, min(self.job.supply[stock], (limit - spent) // cost) + 1):
            rest = self.least(need - count * worth, place + 1)
            if rest > limit - spent - count * cost:
                if rest == NEVER:
                    continue
                break  # more of the dearer stock only makes it dearer
            self.counts[stock] = count
            self._choose(place + 1, need - count * worth, limit, spent + count * cost, found)
        self.counts[stock] = 0


def length_rules(job: Bars) -> list[Rule]:
    """Rules that follow from the lengths alone.

    Length is a value: a stick is worth the most that it can hold. So is 1 for each piece longer than half the longest
    stick, since these exclude each other, and the length of only those pieces that a shorter stock can't hold. With
    one stock, lengths may also be rounded.
    """
    longest = max(job.rooms)
    rules = [Rule(job.sizes, job.fills, job.need)]
    for place, size in enumerate(job.sizes):
        if 2 * size > longest:
            values = tuple(int(other <= place) for other in range(len(job.sizes)))
            rules.append(Rule(values, tuple(int(room >= size) for room in job.rooms), sum(job.demand[: place + 1])))
    for room in sorted(set(job.rooms))[:-1]:
        values = tuple(size if size > room else 0 for size in job.sizes)
        total = sum(value * count for value, count in zip(values, job.demand, strict=True))
        if total:
            rules.append(Rule(values, tuple(other if other > room else 0 for other in job.rooms), total))
    if len(job.rooms) == 1:
        rules.append(max((rounded_rule(job, least) for least in job.sizes), key=lambda rule: rule.total))
    return rules


def rounded_rule(job: Bars, least: int) -> Rule:
    """Value of one stock's pieces: their size, 0 under `least`, a whole stick when less than `least` is left (Martello and Toth's bound L2)."""
    room = job.rooms[0]
    if 2 * least > room:
        return Rule(job.sizes, job.fills, job.need)
    values = tuple(room if size > room - least else size if size >= least else 0 for size in job.sizes)
    return Rule(values, (room,), sum(value * count for value, count in zip(values, job.demand, strict=True)))
