"""Turn a template of this room and plain data into a PDF.

Data goes in as JSON and comes out as text: whatever a customer's name holds, none of it is read as markup.
"""

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from kit.draw.look import look_on_paper
from kit.errors import KitError

__all__ = ["share_of_width", "typeset"]

_SHARED = "paper.typ"
_AFTER_HEBREW, _SIGNS_FROM, _SIGNS_UP_TO = 0x600, 0x1E00, 0x2800


def _source(template: str) -> bytes:
    folder = Path(__file__).parent
    return b"\n".join((folder / name).read_bytes() for name in (_SHARED, template))


def _inputs(data: Mapping[str, Any], pictures: Mapping[str, str]) -> dict[str, str]:
    """The data with the look of papers; non-characters and control signs that a PDF's text can't hold are left out."""
    plain = json.dumps({**data, "look": look_on_paper()}, ensure_ascii=False, allow_nan=False)
    return {"data": "".join(sign for sign in plain if sign.isprintable() or sign == " "), **pictures}


def _own_letters(text: str) -> bool:
    """Whether the letters that come with the typesetter do: Latin, Greek, Cyrillic, Hebrew and usual signs."""
    return all(ord(sign) < _AFTER_HEBREW or _SIGNS_FROM <= ord(sign) < _SIGNS_UP_TO for sign in text)


def typeset(template: str, data: Mapping[str, Any], pictures: Mapping[str, str] | None = None) -> bytes:
    """The paper as PDF.

    Parameters
    ----------
    template
        Name of a template file of this room, such as `proposal.typ`.
    data
        What JSON knows; the template reads it as `data`, with `data.look` from `look.csv`. Its `day` (a date as text) is the day of the file.
    pictures
        SVG by name; the template shows it with `picture(name)`.

    Returns
    -------
    The file's bytes, the same for the same input: only the letters that come with the typesetter are used. Names in other scripts
    are set in the letters of the machine, so that bytes then depend on it.

    Raises
    ------
    KitError
        If the template can't be set with this data.
    """
    import typst

    inputs = _inputs(data, pictures or {})
    try:
        return bytes(typst.compile(_source(template), format="pdf", ignore_system_fonts=_own_letters(inputs["data"]), sys_inputs=inputs))
    except typst.TypstError as error:
        raise KitError(f"The paper can't be set: {error}") from error


def share_of_width(svg: str, *, widest: float = 0.0, tallest: float = 1.0) -> float:
    """How much of the text's width a drawing takes (0 to 1).

    Parameters
    ----------
    svg
        A drawing with a viewBox.
    widest
        Width of a drawing [its own units] that fills the text; 0 fills it with any.
    tallest
        Its greatest height, as a share of the text's width.
    """
    wide, tall = (float(number) for number in svg.split('viewBox="', 1)[1].split('"', 1)[0].split()[2:])
    return round(min(1.0, tallest * wide / tall, wide / widest if widest else 1.0), 3)
