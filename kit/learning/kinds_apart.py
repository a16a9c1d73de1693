"""Which kinds of work in a step do time sheets tell apart? Those that never met in one job: sheets give the hours of a step, not of each kind in it."""

from collections.abc import Collection, Iterable

__all__ = ["kinds_apart"]


def kinds_apart(jobs: Iterable[Collection[str]]) -> list[frozenset[str]]:
    """The kinds of work of some jobs, those that are linked by a job that had both of them together; in the order in which they first came.

    Examples
    --------
    >>> [sorted(group) for group in kinds_apart([["seal"], ["bed", "wipe"], ["wipe", "cut"]])]
    [['seal'], ['bed', 'cut', 'wipe']]
    """
    groups: list[frozenset[str]] = []
    for kinds in jobs:
        met = [group for group in groups if group & {*kinds}]
        place = groups.index(met[0]) if met else len(groups)
        together = frozenset(kinds).union(*met)
        groups = [group for group in groups if group not in met]
        if together:
            groups.insert(place, together)
    return groups
