"""Everything that will be built, carried and disturbed, designed once and read by checks, takeoff and hours."""

from dataclasses import dataclass

from kit.design.asbestos import Abatement, design_abatement
from kit.design.doors import DoorPlan, design_doors
from kit.design.drain import DrainRoute, design_drain
from kit.design.duties import Duties, design_duties
from kit.design.frame import Frame, describe_frame
from kit.design.frame_load import Load, design_load
from kit.design.front import FrontCut, design_front
from kit.design.levels import Levels, design_levels
from kit.design.lift import Lift, design_lift
from kit.design.model import Placed, place_all
from kit.design.named_goods import counter_kind, require_names
from kit.design.place_holes import count_ledge_holes
from kit.design.removal import Removal, design_removal
from kit.design.setting import Setting, design_setting
from kit.design.shims import Shims, design_shims, stand_level
from kit.design.supply import Supply, design_supply
from kit.design.top import Top, design_top
from kit.job import FilledJob
from kit.lists import Lists

__all__ = ["Design", "design_job"]


@dataclass(frozen=True, slots=True)
class Design:
    """The design of one job; `placed` holds everything in its place, the rest is counted from it or has none."""

    removal: Removal
    abatement: Abatement
    placed: Placed
    levels: Levels
    load: Load
    cut: FrontCut | None
    doors: DoorPlan | None
    frame: Frame
    drain: DrainRoute
    supply: Supply
    top: Top
    shims: Shims
    lift: Lift
    duties: Duties
    setting: Setting

    def torn_out_by_us(self, part: str) -> bool:
        """Whether our people take out the old counter, splash or sink: not the customer, and not a firm for asbestos."""
        return getattr(self.removal, f"{part}_by") == "us" and not self.abatement.takes(part)


def design_job(job: FilledJob, lists: Lists) -> Design:
    """The design of a job whose assumptions are filled in. Never raises on parts that are sound but don't fit together.

    Raises JobError, ListError if the job names what the lists don't hold.
    """
    require_names(job, lists)
    kind = counter_kind(job, lists)
    shims, job = design_shims(job), stand_level(job)
    levels = design_levels(job)
    cut = design_front(job, levels)
    doors = design_doors(job, levels)
    drain = design_drain(job, levels, lists)
    load = design_load(job, lists.company.least_load_lb)
    placed = place_all(job, levels, shims, cut, doors, drain, load, count_ledge_holes(job, lists))
    removal = design_removal(job)
    abatement = design_abatement(job, removal)
    duties = design_duties(job, lists, removal, abatement, drain, cut)
    return Design(
        removal=removal,
        abatement=abatement,
        placed=placed,
        levels=levels,
        load=load,
        cut=cut,
        doors=doors,
        frame=describe_frame(job, levels, placed.carrying, placed.frame),
        drain=drain,
        supply=design_supply(job, lists),
        top=design_top(job, kind, placed.opening),
        shims=shims,
        lift=design_lift(job, lists),
        duties=duties,
        setting=design_setting(job, placed.carrying, removal, cut, duties, kind),
    )
