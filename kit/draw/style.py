"""One style sheet for every screen: `style.css`, with colors and sizes from `look.csv`; the contributor's guide lists its classes."""

from importlib import resources

from kit.draw.look import look_on_screen

__all__ = ["STYLE"]

_CARDS_BELOW = {".sk-cards": "820px", ".sk-few": "680px"}
"""Rows of these tables become cards where the screen is narrower."""


def _read(name: str) -> str:
    return resources.files(__package__).joinpath(name).read_text(encoding="utf-8")


_CARDS = "".join(f"@container (max-width:{width}){{{_read('cards.css').replace('.sk-cards', tables)}}}" for tables, width in _CARDS_BELOW.items())
STYLE = f"<style>{look_on_screen()}{_read('style.css')}{_CARDS}</style>"
