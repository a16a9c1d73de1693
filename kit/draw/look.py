"""One look for screens, charts, drawings and papers: colors, sizes of letters and spaces are rows of `look.csv`."""

import csv
from collections.abc import Mapping
from functools import cache
from importlib import resources
from types import MappingProxyType
from typing import NamedTuple

__all__ = ["Token", "look", "look_on_paper", "look_on_screen"]

_LIGHT = ":root"
_DARK = ":root:has(>body.theme-dark),:root:has(>body[data-jp-theme-light=false])"


class Token(NamedTuple):
    """A color (`#rrggbb`) or a size: on a light screen, on a dark one, on paper; "" where it has none of its own."""

    value: str
    dark: str
    paper: str


@cache
def look() -> Mapping[str, Token]:
    """Every row of `look.csv` by its name."""
    text = resources.files(__package__).joinpath("look.csv").read_text(encoding="utf-8")
    return MappingProxyType({row["name"]: Token(row["value"], row["dark"], row["paper"]) for row in csv.DictReader(text.splitlines())})


def look_on_screen() -> str:
    """The rows as custom properties of a style sheet, `--sk-ink` and so on, for light and dark themes of notebook and page."""
    light = "".join(f"--sk-{name}:{token.value};" for name, token in look().items())
    dark = "".join(f"--sk-{name}:{token.dark};" for name, token in look().items() if token.dark)
    return f"{_LIGHT}{{{light}}}{_DARK}{{{dark}color-scheme:dark}}"


def look_on_paper() -> dict[str, str]:
    """The rows as a template of a paper reads them."""
    return {name: token.paper for name, token in look().items() if token.paper}
