"""Which price lists does a job use?"""

from contextlib import suppress
from pathlib import Path

from kit.errors import Fault, JobError
from kit.job.job import Job
from kit.lists import Lists, load_lists
from kit.shipped_files import shipped

__all__ = ["PRICE_FOLDER", "are_of_the_kit", "fell_back", "lists_words", "price_folder", "usual_price_folder", "whose_lists"]

PRICE_FOLDER = "price_lists"


def price_folder(job: Job, job_file: Path, given: Path | None = None) -> Path:
    """The folder of price lists: the given one, else the job's own, else one in or beside the job's folder, else the shipped one.

    Parameters
    ----------
    job
        The job; its `prices` are relative to its file.
    job_file
        Where the job came from.
    given
        What the user asked for, before everything else.

    Raises
    ------
    JobError
        If the job names a folder that is not there.
    """
    if given is not None:
        return given
    home = job_file.absolute().parent
    if job.prices is not None:
        with suppress(OSError, ValueError):  # no folder can have such a name, or nobody may look
            if (home / job.prices).is_dir():
                return home / job.prices
        raise JobError(Fault("prices", f'"{job.prices}" is not a folder. Give one relative to the job file, such as "../{PRICE_FOLDER}".', job_file.name))
    return usual_price_folder(home)


def usual_price_folder(home: Path) -> Path:
    """The lists of a job that names none: in or beside the folder of its file, else the shipped ones."""
    for folder in (home / PRICE_FOLDER, home.parent / PRICE_FOLDER):
        if folder.is_dir():
            return folder
    return shipped(PRICE_FOLDER)


def fell_back(job: Job, job_file: Path) -> bool:
    """Whether a job that names no lists gets the shipped ones because none lie in or beside its folder, as after a folder was renamed."""
    home = job_file.absolute().parent
    return job.prices is None and not any((folder / PRICE_FOLDER).is_dir() for folder in (home, home.parent))


def are_of_the_kit(lists: Lists) -> bool:
    """Whether lists are the invented ones that the kit ships, wherever they lie."""
    return lists.files == load_lists(shipped(PRICE_FOLDER)).files and not lists.changed_files


def whose_lists(lists: Lists) -> str:
    """Whose price lists were used, in words."""
    return lists_words(lists.folder_words, of_the_kit=are_of_the_kit(lists))


def lists_words(folder: str, *, of_the_kit: bool) -> str:
    """The same where it is known whose they are."""
    return f"Price lists: {'the invented ones of the kit' if of_the_kit else 'your own'}, folder {folder}."
