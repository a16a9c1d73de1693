"""What not everybody needs to read: folded away below one line."""

from html import escape

__all__ = ["draw_fold", "fold_words"]


def draw_fold(summary: str, html: str, *, opened: bool = False) -> str:
    """HTML behind a line of plain text that opens it; a table in it that has the same name, its count aside, shows that once."""
    caption = f">{escape(summary.partition(':')[0])}</caption>"
    html = html.replace(f"<caption{caption}", f"<caption class='sk-unseen'{caption}", 1)
    return f"<details{' open' if opened else ''}><summary>{escape(summary)}</summary>{html}</details>"


def fold_words(summary: str, *sentences: str) -> str:
    """Paragraphs of plain text behind such a line."""
    return draw_fold(summary, "".join(f"<p>{escape(sentence)}</p>" for sentence in sentences))
