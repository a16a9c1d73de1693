"""Do the lists of the work agree: who does it, in which order, how long one waits, what may go wrong?"""

from collections.abc import Mapping, Sequence
from typing import Any

from kit.errors import Fault
from kit.lists.schema import COLUMNS, LEADS
from kit.tables import Row

__all__ = ["check_work"]

Rows = Mapping[str, list[tuple[Row, Any]]]


def check_work(rows: Rows, faults: list[Fault]) -> None:
    """Points in rising order, known names, chances that are chances, people who are there."""
    _check_points("hired.csv", rows, ("low", "likely", "high"), faults)
    _check_points("lead_times.csv", rows, ("low", "likely", "high"), faults)
    _check_points("site_risks.csv", rows, ("cost_low", "cost_likely", "cost_high"), faults)
    _check_points("site_risks.csv", rows, ("hours_low", "hours_likely", "hours_high"), faults)
    steps = {str(step.step) for _, step in rows["steps.csv"]}
    for row, rule in rows["order_rules.csv"]:
        faults.extend(Fault(f"row {row.number}, after", f'"{name}" is not a step.', "order_rules.csv") for name in rule.after if name not in steps)
    for row, step in rows["steps.csv"]:
        if not 1 <= step.crew <= step.crew_most:
            faults.append(Fault(f"row {row.number}", f"wants at least {step.crew} and at most {step.crew_most} people.", "steps.csv"))
    for row, risk in rows["site_risks.csv"]:
        if risk.chance > 1:
            faults.append(Fault(f"row {row.number}, chance", "is more than 100 %.", "site_risks.csv"))
    _check_hired(rows, faults)
    _check_leads(rows, faults)


def _check_hired(rows: Rows, faults: list[Fault]) -> None:
    units = {item.item: item.unit for _, item in rows["items.csv"]}
    named = {column.name for column in COLUMNS["counters.csv"][1] if column.name.endswith("_item")}
    for row, hired in rows["hired.csv"]:
        if hired.unit != units.get(hired.driver, hired.unit):
            faults.append(Fault(f"row {row.number}, unit", f'"{hired.driver}" is counted in {units[hired.driver]}.', "hired.csv"))
        if hired.driver not in units and hired.driver not in named:
            faults.append(Fault(f"row {row.number}, driver", f'"{hired.driver}" is neither in items.csv nor a column of counters.csv.', "hired.csv"))
        if hired.crew < 1:
            faults.append(Fault(f"row {row.number}, crew", "must be 1 or more.", "hired.csv"))


def _check_leads(rows: Rows, faults: list[Fault]) -> None:
    known = set(LEADS)
    known |= {name for _, item in rows["items.csv"] for name in (item.item, item.cost_code)}
    known |= {name for _, counter in rows["counters.csv"] for name in (counter.item, counter.material)}
    for row, lead in rows["lead_times.csv"]:
        if lead.what not in known:
            faults.append(
                Fault(f"row {row.number}, what", f'"{lead.what}" is no item, cost code or counter, and none of: {", ".join(LEADS)}.', "lead_times.csv")
            )
    told = {lead.what for _, lead in rows["lead_times.csv"]}
    if told:
        faults.extend(Fault("", f'"{name}" has no row.', "lead_times.csv") for name in LEADS if name not in told)


def _check_points(file: str, rows: Rows, columns: Sequence[str], faults: list[Fault]) -> None:
    for row, made in rows[file]:
        points = [getattr(made, column) for column in columns]
        if points != sorted(points):
            faults.append(Fault(f"row {row.number}", f"{', '.join(columns[:-1])} and {columns[-1]} are not in rising order.", file))
