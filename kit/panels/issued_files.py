"""Which issued estimates and tables of spending lie in a person's folder; nothing outside it is read or written."""

import re
from collections.abc import Iterator, Mapping
from pathlib import Path

from kit.contract.contract_file import offer_contract, open_contract
from kit.errors import Fault, KitError
from kit.estimating import estimate
from kit.export.estimate_files import files_to_send
from kit.issued import Issued, issue_estimate, open_issued
from kit.panels.job_files import FROM_EXAMPLES, JobFiles
from kit.shipped_files import shipped
from kit.tables import read_content

__all__ = ["IssuedFiles"]

ENDING, SPENT = ".json", "_spent.csv"
TABLES = (".csv", ".xlsx")
_NAME = re.compile(r"(.+)-r([0-9]{2,})\.json")


class IssuedFiles:
    """The issued estimates of one folder of jobs, and the tables of what was spent that can be taken.

    Parameters
    ----------
    files
        The job files of that folder.
    """

    def __init__(self, files: JobFiles) -> None:
        self.files = files
        self._opened: dict[tuple[str, int], Issued] = {}

    def names(self) -> list[str]:
        """The issued estimates, the one that was written last first."""
        issued = [path for path in self._own() if _NAME.fullmatch(path.name)]
        return [path.name for path in sorted(issued, key=lambda path: (-path.stat().st_mtime_ns, path.name))]

    def titles(self, customers: Mapping[str, str]) -> list[tuple[str, str]]:
        """The same by customer and job number, the revision where there are several, each with the name of its file; `customers` by job number."""
        names = self.names()
        parts = {name: match for name in names if (match := _NAME.fullmatch(name))}
        numbers = [match[1] for match in parts.values()]
        return [
            (
                ", ".join(part for part in (customers.get(match[1], ""), match[1], f"revision {int(match[2])}" if numbers.count(match[1]) > 1 else "") if part),
                name,
            )
            for name, match in parts.items()
        ]

    def open(self, name: str) -> Issued:
        """The issued estimate in a file; what was opened before is not worked again.

        Raises KitError if it is none, was changed, or lies outside the folder.
        """
        path = self.path(name)
        try:
            key = (name, path.stat().st_mtime_ns)
        except OSError as error:
            raise KitError(Fault("", f"can't be read: {error.strerror or error}.", name)) from None
        if key not in self._opened:
            self._opened[key] = open_issued(path)
        return self._opened[key]

    def path(self, name: str) -> Path:
        """Where an issued estimate of the folder lies; errors as in `open`."""
        return self.files.path(name, ENDING)

    def issue_example(self, name: str) -> str:
        """Issue one of the invented examples into the folder, as on the day of its visit; gives the name of the file. Errors as in `issue_estimate`."""
        if not name.startswith(FROM_EXAMPLES):
            raise KitError(f'"{name}" is no example.')
        job = self.files.open(name)
        priced = estimate(job, self.files.lists_for(job))
        self.files.folder.mkdir(parents=True, exist_ok=True)
        path = issue_estimate(priced, self.files.folder, make_files=files_to_send, today=job.identity.visit_date)
        offer_contract(open_contract(path))
        return path.name

    def tables(self) -> list[str]:
        """Tables that can be taken: CSV and XLSX files of the folder of jobs, then the invented ones of the examples."""
        own = sorted(path.name for path in self._own() if path.suffix.lower() in TABLES)
        return [*own, *(f"{FROM_EXAMPLES}{path.name}" for path in self._examples())]

    def content(self, name: str) -> bytes:
        """The content of one of these tables. Raises KitError if it is none of them, is too large, or can't be read."""
        if name not in self.tables():
            raise KitError(f'"{name}" is no table of this folder.')
        examples = {f"{FROM_EXAMPLES}{path.name}": path for path in self._examples()}
        return read_content(examples.get(name) or self.files.folder / name)

    def _own(self) -> Iterator[Path]:
        if self.files.folder.is_dir():
            for path in self.files.folder.iterdir():
                if path.is_file() and not path.name.startswith((".", "~")) and path.resolve().is_relative_to(self.files.home):
                    yield path

    def _examples(self) -> list[Path]:
        own = self.files.home / "examples"
        folder = own if own.is_dir() else shipped("examples")
        return sorted(path for path in folder.glob(f"*{SPENT}") if path.resolve().is_relative_to(folder.resolve()))
