"""An estimate as files: the workbook, everything for customer, crew and books, or issued as a promise."""

import datetime as dt
from pathlib import Path

from kit.cli.out_folder import file_writers, write_files
from kit.cli.promises import offer_issued
from kit.contract.contract_file import refuse_ended
from kit.errors import Fault, KitError
from kit.estimating import Estimate
from kit.export.estimate_files import estimate_files, files_to_send
from kit.export.workbook import workbook_bytes
from kit.issued import issue_estimate
from kit.issued.file_names import file_stem

__all__ = ["issue", "write_papers", "write_workbook"]


def write_workbook(estimate: Estimate, path: str | Path) -> Path:
    """Write the workbook; one that was written before is replaced, a file that a person made or changed never.

    Parameters
    ----------
    estimate
        The estimate, also one with a rate or price changed in memory: its sheet "Lists" says so.
    path
        The file, ending in .xlsx.

    Returns
    -------
    The file.

    Raises
    ------
    KitError
        If the name does not end in .xlsx, what is there is not ours to replace, or it can't be written.

    Examples
    --------
    >>> import kit, tempfile
    >>> job = kit.read_job(kit.shipped("examples") / "counter_stays_sink_only.toml")
    >>> priced = kit.estimate(job, kit.load_lists(kit.shipped("price_lists")))
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     kit.write_workbook(priced, f"{folder}/swap.xlsx").name
    'swap.xlsx'
    """
    file = Path(path)
    if file.suffix.lower() != ".xlsx":
        raise KitError(Fault("", "is no name for a workbook. Let it end in .xlsx.", str(path)))
    _write(file.parent, {file.name: workbook_bytes(estimate)})
    return file


def write_papers(estimate: Estimate, folder: str | Path) -> list[Path]:
    """Write workbook, drawings, proposal, purchase list, crew sheet and the rows for the books, all as drafts, named by the job's number.

    Parameters
    ----------
    estimate
        The estimate.
    folder
        Where to; it is made where it is not there. Files are replaced as by `write_workbook`.

    Returns
    -------
    The files.

    Raises
    ------
    KitError
        If a finding says stop (no proposal then), the estimate holds what only this notebook knows, or the folder can't be written; nothing is then.
    """
    files = estimate_files(estimate, file_stem(estimate.job.identity.job_number), papers=True)
    _write(Path(folder), files)
    return [Path(folder) / name for name in files]


def issue(estimate: Estimate, folder: str | Path, *, reason: str | None = None, day: dt.date | str | None = None) -> Path:
    """Give the estimate out as the next revision of its job, with all papers, and enter it in the ledger, as `sinkset issue` does.

    Parameters
    ----------
    estimate
        The estimate.
    folder
        Where the job file lies; revision, papers and ledger go there.
    reason
        Why it is issued although something speaks against it.
    day
        Day of issue, as a date or as "2026-03-31"; without it today.

    Returns
    -------
    The issued estimate (JSON).

    Raises
    ------
    KitError
        If the text is no day, or something speaks against it and no reason is given, as `sinkset issue` says; nothing is written then.
        If only the ledger refuses, the promise stands, and the error says so.
    """
    try:
        on = dt.date.fromisoformat(day) if isinstance(day, str) else day
    except ValueError:
        raise KitError(Fault("day", f'"{day}" is not a day. Give it as "2026-03-31", or as a date.')) from None
    refuse_ended(Path(folder), estimate.job.identity.job_number)
    path = issue_estimate(estimate, Path(folder), make_files=files_to_send, stop_reason=reason, today=on)
    if not_in_ledger := offer_issued(path):
        raise KitError(Fault("", f"is issued and stands. {not_in_ledger}", path.name))
    return path


def _write(folder: Path, contents: dict[str, bytes]) -> None:
    write_files(folder, file_writers(contents), say=lambda _: None)
