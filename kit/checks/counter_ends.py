"""Does the counter end where it should: gaps at its ends that sealant can close, boxes below it as far as it goes?"""

from kit.checks.finding import SIDES, fit_finding, plain_finding
from kit.design.design import Design
from kit.design.place_run import locate_boxes
from kit.job import FilledJob
from kit.job.field_names import say_choice
from kit.records import Finding, Level
from kit.sources import value
from kit.units import format_length, format_limit, format_side

__all__ = ["check_ends"]


def check_ends(job: FilledJob, design: Design) -> list[Finding]:
    """Each gap at an end of a run, and the ends of the sink's run against its boxes, where those were listed."""
    return [*_end_gaps(job), *_past_the_boxes(job, design), *_first_box(job)]


def _end_gaps(job: FilledJob) -> list[Finding]:
    """A gap at a wall is covered by a side splash or filled by a bead; one at a range by nothing but a bead or a trim strip."""
    counter, findings = job.counter, []
    for number, run in enumerate(counter.runs, 1):
        for side, end, gap_in in (("left", run.left_end, run.left_gap_in), ("right", run.right_end, run.right_gap_in)):
            if not gap_in or end not in {"wall", "range"}:
                continue
            covered = end == "wall" and counter.splash == "same"
            most_in = counter.splash_thickness_in if covered else counter.bead_in
            findings.append(
                fit_finding(
                    f"surface/end-gap-{number}-{side}",
                    f"Gap at the {side} end of run {number}",
                    gap_in,
                    most_in,
                    most=True,
                    worst=Level.CAUTION,
                    basis=f"{'a side splash' if covered else 'a bead'} of {format_length(most_in)} covers it",
                    source="common-practice",
                    remedy=_closed(end, covered=covered),
                    parts=("counter", "wall"),
                )
            )
    return findings


def _closed(end: str, *, covered: bool) -> str:
    if end == "range":
        return "Order a longer countertop, or add a strip of trim."
    return f"Scribe the countertop to the wall, or add a {'thicker ' if covered else ''}side splash."


def _past_the_boxes(job: FilledJob, design: Design) -> list[Finding]:
    """How far the counter goes past the last listed box at each end: no further than it may overhang, and short of it by no more than its gap there.

    A gap at a wall lies over a box that reaches the wall; each end is judged by its own.
    """
    boxes, counter, findings = locate_boxes(job.cabinet), job.counter, []
    ends = design.placed.model["counter"].span("x")
    run, tape_in = counter.run_of_sink, value("checks", "tape/tolerance")
    for side, end, gap_in, past in (("left", run.left_end, run.left_gap_in, -1.0), ("right", run.right_end, run.right_gap_in, 1.0)):
        mine = [box for box in boxes if box.side == side]
        if not mine:
            continue
        last_in = mine[-1].x[0] if side == "left" else mine[-1].x[1]
        counter_in = ends[0 if side == "left" else 1]
        over_in = past * (counter_in - last_in)
        most_in = counter.overhang_in if end == "open" else gap_in
        least_in = 0.0 if end == "open" else -gap_in
        good = least_in - tape_in <= over_in <= most_in + tape_in or (end != "open" and abs(over_in) <= value("checks", "neighbor/gap") + tape_in)
        findings.append(
            plain_finding(
                f"surface/past-boxes-{side}",
                f"Countertop and boxes end together on the {side}",
                Level.OK if good else Level.CAUTION,
                f"the countertop ends {_at(over_in)} the last box",
                _allowed(least_in, most_in),
                basis=f"from the sink base's left side, last box ends {format_side(last_in, *SIDES)}, countertop {format_side(counter_in, *SIDES)}",
                source="common-practice",
                remedy="" if good else "Measure boxes and run again. If they differ, install a filler, support the end, or change the countertop's length.",
                parts=("counter", "run boxes"),
            )
        )
    return findings


def _at(over_in: float) -> str:
    """Where an end lies, as a tape shows it."""
    by = format_length(abs(over_in))
    return "flush with" if by == format_length(0.0) else f"{by} {'past' if over_in > 0.0 else 'short of'}"


def _allowed(least_in: float, most_in: float) -> str:
    if least_in < 0.0:
        return f"no more than {format_limit(-least_in, most=True)} short of the last box or past it"
    return f"0 to {format_limit(most_in, most=True)} past the last box" if most_in > 0.0 else "an end flush with the last box"


def _first_box(job: FilledJob) -> list[Finding]:
    """The first box that is no filler is what was said to stand beside the base."""
    findings = []
    for side, neighbor in (("left", job.cabinet.left), ("right", job.cabinet.right)):
        first = next((box for box in job.cabinet.boxes if box.side == side and box.kind != "filler"), None)
        if first is not None and first.kind != neighbor.kind:
            findings.append(
                plain_finding(
                    f"neighbors/listed-{side}",
                    f"What is on the {side} of the sink base",
                    Level.CAUTION,
                    f"{say_choice('kind', neighbor.kind)} entered beside it, {say_choice('kind', first.kind)} first in the list of cabinets",
                    "the same kind in both places",
                    basis="the neighbor and the list of boxes say different things",
                    source="judgement",
                    remedy="Look again and correct one of the two.",
                    parts=(f"{side} neighbor",),
                )
            )
    return findings
