"""A few facts as a small table in HTML: what a job, its lists or its estimate show of themselves in a notebook."""

from collections.abc import Iterable, Sequence
from html import escape

__all__ = ["facts_html", "rows_html"]

_TABLE = "<table class='mathjax_ignore' style='border-left: 3px solid currentColor; text-align: left'>"
_TITLE = "style='caption-side: top; text-align: left; font-weight: 600; padding: 2px 8px'"
_CELL = "style='text-align: left; font-weight: normal; vertical-align: top'"


def facts_html(title: str, facts: Iterable[tuple[str, str]]) -> str:
    """A table of two columns under its title, every text escaped; a fact without words is left out.

    Examples
    --------
    >>> "<td" in facts_html("Job K-001", [("Price", "100.00 USD"), ("Note", "")]), "Note" in facts_html("Job K-001", [("Note", "")])
    (True, False)
    """
    return rows_html(title, (), ((name, text) for name, text in facts if text))


def rows_html(title: str, heads: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """A table under its title, the first cell of each row its head, every text escaped."""
    top = f"<thead><tr>{''.join(f'<th scope=col {_CELL}>{escape(head)}</th>' for head in heads)}</tr></thead>" if heads else ""
    body = "".join(_row(first, rest) for first, *rest in rows)
    return f"{_TABLE}<caption {_TITLE}>{escape(title)}</caption>{top}<tbody>{body}</tbody></table>"


def _row(first: str, rest: Sequence[str]) -> str:
    return f"<tr><th scope=row {_CELL}>{escape(first)}</th>{''.join(f'<td {_CELL}>{escape(cell)}</td>' for cell in rest)}</tr>"
