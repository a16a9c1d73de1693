"""Set up a person's own folder with notebooks, price lists and examples."""

from dataclasses import dataclass
from pathlib import Path

from kit.errors import Fault, KitError
from kit.shipped_files import shipped
from kit.whole_files import explain_os_error, place_file

__all__ = ["FolderSetup", "lay_folder"]

FOLDERS = ("notebooks", "price_lists", "examples")
_NOT_COPIED = {"__pycache__", ".ipynb_checkpoints"}


@dataclass(frozen=True, slots=True)
class FolderSetup:
    """Files that are new, and those that were there already and stay as they are."""

    new_files: tuple[Path, ...]
    already_there: tuple[Path, ...]


def lay_folder(folder: Path) -> FolderSetup:
    """Copy what is shipped; a file that is there already stays as it is.

    Raises KitError if something that is no folder stands where one must be made, or the place can't be written to.
    """
    sources = {folder / name / path.relative_to(shipped(name)): path for name in FOLDERS for path in _files_in(shipped(name))}
    _refuse_blocked(folder, sources)
    new_files: list[Path] = []
    already_there: list[Path] = []
    for target, source in sources.items():
        (new_files if _copy(source, target) else already_there).append(target)
    return FolderSetup(tuple(new_files), tuple(already_there))


def _files_in(folder: Path) -> list[Path]:
    return sorted(path for path in folder.rglob("*") if path.is_file() and not _NOT_COPIED & set(path.relative_to(folder).parts))


def _refuse_blocked(folder: Path, targets: dict[Path, Path]) -> None:
    needed = {folder, *(parent for target in targets for parent in target.parents if folder in parent.parents)}
    blocked = sorted(path for path in needed if path.exists() and not path.is_dir())
    if blocked:
        raise KitError(Fault("", "is a file; it must be a folder.", str(path)) for path in blocked)


def _copy(source: Path, target: Path) -> bool:
    """Whether it was written, whole or not at all; what is there stays, whoever put it there meanwhile."""
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        if target.exists():
            return False
        place_file(target, source.read_bytes())
    except FileExistsError:
        return False
    except OSError as error:
        raise KitError(Fault("", f"can't be written: {explain_os_error(error)}.", str(target))) from None
    return True
