"""What does one field of a job do to its price? The job at each of several values, as a table and a picture."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Any

from kit.draw.sweep_chart import SweptValue, draw_sweep
from kit.errors import KitError
from kit.estimating import estimate
from kit.job import Job, change_job
from kit.job.field_names import label_of, lower_first
from kit.job.prices import whose_lists
from kit.lists import Lists, load_lists
from kit.notebook.batches import MAY_BE_EMPTY, figures_row
from kit.notebook.pictures import frame_picture
from kit.shipped_files import shipped

if TYPE_CHECKING:
    import pandas as pd

__all__ = ["Sweep", "sweep"]


@dataclass(frozen=True, slots=True)
class Sweep:
    """One field of a job at several values: `frame` has a row for each, `picture` (SVG) shows the price over them, `on_phone` the same where it is narrow."""

    frame: "pd.DataFrame"
    picture: str
    on_phone: str

    def __repr__(self) -> str:
        return f"<Sweep of {len(self.frame)} values of: {self.frame.index.name}>"

    def _repr_html_(self) -> str:
        return f"<div class='mathjax_ignore'>{frame_picture(self.picture, self.on_phone)}{self.frame.to_html(na_rep='', float_format='{:.2f}'.format)}</div>"


def sweep(job: Job, place: str, values: Iterable[Any], *, lists: Lists | None = None) -> Sweep:
    """The job priced with one field at each of some values, all else as it is.

    Parameters
    ----------
    job
        The job; it stays as it is.
    place
        The field, such as "cabinet.width" or "sink.mount".
    values
        What is typed there: text such as "33 in", pint quantities, words, numbers of a count.
    lists
        Price lists; without, the invented ones of the kit: the picture and `frame.attrs` say whose they are.

    Returns
    -------
    `frame`: a row for each value with price and cost [USD, Decimal], margin [%], hours [h], whether it can be built, stops, what says the first stop;
    where a value can't be priced "problem" says why. `picture`: the price over the values, what can't be built marked.

    Raises
    ------
    KitError
        If no value is given.

    Examples
    --------
    >>> import kit
    >>> job = kit.read_job(kit.shipped("examples") / "stone_apron_single_bowl.toml")
    >>> swept = kit.sweep(job, "cabinet.width", ["33 in", "36 in"])
    >>> swept.frame["can be built"].tolist()
    [False, True]
    """
    import pandas as pd

    used = lists or load_lists(shipped("price_lists"))
    label = label_of(place)
    rows = [_row(job, place, value, used) for value in values]
    if not rows:
        raise KitError("Give at least one value to sweep over.")
    table = pd.DataFrame([{label: _words(value), **row} for value, row in rows]).set_index(label).astype(MAY_BE_EMPTY)
    table.attrs = {"job": job.identity.job_number, "lists": whose_lists(used)}
    points = [SweptValue(_words(value), row["price [USD]"], bool(row["can be built"])) for value, row in rows]
    draw = partial(draw_sweep, f"Price by {lower_first(label).replace(': ', ' ')}", points, whose_lists(used))
    return Sweep(table, draw(), draw(narrow=True))


def _row(job: Job, place: str, value: Any, lists: Lists) -> tuple[Any, Mapping[str, Any]]:
    try:
        priced = estimate(change_job(job, {place: value}), lists)
    except KitError as error:
        return value, {**figures_row(None), "first stop": "", "problem": "; ".join(str(fault) for fault in error.faults)}
    worst = priced.worst
    stop = worst.check if worst is not None and not priced.buildable else ""
    return value, {**figures_row(priced), "first stop": stop, "problem": ""}


def _words(value: Any) -> str:
    """A value as a person reads it: a pint quantity short ("33 in"), text as it stands."""
    return f"{value:~g}" if hasattr(value, "magnitude") else str(value)
