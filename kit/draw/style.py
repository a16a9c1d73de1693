"""One style sheet for every screen: `style.css`, with colors and sizes from `look.csv`; the contributor's guide lists its classes."""

from importlib import resources

from kit.draw.look import look_on_screen

__all__ = ["STYLE"]

_CARDS_BELOW = "680px"
"""Rows of the class `sk-few` become cards where the screen is narrower."""


def _read(name: str) -> str:
    return resources.files(__package__).joinpath(name).read_text(encoding="utf-8")


STYLE = f"<style>{look_on_screen()}{_read('style.css')}@container (max-width:{_CARDS_BELOW}){{{_read('cards.css')}}}</style>"
