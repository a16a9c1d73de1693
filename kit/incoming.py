"""The limits of what comes in, in one table, and the one way to read a file that a person hands over."""

import re
import stat
from pathlib import Path

from kit.errors import Fault, KitError

__all__ = [
    "MOST_COLUMNS",
    "MOST_COUNT",
    "MOST_DAYS",
    "MOST_FAULTS_SHOWN",
    "MOST_HOURS",
    "MOST_ISSUED_BYTES",
    "MOST_JOB_BYTES",
    "MOST_KEY_DOTS",
    "MOST_NUMBER",
    "MOST_NUMBER_BITS",
    "MOST_PEOPLE",
    "MOST_ROWS",
    "MOST_SHEETS",
    "MOST_TABLE_BYTES",
    "MOST_TAGS",
    "MOST_TIMES",
    "MOST_UNPACKED_BYTES",
    "MOST_UNPACKED_PARTS",
    "MOST_WAIT_S",
    "UNPRINTABLE",
    "read_file",
]

# All are our own judgment: far above what a house with one kitchen comes to, far below what holds the program up.
MOST_JOB_BYTES = 1_000_000
MOST_TABLE_BYTES = 5_000_000
MOST_ISSUED_BYTES = 50_000_000
MOST_UNPACKED_BYTES = 60_000_000
MOST_UNPACKED_PARTS = 500
MOST_SHEETS = 60
MOST_ROWS = 50_000
"""Of a table, and of all sheets of a workbook together."""
MOST_TAGS = 1_000_000
"""Of all parts of a workbook together; a cell takes four to six."""
MOST_COLUMNS = 100
MOST_KEY_DOTS = 20
"""Dots of one key in a job file."""
MOST_NUMBER = 1_000_000_000
MOST_NUMBER_BITS = 64
"""Of a whole number in a job file: as long as those of TOML have to be."""
MOST_COUNT = 1_000_000_000
MOST_PEOPLE = 100
MOST_DAYS = 3_650
MOST_HOURS = 1_000
"""Of one unit of work, or of one surprise."""
MOST_TIMES = 100
"""What hours may be multiplied by."""
MOST_WAIT_S = 10.0
"""For another writer of the ledger, before it is said to be busy."""
MOST_FAULTS_SHOWN = 100
UNPRINTABLE = re.compile("[\\x00-\\x08\\x0b\\x0c\\x0e-\\x1f\\x7f-\\x9f\\ufdd0-\\ufdef\\ufeff\\ufffe\\uffff\\ud800-\\udfff]")
"""Signs that no sheet, drawing or paper can hold: control characters but tab and line end, noncharacters, halves of pairs, and the mark of byte order."""


def read_file(path: Path, most_bytes: int, refuse: type[KitError]) -> bytes:
    """The content of a file, within its limit.

    Raises KitError, of the kind `refuse`, if it can't be read, is a pipe or a device, which may have no end, or is larger than `most_bytes`.
    """
    try:
        mode = path.stat().st_mode
        plain, folder = stat.S_ISREG(mode), stat.S_ISDIR(mode)
        content = _read_start(path, most_bytes + 1) if plain else b""
    except OSError as error:
        raise refuse(Fault("", f"can't be read: {error.strerror or error}.", path.name)) from None
    except ValueError:  # a name with a sign that no file can have
        raise refuse(Fault("", "can't be read: no file can have this name.", path.name)) from None
    if folder:
        raise refuse(Fault("", "is a folder. Give a file in it.", path.name or str(path)))
    if not plain:
        raise refuse(Fault("", "is a pipe or a device, not a file. Save it as a file first.", path.name))
    if len(content) > most_bytes:
        raise refuse(Fault("", f"is larger than {most_bytes // 1_000_000} MB.", path.name))
    return content


def _read_start(path: Path, most_bytes: int) -> bytes:
    with path.open("rb") as file:
        return file.read(most_bytes)
