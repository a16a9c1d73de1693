"""A file is written whole or not at all."""

from pathlib import Path

__all__ = ["write_whole"]


def write_whole(path: Path, content: bytes) -> Path:
    """Write a file beside its place first, so that a failure leaves an old one as it was; gives the path.

    Raises
    ------
    OSError
        If the file can't be written; its folder must be there.
    """
    draft = path.with_name(path.name + ".part")
    try:
        draft.write_bytes(content)
        draft.replace(path)
    finally:
        draft.unlink(missing_ok=True)
    return path
