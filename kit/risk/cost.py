"""What may the job cost in the end, how much to set aside, and what drives it? Risk reads cost only, never the job."""

from array import array
from collections.abc import Collection, Sequence
from decimal import Decimal
from functools import lru_cache
from statistics import NormalDist
from typing import TYPE_CHECKING

from kit.errors import Fault, KitError
from kit.labor.schedule import OWN
from kit.labor.three_point import pert_mean
from kit.lists.work_rows import SiteRiskRow
from kit.money import CENT_PLACES, EXACT, NOISE_PLACES, PACK_PLACES, sum_money, to_decimal
from kit.records import Purchase, Task
from kit.risk.outcome import CostRisk, Driver, add_deviation
from kit.risk.sampling import PointTable, check_settings, draw_event, draw_item, event_id, trial_blocks
from kit.risk.uncertain import RiskItem, price_item, task_item, waste_item

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

__all__ = ["cost_risk", "simulate_cost"]

NORMAL_90 = NormalDist().inv_cdf(0.9)
"""90 % quantile of the standard normal distribution: one draw in ten lies above it, one in ten below its negative."""


def simulate_cost(
    items: Sequence[RiskItem], site_risks: Sequence[SiteRiskRow] = (), *, seed: int, trials: int, correlation: float, hour_cost: Decimal = Decimal(0)
) -> CostRisk:
    """Try the cost of a job many times.

    Parameters
    ----------
    items
        Everything that the estimate holds, with spread or without.
    site_risks
        Events; they happen independently of each other and of the items.
    seed
        0 or more. The same seed and input give the same trials.
    trials
        How often to try.
    correlation
        Between any two items of one group: 0 each for itself, 1 all together. It is that of the normal draws behind the quantities
        (a one-factor Gaussian copula); that of the quantities themselves is slightly less.
    hour_cost
        What a worker-hour of a site risk costs [USD/h].

    Returns
    -------
    Sorted trials, mean, and the drivers with their share of the variance: covariance with the total over the total's variance.

    Raises
    ------
    KitError
        Points out of order, a chance or correlation outside 0 to 1, an id that stands twice, no trials.
    """
    import numpy as np

    check_settings(items, site_risks, seed=seed, trials=trials, correlation=correlation)
    spread = [item for item in items if item.high != item.low]
    split = len(spread)
    blocks = trial_blocks(trials)
    rows = np.empty((split + len(site_risks), blocks[0].size))
    sums, products, totals = np.zeros(len(rows)), np.zeros(len(rows)), list["NDArray[np.float64]"]()
    for block in blocks:
        added = rows[:, : block.size]
        for row, item in zip(added[:split], spread, strict=True):
            _cost_beyond(item, draw_item(item, seed=seed, block=block, correlation=correlation, out=row))
        for row, risk in zip(added[split:], site_risks, strict=True):
            where, normals = draw_event(risk, seed=seed, block=block)
            money, hours = PointTable(*_cost_points(risk)), PointTable(risk.hours_low, risk.hours_likely, risk.hours_high)
            row[:] = 0.0
            row[where] = money.read(normals) + hours.read(normals) * float(hour_cost)
        totals.append(added.sum(axis=0))
        sums += added.sum(axis=1)
        products += np.einsum("ij,j->i", added, totals[-1] - totals[0].mean())  # `@` is no faster, and its threads keep a core busy while they wait
    total = np.concatenate(totals)
    means, whole = sums / trials, float(total.var()) * trials
    shares = (products - means * (total - totals[0].mean()).sum()) / whole if whole else products
    base = sum_money([item.base for item in items])
    weighed = list(zip(shares.tolist(), means.tolist(), strict=True))
    drivers = [_item_driver(item, *of, *ends) for item, of, ends in zip(spread, weighed[:split], _cost_ends(spread), strict=True)]
    drivers += [_risk_driver(risk, hour_cost, *of) for risk, of in zip(site_risks, weighed[split:], strict=True)]
    return CostRisk(
        base=base,
        seed=seed,
        trials=trials,
        correlation=correlation,
        mean=add_deviation(base, float(total.mean())),
        deviations=array("d", np.sort(total).tobytes()),
        drivers=tuple(sorted(filter(_matters, drivers), key=lambda driver: (-round(driver.share, NOISE_PLACES), driver.id))),
    )


def cost_risk(
    tasks: Sequence[Task],
    purchases: Sequence[Purchase],
    site_risks: Sequence[SiteRiskRow] = (),
    *,
    seed: int,
    trials: int,
    correlation: float,
    price_spread: tuple[float, float] = (0.0, 0.0),
    waste_spread: tuple[float, float] = (0.0, 0.0),
    counted: Collection[str] = (),
    tax: Decimal = Decimal(0),
    tax_paid: Decimal = Decimal(0),
) -> CostRisk:
    """Try the direct cost of an estimate many times: hours of its tasks, prices and waste of its purchases, site risks.

    Parameters
    ----------
    tasks
        Each costs its amount, and its rate more or less for each worker-hour above or below the likely ones. All steps are one group.
    purchases
        Each costs its amount.
    site_risks
        Those that apply to this job; a worker-hour of theirs costs what the own tasks cost on average.
    seed, trials, correlation
        As `simulate_cost`.
    price_spread
        How far prices may go down and up, as shares: (-0.05, 0.10). All prices are one group.
    waste_spread
        How much less and more of each purchase may be needed, as shares. More costs nothing until the packs on hand are used up. What is
        cut from a plan has its waste in the plan, and hired work and fees have none.
    counted
        Ids of purchases that are counted piece by piece: a sink is one sink, whatever the waste.
    tax, tax_paid
        Share of sales tax that taxable purchases cost beside their amounts, and what the estimate holds for it [USD].

    Raises
    ------
    KitError
        As `simulate_cost`; or site risks have hours while no own task says what an hour costs.
    """
    items = [task_item(task) for task in tasks]
    items += [price_item(purchase, price_spread, tax) for purchase in purchases]
    if tax_paid:
        items.append(RiskItem("tax", "Sales tax paid", *3 * (float(tax_paid),), base=tax_paid))
    items += [waste_item(purchase, waste_spread, tax) for purchase in purchases if purchase.packs and not purchase.plan and purchase.id not in counted]
    hour_cost = _own_hour_cost(tasks, site_risks)
    return simulate_cost(items, site_risks, seed=seed, trials=trials, correlation=correlation, hour_cost=hour_cost)


def _cost_beyond(item: RiskItem, drawn: "NDArray[np.float64]") -> None:
    """Turn drawn quantities into what they cost more than the estimate holds [USD], in their place."""
    if item.pack:
        _packs_beyond(drawn, item.pack, item.packs)
    else:
        drawn -= item.likely
    drawn *= float(item.cost_per_unit)


def _packs_beyond(drawn: "NDArray[np.float64]", pack: "float | NDArray[np.float64]", packs: "float | NDArray[np.float64]") -> "NDArray[np.float64]":
    """Turn drawn quantities into the packs bought beyond those on hand, in their place."""
    import numpy as np

    drawn /= pack
    np.round(drawn, PACK_PLACES, out=drawn)
    np.ceil(drawn, out=drawn)
    drawn -= packs
    return np.maximum(drawn, 0.0, out=drawn)


def _cost_points(risk: SiteRiskRow) -> tuple[float, float, float]:
    return float(risk.cost_low), float(risk.cost_likely), float(risk.cost_high)


def _item_driver(item: RiskItem, share: float, mean: float, low: float, high: float) -> Driver:
    return Driver(item.id, item.label, share, to_decimal(mean, CENT_PLACES), to_decimal(low, CENT_PLACES), to_decimal(high, CENT_PLACES), None)


def _cost_ends(items: Sequence[RiskItem]) -> list[list[float]]:
    """What each item costs more than the estimate holds at its tenth and ninetieth percentile [USD]; all at once."""
    import numpy as np

    if not items:
        return []
    tables = [PointTable(item.low, item.likely, item.high) for item in items]
    columns = [(table.reach, table.low, item.likely, item.pack, item.packs, float(item.cost_per_unit)) for table, item in zip(tables, items, strict=True)]
    reach, low, likely, pack, packs, cost = np.array(columns).T[:, :, np.newaxis]
    drawn = np.array([_unit_ends(table.position) for table in tables]) * reach + low
    more, packed = drawn - likely, pack[:, 0] > 0
    more[packed] = _packs_beyond(drawn[packed], pack[packed], packs[packed])
    ends: list[list[float]] = (more * cost).tolist()
    return ends


@lru_cache
def _unit_ends(position: float) -> "NDArray[np.float64]":
    """The quantities from 0 to 1 below and above which one draw in ten lies."""
    import numpy as np

    return PointTable(0.0, position, 1.0).read(np.array([-NORMAL_90, NORMAL_90]))


def _risk_driver(risk: SiteRiskRow, hour_cost: Decimal, share: float, mean: float) -> Driver:
    cost = pert_mean(*_cost_points(risk)) + pert_mean(risk.hours_low, risk.hours_likely, risk.hours_high) * float(hour_cost)
    return Driver(event_id(risk), risk.name, share, to_decimal(mean, CENT_PLACES), Decimal("0.00"), to_decimal(cost, CENT_PLACES), risk.chance)


def _matters(driver: Driver) -> bool:
    return driver.share != 0 or (driver.low != driver.high and driver.chance != 0)


def _own_hour_cost(tasks: Sequence[Task], site_risks: Sequence[SiteRiskRow]) -> Decimal:
    own = [task for task in tasks if task.trade == OWN]
    hours = sum(task.hours_likely for task in own)
    if hours:
        return EXACT.divide(sum_money([task.amount for task in own]), Decimal(repr(hours)))
    lacking = [Fault(risk.risk, "has hours, but the job has no own hours that say what an hour costs.") for risk in site_risks if risk.hours_high]
    if lacking:
        raise KitError(lacking)
    return Decimal(0)
