"""Another sink, another counter: what changes in a job, as it would be typed, and what nobody has measured yet."""

from typing import Any

from kit.estimating import Estimate
from kit.job import Job, job_document
from kit.job.counter import Counter
from kit.job.fields import UNKNOWN
from kit.lists import Lists
from kit.lists.goods_rows import CounterKind, SinkKind
from kit.units import format_exact

__all__ = ["changes_for_carrying", "changes_for_counter", "changes_for_faucet", "changes_for_sink", "nearest_sinks"]


def nearest_sinks(job: Job, lists: Lists, mount: str) -> list[SinkKind]:
    """The kinds of sink that take a mount, nearest in size to the job's own first.

    Apron before no apron where the job has an apron, then the least difference of body width, then of depth and weight.
    """

    def distance(kind: SinkKind) -> tuple[bool, float, float, float, str]:
        return (
            (kind.style != "standard") != job.sink.is_apron,
            abs(kind.body_width_in - job.sink.body_width_in),
            abs(kind.depth_in - job.sink.depth_in),
            abs(kind.weight_lb - job.sink.weight_lb),
            kind.item,
        )

    return sorted((kind for kind in lists.sinks.values() if mount in kind.mounts), key=distance)


def changes_for_sink(kind: SinkKind, mount: str) -> dict[str, Any]:
    """What to change for a kind of sink with its nominal sizes; `as_received` is taken back, for nobody has measured it.

    Notes
    -----
    Cleats on the sides of the base reach no rim that stands above it: an apron sink that is not under the counter is carried under its bowl.
    It takes the faucet in its own faucet deck where its row says so; the rim in front is then as wide as those at the sides, the faucet deck all that is left.
    Inside width of each of n bowls = (outside width - (n + 1) x thickness of the bottom) / n: walls and dividers as thick as the bottom.
    """

    def inches(value: float | None) -> str | None:
        return None if value is None else format_exact(value, "length")

    inside_in = (kind.bowl_width_in - (kind.bowls + 1) * kind.bottom_thickness_in) / kind.bowls
    bowl = {"width": inches(inside_in), "front_to_back": inches(kind.bowl_front_to_back_in), "depth": inches(kind.bowl_depth_in)}
    return {
        "sink.item": kind.item,
        "sink.style": kind.style,
        "sink.mount": mount,
        "sink.apron_width": inches(kind.apron_width_in),
        "sink.body_width": inches(kind.body_width_in),
        "sink.bowl_width": inches(kind.bowl_width_in),
        "sink.depth": inches(kind.depth_in),
        "sink.apron_height": inches(kind.apron_height_in),
        "sink.rim_width": inches(kind.rim_width_in),
        "sink.rim_thickness": inches(kind.rim_thickness_in),
        "sink.bottom_thickness": inches(kind.bottom_thickness_in),
        **dict.fromkeys(("sink.ledge_holes", "sink.template_width", "sink.template_depth", "sink.front_rim", "sink.under_most", "sink.corners_apart")),
        "sink.rear_rim": inches(kind.depth_in - kind.bowl_front_to_back_in - kind.rim_width_in) if kind.ledge_holes else None,
        **({"sink.carried_at": "bowl"} if kind.style != "standard" and mount != "under" else {}),
        "sink.bowls": [dict(bowl) for _ in range(kind.bowls)],
        "sink.outlet_setback": inches(kind.outlet_setback_in),
        "sink.outlet_offset": None,
        "sink.weight": format_exact(kind.weight_lb, "weight"),
        "sink.as_received": False,
    }


def changes_for_faucet(job: Job, kind: SinkKind, mount: str) -> dict[str, Any]:
    """A hole in the counter for a faucet that leaves the faucet deck of a sink, where the new one has none that can be used and no hole is listed.

    In a counter that stays it is still to be drilled.
    """
    if (kind.ledge_holes and mount != "under") or any(hole.use == "faucet" for hole in job.counter.holes) or job.scope.faucet.excluded:
        return {}
    hole = {"use": "faucet", "diameter": UNKNOWN, "offset": "0 in", "setback": UNKNOWN, **({"drilled": "to-drill"} if job.counter.made_by == "stays" else {})}
    return {"counter.holes": [*job_document(job)["counter"].get("holes", []), hole]}


def changes_for_carrying(swapped: Estimate) -> dict[str, Any]:
    """What to change in an alternate whose rim now stands above what cleats on the base reach: one way is left, under its bowl."""
    return {"sink.carried_at": "bowl"} if swapped.design.placed.carrying.above_in > 0.0 else {}


def changes_for_counter(job: Job, kind: CounterKind) -> dict[str, Any]:
    """What to change for another counter of the same size: material, thickness, who makes and sets it.

    A top that moves needs a species: that of its kind, else the job's, else the one that such a top is usually made of.
    Small pieces need a sub-top: a new one where none is.
    """
    changes: dict[str, Any] = {
        "counter.item": kind.item,
        "counter.material": kind.material,
        "counter.thickness": format_exact(kind.thickness_in, "length"),
        "counter.made_by": kind.made_by,
        "counter.species": (kind.species or job.counter.species or kind.usual_species) if kind.moves else None,
    }
    if kind.laid_in_place and job.counter.sub_top in {None, "none"}:
        changes["counter.sub_top"] = "new"
    if job.counter.splash == "same":
        changes["counter.splash_thickness"] = format_exact(Counter.rules["splash_thickness_in"].nearest(kind.thickness_in), "length")
    for item in ("counter", "splash"):
        row = getattr(job.scope, item)
        if row.supplied_by in {"us", "fabricator"}:
            changes[f"scope.{item}.supplied_by"] = kind.made_by
        if row.installed_by in {"us", "fabricator"}:
            changes[f"scope.{item}.installed_by"] = kind.made_by
    return changes
