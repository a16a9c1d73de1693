"""One style sheet for every screen: `style.css`, with colors and sizes from `look.csv`; DEVELOPERS.md lists its classes."""

from importlib import resources

from kit.draw.look import look_on_screen

__all__ = ["STYLE"]

STYLE = f"<style>{look_on_screen()}{resources.files(__package__).joinpath('style.css').read_text(encoding='utf-8')}</style>"
