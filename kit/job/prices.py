"""Which price lists does a job use?"""

from pathlib import Path

from kit.errors import Fault, JobError
from kit.job.job import Job
from kit.shipped import shipped

__all__ = ["PRICE_FOLDER", "price_folder", "usual_price_folder"]

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
