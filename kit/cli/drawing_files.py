"""The drawings that `estimate --out` writes beside the workbook."""

from collections.abc import Callable
from pathlib import Path

from kit.draw.calendar import draw_calendar
from kit.draw.files import list_drawings
from kit.draw.png import on_paper
from kit.estimate import Estimate
from kit.outlook import schedule_of

__all__ = ["drawing_files"]


def drawing_files(estimate: Estimate, stem: str) -> dict[str, Callable[[Path], object]]:
    """Name and writer of each drawing: elevation, section, plan, cut plans and the calendar, as SVG in black on white."""
    labels = {step: row.label for step, row in estimate.lists.steps.items()}
    drawings = [*list_drawings(estimate), ("calendar", draw_calendar(schedule_of(estimate), labels))]

    def writer(svg: str) -> Callable[[Path], object]:
        return lambda path: path.write_text(on_paper(svg) + "\n", encoding="utf-8", newline="\n")

    return {f"{stem}-{name}.svg": writer(svg) for name, svg in drawings}
