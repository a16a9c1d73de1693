"""Hot, cold and dishwasher: stops to renew, stubs long enough for push-fit, hoses, transitions."""

from dataclasses import dataclass

from kit.job import FilledJob
from kit.lists import Lists
from kit.sources import value

__all__ = ["Supply", "design_supply"]

FAUCET_LINES = 2  # hot and cold


@dataclass(frozen=True, slots=True)
class Supply:
    """What the water side takes.

    `short_stubs` are those too short for a push-fit stop; each gets a piece of tube. `dual_stops` of the `stops` have a
    second outlet for the dishwasher. `connections` are joined at both ends; `hoses` are those bought new. `tees` feed what
    else lives below the deck.
    """

    stops: int
    short_stubs: int
    tube_pieces_in: tuple[float, ...]
    couplings: int
    transition: str | None
    transition_note: str
    hoses: int
    stub_needed_in: float
    dual_stops: int = 0
    connections: int = 0
    tees: int = 0


def design_supply(job: FilledJob, lists: Lists) -> Supply:
    """Stops, tube and hoses.

    Notes
    -----
    A push-fit stop slides over a clean, round, straight stub; the depth is the maker's (general web figure in the
    sources, mark it on the tube first). A shorter stub is cut back and lengthened with a coupling and a piece of tube.
    The faucet always comes off with the sink, so both of its lines are joined again by whoever fits it; they are bought
    new with a new faucet, and with a new stop.
    """
    plumbing, faucet = job.plumbing, job.scope.faucet
    needed_in = value("pipes", "push-fit/0.5/depth")
    short = plumbing.stops_to_renew if plumbing.clean_stub_in < needed_in else 0
    transition, note = lists.transition("supply", plumbing.supply_old, plumbing.supply_new)
    connections = 0 if faucet.excluded or faucet.installed_by in {"customer", "fabricator", "trade"} else FAUCET_LINES
    return Supply(
        stops=plumbing.stops_to_renew,
        short_stubs=short,
        tube_pieces_in=(value("practice", "supply/tube-piece"),) * short,
        couplings=short,
        transition=transition if short else None,
        transition_note=note,
        hoses=connections if faucet.renewed else min(connections, plumbing.stops_to_renew),
        stub_needed_in=needed_in,
        dual_stops=1 if plumbing.dishwasher and plumbing.stops_to_renew else 0,
        connections=connections,
        tees=int(plumbing.filter) + int(plumbing.hot_tap),
    )
