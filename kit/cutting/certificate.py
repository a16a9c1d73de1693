"""What a stick's content can be worth, in whole numbers: tables, best contents and the rules that follow."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from kit.cutting.bars import Bars, split_count
from kit.cutting.sets import Rule

if TYPE_CHECKING:
    import numpy as np

    Table = np.ndarray[Any, np.dtype[np.int64]]

__all__ = ["best_content", "make_rule", "value_tables"]


def value_tables(job: Bars, values: Sequence[int]) -> list["Table"]:
    """Tables of the best value that fits each room.

    Parameters
    ----------
    job
        The cutting job.
    values
        Value of one piece of each size, 0 or more; the best value must stay under 2^62.

    Returns
    -------
    Table i, shape (longest room + 1,), int64: best value of pieces of size i and on, within demand. The last one is all zeros.
    """
    import numpy as np

    room = max(job.rooms)
    tables = [np.zeros(room + 1, dtype=np.int64)]
    for index in range(len(job.sizes) - 1, -1, -1):
        table, size = tables[-1], job.sizes[index]
        if values[index] > 0:
            table = table.copy()
            for part in split_count(min(job.demand[index], room // size)):
                np.maximum(table[size * part :], table[: -size * part] + values[index] * part, out=table[size * part :])
        tables.append(table)
    return tables[::-1]


def best_content(job: Bars, values: Sequence[int], tables: Sequence["Table"], room: int) -> tuple[int, ...]:
    """The content of greatest value in `room`, read back from the tables."""
    content = []
    for index, size in enumerate(job.sizes):
        taken, value = 0, int(tables[index][room])
        while values[index] and value != int(tables[index + 1][room]) + taken * values[index]:
            taken += 1
            room -= size
        content.append(taken)
    return tuple(content)


def make_rule(job: Bars, values: Sequence[int], tables: Sequence["Table"]) -> Rule:
    """The rule that piece values make."""
    worths = tuple(int(tables[0][room]) for room in job.rooms)
    return Rule(tuple(values), worths, sum(value * count for value, count in zip(values, job.demand, strict=True)))
