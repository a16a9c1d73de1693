"""Where packing and counting don't decide: linear programs that give the pieces values.

Do the pieces fit a set of sticks if each stick may be cut in fractions of contents (Gilmore and Gomory 1961)? The answer
gives each piece a value; the content of greatest value is found by dynamic programming and joins the program, until no
content is worth more. Rounding in the solver can make the rule that follows weaker but never wrong, because what a stick
can be worth is worked out in whole numbers.
"""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from kit.cutting.bars import Bars, pack_set, split_count
from kit.cutting.sets import Load, Rule, worth_of

if TYPE_CHECKING:
    import numpy as np

    Table = np.ndarray[Any, np.dtype[np.int64]]

__all__ = ["FractionalFit", "value_tables"]

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
