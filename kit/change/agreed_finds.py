"""Which prices are agreed in advance for what may turn up in a house? The proposal states these, and a change order charges no other."""

from kit.estimating import Estimate
from kit.lists.money_rows import UnitPrice
from kit.outlook import site_risks_of
from kit.records import Kind
from kit.steps import Step

__all__ = ["agreed_finds"]


def agreed_finds(estimate: Estimate) -> dict[str, UnitPrice]:
    """Rows of `unit_prices.csv` by name; those for what can't turn up in this house, or for work that is priced already, are left out."""
    settling = {risk.agreed for risk in estimate.lists.site_risks}
    here = {risk.agreed for risk in site_risks_of(estimate)}
    rows = estimate.lists.unit_prices.items()
    return {name: row for name, row in rows if (row.find in here or row.find not in settling) and not _is_done_on_each(row, estimate)}


def _is_done_on_each(row: UnitPrice, estimate: Estimate) -> bool:
    """Whether the job has this work on every shutoff and stub under the sink: none is left on which it could turn up."""
    done = {line.item: line.quantity for line in estimate.lines if line.kind is Kind.DO}
    shutoffs = [driver for driver in row.covers if estimate.lists.rates[driver].step is Step.STOPS]
    return bool(shutoffs) and all(done.get(driver, 0.0) >= max(1, estimate.design.supply.stops) for driver in row.covers)
