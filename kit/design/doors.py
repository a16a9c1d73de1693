"""What becomes of the doors below an apron: kept, trimmed, or replaced by shorter ones?"""

from dataclasses import dataclass
from typing import Literal

from kit.design.levels import Levels
from kit.job import FilledJob
from kit.sources import value
from kit.units import exceeds

__all__ = ["MEASURE_FIRST", "DoorPlan", "design_doors", "door_count"]

MEASURE_FIRST = "Measure the sink before you order them, if there is time."
"""Of new doors whose height is from the sink's sheet: they are ordered ahead with the other goods, so that no open kitchen waits for them."""


@dataclass(frozen=True, slots=True)
class DoorPlan:
    """The doors of the sink base and what is done to them; `top` is the upper edge down from the box top, `width` that of one door [in].

    A slab can be trimmed as long as the cut stays clear of its hinge bores; a door of five pieces or with wrapped or banded
    faces or edges can't, and new ones are hung (common practice, no source).
    """

    work: Literal["keep", "trim", "new"]
    count: int
    width_in: float
    top_today_in: float
    top_in: float
    height_today_in: float
    height_in: float
    why: str

    @property
    def trim_in(self) -> float:
        """By how much the doors become lower [in]."""
        return self.height_today_in - self.height_in

    @property
    def is_too_low(self) -> bool:
        """Whether what would be left is no door any more."""
        return self.work != "keep" and exceeds(value("practice", "doors/least-height"), self.height_in)


def door_count(width_in: float) -> int:
    """Doors of a sink base of that width [in]."""
    return 1 if width_in <= value("site_work", "doors/one-up-to") else 2


def design_doors(job: FilledJob, levels: Levels) -> DoorPlan | None:
    """What the apron leaves of the doors; None where nobody measured where they start, or where there is no height for any."""
    cabinet, down_in = job.cabinet, levels.apron_bottom_down_in
    if cabinet.door_top_in is None:
        return None
    high_in = cabinet.door_height_in or cabinet.height_in - cabinet.toe_height_in - cabinet.door_top_in
    if high_in <= 0.0:
        return None
    lower_in = 0.0 if down_in is None else max(down_in + cabinet.door_reveal_in - cabinet.door_top_in, 0.0)
    work, why = _work(job, lower_in)
    return DoorPlan(
        work=work,
        count=door_count(cabinet.width_in),
        width_in=cabinet.width_in / door_count(cabinet.width_in),
        top_today_in=cabinet.door_top_in,
        top_in=cabinet.door_top_in + (0.0 if work == "keep" else lower_in),
        height_today_in=high_in,
        height_in=high_in if work == "keep" else max(high_in - lower_in, 0.0),
        why=why,
    )


def _work(job: FilledJob, lower_in: float) -> tuple[Literal["keep", "trim", "new"], str]:
    """What must be done so that the doors start that much lower [in], and why."""
    cabinet = job.cabinet
    if not exceeds(lower_in, 0.0):
        return "keep", "the apron ends above them"
    if cabinet.door_kind == "five-piece":
        return "new", "five-piece doors can't be trimmed"
    if cabinet.door_kind == "wrapped":
        return "new", "wrapped or banded doors can't be trimmed"
    above_bore_in = cabinet.hinge_bore_in - value("practice", "doors/hinge-bore") / 2.0
    if cabinet.hinge_bore_in and exceeds(lower_in, above_bore_in - value("practice", "doors/beside-bore")):
        return "new", "the cut would hit the hinge bores"
    return "trim", "slab doors, cut clear of the hinge bores"
