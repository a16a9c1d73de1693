"""What a command works on: a job file with its price lists, or an issued estimate; all faults in one report."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from kit.compare.options import Option, compare_alternates
from kit.errors import Fault, KitError
from kit.estimating import Estimate, estimate
from kit.issued import Issued, open_issued
from kit.job import Job, price_folder, read_job
from kit.job.prices import fell_back
from kit.lists import Lists, load_lists
from kit.units import format_day

__all__ = [
    "EstimateToIssue",
    "JobSource",
    "JobWithLists",
    "collect_faults",
    "compare_file",
    "estimate_file",
    "estimate_to_issue",
    "issued_document",
    "open_contract_and_change",
    "open_source",
    "stands_in",
]

ISSUED = ".json"


@dataclass(frozen=True, slots=True)
class JobWithLists:
    """A job, the file it was read from, and the price lists it is priced with."""

    path: Path
    job: Job
    folder: Path
    lists: Lists


@dataclass(frozen=True, slots=True)
class JobSource:
    """A file and its estimate; `issued` holds the issued document when the file is one, None for a job file."""

    path: Path
    priced: Estimate | None
    issued: Issued | None

    @property
    def estimate(self) -> Estimate:
        """The estimate; of an issued document by today's rules, which raises an IssueError where they don't give one."""
        if self.priced is not None:
            return self.priced
        if self.issued is None:
            raise KitError(Fault("", "holds no estimate.", self.path.name))
        return self.issued.estimate

    @property
    def name(self) -> str:
        """How people call it: number and revision, or the job file's name."""
        return f"{self.issued.number}, revision {self.issued.revision} of {format_day(self.issued.issued)}" if self.issued else self.path.name

    @property
    def document(self) -> dict[str, Any] | None:
        """What the issued document says of itself; None for a job file."""
        return None if self.issued is None else issued_document(self.issued)


@contextmanager
def collect_faults(faults: list[Fault], option: str = "") -> Iterator[None]:
    """Put the faults of what is done inside into the list, those of an option under its name, and go on."""
    try:
        yield
    except KitError as error:
        faults += [Fault(option, fault.message) for fault in error.faults] if option else error.faults


@contextmanager
def _name_file(path: Path) -> Iterator[None]:
    """Faults of the job itself get the name of its file."""
    try:
        yield
    except KitError as error:
        raise type(error)(replace(fault, file=fault.file or path.name) for fault in error.faults) from None


def _read_with_lists(path: Path, prices: Path | None) -> JobWithLists:
    """The job in a file and its price lists. Raises KitError with every fault of the job file and, where it is known which lists are meant, of the lists."""
    if path.suffix.lower() == ISSUED:
        raise KitError(Fault("", "is not a job file (TOML). Give the job file that the estimate was issued from.", path.name))
    faults: list[Fault] = []
    job, folder, lists = None, prices, None
    with collect_faults(faults):
        job = read_job(path)
        folder = price_folder(job, path, prices)
    if folder is not None:
        with collect_faults(faults):
            lists = load_lists(folder)
    if job is None or folder is None or lists is None:
        raise KitError(faults)
    return JobWithLists(path, job, folder, lists)


@dataclass(frozen=True, slots=True)
class EstimateToIssue:
    """The estimate of a job file, and whether the kit's invented lists stand in for the user's own."""

    estimate: Estimate
    fell_back: bool


def estimate_to_issue(path: Path, prices: Path | None) -> EstimateToIssue:
    """The estimate of the job in a file, as it may be issued."""
    source = _read_with_lists(path, prices)
    with _name_file(path):
        return EstimateToIssue(estimate(source.job, source.lists), prices is None and fell_back(source.job, path))


def stands_in(source: JobSource) -> bool:
    """Whether the kit's invented lists stand in for the user's own in an open job file."""
    return source.priced is not None and fell_back(source.priced.job_as_read, source.path)


def estimate_file(path: Path, prices: Path | None) -> Estimate:
    """The estimate of the job in a file."""
    source = _read_with_lists(path, prices)
    with _name_file(path):
        return estimate(source.job, source.lists)


def compare_file(path: Path, prices: Path | None) -> tuple[JobWithLists, tuple[Option, ...]]:
    """The job in a file and its alternates."""
    source = _read_with_lists(path, prices)
    with _name_file(path):
        return source, compare_alternates(source.job, source.lists)


def open_source(path: Path, prices: Path | None = None) -> JobSource:
    """The estimate of a job file (TOML), or of an issued document (JSON) with the prices that it holds.

    Raises KitError with every fault; or other prices are asked for than those that an issued document holds.
    """
    if path.suffix.lower() != ISSUED:
        return JobSource(path, estimate_file(path, prices), None)
    if prices is not None:
        raise KitError(Fault("--prices", "An issued estimate keeps its own prices. Give the job file to use others.", path.name))
    issued = open_issued(path)
    return JobSource(path, None, issued)


def open_contract_and_change(contract: Path, change: Path, prices: Path | None) -> tuple[JobSource, JobSource]:
    """The contract and the changed job, with the faults of both files in one report; `prices` are for job files only."""
    sources: list[JobSource] = []
    faults: list[Fault] = []
    for path in (contract, change):
        with collect_faults(faults):
            sources.append(open_source(path, None if path.suffix.lower() == ISSUED else prices))
    if faults:
        raise KitError(faults)
    return sources[0], sources[1]


def issued_document(issued: Issued) -> dict[str, Any]:
    """What an issued estimate says of itself, as plain data."""
    return {
        "number": issued.number,
        "revision": issued.revision,
        "issued": issued.issued.isoformat(),
        "stop_reason": issued.stop_reason,
        "against": list(issued.content.get("against", [])),
        "files": list(issued.file_names),
        "changes": list(issued.changes),
        "sha256": issued.sha256,
    }
