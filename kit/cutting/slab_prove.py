"""The exact stage of a slab plan: bound and quick plan first, then every group of parts that one slab can yield."""

from dataclasses import dataclass
from time import monotonic

from kit.cutting.sets import cheapest_sets
from kit.cutting.sheets import Sheets, SlabLoad
from kit.cutting.slab_boxes import Boxes
from kit.cutting.slab_cover import Cover
from kit.cutting.slab_plans import SlabProof
from kit.cutting.slab_quick import lay_quick
from kit.cutting.slab_rules import rounded_rules, slab_rules
from kit.cutting.slab_solver import solve_groups

__all__ = ["ProvenSlabs", "prove_slabs"]

COVER_STEPS = 500_000
"""Steps in which groups are put together before the solver is asked; twelve parts need about a hundred thousand."""


@dataclass(slots=True)
class ProvenSlabs:
    """Best plan (None: none found) and best bound so far, in the unit of `Sheets.costs`; `proof` is what closed the gap."""

    job: Sheets
    loads: list[SlabLoad] | None
    cost: int
    bound: int
    deadline: float
    proof: SlabProof = "areas"
    timed_out: bool = False

    @property
    def closed(self) -> bool:
        """Whether the bound has met the cost."""
        return self.bound >= self.cost

    def late(self) -> bool:
        """Whether the time is up; it is remembered that it was."""
        self.timed_out = self.timed_out or monotonic() > self.deadline
        return self.timed_out

    def settle(self, loads: list[SlabLoad] | None, *, ended: bool, proof: SlabProof) -> None:
        """Keep a cheaper plan; when the search ended, nothing is cheaper."""
        if loads is not None and self.job.cost_of(loads) < self.cost:
            self.loads, self.cost = loads, self.job.cost_of(loads)
        if ended:
            self.bound, self.proof = self.cost, proof


def prove_slabs(job: Sheets, *, steps: int, limit_s: float) -> ProvenSlabs:
    """A plan for the slabs, proven cheapest if the steps suffice.

    Parameters
    ----------
    job
        The slab job.
    steps
        Pairs of boxes looked at; the same input gives the same answer unless the time limit comes first.
    limit_s
        Time limit, the last guard [s].

    Returns
    -------
    Plan, bound and proof. No loads and `closed`: the slabs can't hold the parts.
    """
    deadline = monotonic() + limit_s
    rules = slab_rules(job)
    quick = lay_quick(job, rules)
    dear = sum(cost * supply for cost, supply in zip(job.costs, job.supply, strict=True)) + 1
    state = ProvenSlabs(job, quick.loads, quick.cost if quick.loads else dear, quick.bound, deadline)
    if state.closed:
        return state
    listed = cheapest_sets(job, [*rules, *rounded_rules(job)], state.bound, state.cost - 1, 1)
    state.bound = min(listed.bound, state.cost)
    if not state.closed:
        search_groups(state, Boxes(job, steps, state.late))
    if not state.closed:
        state.proof = "open"
    return state


def search_groups(state: ProvenSlabs, boxes: Boxes) -> None:
    """Cover the parts with groups: by search, or by the solver where that takes too long or groups are missing."""
    job = state.job
    if boxes.complete:
        cover = Cover(job, slab_rules(job)[0], boxes, COVER_STEPS, state.late)
        loads = cover.find(state.cost - 1)
        state.settle(loads, ended=not cover.cut_short, proof="search")
    if not state.closed and boxes.boxes:
        loads, ended = solve_groups(job, boxes, state.bound, state.cost - 1, state.deadline - monotonic())
        state.settle(loads, ended=ended and boxes.complete, proof="solver")
