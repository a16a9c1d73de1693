"""Where do labels go so that none touches another? Tiers for dimensions, a column for names; plain geometry."""

from collections.abc import Sequence

__all__ = ["Box", "overlaps", "pack_tiers", "spread_column"]

Box = tuple[float, float, float, float]
"""Left, upper, right, lower edge [px]."""


def overlaps(one: Box, other: Box) -> bool:
    """Whether two boxes share more than an edge."""
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def pack_tiers(spans: Sequence[tuple[float, float]], lengths: Sequence[float], gap: float) -> tuple[int, ...]:
    """The tier of each span, 0 nearest the drawing: short ones first, so that long dimensions stand outside.

    Parameters
    ----------
    spans
        From and to of each [px].
    lengths
        What is dimensioned, without the room of its words; the order in which tiers are filled [px].
    gap
        Air wanted between two spans of one tier [px].
    """
    tiers: list[list[tuple[float, float]]] = []
    given = [0] * len(spans)
    for number in sorted(range(len(spans)), key=lambda n: (round(lengths[n], 3), n)):
        low, high = spans[number]
        free = (n for n, tier in enumerate(tiers) if all(high + gap <= first or last + gap <= low for first, last in tier))
        place = next(free, len(tiers))
        if place == len(tiers):
            tiers.append([])
        tiers[place].append((low, high))
        given[number] = place
    return tuple(given)


def spread_column(wanted: Sequence[float], heights: Sequence[float]) -> tuple[float, ...]:
    """Centres of labels in a column, in the given order, none touching the next, each as near its wish as can be.

    Parameters
    ----------
    wanted
        Wished centres [px], ascending.
    heights
        Height of each label, its air included [px].

    Notes
    -----
    Least sum of squared moves: labels that would touch form a block, which stands where its mean move is zero.
    """
    blocks: list[tuple[float, float, list[int]]] = []  # sum of wishes for the block's upper edge, height, labels
    for number, (wish, height) in enumerate(zip(wanted, heights, strict=True)):
        total, tall, mine = wish - height / 2.0, height, [number]
        while blocks and blocks[-1][0] / len(blocks[-1][2]) + blocks[-1][1] > total / len(mine):
            before_total, before_tall, before = blocks.pop()
            total += before_total - before_tall * len(mine)
            tall += before_tall
            mine = before + mine
        blocks.append((total, tall, mine))
    centres = [0.0] * len(wanted)
    for total, _, mine in blocks:
        upper = total / len(mine)
        for number in mine:
            centres[number] = upper + heights[number] / 2.0
            upper += heights[number]
    return tuple(centres)
