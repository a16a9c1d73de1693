"""A drawing as a picture file, for what can't hold SVG."""

import re
from pathlib import Path

from kit.errors import KitError

__all__ = ["MOST_PIXELS", "on_paper", "png_from_svg", "render_png"]

MOST_PIXELS = 12_000
_ROOT = re.compile(r"<svg\b[^>]*>")
_VIEW = re.compile(r"""\bviewBox=["']\s*(\S+)\s+(\S+)\s+(\S+)\s+(\S+?)\s*["']""")
_PAGE = b"""#set page(width: auto, height: auto, margin: 0pt, fill: white)
#image(bytes(sys.inputs.drawing), format: "svg", width: float(sys.inputs.width) * 1pt)
"""
_POINTS_PER_INCH = 72.0


def _view(svg: str) -> tuple[str, tuple[str, str, str, str]]:
    root = _ROOT.search(svg)
    view = _VIEW.search(root.group()) if root else None
    if root is None or view is None:
        raise KitError("This is no drawing: an <svg> element with a viewBox was expected.")
    return root.group(), (view[1], view[2], view[3], view[4])


def on_paper(svg: str) -> str:
    """The drawing in black on a white sheet, for a file that is looked at by itself; on screen it takes the colours around it."""
    root, (left, upper, wide, tall) = _view(svg)
    paper = f'<rect x="{left}" y="{upper}" width="{wide}" height="{tall}" fill="#fff" stroke="none"/>'
    head, _, rest = svg.partition(root)
    return f'{head}<svg color="#000"{root[4:]}{paper}{rest}'


def render_png(svg: str, *, zoom: float = 2.0) -> bytes:
    """The drawing as PNG.

    Parameters
    ----------
    svg
        A drawing of this room, with a viewBox.
    zoom
        Picture points for each unit of the drawing.

    Returns
    -------
    The file's bytes; the same on every machine, since only the letters that come with the typesetter are used.

    Raises
    ------
    KitError
        Text that is no drawing, or a picture of more than `MOST_PIXELS` points a side.
    """
    import typst

    _, (_, _, wide, tall) = _view(svg)
    if not 0.0 < max(float(wide), float(tall)) * zoom <= MOST_PIXELS:
        raise KitError(f"A picture of {float(wide) * zoom:.0f} x {float(tall) * zoom:.0f} points was asked for; the most is {MOST_PIXELS} a side.")
    try:
        made = typst.compile(_PAGE, format="png", ppi=_POINTS_PER_INCH * zoom, ignore_system_fonts=True, sys_inputs={"drawing": svg, "width": wide})
    except typst.TypstError as error:
        raise KitError(f"The drawing can't be made a picture: {error}") from error
    assert isinstance(made, bytes)  # noqa: S101 - for the type checker; one page gives one picture
    return made


def png_from_svg(svg: str, path: Path, *, zoom: float = 2.0) -> Path:
    """Write a drawing as PNG; parameters and errors as `render_png`."""
    path.write_bytes(render_png(svg, zoom=zoom))
    return path
