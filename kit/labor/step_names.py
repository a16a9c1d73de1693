"""What is a step called in this job? As steps.csv says, or by a row `name` of wording.csv where the job has only some of the work which that names."""

from collections.abc import Collection, Mapping, Sequence

from kit.lists import Lists
from kit.lists.money_rows import Wording
from kit.records import Line
from kit.steps import Step

__all__ = ["name_steps", "wording_holds"]


def name_steps(lines: Sequence[Line], conditions: Collection[str], lists: Lists) -> Mapping[Step, str]:
    """The name of every step of the lists; of several rows that hold in this job, the last one counts.

    `lines` are the takeoff, `conditions` those of `kit.labor.conditions.holding_conditions`.
    """
    names = {step: row.name for step, row in lists.steps.items()}
    return names | {Step(row.about): row.says for row in lists.wording if row.use == "name" and row.about and wording_holds(row, lines, conditions)}


def wording_holds(wording: Wording, lines: Sequence[Line], conditions: Collection[str]) -> bool:
    """Whether a row of wording.csv holds: its condition does, and, where it names work of its step, some of that is done."""
    if wording.applies_when not in conditions:
        return False
    return wording.with_work is None or any(line.step == wording.about and line.item in wording.with_work for line in lines)
