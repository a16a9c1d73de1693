"""What could the uncertain quantities be? Reproducible draws from beta-PERT, moving together as far as one setting says.

Each quantity has a stream of random numbers of its own, found by seed and name, so that a quantity draws the same whatever else
the job holds: alternates can be compared, and a slider moves nothing but what it is for. Each trial has a mirror image in which every
draw stands on the other side of its median (antithetic pairs): means keep their expectation and vary less.
"""

from collections.abc import Sequence
from functools import cache, lru_cache
from hashlib import sha256
from math import isfinite, sqrt
from statistics import NormalDist
from typing import TYPE_CHECKING, NamedTuple

from kit.errors import Fault, KitError
from kit.labor.three_point import beta_pert_quantiles, check_three_points
from kit.lists.work_rows import SiteRiskRow
from kit.risk.uncertain import RiskItem

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

__all__ = ["Block", "PointTable", "check_settings", "draw_event", "draw_item", "event_id", "trial_blocks"]

REACH = 5.0
"""Normal draws beyond this many standard deviations (6 in 10 million) count as this many: the points have limits anyway."""

BLOCK = 8192
"""Trials that are worked out together, so that they stay near the processor. Draws of more than these are not kept (512 quantities of 8,192 are 34 MB)."""

CELLS = 1024
"""Cells of the table from normal draw to quantity; straight lines between its nodes are within 0.00001 of the range."""


class Block(NamedTuple):
    """Trials that are worked out together: `first` to `last` (not with it) of the first half of all `trials`, then the mirror image of each."""

    first: int
    last: int
    trials: int

    @property
    def size(self) -> int:
        """How many trials: the last of an odd number has no mirror image."""
        return min(2 * (self.last - self.first), self.trials - 2 * self.first)

    @property
    def half(self) -> int:
        """How many are drawn for all trials."""
        return (self.trials + 1) // 2


def trial_blocks(trials: int) -> list[Block]:
    """All trials, block by block."""
    half, step = (trials + 1) // 2, BLOCK // 2
    return [Block(first, min(first + step, half), trials) for first in range(0, half, step)]


def check_settings(items: Sequence[RiskItem], site_risks: Sequence[SiteRiskRow], *, seed: int, trials: int, correlation: float) -> None:
    """Refuse what can't be drawn (KitError): points out of order, chances and correlations outside 0 to 1, ids that stand twice."""
    faults: list[Fault] = []
    if seed < 0:
        faults.append(Fault("seed", f"{seed} is no seed. Needed: a whole number, 0 or more."))
    if trials < 1:
        faults.append(Fault("trials", f"{trials} trials show nothing. Needed: 1 or more."))
    if not 0 <= correlation <= 1:
        faults.append(Fault("correlation", f"{correlation:g} can't be right. Needed: 0 (each for itself) to 1 (all together)."))
    seen: set[str] = set()
    for name in [*(item.id for item in items), *map(event_id, site_risks)]:
        if name in seen:
            faults.append(Fault(name, "is there twice and would draw the same twice."))
        seen.add(name)
    for item in items:
        try:
            check_three_points(item.low, item.likely, item.high, item.id)
        except KitError as error:
            faults.extend(error.faults)
        if not (isfinite(item.pack) and item.pack >= 0):
            faults.append(Fault(item.id, f"A pack of {item.pack:g} can't be right. Give 0 or more."))
    if faults:
        raise KitError(faults)


class PointTable:
    """Beta-PERT quantity as a function of a standard normal draw: nodes at equal steps, straight between them."""

    __slots__ = ("low", "position", "reach")

    def __init__(self, low: float, likely: float, high: float) -> None:
        self.low, self.reach = low, high - low
        self.position = (likely - low) / self.reach if self.reach else 0.0

    def read(self, normals: "NDArray[np.float64]") -> "NDArray[np.float64]":
        """Get the quantities of standard normal draws."""
        return self.stretch(_read_unit(self.position, _cells_from_middle(normals) + CELLS / 2))

    def stretch(self, shares: "NDArray[np.float64]", out: "NDArray[np.float64] | None" = None) -> "NDArray[np.float64]":
        """Get the quantities that lie so far between the lowest (0) and the highest (1)."""
        import numpy as np

        stretched: NDArray[np.float64] = np.multiply(shares, self.reach, out=out)
        stretched += self.low
        return stretched


def _cells_from_middle(normals: "NDArray[np.float64]") -> "NDArray[np.float64]":
    """How many cells standard normal draws lie above the middle of the table."""
    import numpy as np

    cells = normals * (CELLS / (2 * REACH))
    np.minimum(cells, CELLS / 2, out=cells)
    return np.maximum(cells, -CELLS / 2, out=cells)


def _read_unit(position: float, place: "NDArray[np.float64]") -> "NDArray[np.float64]":
    """How far between its ends the quantity lies whose likely value lies at `position` (0 to 1), for places in the table; it works in place."""
    import numpy as np

    nodes, steps = _unit_nodes(position)
    whole = np.floor(place)
    node = whole.astype(np.intp)
    place -= whole
    place *= steps.take(node)
    place += nodes.take(node)
    return place


def _half_normals(seed: int, name: str, block: Block) -> "NDArray[np.float64]":
    """Standard normals of a name for the trials of a block; their mirror images are the same below zero."""
    return _all_normals(seed, name, block.half)[block.first : block.last]


@lru_cache(maxsize=256)
def _all_normals(seed: int, name: str, count: int) -> "NDArray[np.float64]":
    """Standard normals of a name, kept: the finish draws the hours of the cost again, each alternate those of the one before it."""
    drawn: NDArray[np.float64] = _stream(seed, name).standard_normal(count)
    drawn.flags.writeable = False
    return drawn


def draw_item(item: RiskItem, *, seed: int, block: Block, correlation: float, out: "NDArray[np.float64] | None" = None) -> "NDArray[np.float64]":
    """Draw a quantity [its unit]: one normal of its own and one of its group, weighed so that any two of a group correlate as set."""
    table = PointTable(item.low, item.likely, item.high)
    draw = _unit_draws if block.trials <= BLOCK else _unit_draws.__wrapped__
    return table.stretch(draw(seed, item.id, item.group, correlation, table.position, block), out)


@lru_cache(maxsize=512)
def _unit_draws(seed: int, name: str, group: str, correlation: float, position: float, block: Block) -> "NDArray[np.float64]":
    """The draws of a quantity from 0 to 1, kept: an alternate that has it too, or the finish beside the cost, stretches them to its own figures."""
    import numpy as np

    normals = _half_normals(seed, name, block)
    if group and correlation:
        normals = normals * sqrt(1 - correlation)
        normals += sqrt(correlation) * _half_normals(seed, f"group/{group}", block)
    cells = _cells_from_middle(normals)
    place = np.empty(2 * len(cells))
    np.add(CELLS / 2, cells, out=place[: len(cells)])
    np.subtract(CELLS / 2, cells, out=place[len(cells) :])
    drawn = _read_unit(position, place)[: block.size]
    drawn.flags.writeable = False
    return drawn


def event_id(risk: SiteRiskRow) -> str:
    """The name under which a site risk draws, and by which it is found among the drivers."""
    return f"site:{risk.risk}"


def draw_event(risk: SiteRiskRow, *, seed: int, block: Block) -> "tuple[NDArray[np.intp], NDArray[np.float64]]":
    """Draw in which trials of a block a site risk happens (their places there), and how badly (standard normals)."""
    draw = _event_draws if block.trials <= BLOCK else _event_draws.__wrapped__
    return draw(seed, event_id(risk), risk.chance, block)


@lru_cache
def _event_draws(seed: int, name: str, chance: float, block: Block) -> "tuple[NDArray[np.intp], NDArray[np.float64]]":
    """The draws of an event, kept: the finish draws those of the cost again, each alternate those of the one before it."""
    import numpy as np

    drawn, normals = _half_chances(seed, name, block.half)[block.first : block.last], _half_normals(seed, name, block)
    where = np.flatnonzero(np.concatenate((drawn < chance, drawn >= 1 - chance))[: block.size])
    normals = np.concatenate((normals, -normals))[where]
    where.flags.writeable = normals.flags.writeable = False
    return where, normals


@lru_cache
def _half_chances(seed: int, name: str, count: int) -> "NDArray[np.float64]":
    """Numbers from 0 to 1 that say in which trials an event happens, kept for the next block and for the finish."""
    return _stream(seed, f"event/{name}").random(count)


def _stream(seed: int, name: str) -> "np.random.Generator":
    import numpy as np

    digest = int.from_bytes(sha256(name.encode()).digest()[:16], "big")
    return np.random.Generator(np.random.PCG64(np.random.SeedSequence((seed, digest))))


@cache
def _chances() -> "NDArray[np.float64]":
    import numpy as np

    bell = NormalDist()
    return np.array([bell.cdf(z) for z in np.linspace(-REACH, REACH, CELLS + 1)])


@cache
def _unit_nodes(position: float) -> "tuple[NDArray[np.float64], NDArray[np.float64]]":
    """Nodes of a quantity from 0 to 1, and from each the step to the next."""
    import numpy as np

    nodes = beta_pert_quantiles(0.0, position, 1.0, _chances())
    return nodes, np.diff(nodes, append=nodes.max())
