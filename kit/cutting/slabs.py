"""How to cut counter parts from slabs, sheets and blanks by through cuts: what to buy, and the proof that nothing is cheaper.

Stone is heavy and its dust harms the lungs for good: enough hands to carry and turn a slab, wet cutting or extraction,
a respirator that fits. Cutting stone is the fabricator's trade; plans here are for buying and talking it over.
"""

from collections.abc import Sequence

from kit.cutting.memory import Memory
from kit.cutting.sheets import Sheets
from kit.cutting.slab_plans import CutSlab, Remnant, Slab, SlabPlan, ThroughCut
from kit.cutting.slab_prove import prove_slabs
from kit.cutting.slab_quick import lay_quick
from kit.cutting.slab_reading import SlabJob, read_slab_job
from kit.cutting.slab_rules import slab_rules
from kit.cutting.slab_writing import SlabAnswer, write_slab_plan
from kit.errors import CutError, Fault
from kit.records import Piece

__all__ = ["CutSlab", "Piece", "Remnant", "Slab", "SlabPlan", "ThroughCut", "first_slab_plan", "plan_slabs"]

STEPS = 10_000_000
"""Pairs of boxes looked at; twelve different parts need up to about four million."""
LIMIT_S = 5.0


MEMORY: Memory[SlabAnswer] = Memory(128)


def plan_slabs(
    parts: Sequence[Piece],
    slabs: Sequence[Slab],
    *,
    kerf_in: float,
    limit_s: float = LIMIT_S,
    cut_outs: Sequence[Slab] = (),
    least_remnant_in: float = 0.0,
    steps: int = STEPS,
) -> SlabPlan:
    """The cheapest slabs for rectangular parts, with a layout of through cuts and its proof.

    Cheapest purchase first, among those the fewest bought slabs. Splash strips and edge strips are parts like others.
    A part with a sink opening needs its full rectangle; what drops out is waste unless it is handed over as `cut_outs`.

    Parameters
    ----------
    parts
        Parts wanted: length and width [in], count, name; grain "length" must lie along the slab's length, "free" may be turned.
    slabs
        Slabs to be had: length, width and margin [in], price, name, how many there are.
    kerf_in
        Width of the cut [in].
    limit_s
        Time limit [s]; a guard only, since every search ends on a count of its steps.
    cut_outs
        Drop-outs of openings that may be used up, as slabs with `available`; none unless given.
    least_remnant_in
        Shorter side of a left-over rectangle from which it is listed [in].
    steps
        Limit of search steps.

    Returns
    -------
    The plan; one without slabs when no parts are wanted.

    Raises
    ------
    CutError
        A part fits no slab; the slabs available can't hold all parts; a measure or price makes no sense.

    Notes
    -----
    A first through cut parts each rectangle into two, so the boxes of a group of parts come from those of two smaller
    groups; all groups that fit a slab are found, and the parts are covered by the cheapest of them. A layout that no
    sequence of through cuts can make may need a cheaper slab; saws can't cut it.

    Examples
    --------
    >>> from decimal import Decimal
    >>> plan = plan_slabs([Piece(80.0, 1, "run", 25.5), Piece(80.0, 1, "splash", 4.0)], [Slab(96.0, 30.0, Decimal("300.00"), "blank")], kerf_in=0.125)
    >>> len(plan.slabs), plan.cost, plan.statement
    (1, Decimal('300.00'), 'optimal for through cuts')
    """
    job = read_slab_job(parts, with_cut_outs(slabs, cut_outs), kerf_in)
    return write_slab_plan(job, find_answer(job, steps, limit_s), kerf_in, least_remnant_in)


def first_slab_plan(parts: Sequence[Piece], slabs: Sequence[Slab], *, kerf_in: float, cut_outs: Sequence[Slab] = (), least_remnant_in: float = 0.0) -> SlabPlan:
    """A good plan with a proven bound within milliseconds, for as long as a slider is dragged.

    Parameters, errors and plan are those of `plan_slabs`, whose answer comes back when it is remembered. When no plan is
    found at once, for want of slabs, the exact stage decides.
    """
    job = read_slab_job(parts, with_cut_outs(slabs, cut_outs), kerf_in)
    answer = None if job.sheets is None else MEMORY.get((job.sheets, STEPS))
    quick = None if job.sheets is None or answer is not None else lay_quick(job.sheets, slab_rules(job.sheets))
    if quick is not None and quick.loads is not None:
        answer = SlabAnswer(tuple(quick.loads), quick.cost, quick.bound, "areas")
    return write_slab_plan(job, answer or find_answer(job, STEPS, LIMIT_S), kerf_in, least_remnant_in)


def with_cut_outs(slabs: Sequence[Slab], cut_outs: Sequence[Slab]) -> list[Slab]:
    """All slabs; drop-outs must say how many there are."""
    faults = [Fault(f"cut-out {slab.name}", "there is no number of them. Give `available`.") for slab in cut_outs if slab.available is None]
    if faults:
        raise CutError(faults)
    return [*slabs, *cut_outs]


def find_answer(job: SlabJob, steps: int, limit_s: float) -> SlabAnswer:
    """The exact answer, remembered unless the time limit cut it short."""
    if job.sheets is None:
        return SlabAnswer((), 0, 0, "areas")
    answer = MEMORY.get((job.sheets, steps))
    if answer is None:
        answer = work_out(job.sheets, steps, limit_s)
        if not answer.timed_out:
            MEMORY.put((job.sheets, steps), answer)
    return answer


def work_out(sheets: Sheets, steps: int, limit_s: float) -> SlabAnswer:
    """The proven plan, or an error when there is none."""
    state = prove_slabs(sheets, steps=steps, limit_s=limit_s)
    if state.loads is None:
        held = "can't hold" if state.closed else "were not found to hold"
        raise CutError(f"The slabs that are available {held} all {sheets.count} parts. Add slabs, or a slab without a limit.")
    return SlabAnswer(tuple(state.loads), state.cost, state.bound, state.proof, state.timed_out)
