"""A folder of job files as one table: each job at the lists it uses, and for what can't be priced why not."""

from pathlib import Path
from typing import TYPE_CHECKING, Any

from kit.design.named_goods import counter_name
from kit.errors import Fault, KitError
from kit.estimating import Estimate, estimate
from kit.job import price_folder, read_job
from kit.job.field_names import say_choice
from kit.job.prices import whose_lists
from kit.lists import Lists, load_lists

if TYPE_CHECKING:
    import pandas as pd

__all__ = ["MAY_BE_EMPTY", "batch", "figures_row"]

MAY_BE_EMPTY = {"can be built": "boolean", "stops": "Int64"}
"""Types of columns that stay whole numbers, and yes or no, beside an empty cell."""


def batch(folder: str | Path, lists: Lists | None = None) -> "pd.DataFrame":
    """Every job file (TOML) of a folder, priced.

    Parameters
    ----------
    folder
        Where the job files lie.
    lists
        Lists to price all of them with; without, each job is priced with those that it uses.

    Returns
    -------
    A row for each file under its name: job, customer, sink and countertop, price and cost [USD, Decimal], margin [%], hours [h], whether it can be built,
    how many findings say stop, whose lists. Where a file can't be read or priced the column "problem" says why and the figures are empty.

    Raises
    ------
    KitError
        If there is no such folder.

    Examples
    --------
    >>> import kit
    >>> jobs = kit.batch(kit.shipped("examples"))
    >>> bool((jobs["problem"] == "").all()), "price [USD]" in jobs
    (True, True)
    """
    import pandas as pd

    home = Path(folder)
    if not home.is_dir():
        raise KitError(Fault("", "is no folder of job files.", str(folder)))
    columns = ["file", "job", "customer", *figures_row(None), "lists", "problem"]
    return pd.DataFrame([_row(path, lists) for path in sorted(home.glob("*.toml"))], columns=columns).set_index("file").astype(MAY_BE_EMPTY)


def _row(path: Path, lists: Lists | None) -> dict[str, Any]:
    row: dict[str, Any] = {"file": path.name, "job": "", "customer": "", **figures_row(None), "lists": "", "problem": ""}
    try:
        job = read_job(path)
        row |= {"job": job.identity.job_number, "customer": job.identity.customer}
        used = lists or load_lists(price_folder(job, path))
        row["lists"] = whose_lists(used)
        return row | figures_row(estimate(job, used))
    except KitError as error:
        return row | {"problem": "; ".join(str(fault) for fault in error.faults)}


def figures_row(priced: Estimate | None) -> dict[str, Any]:
    """The figures of an estimate that tables of several estimates show; None where there is none."""
    names = ("mount", "countertop", "price [USD]", "cost [USD]", "margin [%]", "hours [h]", "can be built", "stops")
    if priced is None:
        return dict.fromkeys(names)
    stops = sum(finding.level.word == "stop" for finding in priced.findings)
    top = counter_name(priced.job, priced.lists)
    money = (priced.price, priced.cost, round(float(priced.margin) * 100, 2))
    values = (say_choice("sink.mount", priced.job.sink.mount), top, *money, round(priced.hours, 2), priced.buildable, stops)
    return dict(zip(names, values, strict=True))
