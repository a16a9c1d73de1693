"""What the law or the trade may ask for, worked out once: checks, takeoff and hours read it. Always "check and defer"."""

from dataclasses import dataclass

from kit.design.drain import DrainRoute
from kit.design.front import FrontCut
from kit.job import FilledJob
from kit.sources import value

__all__ = ["Duties", "design_duties"]


@dataclass(frozen=True, slots=True)
class Duties:
    """Flags, each with what triggers it left to the checks to say."""

    permit: bool
    plumber: bool
    electrician: bool
    lead_safe: bool
    test_floor: bool


def design_duties(job: FilledJob, drain: DrainRoute, cut: FrontCut | None) -> Duties:
    """Permit, licensed trades, lead-safe work, test of suspect flooring.

    Notes
    -----
    Lead-safe work: houses built before 1978 where painted surface is disturbed (40 CFR 745.83). Sheet floors laid no
    later than 1980 are treated as suspect (29 CFR 1926.1101). Moving a drain is taken as work for a licensed trade
    under a permit; the local office decides.
    """
    moves = drain.is_lowered
    disturbs = cut is not None or job.old.splash in {"glued", "tile"} or job.scope.wall_repair.renewed
    return Duties(
        permit=moves,
        plumber=moves and job.scope.drain_move.installed_by != "us",
        electrician=job.plumbing.disposer == "new" and not job.old.disposer,
        lead_safe=job.site.year_built < value("checks", "lead/year") and disturbs,
        test_floor=job.site.year_built <= value("checks", "flooring/year") and job.site.floor_covering in {"sheet", "other"} and job.cabinet.wet_floor,
    )
