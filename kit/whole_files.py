"""A file or a folder that appears complete under its name or not at all, and never in the place of another."""

import errno
import os
import shutil
import tempfile
import time
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path

from kit.errors import Fault, KitError

__all__ = ["DRAFT", "drafting", "explain_os_error", "making_new", "place_file", "place_folder", "place_made", "put_on_disk", "replace_file"]

DRAFT = ".sinkset-draft-"
_LEFT_BEHIND_S = 3600.0  # no writer takes that long: such a draft is of one that was killed
_TAKEN = {errno.EEXIST, errno.ENOTEMPTY, errno.ENOTDIR, errno.EISDIR}
_NO_LINKS = {errno.EPERM, errno.ENOTSUP, errno.ENOSYS, errno.EMLINK, errno.EACCES}

_READ_ONLY = "the folder can't be written to. Get permission to write there, or use another folder"
_WORDS = {
    errno.EROFS: "the disk is read-only. Use another folder",
    errno.EACCES: _READ_ONLY,
    errno.EPERM: _READ_ONLY,
    errno.ENOSPC: "the disk is full. Free some space and try again",
    errno.EDQUOT: "your share of the disk is used up. Free some space and try again",
    errno.ENOTDIR: "a file is where the folder should be. Move it away",
    errno.EEXIST: "something by that name is there already. Move it away, or choose another name",
    errno.ENOENT: "the folder is not there. Check whether it was moved or its drive removed",
    errno.ENAMETOOLONG: "the name is too long. Choose a shorter one",
    errno.EFBIG: "the disk can't take a file this large. Use another one",
    errno.EIO: "the disk reports a fault. Save on another one and have it looked at",
}


def explain_os_error(error: OSError) -> str:
    """Why the system refused a file, in words that say what to do; a sentence without its end."""
    return _WORDS.get(error.errno or 0) or (error.strerror or str(error) or "the system gives no reason").rstrip(".")


def place_file(path: Path, content: bytes) -> None:
    """Write a file that is not there yet: under another name first, on the disk before it gets its own.

    Raises FileExistsError if there is one of that name by then; it stays as it is. Raises OSError if it can't be written.
    """
    place_made(path, lambda draft: _write_through(draft, content))


def place_made(path: Path, make: Callable[[Path], object]) -> None:
    """The same for a file that `make` writes at a path; errors as in `place_file`."""
    with drafting(path.parent) as draft:
        made = draft / path.name
        make(made)
        put_on_disk(made)
        _rename_new(made, path)
        _settle(path.parent)


def put_on_disk(path: Path) -> None:
    """What was written so far outlives a power cut; an OSError where the disk refuses."""
    with path.open("rb") as file:
        os.fsync(file.fileno())


def replace_file(path: Path, content: bytes) -> None:
    """Write a file in the place of the one that is there, which stays whole until then; an OSError as in `place_file`."""
    with drafting(path.parent) as draft:
        _write_through(draft / path.name, content)
        (draft / path.name).replace(path)
        _settle(path.parent)


@contextmanager
def making_new(folder: Path) -> Iterator[bool]:
    """Make a folder that is not there yet, in one that is, and say whether; where what it was made for fails it goes again.

    Raises KitError if it is a file, or can't be made, such as in a folder that is not there either.
    """
    made = not folder.exists()
    if not made and not folder.is_dir():
        raise KitError(Fault("", "is a file. Give a folder.", str(folder)))
    if made:
        try:
            folder.mkdir()
        except OSError as error:
            why = f"{folder.parent} is not there. Make it first, or check the path" if error.errno == errno.ENOENT else explain_os_error(error)
            raise KitError(Fault("", f"can't be made: {why}.", str(folder))) from None
    try:
        yield made
    except BaseException:
        if made:
            with suppress(OSError):  # something is in it all the same
                folder.rmdir()
        raise


def place_folder(path: Path, contents: Mapping[str, bytes]) -> None:
    """Write a folder of files that is not there yet; errors as in `place_file`."""
    try:
        with drafting(path.parent) as draft:
            for name, content in contents.items():
                _write_through(draft / name, content)
            _settle(draft)
            if path.exists():
                raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), str(path))
            draft.chmod(0o755)  # a draft is its writer's alone
            draft.rename(path)  # refused by the system where a folder with files came between
            _settle(path.parent)
    except OSError as error:
        if error.errno in _TAKEN:
            raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), str(path)) from None
        raise


@contextmanager
def drafting(folder: Path) -> Iterator[Path]:
    """A hidden folder to write in, gone afterwards; those that killed writers left behind go as well."""
    for old in folder.glob(f"{DRAFT}*"):
        with suppress(FileNotFoundError):  # its own writer was faster
            if time.time() - old.stat().st_mtime > _LEFT_BEHIND_S:
                shutil.rmtree(old, ignore_errors=True)
    draft = Path(tempfile.mkdtemp(prefix=DRAFT, dir=folder))
    try:
        yield draft
    finally:
        shutil.rmtree(draft, ignore_errors=True)


def _write_through(path: Path, content: bytes) -> None:
    with path.open("xb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())


def _rename_new(draft: Path, path: Path) -> None:
    """Give a file its name unless that is taken: a second link refuses, where a rename would replace."""
    if os.name == "nt":
        draft.rename(path)  # refuses by itself there
        return
    try:
        path.hardlink_to(draft)
    except OSError as error:
        if error.errno not in _NO_LINKS:
            raise
        if path.exists():  # a disk without links: the folder of what was sent has taken the number already
            raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), str(path)) from None
        draft.rename(path)


def _settle(folder: Path) -> None:
    """The folder's own entries onto the disk, where the system can."""
    if os.name == "nt":
        return
    entry = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(entry)
    finally:
        os.close(entry)
