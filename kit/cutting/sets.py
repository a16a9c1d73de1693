"""Which sticks or slabs to buy: sets of them in the order of their cost, and the rules that bar those which can't hold the pieces.

Give each piece a value. A set of sticks whose contents can't be worth as much as all pieces together does not hold
them: that is a rule, and it holds for whatever values. The cheapest set that meets all rules known is a bound on
every plan. Everything is worked out in whole numbers.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from heapq import heappop, heappush
from operator import mul
from typing import Protocol

__all__ = ["Load", "Rule", "add_sticks", "cheapest_sets", "worth_of"]

Load = tuple[int, tuple[int, ...]]
"""One stick or slab: index of its stock, and how many pieces of each kind it yields."""
SET_STEPS = 40_000
"""Steps in which sets are listed; only jobs with a great many priced offcuts need more."""


class OnSale(Protocol):
    """What a job has on sale: the cost of one of each stock, and how many there are."""

    @property
    def costs(self) -> tuple[int, ...]:
        """Cost of one, as `Prices` counts it."""

    @property
    def supply(self) -> tuple[int, ...]:
        """How many there are."""


def worth_of(values: Sequence[int], counts: Sequence[int]) -> int:
    """Sum of values, each as often as it is counted."""
    return sum(map(mul, values, counts))


@dataclass(frozen=True, slots=True)
class Rule:
    """What all pieces are worth, and what the contents of one of each stock are worth at most, for some piece values."""

    values: tuple[int, ...]
    worths: tuple[int, ...]
    total: int

    def spare(self, sticks: Sequence[int], pieces: Sequence[int]) -> int:
        """What a set of sticks can be worth beyond some pieces; below 0 it doesn't hold them."""
        return worth_of(self.worths, sticks) - worth_of(self.values, pieces)

    def allows(self, sticks: Sequence[int]) -> bool:
        """Whether a set of sticks can be worth as much as all pieces."""
        return worth_of(self.worths, sticks) >= self.total


def cheapest_sets(job: OnSale, rules: Sequence[Rule]) -> Iterator[tuple[int, tuple[int, ...] | None]]:
    """Sets that meet the rules in the order of their cost, free sticks in each.

    Parameters
    ----------
    job, rules
        What is on sale, and one rule or more; rules may be added while sets are taken.

    Yields
    ------
    Cost of a set and its count of each stock; a bound and None when the steps ran out.
    """
    queue = SetQueue(job, rules)
    for _ in range(SET_STEPS):
        queue.learn()
        if not queue.waiting:
            return
        spent, counts, whole = queue.take()
        if whole and all(rule.allows(counts) for rule in rules):
            yield spent, counts
    yield queue.waiting[0][0] if queue.waiting else NEVER, None


class SetQueue:
    """Sets that wait to be whole, by what they must cost at least; the stock that is the best for its price comes last in the order."""

    def __init__(self, job: OnSale, rules: Sequence[Rule]) -> None:
        self.job, self.rules, self.known = job, rules, 0
        self.free = tuple(0 if cost else supply for cost, supply in zip(job.costs, job.supply, strict=True))
        priced = (stock for stock, cost in enumerate(job.costs) if cost)
        self.order = sorted(priced, key=lambda stock: (-Fraction(job.costs[stock], rules[0].worths[stock] or 1), stock))
        self.last = len(self.order) - 1
        self.waiting: list[tuple[int, int, int, tuple[int, ...]]] = [(0, 0, 0, self.free)]  # bound, minus the place, cost so far, counts

    def take(self) -> tuple[int, tuple[int, ...], bool]:
        """Cost so far and counts of the next set, and whether it is whole; what it grows to waits."""
        _, place, spent, counts = heappop(self.waiting)
        place = -place
        for more in range(place, max(place + 1, self.last)) if self.order else ():
            stock = self.order[more]
            if counts[stock] < self.job.supply[stock]:
                self._wait(more, spent + self.job.costs[stock], add_sticks(counts, stock, 1))
        if place < self.last:
            self._wait(self.last, spent, counts)
        return spent, counts, place >= self.last

    def learn(self) -> None:
        """Be guided by the rule that asks for most, when there are new ones."""
        if len(self.rules) == self.known:
            return
        self.known = len(self.rules)
        self.guide = max((Guide(self.job, rule, self.order) for rule in self.rules), key=lambda guide: guide.least(0, 0, self.free))
        begun, self.waiting = self.waiting, []
        for _, place, spent, counts in begun:
            self._wait(-place, spent, counts)

    def _wait(self, place: int, spent: int, counts: tuple[int, ...]) -> None:
        """Keep a set that grows by stocks from a place on; of the last stock at once by as many as the guide asks for."""
        if place == self.last:
            stock = self.order[place]
            more = self.guide.count_last(counts)
            spent, counts = spent + more * self.job.costs[stock], add_sticks(counts, stock, more)
            if counts[stock] > self.job.supply[stock]:
                return
        bound = self.guide.least(place, spent, counts)
        if bound < NEVER:
            heappush(self.waiting, (bound, -place, spent, counts))


NEVER = 1 << 400


def add_sticks(counts: tuple[int, ...], stock: int, more: int) -> tuple[int, ...]:
    """The counts with more of one stock, or fewer."""
    return (*counts[:stock], counts[stock] + more, *counts[stock + 1 :])


class Guide:
    """What a set must still cost by one rule, where any part of a stick may be bought."""

    def __init__(self, job: OnSale, rule: Rule, order: Sequence[int]) -> None:
        self.rule, self.last = rule, order[-1] if order else 0
        worthy = [(Fraction(job.costs[stock], rule.worths[stock]), place, stock) for place, stock in enumerate(order) if rule.worths[stock]]
        offers = [(place, (stock, job.costs[stock], rule.worths[stock], job.supply[stock])) for _, place, stock in sorted(worthy)]
        self.offers = [[offer for at, offer in offers if at >= place] for place in range(len(order) or 1)]

    def need(self, counts: Sequence[int]) -> int:
        """What the pieces are worth beyond what the sticks counted can be."""
        return self.rule.total - worth_of(self.rule.worths, counts)

    def count_last(self, counts: Sequence[int]) -> int:
        """How many more of the last stock hold the need."""
        return -(-max(0, self.need(counts)) // max(1, self.rule.worths[self.last]))

    def least(self, place: int, spent: int, counts: Sequence[int]) -> int:
        """A bound on the cost of what the counts grow to by stocks of the order from a place on; `NEVER` when they can't hold the pieces."""
        need = self.need(counts)
        if need <= 0:
            return spent
        for stock, cost, worth, supply in self.offers[place]:
            most = supply - counts[stock]
            if worth * most >= need:
                return spent + -(-need * cost // worth)
            need, spent = need - worth * most, spent + most * cost
        return NEVER
