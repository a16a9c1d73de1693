"""What other price lists do to the jobs on hand: a few of them on a screen, or all job files of a firm in as many processes as there are."""

from collections import deque
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import ExitStack
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import lru_cache, partial
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING

from kit.errors import KitError
from kit.estimating import Estimate, estimate
from kit.job import Job, read_job
from kit.job.field_names import label_of
from kit.job.prices import price_folder
from kit.lists import Lists, load_lists
from kit.records import Finding, Level

if TYPE_CHECKING:
    from concurrent.futures import Executor, Future

__all__ = ["Repriced", "largest_first", "reprice", "reprice_jobs"]

_AT_ONCE = 8  # job files that a worker gets in one go: few enough that all have work to the end, many enough that sending costs nothing
_LISTS_KEPT = 8  # folders of lists that a worker keeps in memory


@dataclass(frozen=True, slots=True)
class Repriced:
    """One job under two sets of lists [USD]; `problem` says why one of them gives no price, `news` what the new lists bring up."""

    name: str
    before: Decimal | None
    after: Decimal | None
    problem: str = ""
    news: tuple[Finding, ...] = ()

    @property
    def difference(self) -> Decimal | None:
        """After less before."""
        return None if self.before is None or self.after is None else self.after - self.before


def reprice_jobs(
    jobs: Mapping[str, Job], old: Lists | Callable[[Job], Lists], new: Lists, *, advance: Callable[[int, int], None] | None = None
) -> tuple[Repriced, ...]:
    """Each job by its name at the old and at the new lists, chosen and planned anew.

    Parameters
    ----------
    jobs
        The jobs on hand by their name.
    old
        The lists in use, or what gives those of a job.
    new
        The lists that may take their place.
    advance
        Called after each job with how many are done, and of how many.
    """
    repriced = []
    for name, job in jobs.items():
        repriced.append(_reprice_one(name, job, old, new))
        if advance is not None:
            advance(len(repriced), len(jobs))
    return tuple(repriced)


def reprice(job_files: Iterable[Path], lists_folder: Path, *, executor: "Executor | None" = None, ahead: int = 64) -> Iterator[Repriced]:
    """Each job file at the lists it uses now and at those of a folder, chosen and planned anew, in the order given.

    Parameters
    ----------
    job_files
        Job files (TOML); of as many as there are only a few are in memory at once.
    lists_folder
        Folder of the lists that may take the place of those in use. Workers read it, and the job files, by their paths.
    executor
        Any executor of `concurrent.futures`, which stays open; without one a process for each core, ended when all is done.
    ahead
        How many groups of eight job files are handed out before the first of them is back: at least two for each worker.

    Yields
    ------
    Repriced
        Named by the path of its file; a file that can't be read has no prices and says why.

    Raises
    ------
    ListError
        If the new lists have faults, before any job is priced.
    """
    load_lists(lists_folder)
    return _in_order(iter(job_files), lists_folder.absolute(), executor, ahead)


def _in_order(job_files: Iterator[Path], lists_folder: Path, executor: "Executor | None", ahead: int) -> Iterator[Repriced]:
    """What the workers give, in the order of the files; when the reader stops early, what was not begun is called off."""
    with ExitStack() as stack:
        pool = executor or stack.enter_context(_own_processes())
        waiting: deque[Future[list[Repriced]]] = deque()
        stack.callback(lambda: [future.cancel() for future in waiting])
        for group in iter(partial(_take, job_files), ()):
            waiting.append(pool.submit(_reprice_files, group, lists_folder))
            if len(waiting) >= ahead:
                yield from waiting.popleft().result()
        while waiting:
            yield from waiting.popleft().result()


def _take(job_files: Iterator[Path]) -> tuple[Path, ...]:
    return tuple(path.absolute() for path in islice(job_files, _AT_ONCE))


def _own_processes() -> "Executor":
    """A fresh process for each core: a copy of this one would take its locks along, which a notebook's threads may hold."""
    import multiprocessing
    from concurrent.futures import ProcessPoolExecutor

    return ProcessPoolExecutor(mp_context=multiprocessing.get_context("spawn"))


def _reprice_files(paths: Sequence[Path], lists_folder: Path) -> list[Repriced]:
    """What a worker does with a few files."""
    new = _lists_in(lists_folder)
    return [_reprice_file(path, new) for path in paths]


def _reprice_file(path: Path, new: Lists) -> Repriced:
    try:
        job = read_job(path)
    except KitError as error:
        return Repriced(str(path), None, None, _words(error))
    return _reprice_one(str(path), job, lambda job: _lists_in(price_folder(job, path, None)), new)


def _lists_in(folder: Path) -> Lists:
    """The lists of a folder, read once as long as no file of it changes."""
    return _lists_as_of(folder, tuple(sorted((file.name, file.stat().st_mtime_ns, file.stat().st_size) for file in folder.glob("*.csv"))))


@lru_cache(maxsize=_LISTS_KEPT)
def _lists_as_of(folder: Path, _: tuple[tuple[str, int, int], ...]) -> Lists:
    return load_lists(folder)


def _reprice_one(name: str, job: Job, old: Lists | Callable[[Job], Lists], new: Lists) -> Repriced:
    now, why_now = _price(job, old)
    then, why_then = _price(job, new)
    problem = "; ".join(why for why in (why_now and f"with its lists in use: {why_now}", why_then and f"with the new lists: {why_then}") if why)
    news = _news(now, then) if now and then else ()
    return Repriced(name, now.price if now else None, then.price if then else None, problem, news)


def largest_first(repriced: tuple[Repriced, ...]) -> tuple[Repriced, ...]:
    """Jobs that have no price any more, then those whose price moves, the largest difference first."""
    return tuple(sorted(repriced, key=lambda one: (one.difference is not None, -abs(one.difference or Decimal(0)), one.name)))


def _price(job: Job, lists: Lists | Callable[[Job], Lists]) -> tuple[Estimate | None, str]:
    """The estimate, or why there is none."""
    try:
        return estimate(job, lists if isinstance(lists, Lists) else lists(job)), ""
    except KitError as error:
        return None, _words(error)


def _words(error: KitError) -> str:
    """The first fault, a field of the job by its name, and how many more there are."""
    first, *more = error.faults
    words = str(replace(first, place=label_of(first.place), file="") if first.place.partition(".")[0] in Job.model_fields else first)
    return f"{words}{f' (and {len(more)} more)' if more else ''}"


def _news(now: Estimate, then: Estimate) -> tuple[Finding, ...]:
    """Findings beyond ok that the new lists bring or make worse."""
    before = {finding.id: finding.level for finding in now.findings}
    return tuple(finding for finding in then.findings if finding.level > before.get(finding.id, Level.OK))
