"""Hot, cold and dishwasher: stops to renew, stubs long enough for push-fit, hoses, transitions."""

from dataclasses import dataclass

from kit.job import Job
from kit.lists import Lists
from kit.sources import value

__all__ = ["Supply", "design_supply"]

STUB_PIECE_IN = 6.0


@dataclass(frozen=True, slots=True)
class Supply:
    """What the water side takes. `short_stubs` are those too short for a push-fit stop; each gets a piece of tube."""

    stops: int
    short_stubs: int
    tube_pieces_in: tuple[float, ...]
    couplings: int
    transition: str | None
    transition_note: str
    hoses: int
    stub_needed_in: float


def design_supply(job: Job, lists: Lists) -> Supply:
    """Stops, tube and hoses.

    Notes
    -----
    A push-fit stop slides over a clean, round, straight stub; the depth is the maker's (general web figure in the
    sources, mark it on the tube first). A shorter stub is cut back and lengthened with a coupling and a piece of tube.
    """
    plumbing = job.plumbing
    needed_in = value("socket_depths", "push-fit/0.5")
    short = plumbing.stops_to_renew if plumbing.clean_stub_in < needed_in else 0
    transition, note = lists.transition("supply", plumbing.supply_old, plumbing.supply_new)
    faucet_hoses = 2 if job.scope.faucet.renewed else 0
    return Supply(
        stops=plumbing.stops_to_renew,
        short_stubs=short,
        tube_pieces_in=(STUB_PIECE_IN,) * short,
        couplings=short,
        transition=transition if short else None,
        transition_note=note,
        hoses=faucet_hoses,
        stub_needed_in=needed_in,
    )
