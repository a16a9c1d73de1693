"""A folder of lists is written: new, dated, beside the others, and never over anything."""

import datetime as dt
from collections.abc import Mapping
from pathlib import Path

from kit.errors import Fault, ListError
from kit.lists.load import Lists
from kit.whole_files import explain_os_error, place_folder

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
    contents = {file: text.encode() for file, text in lists.texts.items()}
    try:
        if description is not None and description.is_file():
            contents[DESCRIPTION] = description.read_bytes()
        home.mkdir(parents=True, exist_ok=True)
        return _place(contents, home, f"{name}_{day.isoformat()}")
    except OSError as error:
        raise ListError(Fault("", f"can't be written: {explain_os_error(error)}.", str(home.name))) from None


def _place(contents: Mapping[str, bytes], home: Path, name: str) -> Path:
    """Write the folder under the first name that is free; one that is taken, meanwhile or before, is passed over."""
    for number in range(1, _MOST_A_DAY):
        target = home / (name if number == 1 else f"{name}_{number}")
        if target.exists() or target.is_symlink():
            continue
        try:
            place_folder(target, contents)
        except FileExistsError:
            continue
        return target
    raise ListError(Fault("", f"{_MOST_A_DAY - 1} folders with that date are there already.", name))
