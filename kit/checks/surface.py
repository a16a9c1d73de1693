"""Level, flat, spans, overhangs, seams and the narrow strips round the opening, by material."""

from kit.checks.finding import fit_finding, plain_finding
from kit.design import Design
from kit.job import FilledJob
from kit.lists import Lists
from kit.records import Finding, Level
from kit.sources import row, value

__all__ = ["check_surface"]

_STONE = {"stone", "porcelain", "concrete"}


def check_surface(job: FilledJob, design: Design, _: Lists) -> list[Finding]:
    """Every question that the counter's material puts to the boxes below it."""
    return [*_level(job, design), *_span(job, design), *_overhang(job), *_strips(job, design), *_seams(job, design)]


def _level(job: FilledJob, design: Design) -> list[Finding]:
    run_in, worst_in = job.counter.run_of_sink.length_in, design.shims.worst_in
    drop_in, over_in = value("counters", "cabinets/level-drop"), value("counters", "cabinets/level-length")
    allowed_in = drop_in * max(run_in, 1.0) / over_in
    stone = job.counter.material in _STONE
    level = Level.OK if worst_in <= allowed_in else Level.CAUTION
    if design.shims.assumed:
        level = Level.UNKNOWN
    return [
        plain_finding(
            "surface/level",
            "Boxes level along the run",
            level,
            "not measured yet" if design.shims.assumed else f"{worst_in:.3f} in low at the worst support",
            f"within {drop_in:g} in over {over_in / 12:g} ft: {allowed_in:.3f} in here",
            basis=f"run {run_in:g} in; the fabricators' figure{'' if stone else ', taken for every material'}",
            source=row("counters", "cabinets/level-drop").key,
            remedy="Level the boxes before the template; a fabricator does not set on boxes that are out." if level is not Level.OK else "",
            margin=None if design.shims.assumed else allowed_in - worst_in,
            unit="in",
            parts=("counter", "cabinet"),
        )
    ]


def _size(job: FilledJob) -> str:
    return "3cm" if job.counter.thickness_in >= value("checks", "stone/thick") else "2cm"


def _span(job: FilledJob, design: Design) -> list[Finding]:
    opening_in = job.cabinet.inside_width_in
    if job.counter.material in _STONE:
        name = f"stone/{_size(job)}/span-most"
        limit_in, source = value("counters", name), row("counters", name).key
    elif job.counter.material == "wood":
        limit_in, source = value("checks", "wood/span-most"), "judgement"
        if design.frame.members:
            opening_in /= 2.0
    else:
        return []
    return [
        fit_finding(
            "surface/span",
            "Counter over the sink base without support",
            opening_in,
            limit_in,
            most=True,
            worst=Level.CAUTION,
            basis=f"clear between the sides {job.cabinet.inside_width_in:g} in, counter {job.counter.thickness_in:g} in thick",
            source=source,
            remedy="Cross pieces under the strips in front of and behind the sink, or a subtop.",
            parts=("counter", "cabinet"),
        )
    ]


def _overhang(job: FilledJob) -> list[Finding]:
    if job.counter.material in _STONE:
        name = f"stone/{_size(job)}/overhang-most"
        share_in = value("counters", "stone/overhang-share-most") * job.counter.run_of_sink.depth_in
        limit_in = min(value("counters", name), share_in)
    elif job.counter.material == "solid-surface":
        name, limit_in = "solid-surface/overhang-most", value("counters", "solid-surface/overhang-most")
    else:
        return []
    return [
        fit_finding(
            "surface/overhang",
            "Overhang beyond the cabinet",
            job.counter.overhang_in,
            limit_in,
            most=True,
            basis=f"overhang {job.counter.overhang_in:g} in on a counter {job.counter.run_of_sink.depth_in:g} in deep",
            source=row("counters", name).key,
            remedy="Brackets or legs under the overhang.",
            parts=("counter",),
        )
    ]


def _strips(job: FilledJob, design: Design) -> list[Finding]:
    cut = design.top.cut_out
    if cut is None:
        return []
    least_in, found = value("counters", "strip-least"), []
    for name, strip_in in (("front", cut.front_strip_in), ("rear", cut.rear_strip_in)):
        if name == "front" and cut.open_front:
            continue
        found.append(
            fit_finding(
                f"surface/{name}-strip",
                f"Strip of counter left at the {name} of the sink",
                strip_in,
                least_in,
                worst=Level.STOP if strip_in < 0.0 else Level.CAUTION,
                basis=f"counter {job.counter.run_of_sink.depth_in:g} in deep, opening {cut.front_to_back_in:g} in front to back",
                source="common-practice",
                remedy="Narrow strips break in handling: rod and stiffen them, or let the shop set its own least strip.",
                parts=("strip", "cut-out"),
            )
        )
    right_in = job.counter.run_of_sink.length_in - cut.left_in - cut.width_in
    found.append(
        fit_finding(
            "surface/side-strip",
            "Counter left beside the sink",
            min(cut.left_in, right_in),
            least_in,
            worst=Level.STOP if min(cut.left_in, right_in) < 0.0 else Level.CAUTION,
            basis=f"{cut.left_in:g} in to the left end, {right_in:g} in to the right end",
            source="common-practice",
            remedy="Move the sink along the run, or let the counter end at the sink.",
            parts=("counter", "cut-out"),
        )
    )
    return found


def _seams(job: FilledJob, design: Design) -> list[Finding]:
    if not design.top.seams:
        return []
    top, stone = design.top, job.counter.material in _STONE
    level = Level.OK if stone and job.counter.made_by == "fabricator" and not top.seams_crowded else Level.CAUTION
    crowded = f", {top.seams_crowded} at the sink or over the dishwasher" if top.seams_crowded else ""
    return [
        plain_finding(
            "surface/seams",
            "Seams",
            level,
            f"{top.seams} seam(s), {top.seam_in:g} in{crowded}",
            "where the maker agrees; none over the dishwasher",
            basis="runs longer than the longest piece, and corners",
            source=row("counters", "stone/seam").key if stone else row("counters", "solid-surface/seam-to-sink-least").key,
            remedy="" if level is Level.OK else "Keep seams 3 in or more from the sink's edge and off the dishwasher; agree on them at the template.",
            parts=("seam",),
        )
    ]
