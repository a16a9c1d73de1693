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

__all__ = ["Load", "Rule", "add_sticks", "cheapest_sets", "worth_of"]

Load = tuple[int, tuple[int, ...]]
"""One stick or slab: index of its stock, and how many pieces of each kind it yields."""
SET_STEPS = 80_000
"""Steps in which sets are listed; only jobs with a great many priced offcuts need more."""
NEVER = 1 << 400
"""More than any set costs."""


def worth_of(values: Sequence[int], counts: Sequence[int]) -> int:
    """Sum of values, each as often as it is counted."""
    return sum(map(mul, values, counts))


def add_sticks(counts: tuple[int, ...], stock: int, more: int) -> tuple[int, ...]:
    """The counts with more of one stock, or fewer."""
    return (*counts[:stock], counts[stock] + more, *counts[stock + 1 :])


@dataclass(frozen=True, slots=True)
class Rule:
    """What all pieces are worth, and what the contents of one of each stock are worth at most, for some piece values."""

    values: tuple[int, ...]
    worths: tuple[int, ...]
    total: int

    def spare(self, sticks: Sequence[int], pieces: Sequence[int]) -> int:
        """What a set of sticks can be worth beyond some pieces; below 0 it doesn't hold them."""
        return worth_of(self.worths, sticks) - worth_of(self.values, pieces)

    def loss(self, load: Load) -> int:
        """What a stick could be worth beyond what it holds."""
        return self.worths[load[0]] - worth_of(self.values, load[1])


class Guide:
    """What a set must still cost by one rule, where any part of a stick may be bought; sets grow by the stocks of an order, from a place on."""

    def __init__(self, rule: Rule, costs: Sequence[int], supply: Sequence[int], order: Sequence[int]) -> None:
        self.rule = rule
        useful = [(Fraction(costs[stock], rule.worths[stock]), place, stock) for place, stock in enumerate(order) if rule.worths[stock]]
        self.offers = [(place, stock, costs[stock], rule.worths[stock], supply[stock]) for _, place, stock in sorted(useful)]

    def need(self, counts: Sequence[int]) -> int:
        """What the pieces are worth beyond what the sticks counted can be."""
        return self.rule.total - worth_of(self.rule.worths, counts)

    def least(self, place: int, spent: int, counts: Sequence[int]) -> int:
        """A bound on the cost of what the counts grow to; `NEVER` when they can't hold the pieces."""
        need = self.need(counts)
        if need <= 0:
            return spent
        for at, stock, cost, worth, supply in self.offers:
            if at >= place:
                most = supply - counts[stock]
                if worth * most >= need:
                    return spent - (-need * cost // worth)
                need, spent = need - worth * most, spent + most * cost
        return NEVER


def cheapest_sets(costs: tuple[int, ...], supply: tuple[int, ...], rules: Sequence[Rule]) -> Iterator[tuple[int, tuple[int, ...] | None]]:
    """Sets that meet the rules in the order of their cost, free sticks in each: cost and count of each stock; a bound and None when the steps ran out.

    `costs` are those of one of each stock, as `Prices` counts them, `supply` how many there are. Rules, one or more, may be added while sets are taken.
    """
    priced = (stock for stock, cost in enumerate(costs) if cost)
    order = sorted(priced, key=lambda stock: (-Fraction(costs[stock], rules[0].worths[stock] or 1), stock))  # the best for its price comes last
    guides = [Guide(rule, costs, supply, order) for rule in rules]
    free = tuple(0 if cost else most for cost, most in zip(costs, supply, strict=True))
    waiting = [(0, 0, 0, free)]  # bound, minus the place in the order, cost so far, counts
    for _ in range(SET_STEPS):
        if not waiting:
            return
        bound, place, spent, counts = heappop(waiting)
        least = bound
        for guide in guides:
            least = guide.least(-place, spent, counts)
            if least > bound:
                break
        if least > bound:
            if least < NEVER:
                heappush(waiting, (least, place, spent, counts))
            continue
        if spent == bound:
            yield bound, counts
            guides += [Guide(rule, costs, supply, order) for rule in rules[len(guides) :]]
        for at in range(-place, len(order)):
            stock = order[at]
            more = 1 if at < len(order) - 1 else max(1, *(-(-guide.need(counts) // max(1, guide.rule.worths[stock])) for guide in guides))
            if counts[stock] + more <= supply[stock]:
                heappush(waiting, (bound, -at, spent + more * costs[stock], add_sticks(counts, stock, more)))
    yield waiting[0][0] if waiting else NEVER, None
