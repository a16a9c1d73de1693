"""Offcuts in the van that may serve before anything is bought."""

from kit.job.fields import Record, count, measure, text

__all__ = ["Offcut"]


class Offcut(Record):
    """Sound left-overs of one size; `item` is the stock's own id in the items list."""

    item: str = text("What it is, as in the items list, such as lumber-2x4")
    length_in: float = measure("length", "Usable length", 3, 240)
    width_in: float | None = measure("length", "Usable width of a sheet or blank", 1, 80, optional=True)
    count: int = count("How many", 1, 99)
