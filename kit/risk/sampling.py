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
from typing import TYPE_CHECKING

from kit.errors import Fault, KitError
from kit.labor.three_point import beta_pert_quantiles, check_three_points
from kit.lists.work_rows import SiteRiskRow
from kit.risk.uncertain import RiskItem

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

__all__ = ["PointTable", "check_settings", "draw_event", "draw_item", "event_id"]

REACH = 5.0
"""Normal draws beyond this many standard deviations (6 in 10 million) count as this many: the points have limits anyway."""

MOST_KEPT = 4096
"""Draws of more trials than this are not kept: they would fill the memory (512 quantities of 4,096 draws are 17 MB)."""

CELLS = 1024
"""Cells of the table from normal draw to quantity; straight lines between its nodes are within 0.00001 of the range."""


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
            faults.append(Fault(item.id, f"a pack of {item.pack:g} can't be right. Give 0 or more."))
    if faults:
        raise KitError(faults)


class PointTable:
    """Beta-PERT quantity as a function of a standard normal draw: nodes at equal steps, straight between them."""

    __slots__ = ("low", "position", "reach")

    def __init__(self, low: float, likely: float, high: float) -> None:
        self.low, self.reach = low, high - low
        self.position = (likely - low) / self.reach if high > low else 0.0

    def read(self, normals: "NDArray[np.float64]") -> "NDArray[np.float64]":
        """Get the quantities of standard normal draws."""
        return self.stretch(_read_unit(self.position, normals))

    def stretch(self, shares: "NDArray[np.float64]") -> "NDArray[np.float64]":
        """Get the quantities that lie so far between the lowest (0) and the highest (1)."""
        return shares * self.reach + self.low


def _read_unit(position: float, normals: "NDArray[np.float64]") -> "NDArray[np.float64]":
    """How far between its ends the quantity lies whose likely value lies at `position` (0 to 1), for each standard normal draw."""
    import numpy as np

    nodes, steps = _unit_nodes(position)
    place = normals * (CELLS / (2 * REACH))
    place += CELLS / 2
    np.clip(place, 0, CELLS, out=place)
    node = place.astype(np.intp)
    place -= node
    place *= steps[node]
    place += nodes[node]
    return place


def _mirrored_normals(seed: int, name: str, trials: int) -> "NDArray[np.float64]":
    """Draw standard normals for a name: the second half of the trials mirrors the first."""
    import numpy as np

    half = _half_normals(seed, name, (trials + 1) // 2)
    return np.concatenate((half, -half))[:trials]


@lru_cache(maxsize=256)
def _half_normals(seed: int, name: str, count: int) -> "NDArray[np.float64]":
    """Standard normals of a name, kept: the finish draws the hours of the cost again, each alternate those of the one before it."""
    drawn: NDArray[np.float64] = _stream(seed, name).standard_normal(count)
    drawn.flags.writeable = False
    return drawn


def draw_item(item: RiskItem, *, seed: int, trials: int, correlation: float) -> "NDArray[np.float64]":
    """Draw a quantity [its unit]: one normal of its own and one of its group, weighed so that any two of a group correlate as set."""
    table = PointTable(item.low, item.likely, item.high)
    draw = _unit_draws if trials <= MOST_KEPT else _unit_draws.__wrapped__
    return table.stretch(draw(seed, item.id, item.group, correlation, table.position, trials))


@lru_cache(maxsize=512)
def _unit_draws(seed: int, name: str, group: str, correlation: float, position: float, trials: int) -> "NDArray[np.float64]":
    """The draws of a quantity from 0 to 1, kept: an alternate that has it too, or the finish beside the cost, stretches them to its own figures."""
    own = _mirrored_normals(seed, name, trials)
    if group and correlation > 0:
        own *= sqrt(1 - correlation)
        own += sqrt(correlation) * _mirrored_normals(seed, f"group/{group}", trials)
    drawn = _read_unit(position, own)
    drawn.flags.writeable = False
    return drawn


def event_id(risk: SiteRiskRow) -> str:
    """The name under which a site risk draws, and by which it is found among the drivers."""
    return f"site:{risk.risk}"


def draw_event(risk: SiteRiskRow, *, seed: int, trials: int) -> "tuple[NDArray[np.intp], NDArray[np.float64]]":
    """Draw in which trials a site risk happens (their numbers), and how badly there (standard normals)."""
    draw = _event_draws if trials <= MOST_KEPT else _event_draws.__wrapped__
    return draw(seed, event_id(risk), risk.chance, trials)


@lru_cache(maxsize=128)
def _event_draws(seed: int, name: str, chance: float, trials: int) -> "tuple[NDArray[np.intp], NDArray[np.float64]]":
    """The draws of an event, kept: the finish draws those of the cost again, each alternate those of the one before it."""
    import numpy as np

    half = _stream(seed, f"event/{name}").random((trials + 1) // 2)
    where = np.flatnonzero(np.concatenate((half < chance, half >= 1 - chance))[:trials])
    normals = _mirrored_normals(seed, name, trials)[where]
    where.flags.writeable = normals.flags.writeable = False
    return where, normals


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
    return nodes, np.append(np.diff(nodes), 0.0)
