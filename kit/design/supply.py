"""Hot, cold and dishwasher: stops to renew by the joint of their stubs, stubs long enough for it, hoses, transitions."""

from dataclasses import dataclass

from kit.job import FilledJob
from kit.lists import Lists
from kit.sources import value

__all__ = ["FAUCET_LINES", "Supply", "design_supply"]

FAUCET_LINES = 2  # hot and cold


@dataclass(frozen=True, slots=True)
class Supply:
    """What the water side takes.

    `joint` is how the new stops join their stubs. `short_stubs` are those too short for it, or of steel where the stop isn't threaded on;
    each gets a piece of tube. `threads` are threaded joints to seal, `pex_ends` ends of PEX tube that take an insert stiffener, or a ring where they
    are pressed. `adapters` give a thread to stubs that have none, below threaded stops.
    `dual_stops` of the `stops` have a second outlet for the dishwasher. `connections` are joined at both ends; `hoses` are those bought new. `tees` feed what
    else lives below the deck.
    """

    stops: int
    joint: str
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
    threads: int = 0
    adapters: int = 0
    pex_ends: int = 0


def design_supply(job: FilledJob, lists: Lists) -> Supply:
    """Stops, tube and hoses.

    Notes
    -----
    A push-fit stop slides over a clean, round, straight stub; the depth is the maker's (general web figure in the
    sources, mark it on the tube first). A compression or press stop takes a shorter one (from memory). A threaded stop goes onto the
    thread of a steel stub; on tube it takes an adapter, push-fit so that nothing is heated (common practice, no source).
    A stub too short is cut back and lengthened with a coupling of that joint and a piece of tube; a steel stub gets
    an adapter and tube where the stop isn't threaded.
    The faucet always comes off with the sink, so both of its lines are joined again by whoever fits it; they are bought
    new with a new faucet, and with a new stop.
    """
    plumbing, faucet = job.plumbing, job.scope.faucet
    joint, on_tube = plumbing.stop_joint, _joint_on_tube(job)
    needed_in = _stub_needed_in(on_tube)
    steel = plumbing.supply_old == "galvanized" and joint != "threaded"
    short = plumbing.stops_to_renew if steel or plumbing.clean_stub_in < needed_in else 0
    listed, note = lists.transition("supply", plumbing.supply_old, plumbing.supply_new)
    transition = f"{on_tube}-coupling" if listed == "push-fit-coupling" else listed
    threaded_ends = plumbing.stops_to_renew if joint == "threaded" else short if steel else 0
    connections = 0 if faucet.excluded or faucet.installed_by in {"customer", "fabricator", "trade"} else FAUCET_LINES
    return Supply(
        stops=plumbing.stops_to_renew,
        joint=joint,
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
        threads=threaded_ends,
        adapters=plumbing.stops_to_renew if on_tube != joint else 0,
        pex_ends=_pex_ends(job, short, steel=steel),
    )


def _joint_on_tube(job: FilledJob) -> str:
    """How something new is joined to the stub: by the stop's own joint, by a push-fit adapter where a threaded stop finds tube."""
    plumbing = job.plumbing
    return "push-fit" if plumbing.stop_joint == "threaded" and plumbing.supply_old != "galvanized" else plumbing.stop_joint


def _stub_needed_in(joint: str) -> float:
    """Clean stub that a joint takes [in]; none where the stop goes onto a thread."""
    if joint == "threaded":
        return 0.0
    return value("pipes", "push-fit/0.5/depth") if joint == "push-fit" else value("practice", "supply/compression-stub")


def _pex_ends(job: FilledJob, short: int, *, steel: bool) -> int:
    """Ends of PEX in push-fit, compression and press fittings: under each stop, at the coupling of a lengthened stub, at its old end."""
    plumbing = job.plumbing
    if _joint_on_tube(job) == "threaded":
        return 0
    old, new = int(plumbing.supply_old == "pex"), int(plumbing.supply_new == "pex")
    at_coupling = new if steel else old + new
    return (plumbing.stops_to_renew - short) * old + short * (new + at_coupling)
