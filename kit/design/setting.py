"""How does the sink come to its place: before the counter or after it, what holds it while the bead cures, and is that all there is to do?

Common practice, no source, unless a row says otherwise. Worked out once: takeoff, order and papers read it.
"""

from dataclasses import dataclass

from kit.design.carrying import Carrying
from kit.design.duties import Duties
from kit.design.front import FrontCut
from kit.design.removal import Removal
from kit.job import FilledJob
from kit.lists.goods_rows import CounterKind
from kit.sources import value

__all__ = ["Setting", "design_setting"]


@dataclass(frozen=True, slots=True)
class Setting:
    """How the sink is set.

    `after_counter`: it lies on the counter, hangs in its rabbet or comes in through the opened front when the counter lies.
    `raised`: an under-mount sink that no frame carries, bonded and clamped from below. `clipped`: a thin rim that clips hold, so the sink is
    used on the day it is set. `cradled`: an apron that the counter joins at its sides, under it or level with it: the sink is set in its frame before
    the shop measures, because a joint in sight is cut to the sink where it stands; where the counter is cast and cures for weeks, it is measured
    while the old kitchen works, the new sink on hand.
    `laid_in_place`: a new counter is laid in the house from small pieces.
    `plain_swap`: a drop-in for a drop-in in a counter that stays, and nothing else.
    """

    after_counter: bool
    raised: bool
    clipped: bool
    cradled: bool
    laid_in_place: bool
    plain_swap: bool


def design_setting(job: FilledJob, carrying: Carrying, removal: Removal, cut: FrontCut | None, duties: Duties, kind: CounterKind) -> Setting:
    """Work out how the sink of this job is set."""
    sink = job.sink
    raised = sink.mount == "under" and carrying.way in {"clips", "rails", "cradle"}
    return Setting(
        after_counter=carrying.way == "counter" or not removal.counter_comes_off or (raised and _passes_front(job)),
        raised=raised,
        clipped=sink.mount == "top" and sink.rim_thickness_in <= value("practice", "sink/clip-rim"),
        cradled=sink.is_apron and sink.mount != "top" and kind.cast_item is None,
        laid_in_place=kind.laid_in_place and removal.counter_comes_off,
        plain_swap=_is_plain_swap(job, removal, cut, duties),
    )


def _passes_front(job: FilledJob) -> bool:
    """Whether the sink goes in level through the opening below the mid rail, doors off."""
    cabinet, sink = job.cabinet, job.sink
    if cabinet.mid_rail_top_in is None:
        return False  # not seen: it is laid in the base while the counter is off
    rail_in = cabinet.mid_rail_in if cabinet.construction == "face-frame" else 0.0
    high_in = cabinet.height_in - cabinet.mid_rail_top_in - rail_in - cabinet.floor_height_in
    return sink.body_width_in <= cabinet.opening_width_in and sink.deepest_in + sink.bottom_thickness_in <= high_in


def _is_plain_swap(job: FilledJob, removal: Removal, cut: FrontCut | None, duties: Duties) -> bool:
    """Drop-in out, drop-in in: no counter, front, wall, drain or wiring is touched, and the dishwasher stays."""
    scope, swapped = job.scope, job.old.sink_kind == job.sink.mount == "top"
    renewed = scope.sink.renewed and scope.sink.ours_to_install and removal.sink_by == "us"
    stays = cut is None and not removal.counter_comes_off and removal.splash_by == "nobody" and not scope.dishwasher.renewed
    return swapped and renewed and stays and not (duties.permit or duties.electrician or duties.lead_safe or duties.test_floor or job.cabinet.wet_floor)
