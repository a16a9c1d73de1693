"""The cut in the cabinet's front for an apron, and what is left of the frame."""

from dataclasses import dataclass
from typing import Literal

from kit.design.levels import Levels
from kit.job import Job

__all__ = ["FrontCut", "design_front"]

# common practice, no source: an overlay apron covers the cut by 1/2 in, an inset one gets 1/16 in all round
OVERLAY_COVER_IN = 0.5
INSET_CLEARANCE_IN = 0.0625


@dataclass(frozen=True, slots=True)
class FrontCut:
    """The cut-out, centred on the sink; heights down from the box top [in]."""

    kind: Literal["overlay", "inset"]
    width_in: float
    height_in: float
    left_over_side_in: float
    stile_left_in: float
    rail_removed: bool
    false_front_removed: bool

    @property
    def edge_in(self) -> float:
        """Length of raw edge to seal [in]."""
        return self.width_in + 2.0 * self.height_in


def design_front(job: Job, levels: Levels) -> FrontCut | None:
    """The cut-out by apron type; None without an apron, or when the apron does not reach below the box top."""
    sink, cabinet, down_in = job.sink, job.cabinet, levels.apron_bottom_down_in
    if down_in is None or sink.apron_width_in is None or down_in <= 0.0:
        return None
    if sink.style == "apron-overlay":
        kind: Literal["overlay", "inset"] = "overlay"
        width_in, height_in = sink.apron_width_in - 2.0 * OVERLAY_COVER_IN, max(down_in - OVERLAY_COVER_IN, 0.0)
    else:
        kind, width_in, height_in = "inset", sink.apron_width_in + 2.0 * INSET_CLEARANCE_IN, down_in + INSET_CLEARANCE_IN
    side_in = (cabinet.width_in - width_in) / 2.0
    edge_in = cabinet.stile_in if cabinet.construction == "face-frame" else cabinet.side_thickness_in
    return FrontCut(
        kind=kind,
        width_in=width_in,
        height_in=height_in,
        left_over_side_in=side_in,
        stile_left_in=min(edge_in, side_in),
        rail_removed=cabinet.construction == "face-frame",
        false_front_removed=cabinet.false_front_bottom_in is None or cabinet.false_front_bottom_in > 0.0,
    )
