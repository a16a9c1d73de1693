"""Where things stand in the workbook: one place for each figure that another cell reads."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

__all__ = ["FIRST_ROW", "Place", "add_up"]

FIRST_ROW = 4
"""Row of the first figures of a sheet, counted from 0; title, guide, a blank and the column heads stand above."""


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """A cell: its sheet, and row and column counted from 0."""

    sheet: str
    row: int
    column: int

    @property
    def cell(self) -> str:
        """The cell within its sheet, such as `I7`."""
        from xlsxwriter.utility import xl_rowcol_to_cell

        return str(xl_rowcol_to_cell(self.row, self.column))

    def seen_from(self, sheet: str) -> str:
        """The cell as a formula on a sheet names it: `I7` at home, `Purchases!I7` elsewhere."""
        from xlsxwriter.utility import quote_sheetname

        return self.cell if sheet == self.sheet else f"{quote_sheetname(self.sheet)}!{self.cell}"


def add_up(places: Iterable[Place], sheet: str) -> str:
    """The sum of cells as a formula on `sheet` writes it, neighbours below each other joined to a range; of none, `0`.

    Examples
    --------
    >>> add_up([Place("Purchases", 4, 9), Place("Purchases", 5, 9), Place("Purchases", 8, 9)], "Build-up")
    'SUM(Purchases!J5:J6,Purchases!J9)'
    """
    runs: list[list[Place]] = []
    for place in sorted(places):
        if runs and (place.sheet, place.row - 1, place.column) == (runs[-1][-1].sheet, runs[-1][-1].row, runs[-1][-1].column):
            runs[-1].append(place)
        else:
            runs.append([place])
    if not runs:
        return "0"
    if len(runs) == 1 and len(runs[0]) == 1:
        return runs[0][0].seen_from(sheet)
    return f"SUM({','.join(_range(run, sheet) for run in runs)})"


def _range(run: Sequence[Place], sheet: str) -> str:
    first = run[0].seen_from(sheet)
    return first if len(run) == 1 else f"{first}:{run[-1].cell}"
