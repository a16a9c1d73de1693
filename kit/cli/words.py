"""Text that is safe to print: what came from a file can't steer a terminal."""

__all__ = ["printable"]


def printable(text: str) -> str:
    """The text on one line, control characters shown as their codes."""
    return "".join(sign if sign.isprintable() else sign.encode("unicode_escape").decode() for sign in text)
