"""Does the mount suit counter and sink, and is what carries the sink trusted with it?"""

from kit.checks.finding import fit_finding, plain_finding
from kit.design.design import Design
from kit.design.named_goods import counter_kind
from kit.job import FilledJob
from kit.job.field_names import say_choice
from kit.lists import Lists
from kit.records import Finding, Level
from kit.sources import row, rows_under
from kit.units import format_length

__all__ = ["check_mounts"]

_MOUNTS = {"top": "Top mount", "flush": "Flush mount", "under": "Undermount"}


def check_mounts(job: FilledJob, design: Design, lists: Lists) -> list[Finding]:
    """Mount against counter material and sink kind, frame side known, flange thickness."""
    return [*_mount(job, lists), *_carried(design), *_by_the_rim(job, design, lists), *_flange(job)]


def _mount(job: FilledJob, lists: Lists) -> list[Finding]:
    level, reason, source = lists.mount_rule(job.sink.mount, counter_kind(job, lists))
    findings = [
        plain_finding(
            "mounts/material",
            f"{_MOUNTS[job.sink.mount]} in {say_choice('counter.material', job.counter.material)}",
            level,
            reason,
            "a mount that suits the material",
            basis="table of mounts and countertop materials in the price lists",
            source=source,
            remedy="" if level is Level.OK else _agreed(job, level),
            parts=("rim", "counter"),
        )
    ]
    kind = lists.sinks.get(job.sink.item)
    if kind is not None and job.sink.mount not in kind.mounts:
        findings.append(
            plain_finding(
                "mounts/sink-kind",
                f"{_MOUNTS[job.sink.mount]} with this kind of sink",
                Level.STOP,
                f"{lists.name_of(job.sink.item)} is made for: {', '.join(_MOUNTS[mount].lower() for mount in kind.mounts)}",
                "a mount this sink is made for",
                basis="sinks list",
                source="demo",
                remedy="Choose another mount or another sink.",
                parts=("rim", "sink"),
            )
        )
    return findings


def _agreed(job: FilledJob, level: Level) -> str:
    """What a mount that does not suit its counter asks for: of the shop, of a counter that is there, of our own people."""
    if level is Level.STOP:
        return "Choose another mount or another countertop."
    if job.counter.made_by == "fabricator":
        return "Have the shop agree in writing that it cuts and warrants this, or choose another mount."
    if job.counter.made_by == "stays":
        return "See whether the countertop that stays was built for it, or choose another mount."
    return "We cut it ourselves: try it on a test piece first, or choose another mount."


def _carried(design: Design) -> list[Finding]:
    """Whether what holds the sink without a frame is trusted with it; or, with a frame, where its maker wants it carried."""
    if not design.placed.carrying.on_frame:
        return [_hung(design)]
    if design.frame.carried_at != "unknown":
        return []
    return [
        plain_finding(
            "mounts/carried-at",
            "Where the sink is carried",
            Level.STOP,
            "unknown",
            "under the rim, or under the bowl",
            basis="the frame can't be built before the sink's sheet says which",
            source="common-practice",
            remedy="Look it up in the maker's sheet: rim or bowl. Nothing is assumed here.",
            parts=("frame", "sink"),
        )
    ]


def _by_the_rim(job: FilledJob, design: Design, lists: Lists) -> list[Finding]:
    """Whether cleats carry by its rim what is carried under its bowl as a rule: fireclay."""
    kind = lists.sinks.get(job.sink.item)
    if kind is None or not design.frame.cleat_reach_in or kind.material not in rows_under("practice", "sink/under-bowl"):
        return []
    return [
        plain_finding(
            "mounts/by-the-rim",
            "Sink of this material carried by its rim",
            Level.CAUTION,
            "cleats under the rim",
            "a platform under the bowl, unless the maker's sheet says the rim",
            basis=f"{kind.name}, {design.placed.carrying.hung_lb:.0f} lb when full; the maker's sheet goes first",
            source="common-practice",
            remedy="Read the maker's sheet before you build the frame. If it doesn't name the rim, carry the sink under the bowl.",
            parts=("rim", "frame"),
        )
    ]


def _hung(design: Design) -> Finding:
    carrying, load = design.placed.carrying, design.load
    words = {"counter": "edge of the countertop's opening", "rails": "rails under the rim", "cradle": "cradle under the bowl"}
    ok = carrying.hung_lb <= carrying.most_lb
    return plain_finding(
        "mounts/held-by",
        f"Sink hangs by the {words.get(carrying.way, carrying.way)}",
        Level.OK if ok else Level.CAUTION,
        f"{carrying.hung_lb:.0f} lb when full",
        f"at most {carrying.most_lb:g} lb without a frame",
        basis=f"sink {load.sink_lb:g} + water {load.water_lb:.0f} + disposer {load.disposer_lb:g} lb; the maker's sheet goes first",
        source=row("practice", carrying.most),
        remedy="" if ok else "Build a frame that just touches the bowl from below.",
        margin=carrying.most_lb - carrying.hung_lb,
        unit="lb",
        parts=("rim", "counter"),
    )


def _flange(job: FilledJob) -> list[Finding]:
    """What we bring for a thick bottom is counted; whoever else brings it has to choose it for the bottom."""
    disposer = job.plumbing.disposer != "none"
    hung, listed = ("disposer", job.scope.disposer.ours_to_install) if disposer else ("strainer", job.scope.strainer.ours_to_supply)
    taken = "extended flange" if disposer else "strainer with a longer body"
    limit = row("practice", f"{hung}/bottom-most")
    return [
        fit_finding(
            "mounts/outlet-flange",
            f"Sink bottom between the {hung}'s flange and nut",
            job.sink.bottom_thickness_in,
            limit,
            most=True,
            tolerance_in=0.0,
            worst=Level.OK if listed else Level.CAUTION,
            basis=f"a usual {hung} clamps up to {format_length(limit.value)}; its sheet goes first",
            remedy=f"We bring the {taken}." if listed else f"Choose a {hung} whose sheet allows this bottom, or an extended flange for it.",
            parts=("bowl", hung),
        )
    ]
