"""Where a screen's jobs lie: names, opening, saving, and the copy that is kept after every change."""

import os
from pathlib import Path

from kit.errors import Fault, JobError, KitError
from kit.job import Job, price_folder, read_job, write_job
from kit.job.file import change_field
from kit.job.prices import PRICE_FOLDER, fell_back
from kit.lists import Lists, load_lists
from kit.shipped import shipped

__all__ = ["FIRST_EXAMPLE", "FROM_EXAMPLES", "JobFiles", "jobs_folder"]

ENDING = ".toml"
KEPT = ".kept.toml"
FROM_EXAMPLES = "examples/"
FIRST_EXAMPLE = f"{FROM_EXAMPLES}stone_apron_single_bowl{ENDING}"
LISTS_MARK = "items.csv"


def jobs_folder() -> Path:
    """The folder of a person's jobs: `jobs` beside the notebooks' folder, else where the notebook runs."""
    here = Path.cwd()
    return here.parent / "jobs" if here.name == "notebooks" else here


class JobFiles:
    """The job files of one folder, and the examples to start from. Nothing outside the folder's parent is read or written.

    Parameters
    ----------
    folder
        Where job files are written; made when the first one is.
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._ours: set[Path] = set()
        self._lists: dict[str | None, Lists] = {}

    @property
    def home(self) -> Path:
        """The person's own folder: job files lie in a folder of it, price lists and examples beside that."""
        return self.folder.resolve().parent if self.folder.name == "jobs" else self.folder.resolve()

    def names(self) -> list[str]:
        """What can be opened: own job files, then the examples."""
        own = sorted(path.name for path in self.folder.glob(f"*{ENDING}") if not path.name.startswith(".")) if self.folder.is_dir() else []
        return [*own, *(f"{FROM_EXAMPLES}{path.name}" for path in self._examples())]

    def first(self) -> str:
        """What a screen starts from: the first example of the kit, else whatever example is there."""
        names = [name for name in self.names() if name.startswith(FROM_EXAMPLES)]
        return FIRST_EXAMPLE if FIRST_EXAMPLE in names else names[0]

    def open(self, name: str) -> Job:
        """The job of one of these names.

        Raises
        ------
        KitError
            If it is no job file, or lies outside the folder.
        """
        if name.startswith(FROM_EXAMPLES):
            path = next((path for path in self._examples() if path.name == name.removeprefix(FROM_EXAMPLES)), None)
            if path is None:
                raise JobError(Fault("", "is no example.", name))
            return read_job(path)
        path = self.path(name)
        job = read_job(path)
        self._ours.add(path)
        return job

    def path(self, name: str, ending: str = ENDING) -> Path:
        """Where a file of this name lies.

        Raises
        ------
        KitError
            If the name has no such ending, or leads out of the folder.
        """
        plain = name.strip()
        if plain != Path(plain).name or "\\" in plain or plain.startswith(".") or not plain.endswith(ending) or plain == ending:
            raise KitError(f'"{plain}" is not a plain file name that ends in {ending}.')
        path = self.folder / plain
        if not path.resolve().is_relative_to(self.home):
            raise KitError(f'"{plain}" leads out of this folder.')
        return path

    def save(self, job: Job, name: str) -> Path:
        """Write a job under a name; the kept copy is dropped, for nothing is unsaved any more.

        Raises
        ------
        KitError
            If a file of that name is there that this screen neither opened nor wrote: a second time it is replaced.
        """
        path = self.path(name)
        if path.exists() and path not in self._ours:
            self._ours.add(path)
            raise KitError(f"{path.name} is there already. Choose another name, or press Save once more to replace it.")
        self.folder.mkdir(parents=True, exist_ok=True)
        write_job(job, path)
        self._ours.add(path)
        self.forget(name)
        return path

    def free_name(self, name: str) -> str:
        """A name like this one that no job file has."""
        stem, number = Path(name).name.removesuffix(ENDING), 2
        free = f"{stem}{ENDING}"
        while (self.folder / free).exists():
            free, number = f"{stem}_{number}{ENDING}", number + 1
        return free

    def keep(self, job: Job, name: str) -> None:
        """Keep a copy of unsaved work beside the job file.

        Raises
        ------
        OSError
            If it can't be written.
        """
        self.folder.mkdir(parents=True, exist_ok=True)
        write_job(job, self._kept(name))

    def kept(self) -> tuple[str, Job] | None:
        """The newest unsaved work and the name it goes by; None when there is none that can be read."""
        copies = sorted(self.folder.glob(f".*{KEPT}"), key=lambda path: path.stat().st_mtime_ns, reverse=True) if self.folder.is_dir() else []
        for path in copies:
            try:
                return f"{path.name.removeprefix('.').removesuffix(KEPT)}{ENDING}", read_job(path)
            except KitError:
                continue
        return None

    def forget(self, name: str) -> None:
        """Drop the kept copy of a name."""
        self._kept(name).unlink(missing_ok=True)

    def point(self, name: str, prices: str) -> None:
        """Write into a job file which lists it uses, and nothing else of it.

        Raises
        ------
        KitError
            If it is no sound job file, or has unsaved work: that would come back with the lists it had.
        """
        path = self.path(name)
        if self._kept(name).is_file():
            raise KitError(Fault("", "has unsaved work on the estimator's screen: save it there first.", path.name))
        change_field(path, "prices", prices)

    def lists_for(self, job: Job) -> Lists:
        """The price lists of a job of this folder.

        Raises
        ------
        KitError
            If the job names lists that are not there or lie outside the person's own folder.
        """
        if job.prices not in self._lists:
            named = None if job.prices is None else (self.folder / job.prices).resolve()  # the folder of jobs may not be there yet
            if named is not None and not named.is_relative_to(self.home):
                raise JobError(Fault("prices", f'"{job.prices}" leads out of your own folder {self.home.name}.'))
            folder = named if named is not None and named.is_dir() else price_folder(job, self.folder / "job.toml")
            self._lists[job.prices] = load_lists(folder)
        return self._lists[job.prices]

    def fell_back(self, job: Job) -> bool:
        """Whether the kit's invented lists stand in for a job's own, which are not there."""
        return fell_back(job, self.folder / "job.toml")

    def list_folders(self) -> list[str]:
        """Folders of price lists in the person's own folder, as a job file names them."""
        folders = sorted(path.parent for path in self.home.glob(f"*/{LISTS_MARK}"))
        return [Path(os.path.relpath(folder, self.folder)).as_posix() for folder in folders if folder.name != PRICE_FOLDER and not folder.name.startswith(".")]

    def forget_lists(self) -> None:
        """Read the price lists anew when they are next wanted."""
        self._lists.clear()

    def _examples(self) -> list[Path]:
        return sorted((self.home / "examples").glob(f"*{ENDING}")) or sorted(shipped("examples").glob(f"*{ENDING}"))

    def _kept(self, name: str) -> Path:
        return self.folder / f".{self.path(name).name.removesuffix(ENDING)}{KEPT}"
