"""Depth-first search for a plan with a given set of sticks, in whole numbers.

By each rule the sticks left must be worth as much as the pieces left; that prunes nearly everything. When the search
ends by itself and found nothing, the set of sticks does not hold the pieces.
"""

from collections.abc import Callable, Sequence

from kit.cutting.bars import Bars, Load
from kit.cutting.contents import one_less, spare_of
from kit.cutting.sets import Rule

__all__ = ["Search"]


class Search:
    """Looks for plans made of the given contents; `nodes` counts down over all calls."""

    def __init__(self, job: Bars, rules: Sequence[Rule], contents: Sequence[Load], nodes: int, late: Callable[[], bool]) -> None:
        self.job, self.rules, self.contents = job, rules, contents
        self.nodes, self.late = nodes, late
        self.failed: set[tuple[tuple[int, ...], tuple[int, ...]]] = set()
        self.chosen: list[Load] = []

    @property
    def cut_short(self) -> bool:
        """Whether the node or time limit ended the search, so that finding nothing proves nothing."""
        return self.nodes < 0

    def find(self, pieces: tuple[int, ...], sticks: tuple[int, ...]) -> list[Load] | None:
        """A plan that cuts exactly these pieces from these sticks; None when not found (see `cut_short`)."""
        self.chosen = []
        return list(self.chosen) if self._place(pieces, sticks, self.contents) else None

    def _place(self, pieces: tuple[int, ...], sticks: tuple[int, ...], contents: Sequence[Load]) -> bool:
        if not any(pieces):
            return True
        if self.nodes < 0 or (pieces, sticks) in self.failed:
            return False
        self.nodes -= 1
        if self.nodes % 128 == 0 and self.late():
            self.nodes = -1
        usable = self._usable(pieces, sticks, contents)
        index = scarcest(pieces, usable)
        for load in [load for load in usable if load[1][index]]:
            stock, content = load
            self.chosen.append(load)
            rest = tuple([have - taken for have, taken in zip(pieces, content, strict=True)])
            if self._place(rest, one_less(sticks, stock), usable):
                return True
            self.chosen.pop()
            if self.nodes < 0:
                return False
            usable.remove(load)  # no plan from here has such a stick
        self.failed.add((pieces, sticks))
        return False

    def _usable(self, pieces: tuple[int, ...], sticks: tuple[int, ...], contents: Sequence[Load]) -> list[Load]:
        """The contents cut down to the pieces left, as far as the rules allow; in the given order."""
        rules = [(rule.values, rule.worths, spare_of(rule, sticks, pieces)) for rule in self.rules]
        kept: dict[Load, None] = {}
        for stock, content in contents:
            if not sticks[stock]:
                continue
            cut = content
            for taken, have in zip(content, pieces, strict=True):
                if taken > have:
                    cut = tuple(map(min, content, pieces))
                    break
            if (stock, cut) in kept:
                continue
            for values, worths, spare in rules:
                if worths[stock] - sum([value * count for value, count in zip(values, cut, strict=True)]) > spare:
                    break
            else:
                kept[stock, cut] = None
        return list(kept)


def scarcest(pieces: tuple[int, ...], contents: Sequence[Load]) -> int:
    """The size still wanted that the fewest contents yield (a size that none yields comes first)."""
    return min((sum([1 for load in contents if load[1][index]]), index) for index, have in enumerate(pieces) if have)[1]
