"""A failure of the program itself: a sentence for whoever works with it, the details in a file for whoever mends it."""

import os
import tempfile
import traceback
from functools import cache

__all__ = ["keep_details"]


def keep_details(error: BaseException) -> str:
    """Where the details of a failure lie, as a sentence; the file is readable by this person alone, and the same failure is kept once."""
    try:
        return f"Show whoever looks after the kit the file {_keep(''.join(traceback.format_exception(error)))}."
    except OSError:
        return "The details could not be saved."


@cache
def _keep(details: str) -> str:
    handle, name = tempfile.mkstemp(prefix="sinkset-failure-", suffix=".txt")
    with os.fdopen(handle, "w", encoding="utf-8", errors="backslashreplace") as file:
        file.write(details)
    return name
