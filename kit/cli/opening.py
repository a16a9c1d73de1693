"""From a job file to its estimate: job and price lists read, the faults of both in one report."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path

from kit.compare import Option, compare_alternates
from kit.errors import Fault, KitError
from kit.estimate import Estimate, estimate
from kit.job import Job, price_folder, read_job
from kit.lists import Lists, load_lists

__all__ = ["Opened", "compare_file", "estimate_file", "open_job"]


@dataclass(frozen=True, slots=True)
class Opened:
    """A job, where it came from, and the lists that it is priced with."""

    path: Path
    job: Job
    folder: Path
    lists: Lists


def open_job(path: Path, prices: Path | None) -> Opened:
    """The job in a file and its price lists.

    Raises
    ------
    KitError
        With every fault of the job file and, where it is known which lists are meant, of the lists.
    """
    faults: list[Fault] = []
    job, folder, lists = None, prices, None
    with _collecting(faults):
        job = read_job(path)
        folder = price_folder(job, path, prices)
    if folder is not None:
        with _collecting(faults):
            lists = load_lists(folder)
    if job is None or folder is None or lists is None:
        raise KitError(faults)
    return Opened(path, job, folder, lists)


@contextmanager
def _collecting(faults: list[Fault]) -> Iterator[None]:
    try:
        yield
    except KitError as error:
        faults.extend(error.faults)


@contextmanager
def _naming(path: Path) -> Iterator[None]:
    """Faults of the job itself get the name of its file."""
    try:
        yield
    except KitError as error:
        raise type(error)(replace(fault, file=fault.file or path.name) for fault in error.faults) from None


def estimate_file(path: Path, prices: Path | None) -> Estimate:
    """The estimate of the job in a file."""
    opened = open_job(path, prices)
    with _naming(path):
        return estimate(opened.job, opened.lists)


def compare_file(path: Path, prices: Path | None) -> tuple[Opened, tuple[Option, ...]]:
    """The job in a file and its alternates."""
    opened = open_job(path, prices)
    with _naming(path):
        return opened, compare_alternates(opened.job, opened.lists)
