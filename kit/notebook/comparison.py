"""Mounts and countertops side by side, as a sequence of alternates that shows itself as one short table."""

from typing import TYPE_CHECKING

from kit.compare.options import Option, compare_alternates
from kit.facts_html import rows_html
from kit.job import Job
from kit.lists import Lists
from kit.money import format_money
from kit.notebook.batches import MAY_BE_EMPTY, figures_row

if TYPE_CHECKING:
    import pandas as pd

__all__ = ["Comparison", "compare_options"]


class Comparison(tuple[Option, ...]):
    """The alternates of a job: usable ones first, each by price."""

    __slots__ = ()

    @property
    def frame(self) -> "pd.DataFrame":
        """A row for each alternate: its standing, price and cost [USD, Decimal], margin [%], hours [h], and why it can't be had where it can't."""
        import pandas as pd

        rows = [{"alternate": one.name, "standing": one.verdict, **figures_row(one.estimate), "why": "" if one.usable else one.reason} for one in self]
        return pd.DataFrame(rows).set_index("alternate").astype(MAY_BE_EMPTY)

    def __repr__(self) -> str:
        return f"<Comparison: {self._title}>"

    @property
    def _title(self) -> str:
        return f"{sum(one.usable for one in self)} of {len(self)} alternates can be had"

    def _repr_html_(self) -> str:
        rows = [(one.name, one.verdict, format_money(one.estimate.price) if one.estimate else "", "" if one.usable else one.reason) for one in self]
        return rows_html(self._title, ("Alternate", "Standing", "Price", "Why not"), rows)


def compare_options(job: Job, lists: Lists) -> Comparison:
    """The job at each mount, and with each countertop of the lists.

    Parameters
    ----------
    job
        The job; it is among the alternates.
    lists
        Its price lists.

    Returns
    -------
    The alternates, each with its own job and estimate: usable ones first, then those to measure first, those not recommended, what can't be built.

    Raises
    ------
    KitError
        If the job itself can't be priced.

    Examples
    --------
    >>> import kit
    >>> job = kit.read_job(kit.shipped("examples") / "counter_stays_sink_only.toml")
    >>> options = kit.compare_options(job, kit.load_lists(kit.shipped("price_lists")))
    >>> options[0].usable, len(options.frame) == len(options)
    (True, True)
    """
    return Comparison(compare_alternates(job, lists))
