"""The drawings of an estimate as files in a folder: SVG for people, PNG for what can't hold SVG."""

import re
from collections.abc import Iterator
from pathlib import Path

from kit.draw.cuts import draw_cut_plan, draw_sheet_plan
from kit.draw.front import draw_front
from kit.draw.plan import draw_plan
from kit.draw.png import on_paper, png_from_svg
from kit.draw.section import draw_section
from kit.estimate import Estimate
from kit.records import Purchase

__all__ = ["list_drawings", "write_drawings"]

_UNSAFE = re.compile(r"[^a-z0-9]+")


def list_drawings(estimate: Estimate) -> Iterator[tuple[str, str]]:
    """Name and SVG of every drawing of an estimate: elevation, section, plan, and a cut plan for each item that is cut."""
    yield "front", draw_front(estimate)
    yield "section", draw_section(estimate)
    yield "plan", draw_plan(estimate)
    cut: dict[str, list[Purchase]] = {}
    for purchase in estimate.purchases:
        if purchase.plan:
            cut.setdefault(purchase.item, []).append(purchase)
    taken: set[str] = set()
    for item, purchases in cut.items():
        name = _file_name(item, taken)
        sheets = any(part.width_in for purchase in purchases for part in purchase.plan)
        yield name, draw_sheet_plan(*purchases) if sheets else draw_cut_plan(*purchases)


def write_drawings(estimate: Estimate, folder: Path, *, png: bool = True) -> list[Path]:
    """Write every drawing into a folder, replacing files of the same names.

    Parameters
    ----------
    estimate
        The estimate.
    folder
        Where to; it is made when missing.
    png
        Whether each drawing is written as PNG too.

    Returns
    -------
    The files written, in the order of the drawings.
    """
    folder.mkdir(parents=True, exist_ok=True)
    written = []
    for name, drawing in list_drawings(estimate):
        svg = on_paper(drawing)
        path = folder / f"{name}.svg"
        path.write_text(svg + "\n", encoding="utf-8", newline="\n")
        written.append(path)
        if png:
            written.append(png_from_svg(svg, path.with_suffix(".png")))
    return written


def _file_name(item: str, taken: set[str]) -> str:
    """A file name that every system takes, unlike the others."""
    plain = _UNSAFE.sub("-", item.lower()).strip("-")[:60] or "item"
    name, number = f"cut-{plain}", 2
    while name in taken:
        name, number = f"cut-{plain}-{number}", number + 1
    taken.add(name)
    return name
