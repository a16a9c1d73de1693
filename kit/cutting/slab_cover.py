"""The cheapest slabs for all parts, given which groups of parts each slab can yield."""

from collections.abc import Callable, Iterator

from kit.cutting.sets import Rule, SetSearch
from kit.cutting.sheets import Sheets, SlabLoad
from kit.cutting.slab_boxes import Boxes

__all__ = ["Cover"]

State = tuple[int, tuple[int, ...]]
"""The group of parts left, and the slabs left of each kind."""


class Cover:
    """Depth-first with memory: the first part left goes into some group, that onto some slab, and so on for the rest."""

    def __init__(self, job: Sheets, area: Rule, boxes: Boxes, steps: int, late: Callable[[], bool]) -> None:
        self.job, self.boxes, self.steps, self.late = job, boxes, steps, late
        self.search = SetSearch(job, [area], area, 0, 1)
        self.free = area.total - self.search.need
        self.areas = {0: 0, **{group: boxes.area(group) for group in boxes.boxes}}
        self.by_kind = [[group for group, counts in boxes.counts.items() if counts[kind]] for kind in range(len(job.ways))]
        self.least: dict[State, int] = {}
        self.barred: dict[State, int] = {}
        self.choice: dict[State, tuple[int, int]] = {}

    @property
    def cut_short(self) -> bool:
        """Whether the steps ran out, so that finding nothing proves nothing."""
        return self.steps < 0

    def find(self, ceiling: int) -> list[SlabLoad] | None:
        """The cheapest plan of at most this cost; None when there is none, or when the steps ran out."""
        state: State = (self.boxes.full, self.job.supply)
        area = sum(area * count for area, count in zip(self.job.areas, self.job.demand, strict=True))
        if self._best(state, self.job.demand, area, ceiling) is None or self.cut_short:
            return None
        loads = []
        while state[0]:
            group, slab = self.choice[state]
            loads.append((slab, self.boxes.lay(group, slab)))
            state = self._after(state, group, slab)
        return loads

    def _best(self, state: State, counts: tuple[int, ...], area: int, budget: int) -> int | None:
        """Least cost for a state when it is at most `budget`."""
        if not state[0]:
            return 0 if budget >= 0 else None
        if state in self.least:
            return self.least[state] if self.least[state] <= budget else None
        if self.barred.get(state, -1) >= budget or self.search.least(area - self.free, 0) > budget:
            return None
        best = None
        for group in self._groups(counts):
            for cost, slab in self._offers(group, state[1], budget):
                rest_counts = tuple([have - taken for have, taken in zip(counts, self.boxes.counts[group], strict=True)])
                rest = self._best(self._after(state, group, slab), rest_counts, area - self.areas[group], budget - cost)
                if rest is not None:
                    best, budget = cost + rest, cost + rest - 1
                    self.choice[state] = (group, slab)
            if self.cut_short:
                return None
        if best is None:
            self.barred[state] = budget
        else:
            self.least[state] = best
        return best

    def _groups(self, counts: tuple[int, ...]) -> Iterator[int]:
        """Groups that fit some slab, lie within the parts left and hold the first kind left; largest area first."""
        kind = next(kind for kind, count in enumerate(counts) if count)
        unit, number = self.boxes.units[kind], 1
        for count in counts:
            number *= count + 1
        if number < 4 * len(self.by_kind[kind]):
            fewer = (*counts[:kind], counts[kind] - 1, *counts[kind + 1 :])
            groups = [group + unit for group in self.boxes.subgroups(fewer) if group + unit in self.boxes.boxes]
        else:
            within = self.boxes.counts
            groups = [group for group in self.by_kind[kind] if all(one <= have for one, have in zip(within[group], counts, strict=True))]
        self.steps -= min(number, len(self.by_kind[kind]))
        if self.late():
            self.steps = -1
        return iter(sorted(groups, key=lambda group: (-self.areas[group], group)))

    def _offers(self, group: int, supply: tuple[int, ...], budget: int) -> list[tuple[int, int]]:
        """Cost and kind of the slabs worth taking for a group: each limited kind, and the cheapest unlimited one."""
        offers = []
        for cost, slab in sorted((self.job.costs[slab], slab) for slab in self.boxes.homes[group] if supply[slab]):
            if cost <= budget:
                offers.append((cost, slab))
            if self.job.unlimited[slab]:
                break
        return offers

    def _after(self, state: State, group: int, slab: int) -> State:
        """What is left when a group is cut from a slab; a kind without end stays as it is."""
        supply = state[1] if self.job.unlimited[slab] else (*state[1][:slab], state[1][slab] - 1, *state[1][slab + 1 :])
        return state[0] - group, supply
