"""Level, flat, spans, overhangs, seams and the narrow strips round the opening, by material."""

import itertools
import math

from kit.checks.counter_ends import check_ends
from kit.checks.finding import fit_finding, plain_finding, two_lengths
from kit.design.design import Design
from kit.design.named_goods import counter_kind
from kit.design.place_counter import STRIP_CLEAT
from kit.job import FilledJob
from kit.lists import Lists
from kit.lists.goods_rows import CounterKind
from kit.records import Finding, Level
from kit.sources import Row, row, value
from kit.units import format_length, format_side

__all__ = ["check_surface"]


def check_surface(job: FilledJob, design: Design, lists: Lists) -> list[Finding]:
    """Every question that the counter's material puts to the boxes below it."""
    kind = counter_kind(job, lists)
    below = [*_level(job, design, kind), *_flat(job, design), *_packed(design), *_laid_on(job, design), *_span(job, design, kind)]
    return [*below, *_overhang(job, design, kind), *_strips(job, design), *_strip_held(job, design), *_seams(job, design), *check_ends(job, design)]


_NOT_OURS = "The customer takes the old countertop off: agree who levels the boxes. Set no countertop on boxes that are out."
_LEVELED = "We level them, front and rear, before the new countertop goes on; shims and hours are in the price."


def _level(job: FilledJob, design: Design, kind: CounterKind) -> list[Finding]:
    """Boxes that are out are work, and ours where the old counter comes off by us; nothing is brought level under a counter that stays."""
    if design.removal.counter_by == "nobody":
        return []
    run_in, worst_in = job.counter.run_of_sink.length_in, design.shims.worst_in
    drop_in, over_in = value("counters", "cabinets/level-drop"), value("counters", "cabinets/level-length")
    allowed_in = drop_in * run_in / over_in
    worst, allowed = two_lengths(worst_in, allowed_in, most=True, shim=True)
    within, ours = worst_in <= allowed_in, design.removal.counter_by == "us"
    level = Level.OK if within or ours else Level.CAUTION
    if design.shims.assumed:
        level = Level.UNKNOWN
    return [
        plain_finding(
            "surface/level",
            "Boxes level along the run",
            level,
            "not measured yet" if design.shims.assumed else f"{worst} low at the worst support",
            f"at most {allowed} ({format_length(drop_in)} over {over_in / 12:g} ft)",
            basis=f"run {format_length(run_in)}; the fabricators' figure{'' if kind.slab else ', taken for every material'}",
            source=row("counters", "cabinets/level-drop"),
            remedy="Read the boxes along the run." if design.shims.assumed else "" if within else _LEVELED if ours else _NOT_OURS,
            margin=None if design.shims.assumed else allowed_in - worst_in,
            unit="in",
            parts=("counter", "cabinet"),
        )
    ]


def _packed(design: Design) -> list[Finding]:
    """Boxes that stay fixed and low: packers raise counter and rim together, as far as packers go."""
    packed_in, most = design.levels.packed_top_in - design.levels.cabinet_top_in, row("practice", "level/packed-most")
    if packed_in <= 0.0:
        return []
    return [
        fit_finding(
            "surface/packed",
            "Packers on a base that stays fixed and is low",
            packed_in,
            most,
            most=True,
            basis="read at its highest place; countertop, rim and what carries the sink come up by as much, the front stays",
            remedy="Unfasten the boxes and shim them at the floor, or lay a sub-top on them.",
            parts=("counter", "cabinet", "shims"),
        )
    ]


def _flat(job: FilledJob, design: Design) -> list[Finding]:
    """Front to rear and, along the run, each reading against the straight line between its neighbors: a counter bridges a dip and rocks on a crown."""
    if design.shims.assumed or design.removal.counter_by == "nobody":
        return []
    off_in, read = max(design.shims.worst_slope_in, _worst_bow(job)), job.levelness.rear_was_read
    limit_in, over_in = value("counters", "stone/flat-drop"), value("counters", "stone/flat-length")
    (off, most), ours = two_lengths(off_in, limit_in, most=True, shim=True), design.removal.counter_by == "us"
    alike = off == most  # nothing that is read off a tape tells them apart
    within = alike or off_in <= limit_in
    level = Level.CAUTION if not (within or ours) else Level.OK if read else Level.UNKNOWN
    return [
        plain_finding(
            "surface/flat",
            "Boxes flat, front to rear and along the run",
            level,
            f"{off} out of flat at the worst place{'' if read else '; rear of the boxes not read'}",
            f"at most {most} over {format_length(over_in)}",
            basis="front against rear at a support, and each reading from the line between its neighbors; a slab's figure, taken for every countertop",
            source=row("counters", "stone/flat-drop"),
            remedy="Read the boxes along the rear too." if not read else "" if within else _LEVELED if ours else _NOT_OURS,
            margin=None if not read else 0.0 if alike else limit_in - off_in,
            unit="in",
            parts=("shims", "cabinet"),
        )
    ]


def _worst_bow(job: FilledJob) -> float:
    """How far a reading lies off the line between those beside it, in front or at the rear, at the most [in]."""
    places = sorted((reading.at_in, reading.lows_in) for reading in job.levelness.readings)
    bows_in = [0.0]
    for (left_in, left), (at_in, here), (right_in, right) in zip(places, places[1:], places[2:], strict=False):
        share = (at_in - left_in) / (right_in - left_in)
        bows_in += [abs(low - (start + share * (end - start))) for start, low, end in zip(left, here, right, strict=True)]
    return max(bows_in)


def _laid_on(job: FilledJob, design: Design) -> list[Finding]:
    """Small pieces and their backer bridge nothing: boxes are open above."""
    if not design.setting.laid_in_place:
        return []
    there = job.counter.sub_top != "none"
    return [
        plain_finding(
            "surface/sub-top",
            "Plywood under backer and tile",
            Level.OK if there else Level.STOP,
            "a sub-top" if there else "open boxes",
            "a sub-top over the whole run",
            basis="the boxes are open above, and backer board bridges nothing",
            source="common-practice",
            remedy="" if there else "Enter a new sub-top: plywood, screws and hours are then counted, and the countertop comes up by its thickness.",
            parts=("counter", "cabinet"),
        )
    ]


def _span(job: FilledJob, design: Design, kind: CounterKind) -> list[Finding]:
    """Cross pieces of the frame halve the span of what may bend, and help nothing that cracks first."""
    between_in, thick_in = design.placed.model.gap("side left", "side right", "x").value_in, design.placed.model.size("counter", "z").value_in
    opening_in = between_in / (1.0 if kind.brittle or not design.frame.members else 2.0)
    return _against_limit(
        job,
        design,
        kind,
        ("surface/span", "Unsupported countertop over the sink base", ("counter", "cabinet")),
        opening_in,
        kind.span_most_in,
        worst=Level.CAUTION,
        basis=f"clear between the sides {format_length(between_in)}, countertop {format_length(thick_in)} thick",
        remedy="Put a sub-top under it." if kind.brittle else "Add cross pieces before and behind the sink, or a sub-top.",
    )


def _overhang(job: FilledJob, design: Design, kind: CounterKind) -> list[Finding]:
    depth_in = _depth_in(design)
    limit_in, share = kind.overhang_most_in, row("counters", "stone/overhang-share-most")
    by_share = kind.slab and limit_in is not None and share.value * depth_in < limit_in
    if by_share:
        limit_in = share.value * depth_in
    return _against_limit(
        job,
        design,
        kind,
        ("surface/overhang", "Overhang beyond the cabinet", ("counter",)),
        job.counter.overhang_in,
        limit_in,
        worst=Level.STOP,
        basis=f"overhang {format_length(job.counter.overhang_in)} on a countertop {format_length(depth_in)} deep",
        source=share if by_share else None,
        remedy="Put brackets or legs under the overhang.",
    )


def _depth_in(design: Design) -> float:
    """From the wall to the countertop's front edge [in]."""
    return design.placed.model["counter"].span("y")[1]


def _against_limit(
    job: FilledJob,
    design: Design,
    kind: CounterKind,
    about: tuple[str, str, tuple[str, ...]],
    measured_in: float,
    limit_in: float | None,
    *,
    worst: Level,
    basis: str,
    remedy: str,
    source: Row | None = None,
) -> list[Finding]:
    """A size against the limit of the counter's kind: nothing where it has none, unknown where nobody knows it or the counter is thinner."""
    name, check, parts = about
    if limit_in == math.inf:
        return []
    thinner = design.placed.model.size("counter", "z").value_in < kind.thickness_in - value("checks", "tape/tolerance")
    if limit_in is None or thinner:
        who = "the supplier of the material" if job.counter.made_by == "us" else "the shop"
        why = (
            f"the limit in the list of countertops is for {format_length(kind.thickness_in)}"
            if limit_in is not None
            else f"the list of countertops gives no limit for {kind.name}"
        )
        return [
            plain_finding(
                name,
                check,
                Level.UNKNOWN,
                format_length(measured_in),
                "a limit for this countertop",
                basis=f"{basis}; {why}",
                source=kind.limits_source or "common-practice",
                remedy=f"Ask {who} for the limit and put it in your list. {remedy}",
                parts=parts,
            )
        ]
    said_by = source or kind.limits_source or "common-practice"
    return [fit_finding(name, check, measured_in, limit_in, most=True, worst=worst, basis=basis, source=said_by, remedy=remedy, parts=parts)]


def _strips(job: FilledJob, design: Design) -> list[Finding]:
    cut, least = design.top.cut_out, row("counters", "strip-least")
    findings: list[Finding] = []
    if job.counter.made_by == "stays":  # nobody handles strips that lie there
        return findings
    least_in = least.value
    for name, strip_in in (("front", cut.front_strip_in), ("rear", cut.rear_strip_in)):
        if name == "front" and cut.open_front:
            continue
        findings.append(
            fit_finding(
                f"surface/{name}-strip",
                f"Strip of countertop at the {name} of the sink",
                strip_in,
                least_in,
                worst=Level.STOP if strip_in < 0.0 else Level.CAUTION,
                basis=f"countertop {format_length(_depth_in(design))} deep, opening {format_length(max(cut.front_to_back_in, 0.0))} front to back",
                source=least,
                remedy="Choose a sink that is smaller front to back, or a deeper countertop." if strip_in < 0.0 else _narrow(job),
                parts=(f"{name} strip", "cut-out"),
            )
        )
    start_in, end_in = job.counter.run_of_sink.own_span_in
    left_in, right_in = cut.left_in - start_in, end_in - cut.left_in - cut.width_in
    findings.append(
        fit_finding(
            "surface/side-strip",
            "Countertop remaining beside the sink",
            min(left_in, right_in),
            least_in,
            worst=Level.STOP if min(left_in, right_in) < 0.0 else Level.CAUTION,
            basis=f"{format_side(left_in, 'to', 'past')} the left end, {format_side(right_in, 'to', 'past')} the right end",
            source=least,
            remedy="Move the sink along the run, or let the countertop end at the sink.",
            parts=("counter", "cut-out"),
        )
    )
    return findings


def _narrow(job: FilledJob) -> str:
    if job.counter.made_by == "fabricator":
        return "Narrow strips break: have the shop stiffen it or say what it will cut."
    return "Narrow strips break: support it until it is fastened, or pick a smaller sink."


def _strip_held(job: FilledJob, design: Design) -> list[Finding]:
    """The longest way that the strip behind a flush apron sink goes without a cleat below it."""
    if job.sink.mount != "flush" or not job.sink.is_apron:
        return []
    model, most = design.placed.model, row("practice", "counter/strip-span")
    sides = (model["side left"].span("x"), model["side right"].span("x"))
    held = sorted([*sides, *(body.span("x") for body in model.members() if body.name.startswith(STRIP_CLEAT))])
    free_in = max(after[0] - before[1] for before, after in itertools.pairwise(held))
    return [
        fit_finding(
            "surface/rear-strip-held",
            "Strip behind the sink without a cleat below it",
            free_in,
            most,
            most=True,
            tolerance_in=0.0,
            worst=Level.CAUTION,
            basis=f"{format_length(sides[1][0] - sides[0][1])} between the sides of the base, {len(held) - 2} pieces of cleat along its rear",
            remedy="The sink leaves no room for a cleat: screw a steel angle to the wall below the strip, or carry it on a sub-top.",
            parts=("rear strip", "frame"),
        )
    ]


def _seams(job: FilledJob, design: Design) -> list[Finding]:
    if not design.top.seams:
        return []
    top, clear_in = design.top, value("practice", "counter/seam-clear")
    by_shop = job.counter.made_by == "fabricator"
    crowded = f", {top.seams_crowded} at the sink or over the dishwasher" if top.seams_crowded else ""
    return [
        plain_finding(
            "surface/seams",
            "Seams",
            Level.CAUTION if top.seams_crowded else Level.OK,
            f"{top.seams} {'seam' if top.seams == 1 else 'seams'}, {format_length(top.seam_in)}{crowded}",
            f"none at the sink or over the dishwasher{'; the shop agrees to each' if by_shop else ''}",
            basis=f"runs longer than the longest piece, and corners; no seam nearer than {format_length(clear_in)} to the cutout",
            source=row("practice", "counter/seam-clear"),
            remedy=f"{f'Keep seams {format_length(clear_in)} or more from the sink and off the dishwasher. ' if top.seams_crowded else ''}"
            f"{'Agree on them with the shop at template.' if by_shop else 'Lay them out before the blanks are cut.'}",
            parts=("seam",),
        )
    ]
