"""A wood top moves with the seasons: is it finished all round, and has it room?"""

from kit.checks.finding import fit_finding, plain_finding
from kit.design.design import Design
from kit.job import FilledJob
from kit.lists import Lists
from kit.records import Finding, Level
from kit.sources import row
from kit.units import format_length, format_side

__all__ = ["check_wood_top"]


def check_wood_top(job: FilledJob, design: Design, _: Lists) -> list[Finding]:
    """Finish before setting, movement against the gap that is left at the wall and the reveal, and what covers that gap."""
    moved = design.top.movement
    if moved is None:
        return []
    gap_in = design.placed.model.gap("wall", "counter", "y").value_in
    moves = row("wood_movement", f"{job.counter.species}/tangential")
    findings = [
        plain_finding(
            "wood-top/finish",
            "Finish on every face and cutout before the countertop is set",
            Level.OK,
            f"{job.counter.finish_coats} coats planned",
            "finish on all six faces, cutouts and holes, cured before sealant",
            basis="an edge that drinks water swells and opens; uncured oil keeps sealant from sticking",
            source="common-practice",
            remedy=f"{'Finish' if job.counter.made_by == 'us' else 'Have the shop finish'} it before it is set and let it cure; mask the sealant line.",
            parts=("counter", "cut-out"),
        ),
        fit_finding(
            "wood-top/gap-at-wall",
            "Room for the countertop to swell toward the wall",
            gap_in,
            design.top.wall_gap_in,
            worst=Level.CAUTION,
            tolerance_in=0.0,
            basis=f"from the moisture when it is set to the wet season; {moved.working}; what moves to the wall lies behind the row that stays put",
            source=moves,
            remedy=f"Leave {format_length(design.top.wall_gap_in)} at the wall. Fasten along the front row, with slots behind it.",
            parts=("counter",),
        ),
    ]
    if job.sink.mount == "under":
        wider = "" if job.counter.reveal_in > 0.0 else "Choose a positive reveal. "
        findings.append(
            plain_finding(
                "wood-top/reveal",
                "Reveal through the seasons",
                Level.CAUTION,
                f"{format_side(job.counter.reveal_in, 'positive', 'negative')} reveal, the edge moves up to {format_length(moved.design_in)} over the depth",
                "flexible sealant, and the sink fixed to the box, not to the countertop",
                basis=moved.working,
                source=moves,
                remedy=f"{wider}Never fasten the sink to both countertop and box; seal the joint with a flexible sealant.",
                parts=("rim", "counter"),
            )
        )
    return [*findings, *_cover(job, gap_in)]


def _cover(job: FilledJob, gap_in: float) -> list[Finding]:
    """The splash stands on the top and moves with nothing: it hides a gap up to its own thickness."""
    if gap_in <= 0.0:
        return []
    return [
        fit_finding(
            "wood-top/gap-covered",
            "Gap at the wall behind the backsplash",
            job.counter.splash_thickness_in if job.counter.splash != "none" else 0.0,
            gap_in,
            worst=Level.CAUTION,
            tolerance_in=0.0,
            basis="the gap stays open, so that the countertop can move; no filler, no hard joint",
            source="common-practice",
            remedy="Cover the gap with a backsplash at least as thick, or with trim fastened to the wall alone.",
            parts=("counter",),
        )
    ]
