"""Where a screen's price lists lie: folders in use, files that can be picked, and new folders; nothing outside the person's own folder."""

import datetime as dt
import json
import os
from collections.abc import Sequence
from pathlib import Path

from kit.errors import KitError
from kit.export.list_sheets import list_sheets_bytes
from kit.job import Job
from kit.job.prices import usual_price_folder
from kit.lists import Lists, load_lists
from kit.lists.list_files import FILES
from kit.lists.write import DESCRIPTION, write_lists
from kit.panels.job_files import FROM_EXAMPLES, JobFiles
from kit.panels.screen import CSV, XLSX, DownloadFile
from kit.shipped_files import shipped
from kit.tables import read_content

__all__ = ["ALL_LISTS", "USUAL", "PriceFiles", "describe_written", "list_file"]

USUAL = "the usual ones"
ALL_LISTS = "all lists (XLSX)"
_ENDINGS = {".csv", ".xlsx"}
_STEMS = {file.removesuffix(".csv") for file in FILES}
_MOST_NAMES = 300


class PriceFiles:
    """The price lists of the person whose jobs these are.

    Parameters
    ----------
    files
        The job files; their folder's home is the person's own folder.
    """

    def __init__(self, files: JobFiles) -> None:
        self.files = files

    def names(self) -> list[str]:
        """The folders of lists that can be in use: the usual ones first, then the others as a job file names them."""
        return [USUAL, *self.files.list_folders()]

    def say(self, name: str) -> str:
        """What people call one of these folders: its way from their own folder."""
        return f"{self.folder(USUAL).name} ({USUAL})" if name == USUAL else Path(os.path.normpath(Path(self.files.folder.name, name))).as_posix()

    def folder(self, name: str) -> Path:
        """The folder of one of these names. Raises KitError if it is none of them."""
        if name == USUAL:
            return usual_price_folder(self.files.folder.absolute())
        if name not in self.files.list_folders():
            raise KitError(f'"{name}" is no folder of price lists in {self.files.home.name}.')
        return self._inside(self.files.folder / name).resolve()

    def lists(self, name: str) -> Lists:
        """The lists in one of these folders; errors as in `load_lists`."""
        return load_lists(self.folder(name))

    def titles(self, name: str) -> dict[str, str]:
        """What each list holds, in words, from the description beside the lists, else from the shipped one."""
        for folder in (self.folder(name), shipped("price_lists")):
            try:
                package = json.loads((folder / DESCRIPTION).read_text(encoding="utf-8"))
                return {str(one["path"]): str(one["title"]) for one in package["resources"]}
            except (OSError, ValueError, KeyError, TypeError):
                continue
        return {}

    def pickable(self) -> list[str]:
        """Files and folders of the person's own folder that can be picked, by their way from it; a folder ends in "/"."""
        home = self.files.home
        folders = sorted({path.parent for path in home.glob("*/*") if self._is_list(path)}) if home.is_dir() else []
        files = [path for pattern in ("*", "*/*") for path in sorted(home.glob(pattern)) if self._is_table(path) and path.parent not in folders]
        names = [f"{folder.name}/" for folder in folders] + [path.relative_to(home).as_posix() for path in files]
        return names[:_MOST_NAMES]

    def contents(self, name: str) -> dict[str, bytes]:
        """The content of a picked file, or of each list of a picked folder, by its file name.

        Raises KitError if it is not among what can be picked, or can't be read.
        """
        if name not in self.pickable():
            raise KitError(f'"{name}" is no file or folder that can be picked in {self.files.home.name}.')
        place = self._inside(self.files.home / name)
        paths = sorted(path for path in place.iterdir() if self._is_list(path)) if name.endswith("/") else [place]
        return {path.name: read_content(path) for path in paths}

    def jobs(self) -> tuple[dict[str, Job], list[str]]:
        """The job files on hand, or the examples where there are none; and a sentence for each that can't be read."""
        jobs, sentences = {}, []
        own = [name for name in self.files.names() if not name.startswith(FROM_EXAMPLES)]
        for name in own or self.files.names():
            try:
                jobs[name] = self.files.open(name)
            except KitError as error:
                sentences.append(f"{name} can't be read: {error.faults[0]}")
        return jobs, sentences

    def write(self, lists: Lists, day: dt.date, based_on: str) -> tuple[Path, str]:
        """Write lists as a new dated folder of the person's own folder; gives it, and how a job file names it."""
        folder = write_lists(lists, self.files.home, day, description=self.folder(based_on) / DESCRIPTION)
        return folder, Path(os.path.relpath(folder, self.files.folder.resolve())).as_posix()

    def point(self, names: list[str], prices: str) -> tuple[list[str], list[str]]:
        """Point job files at lists; gives those that were, and a sentence for each that was not."""
        pointed, sentences = [], []
        for name in names:
            try:
                self.files.point(name, prices)
                pointed.append(name)
            except (KitError, OSError) as error:
                sentences.append(str(error))
        return pointed, sentences

    def _inside(self, place: Path) -> Path:
        if not place.resolve().is_relative_to(self.files.home):
            raise KitError(f"{place.name} leads out of your own folder {self.files.home.name}.")
        return place

    def _is_table(self, path: Path) -> bool:
        hidden = any(part.startswith((".", "~")) for part in path.relative_to(self.files.home).parts)
        return not hidden and path.suffix.lower() in _ENDINGS and path.is_file() and path.resolve().is_relative_to(self.files.home)

    def _is_list(self, path: Path) -> bool:
        return path.stem.casefold() in _STEMS and self._is_table(path)


def list_file(lists: Lists | None, file: str, ending: str) -> DownloadFile:
    """A list in use, or `ALL_LISTS`, as a file to edit and bring back. Raises KitError if there are no sound lists, or all are wanted as CSV."""
    if lists is None:
        raise KitError("The lists in use have faults: there is nothing to download.")
    stem = "price_lists" if file == ALL_LISTS else file.removesuffix(".csv")
    if ending == ".xlsx":
        return DownloadFile(f"{stem}.xlsx", XLSX, list_sheets_bytes(lists, FILES if file == ALL_LISTS else [file]))
    if file == ALL_LISTS:
        raise KitError("A CSV file holds one list: choose one, or download all as XLSX.")
    return DownloadFile(file, CSV, lists.texts[file].encode("utf-8"))


def describe_written(folder: Path, pointed: Sequence[str], usual: str) -> list[str]:
    """What was written, in plain words."""
    them = "it" if len(pointed) == 1 else "them"
    use = (
        f"{'; '.join(pointed)} {'uses' if len(pointed) == 1 else 'use'} it from now on; open {them} again on the estimator's screen."
        if pointed
        else ("No job uses it yet: choose it under Price lists on the estimator's screen, or press Undo, bring the lists in again and mark the jobs.")
    )
    return [
        f"Written: {folder.name}, {len(FILES)} lists, beside {usual}.",
        use,
        "No other job file was changed, and no issued estimate." if pointed else "No job file was changed, and no issued estimate.",
    ]
