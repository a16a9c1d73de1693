"""The cut in the cabinet's front for an apron, and what is left of the frame."""

from dataclasses import dataclass
from typing import Literal

from kit.design.levels import Levels
from kit.job import FilledJob
from kit.sources import value

__all__ = ["FrontCut", "design_front"]


@dataclass(frozen=True, slots=True)
class FrontCut:
    """The cut-out, centered on the sink; heights down from the box top [in].

    `edge_thickness_in` is that of the wood cut through; `neighbor_boxes` hold the box while it is cut.
    """

    kind: Literal["overlay", "inset"]
    width_in: float
    height_in: float
    left_over_side_in: float
    rail_removed: bool
    mid_rail_removed: bool
    false_front_removed: bool
    edge_thickness_in: float
    neighbor_boxes: int


def design_front(job: FilledJob, levels: Levels) -> FrontCut | None:
    """The cut-out by apron type; None without an apron, or when the apron does not reach below the box top."""
    sink, cabinet, down_in = job.sink, job.cabinet, levels.apron_bottom_down_in
    if down_in is None or sink.apron_width_in is None or down_in <= 0.0:
        return None
    cover_in, play_in = value("practice", "front/overlay-cover"), value("practice", "front/inset-clearance")
    if sink.style == "apron-overlay":
        kind: Literal["overlay", "inset"] = "overlay"
        passes_in = sink.body_width_in + 2.0 * play_in  # the body goes through the cut that the apron covers
        width_in, height_in = max(sink.apron_width_in - 2.0 * cover_in, passes_in), max(down_in - cover_in, 0.0)
    else:
        kind, width_in, height_in = "inset", sink.apron_width_in + 2.0 * play_in, down_in + play_in
    side_in = (cabinet.width_in - width_in) / 2.0
    framed = cabinet.construction == "face-frame"
    boxes = sum(neighbor.kind in {"door", "drawer"} for neighbor in (cabinet.left, cabinet.right))
    return FrontCut(
        kind=kind,
        width_in=width_in,
        height_in=height_in,
        left_over_side_in=side_in,
        rail_removed=framed and bool(cabinet.top_rail_in),
        mid_rail_removed=framed and bool(cabinet.mid_rail_in) and cabinet.mid_rail_top_in is not None and cabinet.mid_rail_top_in < height_in,
        false_front_removed=cabinet.false_front_bottom_in != 0.0,
        edge_thickness_in=value("practice", "frame/face-frame") if framed else cabinet.side_thickness_in,
        neighbor_boxes=boxes,
    )
