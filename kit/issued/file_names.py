"""What are the files of a promise called, and which revisions of a job number are taken?"""

import hashlib
import re
from pathlib import Path

__all__ = ["ENDING", "file_stem", "issued_path", "kept_folder", "list_issued", "next_revision"]

ENDING = ".json"
_SAFE = re.compile(r"[^A-Za-z0-9-]+")
_REVISION = re.compile(r"-r([0-9]{2,})$")


def issued_path(folder: Path, number: str, revision: int) -> Path:
    """The file of a revision of a job number."""
    return folder / f"{file_stem(number)}-r{revision:02d}{ENDING}"


def kept_folder(path: Path) -> Path:
    """The folder beside an issued estimate that keeps what was sent with it."""
    return path.with_suffix("")


def list_issued(folder: Path, number: str) -> list[Path]:
    """The issued revisions of a job number in a folder, oldest first; the number is matched whole."""
    return sorted((path for path in folder.glob(f"*{ENDING}") if _is_of(path.stem, number)), key=lambda path: _revision_of(path.stem))


def next_revision(folder: Path, number: str) -> int:
    """The first revision after all that are taken: by a file, damaged or not, or by a folder of what was sent."""
    folders = (path.name for path in folder.glob("*-r*") if path.is_dir())
    taken = [name for name in (*(path.stem for path in list_issued(folder, number)), *folders) if _is_of(name, number)]
    return max((_revision_of(name) for name in taken), default=0) + 1


def _is_of(name: str, number: str) -> bool:
    return _REVISION.search(name) is not None and _REVISION.sub("", name) == file_stem(number)


def _revision_of(name: str) -> int:
    """The revision that a name says."""
    match = _REVISION.search(name)
    return int(match[1]) if match else 0


def file_stem(number: str) -> str:
    """A file name's part from a job number; two numbers that only differ in signs stay apart by a short fingerprint."""
    stem = _SAFE.sub("-", number).strip("-") or "job"
    return stem if stem == number else f"{stem}-{hashlib.sha256(number.encode()).hexdigest()[:6]}"
