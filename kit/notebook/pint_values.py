"""A measure of a job or a figure of an estimate as a pint quantity."""

from typing import TYPE_CHECKING, Any

from kit.errors import Fault, JobError
from kit.estimating import Estimate
from kit.job import Job
from kit.job.fields import Record
from kit.units import to_quantity

if TYPE_CHECKING:
    import pint

__all__ = ["quantity_of"]


def quantity_of(about: Job | Estimate, place: str) -> "pint.Quantity[float]":
    """A measure with its unit, for computing in a notebook.

    Parameters
    ----------
    about
        A job, or an estimate, whose job has its assumptions filled in.
    place
        A field such as "cabinet.width" or "counter.runs[1].length"; of an estimate also "hours", or the id of a line of its takeoff.

    Returns
    -------
    A quantity of pint's application registry [in, lb, h, ft, %, or the unit of the line].

    Raises
    ------
    JobError
        If there is no such field, nobody measured it, or it is no measure.
    UnitError
        If a line counts in what pint does not know, such as "each".

    Examples
    --------
    >>> import kit
    >>> job = kit.read_job(kit.shipped("examples") / "stone_apron_single_bowl.toml")
    >>> kit.quantity_of(job, "cabinet.width").to("mm").magnitude
    914.4
    """
    if isinstance(about, Estimate):
        if place == "hours":
            return to_quantity(about.hours, "h")
        line = next((line for line in about.lines if line.id == place), None)
        return _field(about.job, place) if line is None else to_quantity(line.quantity, line.unit)
    return _field(about, place)


def _field(job: Job, place: str) -> "pint.Quantity[float]":
    *way, last = place.replace("]", "").replace("[", ".").split(".")
    record: Any = job
    try:
        for part in way:
            record = record[int(part) - 1] if isinstance(record, tuple) and int(part) > 0 else getattr(record, _attribute(record, part))
        name = _attribute(record, last)
    except (KeyError, ValueError, IndexError):
        raise JobError(Fault(place, "is no field of this job. Give one such as cabinet.width.")) from None
    rule, value = type(record).rules.get(name), getattr(record, name)
    if place in job.open_places or value is None:
        raise JobError(Fault(place, "is not known: nobody has measured it. Measure it, or ask the estimate what was assumed."))
    if rule is None or not rule.unit:
        raise JobError(Fault(place, f"{'is a part of the job' if rule is None else f'says {value}'}: no measure with a unit."))
    return to_quantity(value * 100.0, "%") if rule.kind == "share" else to_quantity(value, rule.unit)


def _attribute(record: Any, key: str) -> str:
    """The attribute that a key of the job file stands for. Raises KeyError if there is none."""
    names = {record.key(name): name for name in type(record).model_fields} if isinstance(record, Record) else {}
    return names[key]
