"""Changes of the stone example that a customer may ask for, for the tests of change orders on paper and on the command line."""

from functools import cache
from typing import Any

import kit
from kit.job import change_job

__all__ = ["CHANGES", "changed", "first"]

CHANGES: dict[str, dict[str, Any]] = {
    "a longer way": {"site.carry": "190 ft"},
    "the customer brings the faucet": {"scope.faucet": {"supplied_by": "customer", "installed_by": "us"}},
    "one more hole": {"counter.holes": [{"use": "faucet", "offset": "0 in"}, {"use": "dispenser", "offset": "6 in"}]},
    "no haul": {"scope.haul_away": {"supplied_by": "excluded", "installed_by": "nobody"}},
    "a temporary sink": {"terms.temporary_sink": True},
    "a wet floor": {"cabinet.wet_floor": True},
    "flush mount": {"sink.mount": "flush"},
}
TAXED = {"terms.tax_on": "everything"}
EXAMPLE = kit.shipped("examples") / "stone_apron_single_bowl.toml"


@cache
def first(*, taxed: bool = False) -> kit.Estimate:
    """The example as it is, or with sales tax on the whole price."""
    job = kit.read_job(EXAMPLE)
    return kit.estimate(change_job(job, TAXED) if taxed else job, kit.load_lists(kit.shipped("price_lists")))


@cache
def changed(name: str, *, taxed: bool = False) -> kit.Estimate:
    """The same with a change."""
    made = first(taxed=taxed)
    return kit.estimate(change_job(made.job_as_read, CHANGES[name]), made.lists)
