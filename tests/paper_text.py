"""What stands in a paper, as a reader of PDF files gives it: the same file is read once in a process, since reading takes longer than making it."""

import io
from functools import cache

import pypdf

__all__ = ["pages_of", "text_of"]


@cache
def pages_of(content: bytes) -> tuple[str, ...]:
    """The words of each page of a PDF, on one line, with single blanks."""
    return tuple(" ".join(page.extract_text().split()) for page in pypdf.PdfReader(io.BytesIO(content)).pages)


def text_of(content: bytes) -> str:
    """The words of the whole PDF on one line."""
    return " ".join(pages_of(content))
