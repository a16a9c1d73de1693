"""Does a given set of sticks hold the pieces? Depth-first, in whole numbers, by rules and by values of the pieces.

By each rule the sticks left must be worth as much as the pieces left; that prunes nearly everything. When the search
ends by itself and found nothing, the set of sticks does not hold the pieces.

Where packing and counting don't decide, linear programs give the pieces values: do they fit a set of sticks if each stick may be cut
in fractions of contents (Gilmore and Gomory 1961)? The content of greatest value is found by dynamic programming and joins the program,
until no content is worth more. Rounding in the solver can make the rule that follows weaker but never wrong, because what a stick
can be worth is worked out in whole numbers.
"""

from collections.abc import Sequence
from itertools import accumulate
from typing import TYPE_CHECKING, Any

from kit.cutting.bars import Bars, pack_set, split_count, suffix_sums
from kit.cutting.sets import Load, Rule, add_sticks, worth_of

if TYPE_CHECKING:
    import numpy as np

    Table = np.ndarray[Any, np.dtype[np.int64]]

__all__ = ["FractionalFit", "Search", "find_contents"]

SHARP = 1 << 64
"""What a piece is worth for its size is counted in this part of a unit, rounded up."""
MOST_AT_ONCE = 128
"""Contents looked at in one step of the search; a step with more of them counts for several, so that the count bounds the time."""


def find_contents(
    job: Bars, rules: Sequence[Rule], demand: Sequence[int], sticks: Sequence[int], most: int, least_left: int | None = None
) -> list[Load] | None:
    """Every content that a plan of the pieces with the given sticks can use, those first that lose the least worth; None when more than `most` are looked at.

    Full ones, which no further piece fits; with `least_left`, those that leave so much of their stick, blade included [grid units].
    """
    spares = [rule.spare(sticks, demand) for rule in rules]
    place = min(range(len(rules)), key=lambda place: spares[place] / max(1, rules[place].total))
    guide = rules[place]
    # of the pieces of size i and on: every length that they can fill, and the most that one of them is worth for its size
    sums = suffix_sums(job.spans, demand, max(job.spaces))
    steepest = [*accumulate((-(-value * SHARP // size) for value, size in zip(guide.values[::-1], job.sizes[::-1], strict=True)), max, initial=0)][::-1]
    content, looked_at = [0] * len(job.sizes), list[Load]()

    def fits_more(room: int) -> bool:
        return room >= job.sizes[-1] and any(room >= size and taken < have for size, taken, have in zip(job.sizes, content, demand, strict=True))

    def fill(stock: int, index: int, room: int, long: int, short: int) -> bool:
        """Choose how many of size `index`; `long` and `short` are the length and worth still wanted from the rest. False when there are too many."""
        if index == len(job.sizes):
            if least_left is not None or not fits_more(room):
                looked_at.append((stock, tuple(content)))
            return len(looked_at) <= most
        size, span, value = job.sizes[index], job.spans[index], guide.values[index]
        filling, worth = sums[index + 1], steepest[index + 1]
        for count in range(min(demand[index], room // size), -1, -1):
            rest, lacking, wanting = room - count * size, long - count * span, short - count * value
            if rest * worth >= wanting * SHARP and (filling & (1 << rest // job.unit + 1) - 1).bit_length() > lacking:
                content[index] = count
                if not fill(stock, index + 1, rest, lacking, wanting):
                    return False
        content[index] = 0
        return True

    for stock, count in enumerate(sticks):
        room = job.rooms[stock] - (least_left or 0)
        if count and room >= 0 and not fill(stock, 0, room, rules[0].worths[stock] - spares[0], guide.worths[stock] - spares[place]):
            return None
    for rule, most_lost in zip(rules, spares, strict=True):
        looked_at = [load for load in looked_at if rule.loss(load) <= most_lost]
    return sorted(looked_at, key=lambda load: (guide.loss(load), load))


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
        if not self.ended or (pieces, sticks) in self.failed:
            return None
        self.nodes -= 1 + len(contents) // MOST_AT_ONCE
        usable = self._usable(pieces, sticks, contents)
        index = scarcest(pieces, usable)
        for load in [load for load in usable if load[1][index]]:
            rest = tuple([have - taken for have, taken in zip(pieces, load[1], strict=True)])
            others = self._place(rest, add_sticks(sticks, load[0], -1), usable)
            if others is not None:
                return [load, *others]
            if not self.ended:
                return None
            usable.remove(load)  # no plan from here has such a stick
        self.failed.add((pieces, sticks))
        return None

    def _usable(self, pieces: tuple[int, ...], sticks: tuple[int, ...], contents: Sequence[Load]) -> list[Load]:
        """The contents cut down to the pieces left, as far as the rules allow; in the given order."""
        rules = [(rule.values, rule.worths, rule.spare(sticks, pieces)) for rule in self.rules]
        usable: dict[Load, None] = {}
        for stock, content in contents:
            if not sticks[stock]:
                continue
            cut = content
            for taken, have in zip(content, pieces, strict=True):
                if taken > have:
                    cut = tuple(map(min, content, pieces))
                    break
            if (stock, cut) in usable:
                continue
            for values, worths, spare in rules:
                if worths[stock] - worth_of(values, cut) > spare:
                    break
            else:
                usable[stock, cut] = None
        return list(usable)


def scarcest(pieces: tuple[int, ...], contents: Sequence[Load]) -> int:
    """The size still wanted that the fewest contents yield (a size that none yields comes first)."""
    return min((sum([1 for load in contents if load[1][index]]), index) for index, have in enumerate(pieces) if have)[1]


ROUNDS = 400
"""Rounds of new contents at most; remodelling jobs need three to thirty."""
WHOLE = 2.0**60
"""What all pieces together are worth at most in whole numbers: all that 64 bits hold with room to spare."""
INFINITE = 1e30


def value_tables(job: Bars, values: Sequence[int]) -> list["Table"]:
    """Table i, shape (longest space + 1,), int64: best value of pieces of size i and on in each space, within demand. The last one is all zeros."""
    import numpy as np

    space = max(job.spaces)
    tables = [np.zeros(space + 1, dtype=np.int64)]
    for index in range(len(job.sizes) - 1, -1, -1):
        table, span = tables[-1], job.spans[index]
        if values[index] > 0:
            table = table.copy() if span else table + values[index] * job.demand[index]
            for part in split_count(min(job.demand[index], space // span) if span else 0):
                np.maximum(table[span * part :], table[: -span * part] + values[index] * part, out=table[span * part :])
        tables.append(table)
    return tables[::-1]


def best_content(job: Bars, values: Sequence[int], tables: Sequence["Table"], space: int) -> tuple[int, ...]:
    """The content of greatest value in `space`, read back from the tables."""
    content = []
    for index, span in enumerate(job.spans):
        taken, value = 0, int(tables[index][space])
        while values[index] and value != int(tables[index + 1][space]) + taken * values[index]:
            taken += 1
            space -= span
        content.append(taken)
    return tuple(content)


class FractionalFit:
    """The linear program of what finds no place: least length of pieces that are not cut from the given sticks."""

    def __init__(self, job: Bars) -> None:
        import highspy

        self.job, self.known = job, dict[Load, None]()
        self.solver = highspy.Highs()  # type: ignore[no-untyped-call]
        self.solver.setOptionValue("output_flag", False)  # noqa: FBT003
        self.solver.setOptionValue("presolve", "off")
        for _ in job.sizes:
            self.solver.addRow(0.0, INFINITE, 0, [], [])
        for _ in job.rooms:
            self.solver.addRow(-INFINITE, 0.0, 0, [], [])
        for index, size in enumerate(job.sizes):
            self.solver.addCol(size / max(job.rooms), 0.0, INFINITE, 1, [index], [1.0])
        for stock, room in enumerate(job.rooms):
            for index, size in enumerate(job.sizes):
                most = min(room // size, job.demand[index])
                self.add(stock, tuple(most if other == index else 0 for other in range(len(job.sizes))))

    def add(self, stock: int, content: tuple[int, ...]) -> bool:
        """Add a content as a column; whether it was new and fits."""
        if (stock, content) in self.known or not any(content) or self.job.weight(content) > self.job.rooms[stock]:
            return False
        rows = [index for index, count in enumerate(content) if count]
        self.solver.addCol(0.0, 0.0, INFINITE, len(rows) + 1, [*rows, len(content) + stock], [*(float(content[index]) for index in rows), 1.0])
        self.known[stock, content] = None
        return True

    def settle(self, demand: Sequence[int], sticks: Sequence[int], rounds: int = ROUNDS) -> Rule | None:
        """Improve until the rule bars the sticks or no content is worth more: the last rule, of all the job's pieces; None without a solution."""
        for index, count in enumerate(demand):
            self.solver.changeRowBounds(index, float(count), INFINITE)
        for stock, count in enumerate(sticks):
            self.solver.changeRowBounds(len(demand) + stock, -INFINITE, float(count))
        rule, grown = None, True
        while grown and rounds and (rule is None or rule.spare(sticks, demand) >= 0):
            rule, grown = self._improve(demand, sticks)
            rounds -= 1
        return rule

    def _improve(self, demand: Sequence[int], sticks: Sequence[int]) -> tuple[Rule | None, bool]:
        import highspy

        self.solver.run()
        if self.solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            return None, False
        job, grown = self.job, False
        duals = list(self.solver.getSolution().row_dual)
        worth = [max(0.0, dual) if count else 0.0 for dual, count in zip(duals, demand, strict=False)]
        scale = WHOLE / max(1.0, sum(value * count for value, count in zip(worth, job.demand, strict=True)))
        values = [int(value * scale) for value in worth]
        tables = value_tables(job, values)
        rule = Rule(tuple(values), tuple(int(tables[0][space]) for space in job.spaces), worth_of(values, job.demand))
        for stock, space in enumerate(job.spaces):
            if sticks[stock] and rule.worths[stock] / scale > max(0.0, -duals[len(demand) + stock]) * (1 + 1e-9) + 1e-7:
                grown = self.add(stock, best_content(job, values, tables, space)) or grown
        return rule, grown

    def used(self) -> list[tuple[float, Load]]:
        """Contents that the last solution cuts, with how many of each, most first."""
        amounts = list(self.solver.getSolution().col_value)[len(self.job.sizes) :]
        return sorted(((amount, load) for load, amount in zip(self.known, amounts, strict=False) if amount > 1e-9), key=lambda pair: (-pair[0], pair[1]))

    def round_to_plan(self, demand: Sequence[int], sticks: Sequence[int]) -> list[Load] | None:
        """A plan from whole parts of the fractions (at least one stick of the most used content), the rest packed or solved again; None when it fails."""
        fixed, pieces, left = list[Load](), list(demand), list(sticks)
        while any(pieces):
            before = len(fixed)
            for amount, (stock, content) in self.used():
                cut = tuple(map(min, content, pieces))
                if any(cut):
                    most = min(left[stock], *(have // count for have, count in zip(pieces, cut, strict=True) if count))
                    count = min(most, max(int(amount + 1e-6), 0 if len(fixed) > before else 1))
                    fixed += [(stock, cut)] * count
                    left[stock] -= count
                    pieces = [have - count * one for have, one in zip(pieces, cut, strict=True)]
            rest = pack_set(self.job, pieces, left)
            if rest is not None or len(fixed) == before:
                return None if rest is None else fixed + rest
            if self.settle(pieces, left, 1) is None:
                return None
        return fixed
