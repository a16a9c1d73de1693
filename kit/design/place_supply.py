"""Where are the shutoff valves at the wall, and each tap with its nut, below and above the counter?"""

from collections.abc import Iterator, Sequence

from kit.design.levels import Levels
from kit.design.place_holes import DeckHole
from kit.design.place_room import WALL
from kit.design.place_sink import SinkPlace
from kit.job import FilledJob
from kit.shapes import Rod
from kit.solids import Body, Stage
from kit.sources import value

__all__ = ["place_supply_stubs", "place_taps", "place_valves"]

_LEDGE = ("sink.depth", "sink.rear_rim", "sink.bowl_width", "sink.body_width", "cabinet.depth", "cabinet.width", "cabinet.height")
_ABOVE = {"faucet": "faucet", "air-gap": "air gap", "dispenser": "dispenser", "filter-tap": "filter tap"}


def place_valves(job: FilledJob) -> Iterator[Body]:
    """Hot and cold with their handles, square out of the wall: old ones and new ones stand in the same place."""
    z, middle_in, apart_in = job.plumbing.stop_height_in, job.cabinet.width_in / 2.0, job.plumbing.stops_apart_in
    reach_in, handle_in = value("practice", "valve/reach"), value("practice", "valve/handle-deep")
    for side, x in (("left", middle_in - apart_in / 2.0), ("right", middle_in + apart_in / 2.0)):
        body = Rod((x, 0.0, z), (x, reach_in - handle_in, z), value("practice", "valve/body") / 2.0)
        handle = Rod((x, reach_in - handle_in, z), (x, reach_in, z), value("practice", "valve/handle") / 2.0)
        fields = ("plumbing.stop_height", "plumbing.stops_apart", "cabinet.width")
        yield Body(f"{side} shutoff valve", "supply", (body, handle), stands_on=(WALL,), fields=fields)


def place_supply_stubs(job: FilledJob) -> Iterator[Body]:
    """The pipe through the wall's board on which each valve sits: it stays. Where it goes on nobody sees; hoses bend around what is in their way."""
    deep_in, radius_in = value("site_work", "wall-board/thickness"), value("pipes", "copper-k/0.5/outside") / 2.0
    for valve in place_valves(job):
        x, _, z = valve.middle
        pipe = Rod((x, -deep_in, z), (x, 0.0, z), radius_in)
        yield Body(f"{valve.name.removesuffix(' shutoff valve')} supply stub", "stub", (pipe,), stands_on=(WALL,), fields=valve.fields)


def place_taps(levels: Levels, at: SinkPlace, holes: Sequence[DeckHole]) -> Iterator[Body]:
    """Below each hole of counter or faucet deck the nut with room for its key, above it the tap."""
    radius_in, deep_in = value("checks", "faucet/nut-radius"), value("practice", "faucet/below-deck")
    uses = [hole.use for hole in holes]
    for number, hole in enumerate(holes, 1):
        x, y = hole.x_in, hole.y_in
        low_in, top_in = at.rim_z if hole.in_sink else (levels.cabinet_top_in, levels.counter_top_in)
        on, fields = ("sink rim", _LEDGE) if hole.in_sink else ("counter", ("counter.holes", "cabinet.width", "cabinet.height"))
        which = "" if uses.count(hole.use) == 1 else f" {number}"
        nut = Rod((x, y, low_in - deep_in), (x, y, low_in), radius_in)
        yield Body(f"{hole.use} nut{which}", "holes", (nut,), Stage.BUILT, stands_on=(on,), fields=fields)
        kind = "faucet" if hole.use == "faucet" else "tap"
        rod = Rod((x, y, top_in), (x, y, top_in + value("practice", f"{kind}/high")), value("practice", f"{kind}/across") / 2.0)
        yield Body(f"{_ABOVE[hole.use]}{which}", "faucet", (rod,), Stage.BUILT, stands_on=(on,), fields=fields)
