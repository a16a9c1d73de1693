"""What `--out` writes, and how: all files or none, and never over a person's own work.

A small list beside the files says which ones this program wrote and with what content. Only those that are still as
written are replaced; a file that a person made or changed stops the writing.
"""

import hashlib
import shutil
from collections.abc import Callable, Mapping
from functools import partial
from pathlib import Path

from kit.errors import Fault, KitError
from kit.takeoff.working import counted
from kit.whole_files import drafting, explain_os_error, put_on_disk, replace_file

__all__ = ["WRITTEN_LIST", "Writer", "file_writers", "require_free", "write_files"]

WRITTEN_LIST = ".sinkset-files"
Writer = Callable[[Path], object]
"""Writes a file at a path."""


def write_files(folder: Path, writers: Mapping[str, Writer], *, say: Callable[[str], None]) -> None:
    """Write every file of `writers` (name to what writes it at a path) and say in a line how many, and how many were replaced.

    Raises KitError if the folder can't be written, or a name is taken by a file that is not ours as we wrote it; nothing is written then.
    """
    if not writers:
        say("No files written: this brings no paper and no rows for the books.")
        return
    new_folder = None
    try:
        new_folder = next((part for part in (*reversed(folder.absolute().parents), folder.absolute()) if not part.exists()), None)
        known = _read_list(folder)
        _refuse_foreign(folder, writers, known)
        folder.mkdir(parents=True, exist_ok=True)
        replaced = {name for name in writers if (folder / name).exists()}
        _write_through(folder, writers, known)
    except BaseException as error:
        if new_folder is not None and new_folder.is_dir() and not any(path.is_file() for path in new_folder.rglob("*")):
            shutil.rmtree(new_folder)
        if not isinstance(error, OSError):
            raise
        is_open = " A file that is open in another program must be closed first." if isinstance(error, PermissionError) else ""
        raise KitError(Fault("", f"can't be written: {explain_os_error(error)}.{is_open}", str(folder))) from None
    said = f"{counted(len(writers), 'file', 'files').text} in {folder}{f', {len(replaced)} of them replaced' if replaced else ''}"
    say(f"Written: {said}.")


def require_free(folder: Path, names: Mapping[str, object]) -> None:
    """Refuse a folder before anything is put down that can't be taken back lightly; errors as in `write_files`."""
    try:
        nearest = next(part for part in (folder.absolute(), *folder.absolute().parents) if part.exists())
        with drafting(nearest):
            pass
    except OSError as error:
        raise KitError(Fault("", f"can't be written: {explain_os_error(error)}.", str(folder))) from None
    _refuse_foreign(folder, names, _read_list(folder))


def _write_through(folder: Path, writers: Mapping[str, Writer], known: dict[str, set[str]]) -> None:
    """All files into a draft folder first, so that a failure on the way leaves the earlier ones whole."""
    with drafting(folder) as draft:
        for name, write in writers.items():
            write(draft / name)
            put_on_disk(draft / name)  # before it takes the place of an earlier one
        written = {name: {_fingerprint(draft / name)} for name in writers}
        # while files are replaced the list knows them as they were and as they will be: whoever was killed here is not refused the next time
        replace_file(folder / WRITTEN_LIST, _list_content({name: known.get(name, set()) | written.get(name, set()) for name in {**known, **written}}))
        for name in writers:
            (draft / name).replace(folder / name)
        replace_file(folder / WRITTEN_LIST, _list_content({**known, **written}))


def _fingerprint(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


def _list_content(known: Mapping[str, set[str]]) -> bytes:
    return "".join(f"{fingerprint}  {name}\n" for name, fingerprints in sorted(known.items()) for fingerprint in sorted(fingerprints)).encode()


def _read_list(folder: Path) -> dict[str, set[str]]:
    """Name and fingerprints of what was written here before; lines that are not ours are passed over."""
    path = folder / WRITTEN_LIST
    if not path.is_file():
        return {}
    lines = [line.split("  ", 1) for line in path.read_text(encoding="utf-8", errors="replace").splitlines()]
    known: dict[str, set[str]] = {}
    for parts in lines:
        if len(parts) == 2:
            known.setdefault(parts[1], set()).add(parts[0])
    return known


def _refuse_foreign(folder: Path, names: Mapping[str, object], known: Mapping[str, set[str]]) -> None:
    foreign = [name for name in names if (folder / name).exists() and not ((folder / name).is_file() and _fingerprint(folder / name) in known.get(name, set()))]
    if foreign:
        sentence = "is already there and was not written by this program, or was changed since. Move or rename it, or give another folder."
        raise KitError(Fault("", sentence, str(folder / name)) for name in foreign)


def file_writers(contents: Mapping[str, bytes]) -> dict[str, Writer]:
    """A writer for each file whose content is there already."""
    return {name: partial(Path.write_bytes, data=content) for name, content in contents.items()}
