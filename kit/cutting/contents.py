"""Every stick content that a given set of sticks can use."""

from collections.abc import Sequence

from kit.cutting.bars import Bars, Load
from kit.cutting.certificate import value_tables
from kit.cutting.sets import Rule

__all__ = ["find_contents", "one_less", "spare_of"]


def one_less(sticks: tuple[int, ...], stock: int) -> tuple[int, ...]:
    """The sticks left when one of a stock is cut."""
    return (*sticks[:stock], sticks[stock] - 1, *sticks[stock + 1 :])


def spare_of(rule: Rule, counts: Sequence[int], pieces: Sequence[int]) -> int:
    """What a set of sticks can be worth beyond the pieces, by one rule; a stick that is worth less than it can be eats into it."""
    held = sum([worth * count for worth, count in zip(rule.worths, counts, strict=True)])
    return held - sum([value * count for value, count in zip(rule.values, pieces, strict=True)])


def find_contents(job: Bars, rules: Sequence[Rule], counts: Sequence[int], most: int) -> list[Load] | None:
    """Every full content that a plan with the given sticks can use.

    Parameters
    ----------
    job, rules
        The cutting job and its rules.
    counts
        Sticks of each stock in the set.
    most
        Give up beyond so many.

    Returns
    -------
    Contents, those first that lose the least worth; None when there are more than `most`. Full means that no further piece fits.
    """
    spares = [spare_of(rule, counts, job.demand) for rule in rules]
    guide = min(range(len(rules)), key=lambda place: spares[place] / max(1, rules[place].total))
    finder = Finder(job, rules, spares, guide, most)
    stocks = [stock for stock, count in enumerate(counts) if count]
    return finder.ranked() if all(finder.search(stock) for stock in stocks) else None


class Finder:
    """Depth-first through the sizes; the value tables of one rule tell which branches lose too much."""

    def __init__(self, job: Bars, rules: Sequence[Rule], spares: Sequence[int], guide: int, most: int) -> None:
        self.job, self.rules, self.spares, self.most = job, rules, spares, most
        self.guide, self.spare = rules[guide], spares[guide]
        self.tables = [table.tolist() for table in value_tables(job, self.guide.values)]
        self.content = [0] * len(job.sizes)
        self.found: list[Load] = []
        self.stock = 0

    def search(self, stock: int) -> bool:
        """Find the contents of one stock; False when there are too many."""
        self.stock = stock
        return self._fill(0, self.job.rooms[stock], self.guide.worths[stock] - self.spare)

    def ranked(self) -> list[Load]:
        """Contents found, the least loss of worth first."""
        return sorted(self.found, key=lambda load: (self._loss(self.guide, *load), load))

    def _loss(self, rule: Rule, stock: int, content: Sequence[int]) -> int:
        return rule.worths[stock] - sum([value * count for value, count in zip(rule.values, content, strict=True)])

    def _fill(self, index: int, room: int, short: int) -> bool:
        """Choose how many of size `index`; `short` is the worth still wanted from the rest."""
        job, content = self.job, self.content
        if index == len(job.sizes):
            losses = (self._loss(rule, self.stock, content) <= spare for rule, spare in zip(self.rules, self.spares, strict=True))
            if not self._takes_more(room) and all(losses):
                self.found.append((self.stock, tuple(content)))
            return len(self.found) <= self.most
        size, value, following = job.sizes[index], self.guide.values[index], self.tables[index + 1]
        for count in range(min(job.demand[index], room // size), -1, -1):
            rest = room - count * size
            if following[rest] >= short - count * value:
                content[index] = count
                if not self._fill(index + 1, rest, short - count * value):
                    return False
        content[index] = 0
        return True

    def _takes_more(self, room: int) -> bool:
        """Whether a further piece would fit."""
        job = self.job
        return room >= job.sizes[-1] and any(room >= size and taken < have for size, taken, have in zip(job.sizes, self.content, job.demand, strict=True))
