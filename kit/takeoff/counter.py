"""The counter: a fabricator's bill, our own blanks, or one that stays and takes the new sink."""

from kit.design import counter_kind
from kit.errors import Fault, JobError
from kit.lists import CounterKind
from kit.records import Line
from kit.takeoff.fabricated_counter import fabricated_counter
from kit.takeoff.own_counter import own_counter
from kit.takeoff.sheet import Sheet
from kit.takeoff.standing_counter import standing_counter

__all__ = ["count_counter"]


def count_counter(sheet: Sheet) -> list[Line]:
    """Whoever makes it. Nothing is billed for a counter that is no part of the job or that the customer buys and sets.

    Raises
    ------
    JobError
        If the counter's row in the list is not made by whom the job says: it has no prices for that.
    """
    counter, scope = sheet.job.counter, sheet.job.scope.counter
    kind = counter_kind(sheet.job, sheet.lists)
    if counter.made_by == "stays" or scope.stays:
        return standing_counter(sheet, kind)
    if not scope.renewed:
        return []
    _refuse_other_maker(sheet, kind)
    return fabricated_counter(sheet, kind) if counter.made_by == "fabricator" else own_counter(sheet, kind)


def _refuse_other_maker(sheet: Sheet, kind: CounterKind) -> None:
    made_by = sheet.job.counter.made_by
    if kind.made_by != made_by:
        known = ", ".join(row.item for row in sheet.lists.counters.values() if row.made_by == made_by and row.material == kind.material)
        message = f'"{kind.item}" is made by {kind.made_by} in counters.csv, but counter.made_by says {made_by}. Choose one of: {known or "none is listed"}.'
        raise JobError(Fault("counter.item", message))
