"""A folder of jobs in one file: the ledger as it stands in one moment, promises and what was sent with them, job files, all that lies there."""

import tempfile
import zipfile
from pathlib import Path

from kit.contract.ledger import LEDGER_FILE, Ledger
from kit.errors import Fault, LedgerError
from kit.whole_files import explain_os_error, place_made

__all__ = ["back_up_folder"]


def back_up_folder(folder: Path, path: Path) -> int:
    """Copy a folder of jobs into a new ZIP file, which is there whole or not at all; gives how many files are in it.

    Parameters
    ----------
    folder
        Where job files, issued estimates and the ledger lie. Price lists lie beside it; those of each promise are in the promise.
    path
        The file to write.

    Raises
    ------
    LedgerError
        If the folder is none, the file is there already, or something can't be read or written.
    """
    if not folder.is_dir():
        raise LedgerError(Fault("", "is not a folder of jobs.", str(folder)))
    names: list[str] = []
    try:
        place_made(path, lambda draft: names.extend(_pack(folder, draft)))
    except FileExistsError:
        raise LedgerError(Fault("", "is already there. Give another name.", str(path))) from None
    except OSError as error:
        raise LedgerError(Fault("", f"can't be written: {explain_os_error(error)}.", str(path))) from None
    return len(names)


def _pack(folder: Path, draft: Path) -> list[str]:
    """Write the archive; hidden files, such as drafts and unsaved work, stay out."""
    ledger = Ledger(folder)
    with zipfile.ZipFile(draft, "x", zipfile.ZIP_DEFLATED) as archive:
        if ledger.path.exists():
            with tempfile.TemporaryDirectory() as place:
                ledger.back_up(Path(place) / LEDGER_FILE)
                archive.write(Path(place) / LEDGER_FILE, LEDGER_FILE)
        for file in sorted(folder.rglob("*")):
            name = file.relative_to(folder)
            hidden = any(part.startswith(".") for part in name.parts)
            if file.is_file() and not hidden and not file.name.startswith(LEDGER_FILE):
                archive.write(file, name.as_posix())
        return archive.namelist()
