"""The drawings of a job, each by its name."""

from kit.draw.drawings import PICTURE_NAMES, list_drawings
from kit.errors import KitError
from kit.estimating import Estimate

__all__ = ["Picture", "draw_job", "frame_picture"]


_ON_PHONE = "<style>@media (max-width:620px){.sk-wide{display:none}}@media (min-width:621px){.sk-narrow{display:none}}</style>"


class Picture(str):
    """A drawing as the text of an SVG file, which a notebook shows as a picture."""

    __slots__ = ()

    def __repr__(self) -> str:
        return f"<Picture: {len(self):,} characters of SVG>"

    def _repr_html_(self) -> str:
        return frame_picture(self)


def frame_picture(drawing: str, on_phone: str = "") -> str:
    """A drawing as HTML in the color of the text around it; where it is wider than its room it moves, its letters keep their size.

    On a telephone the one `on_phone` stands in its place, where there is one.
    """
    if on_phone:
        return f"{_ON_PHONE}<div class='sk-wide'>{frame_picture(drawing)}</div><div class='sk-narrow'>{frame_picture(on_phone)}</div>"
    whole = drawing.replace("<svg ", "<svg style='max-width:none' ", 1)  # the Lab makes it as narrow as its window otherwise
    return f"<div class='sk-drawing' style='overflow-x:auto' role='region' aria-label='Drawing' tabindex='0'>{whole}</div>"


def draw_job(estimate: Estimate, name: str = "front") -> Picture:
    """One drawing of what is built.

    Parameters
    ----------
    estimate
        The estimate whose design is drawn.
    name
        "front", "section", "plan", "frame", "frame-apart", "set-out", or the plan of an item that is cut, such as "cut-lumber-2x4".

    Returns
    -------
    SVG text; at the end of a cell it is shown as a picture, written into a file it opens in a browser.

    Raises
    ------
    KitError
        If the job has no such drawing; those it has are named.

    Examples
    --------
    >>> import kit
    >>> job = kit.read_job(kit.shipped("examples") / "stone_apron_single_bowl.toml")
    >>> priced = kit.estimate(job, kit.load_lists(kit.shipped("price_lists")))
    >>> kit.draw_job(priced, "frame").startswith("<svg")
    True
    """
    drawings = dict(list_drawings(estimate))
    if name not in drawings:
        why = " This job has no frame to draw." if name in PICTURE_NAMES else ""
        raise KitError(f'This job has no drawing "{name}".{why} It has: {", ".join(drawings)}.')
    return Picture(drawings[name])
