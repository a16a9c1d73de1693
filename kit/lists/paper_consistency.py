"""Do the lists behind papers and books agree with the others?"""

from collections.abc import Mapping, Sequence
from typing import Any

from kit.errors import Fault
from kit.lists.paper_rows import BOOK_USES
from kit.lists.schema import MATERIALS, SINK_MATERIALS
from kit.steps import Step
from kit.tables import Row

__all__ = ["check_papers"]

ALL_STEPS = "all"


def check_papers(rows: Mapping[str, Sequence[tuple[Row, Any]]], faults: list[Fault]) -> None:
    """Every cost code in use has its row, every use of the books its entry; sentences are about what there is."""
    _check_codes(rows, faults)
    entered = {entry.use for _, entry in rows["books.csv"]}
    if entered:
        faults.extend(Fault("", f'use "{use}" has no row.', "books.csv") for use in BOOK_USES if use not in entered)
    steps = {str(step) for step in Step}
    known = {"step": steps, "crew": {*steps, ALL_STEPS}, "care": {*MATERIALS, *SINK_MATERIALS}}
    wanted = {"step": "a step", "crew": "a step or all", "care": "a material of a counter or sink"}
    for row, wording in rows["wording.csv"]:
        if wording.use in known:
            if wording.about not in known[wording.use]:
                faults.append(Fault(f"row {row.number}, about", f'"{wording.about or ""}" is not {wanted[wording.use]}.', "wording.csv"))
        elif wording.about:
            faults.append(Fault(f"row {row.number}, about", f"must be empty for the use {wording.use}.", "wording.csv"))


def _check_codes(rows: Mapping[str, Sequence[tuple[Row, Any]]], faults: list[Fault]) -> None:
    codes = {code.cost_code for _, code in rows["cost_codes.csv"]}
    if not codes:
        return
    for file in ("items.csv", "steps.csv"):
        faults.extend(
            Fault(f"row {row.number}, cost_code", f'"{made.cost_code}" is not in cost_codes.csv.', file)
            for row, made in rows[file]
            if made.cost_code not in codes
        )
