"""Who supplies and who installs each item."""

from typing import Literal

from kit.job.fields import Record, choice

__all__ = ["Scope", "ScopeItem"]

Supplier = Literal["us", "customer", "fabricator", "trade", "stays", "excluded"]
Installer = Literal["us", "customer", "fabricator", "trade", "nobody"]


class ScopeItem(Record):
    """One item of the scope table."""

    supplied_by: Supplier = choice("Who supplies it; nobody where the present one stays, or where it is not in the job")
    installed_by: Installer = choice("Who installs it; nobody where it stays or is not in the job")

    @property
    def ours_to_supply(self) -> bool:
        """Whether we buy it."""
        return self.supplied_by == "us"

    @property
    def ours_to_install(self) -> bool:
        """Whether our crew fits it."""
        return self.installed_by == "us"

    @property
    def excluded(self) -> bool:
        """Whether it is no part of the job."""
        return self.supplied_by == "excluded"

    @property
    def stays(self) -> bool:
        """Whether what is there is kept."""
        return self.supplied_by == "stays"

    @property
    def renewed(self) -> bool:
        """Whether a new one comes, whoever brings it."""
        return not (self.stays or self.excluded)


class Scope(Record):
    """The scope table: one row for each item that a sink-and-counter job can touch."""

    sink: ScopeItem
    faucet: ScopeItem
    strainer: ScopeItem
    disposer: ScopeItem
    dishwasher: ScopeItem
    counter: ScopeItem
    splash: ScopeItem
    drain_move: ScopeItem
    wall_repair: ScopeItem
    haul_away: ScopeItem
    asbestos: ScopeItem = ScopeItem(supplied_by="excluded", installed_by="nobody")
    """Removal of what a laboratory found: by a certified firm that we hire (trade) or the customer hires; left out or excluded: the customer's too."""
