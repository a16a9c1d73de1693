"""The house, the way in, and when work may be done."""

from typing import Generic, Literal, Never

from kit.job.fields import Blank, Record, choice, count, flag, measure

__all__ = ["Site"]


class Site(Record, Generic[Blank]):
    """Everything about the place that changes hours, lifting, permits or cautions."""

    year_built: int | Blank = count("Year the house was built", 1600, 2100, assume="1960", why="treated as built before 1978 until shown otherwise")
    floor: int = count("Floor of the house that the kitchen is on; 1 is the ground floor", 0, 40, default=1)
    below: Literal["crawl-space", "basement", "slab", "rooms"] | Blank = choice(
        "What is below the kitchen floor. rooms: where people live or store things",
        assume="crawl-space",
        why="a floor on joists is never taken for a slab; look from below",
    )
    stair_steps: int = count("Steps between the truck and the kitchen", 0, 400, default=0)
    carry_ft: float | Blank = measure(
        "distance", "Walk from the truck to the kitchen", 0, 500, assume="60 ft", why="a usual driveway and hall; common practice, no source"
    )
    narrowest_door_in: float | Blank = measure("length", "Narrowest door on the way in", 18, 96, assume="29 1/2 in", why="clear width of a 30 in passage door")
    narrowest_turn_in: float | Blank = measure(
        "length", "Narrowest hall or stair width at a turn", 20, 144, assume="36 in", why="least usual hall width; common practice, no source"
    )
    occupied: bool | Blank = flag("People live in the house during the work", assume="true", why="an occupied house is slower and needs protection")
    work_day_h: float | Blank = measure("time", "Hours a day in which work is allowed", 2, 12, assume="8 h", why="common practice, no source")
    start_hour: int = count("Hour of the day at which work starts", 5, 12, default=8)
    code_family: Literal["irc", "ipc", "upc"] | Blank = choice(
        "Model plumbing code adopted where the job is; confirm with the local authority", assume="irc", why="confirm with the local authority"
    )
    state: Literal["ca", "tx", "ny", "other"] | Blank = choice(
        "State whose contract, deposit and tax rules are shown; only those that the sources cite",
        assume="other",
        why="the sources have no rules of other states: ask a local adviser",
    )
    main_shutoff_closes: bool | Blank = flag("The main water shutoff closes tight", assume="false", why="an untested valve is planned for as if it fails")
    floor_covering: Literal["wood", "tile", "sheet", "laminate", "other"] | Blank = choice(
        "Floor in front of and under the sink base", assume="sheet", why="sheet flooring needs the most care"
    )

    floor_tested: Literal["none-found", "asbestos"] | None = choice("What a laboratory found in that floor; left out: not tested", optional=True)

    @property
    def rooms_below(self: "Site[Never]") -> bool:
        """Whether a leak would show in somebody's ceiling."""
        return self.below == "rooms" or self.floor > 1
