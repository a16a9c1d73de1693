"""Where did the job cost other than estimated? Estimated, spent and the difference by cost code and by kind of cost, to the cent."""

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from kit.archive.spent import SpentRow, find_doubled_rows
from kit.estimating import Estimate
from kit.money import EXACT, sum_money
from kit.pricing.planned_costs import PlannedCost, plan_costs
from kit.records import CostType

__all__ = ["CodeResult", "SpentComparison", "compare_spent"]

_HOUR_PLACES = 4


@dataclass(frozen=True, slots=True)
class CodeResult:
    """One cost code, or one kind of cost [USD; worker-hours h].

    `planned` tells whether the estimate has it at all, `rows` how many rows of the table spent on it.
    """

    code: str
    name: str
    planned: bool
    rows: int
    estimated: Decimal
    spent: Decimal
    hours_estimated: float
    hours_spent: float

    @property
    def difference(self) -> Decimal:
        """Spent less estimated [USD]; above 0 where it cost more."""
        return EXACT.subtract(self.spent, self.estimated)

    @property
    def share(self) -> Decimal | None:
        """The difference as a share of what was estimated; None where nothing was."""
        return EXACT.divide(self.difference, self.estimated) if self.estimated else None

    @property
    def hours_difference(self) -> float:
        """Hours spent less hours estimated [h]."""
        return round(self.hours_spent - self.hours_estimated, _HOUR_PLACES)


@dataclass(frozen=True, slots=True)
class SpentComparison:
    """An estimate against what was spent: by cost code in the order of the list, by kind of cost, and together.

    `revenue` is the price without tax that is only passed on [USD]; `doubled` are pairs of rows that look like one bill entered twice.
    """

    job_number: str
    codes: tuple[CodeResult, ...]
    types: tuple[CodeResult, ...]
    total: CodeResult
    revenue: Decimal
    doubled: tuple[tuple[int, int], ...]

    @property
    def left_estimated(self) -> Decimal:
        """What the price leaves over direct cost, as estimated [USD]."""
        return EXACT.subtract(self.revenue, self.total.estimated)

    @property
    def left_spent(self) -> Decimal:
        """What it leaves over what was spent so far [USD]; below 0 is a loss before overhead."""
        return EXACT.subtract(self.revenue, self.total.spent)

    @property
    def not_spent(self) -> tuple[CodeResult, ...]:
        """Cost codes that were estimated and have no row in the table."""
        return tuple(row for row in self.codes if not row.rows)

    @property
    def not_estimated(self) -> tuple[CodeResult, ...]:
        """Cost codes with spending that the estimate does not have."""
        return tuple(row for row in self.codes if not row.planned)


def compare_spent(estimate: Estimate, spent: Sequence[SpentRow]) -> SpentComparison:
    """Put what was spent beside what was estimated.

    Parameters
    ----------
    estimate
        As it was issued; its direct cost is what spending is held against, tax paid on purchases included.
    spent
        As `read_spent` gives it, with the lists of the estimate.

    Notes
    -----
    The estimated amounts of all codes sum to the direct cost, the spent ones to the table, both to the cent.
    """
    planned = list(plan_costs(estimate))
    names = {code: row.name for code, row in estimate.lists.cost_codes.items()}
    names |= {part.cost_code: names.get(part.cost_code, "") for part in planned}
    kinds = {str(kind): "" for kind in CostType}
    return SpentComparison(
        job_number=estimate.job.identity.job_number,
        codes=_results(names, planned, spent, lambda part: part.cost_code),
        types=_results(kinds, planned, spent, lambda part: str(part.cost_type)),
        total=_results({"": "Total"}, planned, spent, lambda _: "", keep_empty=True)[0],
        revenue=EXACT.subtract(estimate.price, estimate.amount("tax-collected")),
        doubled=find_doubled_rows(spent),
    )


def _results(
    names: dict[str, str], planned: Sequence[PlannedCost], spent: Sequence[SpentRow], key: Callable[[PlannedCost | SpentRow], str], *, keep_empty: bool = False
) -> tuple[CodeResult, ...]:
    results = []
    for code, name in names.items():
        parts, rows = [part for part in planned if key(part) == code], [row for row in spent if key(row) == code]
        if parts or rows or keep_empty:
            results.append(_result(code, name, parts, rows))
    return tuple(results)


def _result(code: str, name: str, parts: Sequence[PlannedCost], rows: Sequence[SpentRow]) -> CodeResult:
    tasks = [part.task for part in parts if part.task is not None]
    return CodeResult(
        code=code,
        name=name,
        planned=bool(parts),
        rows=len(rows),
        estimated=sum_money([part.amount for part in parts]),
        spent=sum_money([row.amount for row in rows]),
        hours_estimated=_hours(task.hours_likely for task in tasks),
        hours_spent=_hours(row.hours for row in rows),
    )


def _hours(hours: Iterable[float]) -> float:
    return round(math.fsum(hours), _HOUR_PLACES)
