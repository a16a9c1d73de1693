"""Runs command lines where nothing can be written, one report a line: `read_only_lines.py FOLDER LINE ...`, with FOLDER "" where the system itself refuses.

Else each call that would write below FOLDER is refused as a read-only disk refuses it, by a hook that can't be taken out again: hence a process of its own.
"""

import errno
import os
import sqlite3
import sys
from typing import Any

from test_cli_full_disk import run_line

CHANGES = {"os.mkdir", "os.link", "os.rename", "os.remove", "os.rmdir", "os.truncate"}
WRITES = os.O_WRONLY | os.O_RDWR | os.O_CREAT


def refuse_below(folder: str) -> None:
    def refuse(event: str, args: tuple[Any, ...]) -> None:
        if (event in CHANGES or (event == "open" and args[2] & WRITES)) and str(args[0]).startswith(folder):
            raise OSError(errno.EROFS, os.strerror(errno.EROFS), args[0])

    sys.addaudithook(refuse)
    connect = sqlite3.connect
    sqlite3.connect = lambda path, **more: connect(f"file:{path}?mode=ro", uri=True, **more)  # type: ignore[assignment]


if __name__ == "__main__":
    if sys.argv[1]:
        refuse_below(sys.argv[1])
    for line in sys.argv[2:]:
        code, answer, report = run_line(line)
        print(code, repr(answer), " ".join(report.split()), sep=" | ")
