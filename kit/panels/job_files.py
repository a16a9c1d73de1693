"""Where a screen's jobs lie: names, opening and saving, and what another hand did to the files meanwhile."""

import os
import re
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path

from kit.errors import Fault, JobError, KitError
from kit.issued.file_names import list_issued
from kit.job import Job, change_job, price_folder, read_job, write_job
from kit.job.file import change_field
from kit.job.prices import PRICE_FOLDER, fell_back
from kit.lists import Lists, load_lists
from kit.panels.job_names import name_example, name_job, tell_apart
from kit.panels.keeping import AtWork, Keeper, KeptWork
from kit.panels.on_disk import SeenFiles
from kit.shipped_files import shipped
from kit.whole_files import explain_os_error

__all__ = ["FIRST_EXAMPLE", "FROM_EXAMPLES", "JobFiles", "OpenedJob", "jobs_folder"]

ENDING = ".toml"
CUSTOMER_VIEW = ".customer_view"
OTHER_ENDINGS = {".csv", ".json", ".pdf", ".svg", ".txt", ".xls", ".xlsx"}
_OF_WINDOWS = re.compile(r"con|prn|aux|nul|com[1-9]|lpt[1-9]", re.IGNORECASE)  # its devices, whatever ending follows (common practice, no source)
FROM_EXAMPLES = "examples/"
FIRST_EXAMPLE = f"{FROM_EXAMPLES}stone_apron_single_bowl{ENDING}"
LISTS_MARK = "items.csv"


def jobs_folder() -> Path:
    """The folder of a person's jobs: `jobs` beside the notebooks' folder, else where the notebook runs."""
    here = Path.cwd()
    return here.parent / "jobs" if here.name == "notebooks" else here


@dataclass(frozen=True, slots=True)
class OpenedJob:
    """A job to put on the screen, the name it was opened by, the name Save writes, the job as saved (None for a new one), and what to say of it.

    `trouble` says why it is not the one that was open.
    """

    job: Job
    opened: str
    name: str
    saved: Job | None
    sentence: str
    at_work: AtWork | None = None
    trouble: str = ""


class JobFiles:
    """The job files of one folder, and the examples to start from.

    Nothing outside the folder's parent is read or written, but for unsaved work that finds no room there (`keeper`).

    Parameters
    ----------
    folder
        Where job files are written; made when the first one is.
    window
        The window of the browser, as in `Keeper`.
    """

    def __init__(self, folder: Path, window: str = "") -> None:
        self.folder = folder
        self.keeper = Keeper(folder, window)
        self._seen = SeenFiles()

    @property
    def home(self) -> Path:
        """The person's own folder: job files lie in a folder of it, price lists and examples beside that."""
        return self.folder.resolve().parent if self.folder.name == "jobs" else self.folder.resolve()

    def names(self) -> list[str]:
        """What can be opened: own job files, those among them that are only kept so far, then the examples."""
        there = {path.name for path in self.folder.glob(f"*{ENDING}") if not path.name.startswith(".")} if self.folder.is_dir() else set()
        own = sorted({*there, *(work.name for work in self.keeper.unsaved_work())})
        return [*own, *(f"{FROM_EXAMPLES}{path.name}" for path in self._examples())]

    def named(self) -> list[tuple[str, str]]:
        """The same as pairs of what a job goes by and its file: customer and number, an example by its kind."""
        examples = [(name_example(path), f"{FROM_EXAMPLES}{path.name}") for path in self._examples()]
        return [*tell_apart([(name_job(self.folder / name), name) for name in self.names() if not name.startswith(FROM_EXAMPLES)]), *examples]

    def first(self) -> str:
        """What a screen starts from: the first example of the kit, else whatever example is there."""
        names = [name for name in self.names() if name.startswith(FROM_EXAMPLES)]
        return FIRST_EXAMPLE if FIRST_EXAMPLE in names else names[0]

    def open(self, name: str) -> Job:
        """The job of one of these names. Raises KitError if it is no job file, or lies outside the folder."""
        path = self.locate(name)
        if name.startswith(FROM_EXAMPLES):
            return read_job(path)
        work = None if path.exists() else next(self.keeper.unsaved_work(path.name), None)
        if work is not None:
            self.keeper.adopt(work)
            return work.job
        job = read_job(path)
        self._seen.note(path, job)
        return job

    def locate(self, name: str) -> Path:
        """Where the file of one of these names lies, an example's too; errors as in `open`."""
        if not name.startswith(FROM_EXAMPLES):
            return self.path(name)
        path = next((path for path in self._examples() if path.name == name.removeprefix(FROM_EXAMPLES)), None)
        if path is None:
            raise JobError(Fault("", "is no example.", name))
        return path

    def start(self) -> Iterator[OpenedJob]:
        """What a screen may start from, the best first: what was open last with its unsaved work, other unsaved work, the first example.

        Where what was open can't be read any more, no other customer's work comes in its place.
        """
        at_work, trouble = self.keeper.at_work(), ""
        if at_work is not None:
            try:
                yield from self._reopen(at_work)
            except KitError as error:
                trouble = f"{at_work.name} was open and can't be opened again: {error.faults[0].message}"
        for work in () if trouble else self.keeper.unsaved_work():
            yield self._with_work(work, work.name, None)
        first = self.first()
        job = self.open(first)
        yield OpenedJob(job, first, self.free_name("my_job"), job, "An invented example to start from. Change it, or open another.", trouble=trouble)

    def _reopen(self, at_work: AtWork) -> Iterator[OpenedJob]:
        """What was open: with its unsaved work if there is any, else as it is saved. Raises KitError if it can't be read any more."""
        own = (work for work in self.keeper.unsaved_work(at_work.name) if at_work.copy in {None, work.path.name})
        if (work := next(own, None)) is not None:
            yield self._with_work(work, at_work.opened, at_work)
        job = self.open(at_work.opened)
        yield OpenedJob(job, at_work.opened, at_work.name, job, f"{at_work.opened} is open again.", at_work)

    def _with_work(self, work: KeptWork, opened: str, at_work: AtWork | None) -> OpenedJob:
        self.keeper.adopt(work)
        file = work.name if (self.folder / work.name).exists() else opened
        try:
            saved = self.open(file) if file else None
        except KitError:
            saved = None
        return OpenedJob(work.job, opened, work.name, saved, f"Unsaved work on {work.name} is back. Save keeps it.", at_work)

    def path(self, name: str, ending: str = ENDING) -> Path:
        """Where a file of this name lies; a name without its ending gets it. Raises KitError if the name has another ending, or leads out of the folder."""
        plain = name.strip()
        if plain.lower().endswith(ending):
            plain = plain[: -len(ending)] + ending
        elif plain and not plain.endswith(".") and Path(plain).suffix.lower() not in OTHER_ENDINGS | {ENDING}:
            plain += ending
        if plain != Path(plain).name or "\\" in plain or plain.startswith(".") or not plain.endswith(ending) or plain == ending:
            raise KitError(f'"{plain}" is not a plain file name that ends in {ending}. Give one such as "my_job{ending}": no slash, no dot in front.')
        if _OF_WINDOWS.fullmatch(plain.partition(".")[0]):
            raise KitError(f'Windows keeps the name "{plain}" for itself and can\'t open such a file. Choose another.')
        path = self.folder / plain
        if not path.resolve().is_relative_to(self.home):
            raise KitError(f'"{plain}" leads out of this folder.')
        return path

    def check(self, job: Job, name: str) -> None:
        """Whether a job may be written under a name, or sent out under it, without a word.

        Raises FileChangedError if a file of that name was not opened here, or was changed by somebody else since.
        """
        self._seen.check(self.path(name), job)

    def save(self, job: Job, name: str, *, over: bool = False) -> Path:
        """Write a job under a name; the kept copy is dropped, for nothing is unsaved any more.

        Raises FileChangedError if there is another job under that name by now and it is not to be written `over`. Raises KitError if the name is none, or
        the file can't be written.
        """
        path = self.path(name)
        if not over:
            self._seen.check(path, job)
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
            write_job(job, path)
        except OSError as error:
            raise KitError(Fault("", f"is not saved: {explain_os_error(error)}.", path.name)) from None
        self._seen.note(path, job)
        self.forget(path.name)
        return path

    def free_name(self, name: str) -> str:
        """A name like this one that no job file has."""
        stem, number = Path(name).name.removesuffix(ENDING), 2
        free = f"{stem}{ENDING}"
        while (self.folder / free).exists() or self.keeper.is_kept(free):
            free, number = f"{stem}_{number}{ENDING}", number + 1
        return free

    def free_number(self, number: str) -> str:
        """A job number like this one that no job file of the folder has and under which nothing was issued."""
        taken = {job.identity.job_number for job in self._jobs()}
        return next(free for count in range(2, len(taken) + 1000) if (free := f"{number}-{count}") not in taken and not list_issued(self.folder, free))

    def _jobs(self) -> Iterator[Job]:
        for path in self.folder.glob(f"*{ENDING}") if self.folder.is_dir() else ():
            try:
                yield read_job(path)
            except KitError:
                continue

    def save_alternate(self, job: Job, compared: str, id_: str, terms: dict[str, str]) -> Path:
        """Write an alternate of a compared job as a job of its own, with these terms, a name that says where it comes from, and a free job number.

        Raises KitError as in `save`.
        """
        changes = {"identity.job_number": self.free_number(job.identity.job_number), **terms}
        return self.save(change_job(job, changes), self.free_name(f"{Path(compared).name.removesuffix(ENDING)}_{id_}"))

    def forget(self, name: str) -> None:
        """Drop the kept copy of a name."""
        self.keeper.forget(self.path(name).name)

    def point(self, name: str, prices: str | None) -> None:
        """Write into a job file which lists it uses (None: the usual ones), and nothing else of it.

        Raises KitError if it is no sound job file, or has unsaved work: that would come back with the lists it had.
        """
        path = self.path(name)
        if self.keeper.is_kept(path.name):
            raise KitError(Fault("", "has unsaved work on the estimator's screen: save it there first.", path.name))
        change_field(path, "prices", prices)

    def number_of(self, name: str) -> str | None:
        """The job number in a job file; None where it can't be read."""
        try:
            return self.open(name).identity.job_number
        except KitError:
            return None

    @property
    def customer_looks_on(self) -> bool:
        """Whether the screen was left in the customer's view: it comes back in it, and so does one that goes on where another window was."""
        return (self.folder / f"{CUSTOMER_VIEW}{self.keeper.came_from}").is_file()

    @customer_looks_on.setter
    def customer_looks_on(self, looks_on: bool) -> None:
        mark = self.folder / f"{CUSTOMER_VIEW}{self.keeper.window}"
        with suppress(OSError):  # a folder that can't be written: the view turns all the same, it only doesn't last
            if looks_on:
                self.folder.mkdir(parents=True, exist_ok=True)
                mark.touch()
            else:
                mark.unlink(missing_ok=True)

    def lists_for(self, job: Job) -> Lists:
        """The price lists of a job of this folder, as they are on the disk now.

        Raises KitError if the job names lists that are not there or lie outside the person's own folder.
        """
        named = None if job.prices is None else (self.folder / job.prices).resolve()  # the folder of jobs may not be there yet
        if named is not None and not named.is_relative_to(self.home):
            raise JobError(Fault("prices", f'"{job.prices}" leads out of your own folder {self.home.name}.'))
        try:
            return load_lists(named if named is not None and named.is_dir() else price_folder(job, self._place))
        except JobError as error:  # whatever its file is called: the screen says which job it is
            raise JobError(replace(fault, file="") for fault in error.faults) from None

    def fell_back(self, job: Job) -> bool:
        """Whether the kit's invented lists stand in for a job's own, which are not there."""
        return fell_back(job, self._place)

    @property
    def _place(self) -> Path:
        """Where a job file of the folder lies: lists are found from there."""
        return self.folder / "job.toml"

    def list_folders(self) -> list[str]:
        """Folders of price lists in the person's own folder, as a job file names them."""
        folders = sorted(path.parent for path in self.home.glob(f"*/{LISTS_MARK}"))
        return [Path(os.path.relpath(folder, self.folder)).as_posix() for folder in folders if folder.name != PRICE_FOLDER and not folder.name.startswith(".")]

    def _examples(self) -> list[Path]:
        return sorted((self.home / "examples").glob(f"*{ENDING}")) or sorted(shipped("examples").glob(f"*{ENDING}"))
