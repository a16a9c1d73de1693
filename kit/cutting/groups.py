"""Which groups of parts can be cut from one slab by through cuts, and how.

The first through cut of a box parts it into two, so a group's smallest boxes come from two smaller groups laid side by
side or one above the other.
"""

from collections.abc import Iterator, Sequence
from math import prod

from kit.cutting.jobs import CutJob, Place, Size
from kit.cutting.sets import Load, add_sticks

__all__ = ["Groups"]

Counts = tuple[int, ...]


class Groups:
    """Boxes of every group of parts that fits some slab: those that no other one lies within, the shortest and widest first.

    A group is a whole number: its counts in the mixed base of the demand. Groups grow part by part; one that fits no slab is not
    grown further. `complete` when every group that fits was found within the steps.
    """

    def __init__(self, job: CutJob, steps: int) -> None:
        self.job, self.steps = job, steps
        self.units = [prod(count + 1 for count in job.demand[:kind]) for kind in range(len(job.demand))]
        self.most = max(length for length, _ in job.rooms), max(width for _, width in job.rooms), max(length * width for length, width in job.rooms)
        kinds = range(len(job.ways))
        self.counts: dict[int, Counts] = {self.units[kind]: tuple(int(other == kind) for other in kinds) for kind in kinds}
        self.boxes = {self.units[kind]: self._smallest(job.ways[kind]) for kind in kinds}
        level = list(self.boxes)
        while level and self.complete:
            level = [grown for group in level for grown in self._grow(group)]

    @property
    def complete(self) -> bool:
        """Whether every group that fits a slab was found."""
        return self.steps >= 0

    def fits(self, group: int, slab: int) -> bool:
        """Whether a group can be cut from a slab."""
        return any(self.job.fits(*box, slab) for box in self.boxes[group])

    def full(self) -> list[Load]:
        """Slab and counts of the groups to which no further part is known to fit."""
        columns = list[Load]()
        for group, counts in self.counts.items():
            larger = [group + unit for unit, count, most in zip(self.units, counts, self.job.demand, strict=True) if count < most]
            for slab in range(len(self.job.rooms)):
                if self.fits(group, slab) and not any(one in self.boxes and self.fits(one, slab) for one in larger):
                    columns.append((slab, counts))
        return columns

    def lay(self, counts: Counts, slab: int) -> tuple[Place, ...]:
        """The parts of a group on a slab that it fits, laid so that the largest strip stays whole."""
        group = sum(unit * count for unit, count in zip(self.units, counts, strict=True))
        room_l, room_w = self.job.rooms[slab]
        boxes = [box for box in self.boxes[group] if self.job.fits(*box, slab)]
        length, width = max(boxes, key=lambda box: max((room_l - box[0]) * room_w, (room_w - box[1]) * room_l))
        return tuple(self._lay(group, length, width, 0, 0))

    def _grow(self, group: int) -> Iterator[int]:
        """The groups of one part more that fit; the part is of the group's last kind or a later one, so each comes once."""
        counts = self.counts[group]
        last = max(kind for kind, count in enumerate(counts) if count)
        for kind in range(last, len(counts)):
            if not self.complete:
                return
            grown = group + self.units[kind]
            smaller = (grown - self.units[other] for other, count in enumerate(counts) if count and other != kind)
            more = add_sticks(counts, kind, 1)
            if counts[kind] < self.job.demand[kind] and self.job.area(more) <= self.most[2] and all(one in self.boxes for one in smaller):
                boxes = self._join(grown, more)
                if boxes and self.complete:
                    self.boxes[grown], self.counts[grown] = boxes, more
                    yield grown

    def _subgroups(self, counts: Counts) -> list[int]:
        """Every group within these counts, the empty one first and the whole one last."""
        groups = [0]
        for unit, count in zip(self.units, counts, strict=True):
            if count:
                groups = [group + unit * number for group in groups for number in range(count + 1)]
        return groups

    def _join(self, group: int, counts: Counts) -> tuple[Size, ...]:
        """Smallest boxes of a group from those of every pair of groups that make it up."""
        beside, above = dict[int, int](), dict[int, int]()
        for one in self._subgroups(counts):
            if 0 < one <= group - one:
                boxes, others = self.boxes[one], self.boxes[group - one]
                self.steps -= len(boxes) + len(others)
                join_beside(boxes, others, beside, self.most[0])
                join_above(boxes, others, above, self.most[1])
        return self._smallest([*beside.items(), *((length, width) for width, length in above.items())])

    def _smallest(self, boxes: Sequence[Size]) -> tuple[Size, ...]:
        """Those of the boxes that fit some slab and that no other one lies within."""
        smallest: list[Size] = []
        for length, width in sorted(boxes):
            if (not smallest or width < smallest[-1][1]) and any(self.job.fits(length, width, slab) for slab in range(len(self.job.rooms))):
                smallest.append((length, width))
        return tuple(smallest)

    def _lay(self, group: int, length: int, width: int, along: int, across: int) -> list[Place]:
        """Where the parts of a group lie in one of its boxes."""
        counts = self.counts[group]
        if sum(counts) == 1:
            return [(counts.index(1), along, across, length, width)]
        for one in self._subgroups(counts)[1:-1]:
            for one_l, one_w in self.boxes[one]:
                for other_l, other_w in self.boxes[group - one]:
                    beside = one_l + other_l == length and max(one_w, other_w) == width
                    if beside or (one_w + other_w == width and max(one_l, other_l) == length):
                        at = (along + one_l, across) if beside else (along, across + one_w)
                        return [*self._lay(one, one_l, one_w, along, across), *self._lay(group - one, other_l, other_w, *at)]
        raise AssertionError("a box without its parts")


def join_beside(boxes: Sequence[Size], others: Sequence[Size], widths: dict[int, int], most: int) -> None:
    """Put the smallest boxes of two groups side by side into `widths`, by length; from the shortest on, the wider of the two grows longer next."""
    one = other = 0
    while one < len(boxes) and other < len(others):
        (length, width), (other_l, other_w) = boxes[one], others[other]
        if length + other_l > most:
            return
        deep = width if width > other_w else other_w  # noqa: FURB136 - the innermost loop
        if widths.get(length + other_l, deep + 1) > deep:
            widths[length + other_l] = deep
        one += width >= other_w
        other += other_w >= width


def join_above(boxes: Sequence[Size], others: Sequence[Size], lengths: dict[int, int], most: int) -> None:
    """The same one above the other, into `lengths` by width; from the narrowest on, the longer of the two grows wider next."""
    one, other = len(boxes) - 1, len(others) - 1
    while one >= 0 and other >= 0:
        (length, width), (other_l, other_w) = boxes[one], others[other]
        if width + other_w > most:
            return
        side = length if length > other_l else other_l  # noqa: FURB136
        if lengths.get(width + other_w, side + 1) > side:
            lengths[width + other_w] = side
        one -= length >= other_l
        other -= other_l >= length
