"""The exact stage of a cut plan: sets of sticks one by one, cheapest first, until one is shown to hold the pieces.

Each set is asked whether it holds the pieces in fractions of sticks. If not, that makes a rule, and the rule bars
many other sets with it. If so, a plan is sought by rounding, then by search, then by the solver.
"""

from dataclasses import dataclass, field
from time import monotonic

from kit.cutting.bars import Bars, Load
from kit.cutting.columns import Program, round_plan
from kit.cutting.fill import Effort, fill_set
from kit.cutting.plans import Proof
from kit.cutting.quick import Quick
from kit.cutting.sets import Rule, cheapest_sets, length_rules
from kit.cutting.solver import solve_for_set

__all__ = ["Proven", "prove_plan"]

SETS_AT_A_TIME = 12
"""Sets listed at a time; rules found on the way bar most of them."""


@dataclass(slots=True)
class Proven:
    """Best plan and best bound so far, in the unit of `Bars.costs`; `proof` is what closed the gap, `rules` what bars the cheaper sets."""

    job: Bars
    loads: list[Load]
    cost: int
    bound: int
    nodes: int
    deadline: float
    rules: list[Rule] = field(default_factory=list)
    proof: Proof = "lengths"
    fit: Program | None = None
    timed_out: bool = False

    @property
    def closed(self) -> bool:
        """Whether the bound has met the cost."""
        return self.bound >= self.cost

    def late(self) -> bool:
        """Whether the time is up; it is remembered that it was."""
        self.timed_out = self.timed_out or monotonic() > self.deadline
        return self.timed_out

    def take(self, loads: list[Load] | None) -> bool:
        """Keep a plan when it is cheaper."""
        if loads is None or self.job.cost_of(loads) >= self.cost:
            return False
        self.loads, self.cost = loads, self.job.cost_of(loads)
        return True


def prove_plan(job: Bars, quick: Quick | None, *, nodes: int, limit_s: float) -> Proven:
    """Improve a quick plan until it is proven cheapest or a limit is met.

    Parameters
    ----------
    job, quick
        The cutting job and its quick plan; None when that found none, for want of sticks.
    nodes
        Limit of search nodes; the same input gives the same answer unless the time limit comes first.
    limit_s
        Time limit, the last guard [s].

    Returns
    -------
    Plan, bound and proof; `closed` when proven. No sticks and `closed`: the stock can't hold the pieces.
    """
    deadline = monotonic() + limit_s
    if quick is None:
        dear = sum(cost * supply for cost, supply in zip(job.costs, job.supply, strict=True)) + 1
        quick = Quick([], dear, 0)
    state = Proven(job, quick.loads, quick.cost, quick.bound, nodes, deadline, length_rules(job))
    if state.closed:
        return state
    state.proof = "values"
    if not state.loads:
        if decide_set(state, Program(job, [], fit=True), job.supply) and not state.loads:
            state.bound = state.cost
        if not state.loads:
            return state
    program = Program(job, state.loads)
    rule = program.settle()
    if rule is not None:
        state.rules.append(rule)
    state.take(round_plan(program, careful=False, enough=state.bound))
    state.fit = Program(job, program.known, fit=True)
    walk_sets(state, state.fit)
    if not state.closed:
        state.proof = "open"
    return state


def walk_sets(state: Proven, fit: Program) -> None:
    """Go through the sets of sticks, cheapest first, until the bound meets the cost."""
    floor, decided = state.bound, True
    while floor < state.cost and not state.late():
        listed = cheapest_sets(state.job, state.rules, floor, state.cost - 1, SETS_AT_A_TIME)
        if not listed.complete:
            if decided:
                state.bound = min(listed.bound, state.cost)
                walk_solved_sets(state, fit)
            return
        for cost, sticks in listed.sets:
            if cost >= state.cost or state.late():
                break
            if decided:
                state.bound = cost
            if all(rule.allows(sticks) for rule in state.rules):
                decided = decide_set(state, fit, sticks) and decided
        floor = listed.sets[-1][0] + 1 if listed.sets else state.cost
    if decided and not state.late():
        state.bound = state.cost


def walk_solved_sets(state: Proven, fit: Program) -> None:
    """The same when there are too many sets to list: the solver finds the cheapest that meets the rules, one after the other."""
    state.proof = "solver"
    while not state.closed and not state.late():
        answer = solve_for_set(state.job, state.rules, state.bound, state.cost - 1, limit_s=state.deadline - monotonic())
        if answer.sticks is None:
            state.bound = state.cost if answer.ended else state.bound
            return
        state.bound = max(state.bound, answer.cost)
        known = len(state.rules)
        if not decide_set(state, fit, answer.sticks) or (len(state.rules) == known and not state.closed):
            return


def decide_set(state: Proven, fit: Program, sticks: tuple[int, ...]) -> bool:
    """Find a plan with the given sticks, or show that there is none; False when neither came out."""
    filled = fill_set(state.job, state.rules, fit, sticks, Effort(state.nodes, state.late, state.deadline, solver=True))
    state.nodes -= filled.nodes
    if filled.rule is not None:
        state.rules.append(filled.rule)
    elif filled.refuted:
        state.proof = "solver" if filled.by_solver or state.proof == "solver" else "search"
    return state.take(filled.loads) or filled.refuted
