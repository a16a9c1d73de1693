"""A folder of lists is written: new, dated, beside the others, and never over anything."""

import datetime as dt
import secrets
import shutil
from pathlib import Path

from kit.errors import Fault, ListError
from kit.lists.load import Lists

__all__ = ["DESCRIPTION", "write_lists"]

DESCRIPTION = "datapackage.json"
_MOST_A_DAY = 100


def write_lists(lists: Lists, home: Path, day: dt.date, *, name: str = "price_lists", description: Path | None = None) -> Path:
    """Write every list as CSV into a new folder `NAME_DAY` of `home`; a second one of the same day gets a number. Gives the folder.

    Parameters
    ----------
    lists
        The lists, whole and sound.
    home
        Where folders of lists lie.
    day
        The day in the folder's name.
    name
        What the folder's name begins with.
    description
        A `datapackage.json` to lay beside the lists.

    Raises
    ------
    ListError
        If it can't be written; nothing is left behind then.
    """
    draft = home / f".{name}-{secrets.token_hex(4)}"
    try:
        draft.mkdir(parents=True)
        for file, text in lists.texts.items():
            (draft / file).write_text(text, encoding="utf-8", newline="")
        if description is not None and description.is_file():
            shutil.copyfile(description, draft / DESCRIPTION)
        return _place(draft, home, f"{name}_{day.isoformat()}")
    except OSError as error:
        raise ListError(Fault("", f"can't be written: {error.strerror or error}.", str(home.name))) from None
    finally:
        shutil.rmtree(draft, ignore_errors=True)


def _place(draft: Path, home: Path, name: str) -> Path:
    """Give the whole draft its name at once; a name that is taken, meanwhile or before, is passed over."""
    for number in range(1, _MOST_A_DAY):
        target = home / (name if number == 1 else f"{name}_{number}")
        if target.exists() or target.is_symlink():
            continue
        try:
            return draft.rename(target)
        except FileExistsError:
            continue
    raise ListError(Fault("", f"{_MOST_A_DAY - 1} folders of that day are there already.", name))
