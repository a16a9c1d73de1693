"""The drawings of an estimate under their names, each as a sheet of its own: SVG in black on white, or PNG for what can't hold SVG."""

import json
import math
import re
from collections.abc import Iterator, Sequence
from types import MappingProxyType

from kit.draw.cuts import draw_cut_plans
from kit.draw.frame_picture import draw_frame_picture
from kit.draw.front_elevation import draw_front
from kit.draw.plan import draw_plan
from kit.draw.section import draw_section
from kit.draw.set_out import draw_set_out
from kit.errors import KitError
from kit.estimating import Estimate

__all__ = ["MOST_PIXELS", "PICTURE_NAMES", "list_drawings", "list_pictures", "list_views", "on_paper", "render_pngs"]

PICTURE_NAMES = MappingProxyType(
    {
        "set-out": "Set out the job",
        **{f"set-out-{sheet}": f"Set out the job, sheet {sheet}" for sheet in range(2, 9)},
        "front": "Front elevation",
        "section": "Side section",
        "plan": "Plan of the countertop",
        "frame": "The frame",
        "frame-apart": "The frame, taken apart",
    }
)
"""What people call each of the pictures of a job."""

MOST_PIXELS = 12_000
_ROOT = re.compile(r"<svg\b[^>]*>")
_VIEW = re.compile(r"""\bviewBox=["']\s*(\S+)\s+(\S+)\s+(\S+)\s+(\S+?)\s*["']""")
_PAGES = b"""#for one in json(bytes(sys.inputs.drawings)) {
  set page(width: one.wide * 1pt, height: one.tall * 1pt, margin: 0pt, fill: white)
  place(top + left, image(bytes(one.drawing), format: "svg", width: one.side * 1pt, height: one.side * 1pt))
  pagebreak(weak: true)
}
"""
_POINTS_PER_INCH = 72.0
_SIZE = re.compile(r"""\s(?:width|height|style|viewBox)=(?:"[^"]*"|'[^']*')""")
_UNSAFE = re.compile(r"[^a-z0-9]+")


def list_drawings(estimate: Estimate) -> Iterator[tuple[str, str]]:
    """Name and SVG of every drawing of an estimate: the pictures of the job, and a cut plan for each item that is cut."""
    yield from list_pictures(estimate)
    names: set[str] = set()
    for item, drawing in draw_cut_plans(estimate):
        yield _file_name(item, names), drawing


def list_pictures(estimate: Estimate) -> Iterator[tuple[str, str]]:
    """Name and SVG of what shows the job: what to set out, and its views."""
    for sheet, drawing in enumerate(draw_set_out(estimate), 1):
        yield "set-out" if sheet == 1 else f"set-out-{sheet}", drawing
    yield from list_views(estimate)


def list_views(estimate: Estimate, *, narrow: bool = False) -> Iterator[tuple[str, str]]:
    """Name and SVG of elevation, section, plan, and the frame whole and taken apart where there is one; `narrow` ones for a telephone."""
    yield "front", draw_front(estimate, narrow=narrow)
    yield "section", draw_section(estimate, narrow=narrow)
    yield "plan", draw_plan(estimate, narrow=narrow)
    if estimate.design.placed.frame is not None:
        yield "frame", draw_frame_picture(estimate, narrow=narrow)
        yield "frame-apart", draw_frame_picture(estimate, exploded=True, narrow=narrow)


def _file_name(item: str, names: set[str]) -> str:
    """A file name that every system takes, unlike the `names` given before; it joins them."""
    plain = _UNSAFE.sub("-", item.lower()).strip("-")[:60] or "item"
    name, number = f"cut-{plain}", 2
    while name in names:
        name, number = f"cut-{plain}-{number}", number + 1
    names.add(name)
    return name


def _view(svg: str) -> tuple[str, tuple[str, str, str, str]]:
    root = _ROOT.search(svg)
    view = _VIEW.search(root.group()) if root else None
    if root is None or view is None:
        raise KitError("This is no drawing: an <svg> element with a viewBox was expected.")
    return root.group(), (view[1], view[2], view[3], view[4])


def on_paper(svg: str) -> str:
    """The drawing in black on a white sheet, for a file that is looked at by itself; on screen it takes the colors around it."""
    root, (left, upper, wide, tall) = _view(svg)
    paper = f'<rect x="{left}" y="{upper}" width="{wide}" height="{tall}" fill="#fff" stroke="none"/>'
    head, _, rest = svg.partition(root)
    return f'{head}<svg color="#000"{root[4:]}{paper}{rest}'


def _squared(svg: str, side: int, zoom: float) -> str:
    """The drawing at the upper left of a square of whole points: of any other form the typesetter's picture loses rows and columns of points."""
    root, (left, upper, _, _) = _view(svg)
    head, _, rest = svg.partition(root)
    body, end, _ = rest.rpartition("</svg>")
    square = f'{_SIZE.sub("", root)[:-1]} viewBox="0 0 {side} {side}" width="{side}" height="{side}">'
    return f'{head}{square}<g transform="scale({zoom:g}) translate({-float(left):g} {-float(upper):g})">{body}</g>{end}'


def _sized(svg: str, zoom: float) -> dict[str, str | int]:
    """A drawing as the typesetter's page reads it, with the sizes of its picture [points]; KitError if it would be too large."""
    _, (_, _, wide, tall) = _view(svg)
    if not 0.0 < max(float(wide), float(tall)) * zoom <= MOST_PIXELS:
        raise KitError(f"A picture of {float(wide) * zoom:.0f} x {float(tall) * zoom:.0f} points was asked for; the most is {MOST_PIXELS} a side.")
    across, down = (math.ceil(round(float(edge) * zoom, 6)) for edge in (wide, tall))
    side = max(across, down)
    return {"drawing": _squared(svg, side, zoom), "wide": across, "tall": down, "side": side}


def render_pngs(svgs: Sequence[str], *, zoom: float = 2.0) -> list[bytes]:
    """Drawings as PNG, in one run of the typesetter.

    Parameters
    ----------
    svgs
        Drawings of this room, with a viewBox.
    zoom
        Picture points for each unit of a drawing.

    Returns
    -------
    The files' bytes; the same on every machine, since only the letters that come with the typesetter are used.

    Raises
    ------
    KitError
        Text that is no drawing, or a picture of more than `MOST_PIXELS` points a side.
    """
    import typst

    inputs = {"drawings": json.dumps([_sized(svg, zoom) for svg in svgs])}
    try:
        pictures = typst.compile(_PAGES, format="png", ppi=_POINTS_PER_INCH, ignore_system_fonts=True, sys_inputs=inputs)
    except typst.TypstError as error:
        raise KitError(f"The drawing can't be made a picture: {error}") from error
    return pictures if isinstance(pictures, list) else [bytes(pictures or b"")]
