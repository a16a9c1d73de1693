"""Does a given set of sticks hold the pieces? Depth-first, in whole numbers.

By each rule the sticks left must be worth as much as the pieces left; that prunes nearly everything. When the search
ends by itself and found nothing, the set of sticks does not hold the pieces.
"""

from collections.abc import Sequence

from kit.cutting.bars import Bars
from kit.cutting.sets import Load, Rule, add_sticks, worth_of
from kit.cutting.values import value_tables

__all__ = ["Search", "find_contents"]

MOST_AT_ONCE = 128
"""Contents looked at in one step of the search; a step with more of them counts for several, so that the count bounds the time."""


def find_contents(
    job: Bars, rules: Sequence[Rule], demand: Sequence[int], sticks: Sequence[int], most: int, least_left: int | None = None
) -> list[Load] | None:
    """Every content that a plan of the pieces with the given sticks can use: full ones, or those that leave much.

    Parameters
    ----------
    job, rules
        The cutting job and its rules.
    demand, sticks
        Pieces of each size and sticks of each stock.
    most
        Give up beyond so many.
    least_left
        What a content must leave of its stick, blade included [grid units]; None asks for contents that no further piece fits.

    Returns
    -------
    Contents, those first that lose the least worth; None when there are more than `most`.
    """
    spares = [rule.spare(sticks, demand) for rule in rules]
    place = min(range(len(rules)), key=lambda place: spares[place] / max(1, rules[place].total))
    guide, spare = rules[place], spares[place]
    tables = [table.tolist() for table in value_tables(job, guide.values)]
    content, found = [0] * len(job.sizes), list[Load]()

    def fits_more(room: int) -> bool:
        return room >= job.sizes[-1] and any(room >= size and taken < have for size, taken, have in zip(job.sizes, content, demand, strict=True))

    def fill(stock: int, index: int, room: int, short: int) -> bool:
        """Choose how many of size `index`; `short` is the worth still wanted from the rest. False when there are too many."""
        if index == len(job.sizes):
            wanted = least_left is not None or not fits_more(room)
            if wanted and all(rule.worths[stock] - worth_of(rule.values, content) <= spare for rule, spare in zip(rules, spares, strict=True)):
                found.append((stock, tuple(content)))
            return len(found) <= most
        size, value, following = job.sizes[index], guide.values[index], tables[index + 1]
        for count in range(min(demand[index], room // size), -1, -1):
            rest = room - count * size
            if following[rest // job.unit] >= short - count * value:
                content[index] = count
                if not fill(stock, index + 1, rest, short - count * value):
                    return False
        content[index] = 0
        return True

    for stock, count in enumerate(sticks):
        room = job.rooms[stock] - (least_left or 0)
        if count and room >= 0 and not fill(stock, 0, room, guide.worths[stock] - spare):
            return None
    return sorted(found, key=lambda load: (guide.worths[load[0]] - worth_of(guide.values, load[1]), load))


class Search:
    """Looks for a plan made of the given contents; `ended` says whether finding none proves that there is none."""

    def __init__(self, rules: Sequence[Rule], contents: Sequence[Load], nodes: int) -> None:
        self.rules, self.contents, self.nodes = rules, contents, nodes
        self.failed: set[tuple[tuple[int, ...], tuple[int, ...]]] = set()

    @property
    def ended(self) -> bool:
        """Whether the search came to its end within its nodes."""
        return self.nodes >= 0

    def find(self, pieces: tuple[int, ...], sticks: tuple[int, ...]) -> list[Load] | None:
        """A plan that cuts exactly these pieces from these sticks."""
        return self._place(pieces, sticks, self.contents)

    def _place(self, pieces: tuple[int, ...], sticks: tuple[int, ...], contents: Sequence[Load]) -> list[Load] | None:
        if not any(pieces):
            return []
        if self.nodes < 0 or (pieces, sticks) in self.failed:
            return None
        self.nodes -= 1 + len(contents) // MOST_AT_ONCE
        usable = self._usable(pieces, sticks, contents)
        index = scarcest(pieces, usable)
        for load in [load for load in usable if load[1][index]]:
            rest = tuple([have - taken for have, taken in zip(pieces, load[1], strict=True)])
            found = self._place(rest, add_sticks(sticks, load[0], -1), usable)
            if found is not None:
                return [load, *found]
            if self.nodes < 0:
                return None
            usable.remove(load)  # no plan from here has such a stick
        self.failed.add((pieces, sticks))
        return None

    def _usable(self, pieces: tuple[int, ...], sticks: tuple[int, ...], contents: Sequence[Load]) -> list[Load]:
        """The contents cut down to the pieces left, as far as the rules allow; in the given order."""
        rules = [(rule.values, rule.worths, rule.spare(sticks, pieces)) for rule in self.rules]
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
                if worths[stock] - worth_of(values, cut) > spare:
                    break
            else:
                kept[stock, cut] = None
        return list(kept)


def scarcest(pieces: tuple[int, ...], contents: Sequence[Load]) -> int:
    """The size still wanted that the fewest contents yield (a size that none yields comes first)."""
    return min((sum([1 for load in contents if load[1][index]]), index) for index, have in enumerate(pieces) if have)[1]
