"""The papers that `estimate --out --papers` writes: proposal, purchase list, crew sheet, rows for the books."""

from collections.abc import Callable
from pathlib import Path

from kit.compare import compare_alternates
from kit.estimate import Estimate
from kit.export.crew_sheet import crew_sheet_bytes
from kit.export.handoff import handoff_files
from kit.export.proposal import offers_from, proposal_bytes
from kit.export.purchase_list import list_purchases, purchase_list_bytes, purchase_list_csv
from kit.issued import Issued
from kit.outlook import schedule_of

__all__ = ["paper_files"]


def paper_files(estimate: Estimate, stem: str, *, issued: Issued | None = None) -> dict[str, Callable[[Path], object]]:
    """Name and writer of each paper, all of them made before anything is written; drafts, but for those of an issued estimate.

    Raises
    ------
    IssueError
        If a finding says stop: the proposal is not put before a customer then.
    """
    schedule = schedule_of(estimate)
    offers = offers_from(compare_alternates(estimate.job_as_read, estimate.lists))
    papers = {
        f"{stem}-proposal.pdf": proposal_bytes(estimate, options=offers, issued=issued),
        f"{stem}-purchases.pdf": purchase_list_bytes(estimate, schedule=schedule, issued=issued),
        f"{stem}-purchases.csv": purchase_list_csv(list_purchases(estimate, schedule)),
        f"{stem}-crew.pdf": crew_sheet_bytes(estimate, schedule=schedule, issued=issued),
        **handoff_files(estimate, f"{stem}-books", issued=issued),
    }

    def writer(content: bytes) -> Callable[[Path], object]:
        return lambda path: path.write_bytes(content)

    return {name: writer(content) for name, content in papers.items()}
