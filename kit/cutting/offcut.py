"""Among the cheapest plans with the fewest bought sticks, one that leaves a longer usable offcut.

One bought stick is cut first, with as little as possible, and the others must still hold the other pieces. Contents
are tried from the longest offcut down; when all before the first success are refuted, no plan leaves a longer one.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from kit.cutting.bars import Bars, Load
from kit.cutting.certificate import make_rule, value_tables
from kit.cutting.columns import Program
from kit.cutting.contents import one_less, spare_of
from kit.cutting.fill import Effort, fill_set
from kit.cutting.prove import Proven
from kit.cutting.sets import Rule, cheapest_sets

__all__ = ["lengthen_offcut"]

TRIES = 30
"""Contents tried to be cut from the long-offcut stick."""
MOST_STEPS = 4000
"""Steps in which contents are listed."""
NODES = 300
"""Search nodes for one content."""


@dataclass(frozen=True, slots=True)
class Offer:
    """A content of a bought stick, what it leaves [fine grid units], and the sticks left of its set."""

    left: int
    stock: int
    content: tuple[int, ...]
    others: tuple[int, ...]


def lengthen_offcut(state: Proven, least: int) -> tuple[list[Load], bool]:
    """A plan of the same cost with a longer offcut from a bought stick, as far as a short search finds one.

    Parameters
    ----------
    state
        The proven plan.
    least
        Shortest offcut that counts as usable, blade included [fine grid units].

    Returns
    -------
    The plan (maybe the one given), and whether no plan of its cost leaves a longer usable offcut.
    """
    job = state.job
    best = max((job.left(stock, content) for stock, content in state.loads if job.costs[stock]), default=None)
    if best is None:
        return state.loads, True
    lister = Lister(job, state.rules, max(best + 1, least))
    alike = cheapest_sets(job, state.rules, state.cost, state.cost, 1)
    for _, sticks in alike.sets:
        lister.list_for(sticks)
    offers = sorted(lister.found, key=lambda offer: (-offer.left, offer.stock, offer.content))
    return try_offers(state, offers, listed=alike.complete and lister.steps > 0)


def try_offers(state: Proven, offers: list[Offer], *, listed: bool) -> tuple[list[Load], bool]:
    """Try contents in turn; a rule that refutes one is tried on the rest first."""
    rules = list(state.rules)
    program = state.fit or Program(state.job, state.loads, fit=True) if offers else None
    tries, refuted = 0, listed
    for offer in offers:
        rest = replace(state.job, demand=tuple(have - taken for have, taken in zip(state.job.demand, offer.content, strict=True)))
        if any(spare_of(rule, offer.others, rest.demand) < 0 for rule in rules):
            continue
        tries += 1
        if tries > TRIES or state.late() or program is None:
            return state.loads, False
        part_rules = [replace(rule, total=sum(value * count for value, count in zip(rule.values, rest.demand, strict=True))) for rule in rules]
        filled = fill_set(rest, part_rules, program, offer.others, Effort(NODES, state.late, state.deadline, solver=False))
        if filled.loads is not None:
            return [(offer.stock, offer.content), *filled.loads], refuted
        refuted = refuted and filled.refuted
        if filled.rule is not None:
            rules.append(make_rule(state.job, filled.rule.values, value_tables(state.job, filled.rule.values)))
    return state.loads, refuted


class Lister:
    """Lists contents of a bought stick that leave at least `least` and that no rule speaks against."""

    def __init__(self, job: Bars, rules: Sequence[Rule], least: int) -> None:
        self.job, self.rules, self.least = job, rules, least
        self.found: list[Offer] = []
        self.steps = MOST_STEPS

    def list_for(self, sticks: tuple[int, ...]) -> None:
        """Add the contents for each bought stock of one set."""
        for stock, cost in enumerate(self.job.costs):
            if cost and sticks[stock]:
                others = one_less(sticks, stock)
                wanted = [-spare_of(rule, others, self.job.demand) for rule in self.rules]
                for content in self._contents(stock, wanted):
                    self.found.append(Offer(self.job.left(stock, content), stock, content, others))

    def _contents(self, stock: int, wanted: list[int]) -> Iterator[tuple[int, ...]]:
        """Contents of one stick worth at least what each rule wants, that leave `least` or more."""
        guide = max(range(len(wanted)), key=lambda place: wanted[place] / max(1, self.rules[place].total))
        values, sizes = self.rules[guide].values, self.job.sizes
        densities = [max(value / size for value, size in zip(values[place:], sizes[place:], strict=True)) for place in range(len(sizes))]
        content = [0] * len(sizes)

        def fill(place: int, room: int, short: int) -> Iterator[tuple[int, ...]]:
            self.steps -= 1
            if place == len(sizes):
                if any(content) and self._meets(content, wanted):
                    yield tuple(content)
                return
            following = densities[place + 1] if place + 1 < len(sizes) else 0.0
            for count in range(min(self.job.demand[place], room // sizes[place]), -1, -1):
                rest, still = room - count * sizes[place], short - count * values[place]
                if self.steps > 0 and rest * following * (1 + 1e-9) >= still:
                    content[place] = count
                    yield from fill(place + 1, rest, still)
            content[place] = 0

        yield from fill(0, self.job.most_leaving(stock, self.least), wanted[guide])

    def _meets(self, content: list[int], wanted: list[int]) -> bool:
        return all(
            sum([value * count for value, count in zip(rule.values, content, strict=True)]) >= least for rule, least in zip(self.rules, wanted, strict=True)
        )
