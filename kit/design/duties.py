"""What the law or the trade may ask for, worked out once: checks, takeoff and hours read it. Always "check and defer"."""

from dataclasses import dataclass

from kit.design.asbestos import Abatement, GluedPart, list_found, list_untested
from kit.design.drain import DrainRoute
from kit.design.front import FrontCut
from kit.design.named_goods import counter_kind
from kit.design.removal import Removal, opens_drain
from kit.job import FilledJob
from kit.lists import Lists
from kit.sources import value

__all__ = ["Duties", "design_duties"]


@dataclass(frozen=True, slots=True)
class Duties:
    """Flags, each with what triggers it left to the checks to say; of suspect glue and backer the old counter, the old splash or both.

    `floor_plumber`: a hired plumber joins the sink to the pipe in the floor, as designed, or as he finds it where nothing is designed.
    """

    permit: bool
    plumber: bool
    floor_plumber: bool
    electrician: bool
    cable_left: bool
    lead_safe: bool
    silica: bool
    test_floor: bool
    test_glue: tuple[GluedPart, ...]
    glue_untested_by_customer: tuple[GluedPart, ...]
    glue_found_by_customer: tuple[GluedPart, ...]

    @property
    def fine_dust(self) -> bool:
        """Whether work raises dust that harms lungs: lead or silica."""
        return self.lead_safe or self.silica


def design_duties(job: FilledJob, lists: Lists, removal: Removal, abatement: Abatement, drain: DrainRoute, cut: FrontCut | None) -> Duties:
    """Permit, licensed trades, lead-safe and silica work, test of suspect flooring and of suspect glue or backer before it is torn out.

    Notes
    -----
    Lead-safe work: houses built before 1978 where painted surface is disturbed (40 CFR 745.83). Sheet floors laid no
    later than 1980 are treated as suspect (29 CFR 1926.1101); glue and backer of an old counter or splash of those years may
    hold the same (from memory). Each is another material and has its own sample; what was tested is not tested again, nor what a firm
    takes out anyway. Moving a drain and running a cable are taken as work for a licensed trade under a permit; the permit office decides. Silica
    work: tile, stone, concrete or porcelain that we break, cut out or lay (29 CFR 1926.1153; what counts is decided on the exposure).
    """
    moves, old = drain.is_lowered, job.old
    suspect, suspect_glue = (job.site.year_built <= value("checks", f"{what}/year") for what in ("flooring", "glue"))
    wired = job.plumbing.disposer == "new" and not old.disposer and job.scope.disposer.renewed
    by_trade = job.scope.drain_move.renewed and job.scope.drain_move.installed_by == "trade"
    disturbs = cut is not None or old.splash in {"glued", "tile"} or job.scope.wall_repair.renewed
    return Duties(
        permit=moves or wired,
        plumber=moves and job.scope.drain_move.installed_by == "trade",
        floor_plumber=drain.through_floor and by_trade and opens_drain(job, removal, lowered=moves),
        electrician=wired,
        cable_left=old.disposer and job.plumbing.disposer == "none" and removal.sink_by == "us",
        lead_safe=job.site.year_built < value("checks", "lead/year") and disturbs,
        silica=_raises_silica(job, lists, removal, abatement) or _cuts_brittle(job, lists, removal),
        test_floor=suspect and job.site.floor_tested is None and job.site.floor_covering in {"sheet", "other"} and job.cabinet.wet_floor,
        test_glue=tuple(part for part in list_untested(job, lists, removal, "us") if suspect_glue and not abatement.takes(part)),
        glue_untested_by_customer=list_untested(job, lists, removal, "customer") if suspect_glue else (),
        glue_found_by_customer=list_found(job, removal, "customer"),
    )


def _cuts_brittle(job: FilledJob, lists: Lists, removal: Removal) -> bool:
    """Whether we cut pieces of what cracks, for a counter that we lay ourselves."""
    kind = counter_kind(job, lists)
    return kind.brittle and kind.made_by == "us" and removal.counter_comes_off and job.scope.counter.ours_to_install


def _raises_silica(job: FilledJob, lists: Lists, removal: Removal, abatement: Abatement) -> bool:
    old = job.old
    ours = {part: getattr(removal, f"{part}_by") == "us" and not abatement.takes(part) for part in ("counter", "splash", "sink")}
    tiles = (ours["splash"] and old.splash == "tile") or (ours["sink"] and old.sink_kind == "tiled-in")
    return tiles or (ours["counter"] and lists.removed_is_brittle(old.counter_material))
