"""Which groups of parts can be cut from one slab by through cuts: the smallest boxes of each group.

A group's boxes come from two smaller groups laid side by side or one above the other, since the first through cut
of a box parts it into two. Groups grow part by part; one that fits no slab is not grown further.
"""

from collections.abc import Callable
from functools import cached_property

from kit.cutting.sheets import Place, Sheets

__all__ = ["Boxes"]

Box = tuple[int, int]
TOO_LARGE = 1 << 62


class Boxes:
    """Boxes of every group of parts that fits some slab.

    A group is a whole number: its counts in the mixed base of the demand. `complete` when every group that fits was found.
    """

    def __init__(self, job: Sheets, steps: int, late: Callable[[], bool]) -> None:
        self.job, self.steps, self.late = job, steps, late
        self.complete = True
        self.units = [1]
        for count in job.demand:
            self.units.append(self.units[-1] * (count + 1))
        self.full = self.units.pop() - 1
        self.boxes: dict[int, tuple[Box, ...]] = {}
        self.counts: dict[int, tuple[int, ...]] = {}
        self.most = max(length for length, _ in job.rooms), max(width for _, width in job.rooms), max(length * width for length, width in job.rooms)
        self._grow()

    def area(self, group: int) -> int:
        """Area of a group's parts, blade included."""
        return sum([area * count for area, count in zip(self.job.areas, self.counts[group], strict=True)])

    @cached_property
    def homes(self) -> dict[int, tuple[int, ...]]:
        """For each group, the kinds of slab that it fits."""
        kinds = range(len(self.job.rooms))
        return {group: tuple(slab for slab in kinds if any(self.job.fits(*box, slab) for box in boxes)) for group, boxes in self.boxes.items()}

    def _grow(self) -> None:
        job = self.job
        level = []
        for kind, ways in enumerate(job.ways):
            group = self.units[kind]
            self.counts[group] = tuple(int(other == kind) for other in range(len(job.ways)))
            self.boxes[group] = self._smallest(dict(sorted(ways, key=lambda way: -way[1])))
            level.append(group)
        while level and self.complete:
            level = [grown for group in level for grown in self._grown(group)]

    def _grown(self, group: int) -> list[int]:
        """The groups of one part more that fit; the part is of the group's last kind or a later one, so each comes once."""
        counts, area, fitting = self.counts[group], self.area(group), []
        last = max(kind for kind, count in enumerate(counts) if count)
        for kind in range(last, len(counts)):
            grown = group + self.units[kind]
            if counts[kind] == self.job.demand[kind] or area + self.job.areas[kind] > self.most[2] or not self._parts_fit(grown, counts, kind):
                continue
            more = (*counts[:kind], counts[kind] + 1, *counts[kind + 1 :])
            boxes = self._join(grown, more)
            if self.steps < 0 or self.late():
                self.complete = False
                return []
            if boxes:
                self.boxes[grown], self.counts[grown] = boxes, more
                fitting.append(grown)
        return fitting

    def _parts_fit(self, grown: int, counts: tuple[int, ...], kind: int) -> bool:
        """Whether the grown group fits with any one part taken away."""
        return all(grown - self.units[other] in self.boxes for other, count in enumerate(counts) if count and other != kind)

    def subgroups(self, counts: tuple[int, ...]) -> list[int]:
        """Every group within these counts, the empty one first."""
        groups = [0]
        for unit, count in zip(self.units, counts, strict=True):
            if count:
                groups = [group + unit * number for group in groups for number in range(count + 1)]
        return groups

    def _join(self, group: int, counts: tuple[int, ...]) -> tuple[Box, ...]:
        """Smallest boxes of a group from those of every pair of groups that make it up."""
        boxes, best = self.boxes, dict[int, int]()
        get, (most_l, most_w, _) = best.get, self.most
        for one in self.subgroups(counts):
            other = group - one
            if not one or one > other:
                continue
            others = boxes[other]
            for length, width in boxes[one]:
                self.steps -= len(others)
                for other_l, other_w in others:
                    side = length + other_l
                    if side <= most_l:
                        deep = width if width > other_w else other_w  # noqa: FURB136 - the innermost loop
                        if get(side, TOO_LARGE) > deep:
                            best[side] = deep
                    deep = width + other_w
                    if deep <= most_w:
                        side = length if length > other_l else other_l  # noqa: FURB136
                        if get(side, TOO_LARGE) > deep:
                            best[side] = deep
        return self._smallest(best)

    def _smallest(self, widths: dict[int, int]) -> tuple[Box, ...]:
        """Boxes (length to width) that fit some slab and that no other one lies within."""
        kept: list[Box] = []
        for length in sorted(widths):
            width = widths[length]
            if (not kept or width < kept[-1][1]) and any(self.job.fits(length, width, slab) for slab in range(len(self.job.rooms))):
                kept.append((length, width))
        return tuple(kept)

    def lay(self, group: int, slab: int) -> tuple[Place, ...]:
        """Where the parts of a group lie on a slab that it fits, so that the largest strip stays whole."""
        room_l, room_w = self.job.rooms[slab]
        boxes = [box for box in self.boxes[group] if self.job.fits(*box, slab)]
        length, width = max(boxes, key=lambda box: max((room_l - box[0]) * room_w, (room_w - box[1]) * room_l))
        return tuple(self._lay(group, length, width, 0, 0))

    def _lay(self, group: int, length: int, width: int, along: int, across: int) -> list[Place]:
        """Where the parts of a group lie in one of its boxes."""
        counts = self.counts[group]
        if sum(counts) == 1:
            return [(counts.index(1), along, across, length, width)]
        for one in self.subgroups(counts):
            other = group - one
            if not one or not other:
                continue
            for one_l, one_w in self.boxes[one]:
                for other_l, other_w in self.boxes[other]:
                    if one_l + other_l == length and max(one_w, other_w) == width:
                        return [*self._lay(one, one_l, one_w, along, across), *self._lay(other, other_l, other_w, along + one_l, across)]
                    if one_w + other_w == width and max(one_l, other_l) == length:
                        return [*self._lay(one, one_l, one_w, along, across), *self._lay(other, other_l, other_w, along, across + one_w)]
        raise AssertionError("a box without its parts")
