"""The parts of an estimate as pandas frames; each head says its unit, money stays Decimal so that sums hold to the cent."""

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, Any

from kit.errors import KitError
from kit.estimating import Estimate
from kit.export.lists_used import currency_of
from kit.job.prices import whose_lists
from kit.pricing.build_up import row_kinds
from kit.sources import source_title
from kit.takeoff.working import working_words

if TYPE_CHECKING:
    import pandas as pd

__all__ = ["PARTS", "frame"]

Row = dict[str, Any]


def frame(estimate: Estimate, part: str) -> "pd.DataFrame":
    """One part of an estimate as a table.

    Parameters
    ----------
    estimate
        The estimate.
    part
        "lines", "purchases", "tasks", "findings" or "build_up".

    Returns
    -------
    A row for each, under its id. Where a head names a unit in [brackets] all of its column is in it: shares 0 to 1 [1], hours [h], money in the currency of
    the lists; else the column "unit" says it for each row. Amounts are Decimal. `attrs` names the job and the lists.

    Raises
    ------
    KitError
        If there is no such part.

    Examples
    --------
    >>> import kit
    >>> job = kit.read_job(kit.shipped("examples") / "stone_apron_single_bowl.toml")
    >>> priced = kit.estimate(job, kit.load_lists(kit.shipped("price_lists")))
    >>> float(kit.frame(priced, "tasks")["likely [h]"].sum()) == priced.hours
    True
    """
    import pandas as pd

    if part not in PARTS:
        raise KitError(f'"{part}" is no part of an estimate. Use one of: {", ".join(PARTS)}.')
    rows = list(PARTS[part](estimate, currency_of(estimate)))
    table = pd.DataFrame(rows).set_index("id") if rows else pd.DataFrame(index=pd.Index([], name="id"))
    table.attrs = {"job": estimate.job.identity.job_number, "lists": whose_lists(estimate.lists)}
    return table


def _lines(estimate: Estimate, _: str) -> Iterator[Row]:
    for line in estimate.lines:
        yield {
            "id": line.id,
            "step": estimate.step_names[line.step],
            "kind": str(line.kind),
            "what": estimate.lists.name_of(line.item),
            "quantity": line.quantity,
            "unit": line.unit,
            "waste [1]": line.waste,
            "with waste": line.need,
            "working": working_words(line.basis),
            "source": source_title(line.source),
        }


def _purchases(estimate: Estimate, currency: str) -> Iterator[Row]:
    for bought in estimate.purchases:
        yield {
            "id": bought.id,
            "what": estimate.lists.name_of(bought.item),
            "supplier": bought.supplier,
            "need": bought.need,
            "unit": bought.unit,
            "packs": bought.packs,
            "pack": bought.pack,
            f"unit price [{currency}]": bought.unit_price,
            f"amount [{currency}]": bought.amount,
            "taxable": bought.taxable,
            "used [1]": bought.used,
            "left over": bought.left_over,
        }


def _tasks(estimate: Estimate, currency: str) -> Iterator[Row]:
    for task in estimate.tasks:
        yield {
            "id": str(task.step),
            "step": estimate.step_names[task.step],
            "low [h]": task.hours_low,
            "likely [h]": task.hours_likely,
            "high [h]": task.hours_high,
            "crew [people]": task.crew,
            "duration [h]": task.duration_h,
            f"cost per hour [{currency}/h]": task.rate,
            f"amount [{currency}]": task.amount,
            "working": working_words(task.basis),
        }


def _findings(estimate: Estimate, _: str) -> Iterator[Row]:
    for finding in estimate.findings:
        yield {
            "id": finding.id,
            "level": finding.level.word,
            "check": finding.check,
            "have": finding.measured,
            "need": finding.limit,
            "to spare": finding.margin,
            "tape good to": finding.tolerance,
            "unit": finding.unit,
            "chance that it fits [1]": finding.chance,
            "what to do": finding.remedy,
            "source": source_title(finding.source),
        }


def _build_up(estimate: Estimate, currency: str) -> Iterator[Row]:
    kinds = row_kinds(estimate.build_up, estimate.terms)
    for row in estimate.build_up:
        yield {"id": row.id, "row": row.label, "amount": row.amount, "unit": currency if kinds[row.id] == "money" else "1"}


PARTS: dict[str, Callable[[Estimate, str], Iterator[Row]]] = {
    "lines": _lines,
    "purchases": _purchases,
    "tasks": _tasks,
    "findings": _findings,
    "build_up": _build_up,
}
