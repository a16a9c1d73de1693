"""Which files does an estimate give? The workbook and the drawings; with the papers also what customer, crew and bookkeeper get."""

import datetime as dt

from kit.errors import Fault, IssueError
from kit.estimating import Estimate
from kit.issued import Issued

__all__ = ["PROPOSAL", "estimate_files", "files_to_send", "sent_files"]

PROPOSAL = "-proposal.pdf"
"""What ends the name of a proposal's file."""
_WITHOUT_PAPERS = (".xlsx", ".svg")


def estimate_files(estimate: Estimate, stem: str, *, papers: bool = False, issued: Issued | None = None, signed_on: dt.date | None = None) -> dict[str, bytes]:
    """The files by name; of an issued estimate marked with its number and revision, else drafts.

    All show the same days: those that are promised, counted from the day of issue where that is late; `signed_on`, where the contract is signed already.
    Then there is no proposal among them: a change order says what changes, and the contract sum is no longer this estimate's price.

    Raises IssueError if papers are wanted and a finding says stop: the proposal is not put before a customer then; or it has own takeoff steps.
    """
    from kit.export.workbook import workbook_bytes
    from kit.outlook import ahead_of, counted_from

    if papers and estimate.own_steps:
        names = ", ".join(estimate.own_steps)
        says = f"{names} is in this notebook only, and papers for a customer come from job and lists alone. Put its work there, or write the workbook."
        raise IssueError(Fault("own takeoff step", says))
    dated = estimate if issued is None else ahead_of(estimate, issued.issued)
    if signed_on is not None:
        dated = counted_from(estimate, signed_on)
    files = {f"{stem}.xlsx": workbook_bytes(estimate, issued=issued, dated=dated), **_drawings(estimate, stem, dated)}
    if not papers:
        return files
    return {**files, **_papers(estimate, stem, issued, dated), **(_proposal(estimate, stem, issued, dated) if signed_on is None else {})}


def files_to_send(estimate: Estimate, issued: Issued, *, signed_on: dt.date | None = None) -> dict[str, bytes]:
    """Everything that goes out with an estimate that is being issued, for `issue_estimate`."""
    stem = issued.folder.name if issued.folder else issued.document
    return estimate_files(estimate, stem, papers=True, issued=issued, signed_on=signed_on)


def sent_files(issued: Issued, *, papers: bool = False) -> dict[str, bytes]:
    """The files of an issued estimate: as they were sent, byte for byte; made again only where none were kept and today's rules give the same.

    Raises IssueError if a kept file is gone or was changed; or none were kept and today's rules give another price.
    """
    if issued.file_names:
        return {name: issued.file(name) for name in issued.file_names if papers or name.endswith(_WITHOUT_PAPERS)}
    differences = issued.differences()
    if differences.amount:
        sentence = f"was issued before files were kept with it, and can't be made again as it was sent. {differences.words} What was sent stays valid."
        raise IssueError(Fault("", sentence, issued.document))
    return estimate_files(issued.estimate, issued.folder.name if issued.folder else issued.document, papers=papers, issued=issued)


def _drawings(estimate: Estimate, stem: str, dated: Estimate) -> dict[str, bytes]:
    """Elevation, section, plan, cut plans and the calendar, as SVG in black on white."""
    from kit.draw.calendar_chart import draw_calendar
    from kit.draw.drawings import list_drawings, on_paper
    from kit.outlook import plan_schedule

    labels = estimate.step_names
    drawings = [*list_drawings(estimate), ("calendar", draw_calendar(plan_schedule(dated), labels))]
    return {f"{stem}-{name}.svg": f"{on_paper(svg)}\n".encode() for name, svg in drawings}


def _papers(estimate: Estimate, stem: str, issued: Issued | None, dated: Estimate) -> dict[str, bytes]:
    """Purchase list, crew sheet, rows for the books; drafts, but for those of an issued estimate."""
    from kit.export.crew_sheet import crew_sheet_bytes
    from kit.export.handoff import handoff_files
    from kit.export.purchase_list import list_purchases, purchase_list_bytes, purchase_list_csv
    from kit.outlook import plan_schedule

    schedule = plan_schedule(dated)
    return {
        f"{stem}-purchases.pdf": purchase_list_bytes(estimate, schedule=schedule, issued=issued),
        f"{stem}-purchases.csv": purchase_list_csv(list_purchases(estimate, schedule)),
        f"{stem}-crew.pdf": crew_sheet_bytes(estimate, schedule=schedule, issued=issued),
        **handoff_files(estimate, f"{stem}-books", issued=issued),
    }


def _proposal(estimate: Estimate, stem: str, issued: Issued | None, dated: Estimate) -> dict[str, bytes]:
    from kit.compare.options import compare_alternates
    from kit.export.proposal import offers_from, proposal_bytes

    offers = offers_from(compare_alternates(estimate.job_as_read, estimate.lists))
    return {f"{stem}{PROPOSAL}": proposal_bytes(estimate, options=offers, issued=issued, dated=dated)}
