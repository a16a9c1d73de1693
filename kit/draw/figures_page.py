"""A page for a browser that holds tables under headings, with a list of them on top: made for the figures and their sources."""

from collections.abc import Mapping, Sequence
from html import escape

from kit.draw.style import STYLE
from kit.draw.tables import draw_table

__all__ = ["draw_figures_page"]


def draw_figures_page(title: str, note: str, heads: Sequence[str], tables: Mapping[str, Sequence[Sequence[str]]], sources: Sequence[Sequence[str]] = ()) -> str:
    """A whole page in HTML.

    Parameters
    ----------
    title
        What the page shows.
    note
        A sentence below it.
    heads
        Heads of the columns, the same for each table.
    tables
        Rows of each table by its name; every text is escaped.
    sources
        Mark and words of each source; a table at the end.

    Returns
    -------
    HTML that needs nothing from anywhere.
    """
    places = {name: f"table-{number}" for number, name in enumerate(tables, 1)}
    listed = "".join(f"<li><a href='#{places[name]}'>{escape(name)}</a> ({len(rows)})</li>" for name, rows in tables.items())
    parts = "".join(f"<section id='{places[name]}'>{draw_table(name, heads, rows, heads=True)}</section>" for name, rows in tables.items())
    if sources:
        parts += f"<section>{draw_table('Sources, by the marks above', ('Mark', 'Source'), sources, heads=True)}</section>"
    return (
        f"<!doctype html><html lang='en'><head><meta charset='utf-8'><meta name='viewport' content='width=device-width'><title>{escape(title)}</title>{STYLE}"
        f"</head><body class='sk-screen'><main class='sk-view'><h1>{escape(title)}</h1><p>{escape(note)}</p><ul>{listed}</ul>{parts}</main></body></html>\n"
    )
