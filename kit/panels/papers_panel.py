"""Everything that goes out for a job, made by a press: proposal, purchase list, crew sheet, workbook, rows for the books, drawings."""

import io
import zipfile
from collections.abc import Callable, Mapping
from functools import partial
from types import MappingProxyType
from typing import Any

from kit.estimating import Estimate
from kit.issued import Issued
from kit.panels.paper_view import PaperView
from kit.panels.screen import PDF, XLSX, DownloadFile, Note, Working, lay_box, lay_words, make_button

__all__ = ["PAPERS", "PapersPanel", "make_paper"]

_ZIP = "application/zip"
_WHEN = (1980, 1, 1, 0, 0, 0)  # the same files give the same bytes


def _proposal(estimate: Estimate, issued: Issued | None) -> bytes:
    from kit.compare.options import compare_alternates
    from kit.export.proposal import offers_from, proposal_bytes

    return proposal_bytes(estimate, options=offers_from(compare_alternates(estimate.job_as_read, estimate.lists)), issued=issued)


def _purchase_list(estimate: Estimate, issued: Issued | None) -> bytes:
    from kit.export.purchase_list import purchase_list_bytes
    from kit.outlook import plan_schedule

    return purchase_list_bytes(estimate, schedule=plan_schedule(estimate), issued=issued)


def _crew_sheet(estimate: Estimate, issued: Issued | None) -> bytes:
    from kit.export.crew_sheet import crew_sheet_bytes
    from kit.outlook import plan_schedule

    return crew_sheet_bytes(estimate, schedule=plan_schedule(estimate), issued=issued)


def _workbook(estimate: Estimate, issued: Issued | None) -> bytes:
    from kit.export.workbook import workbook_bytes

    return workbook_bytes(estimate, issued=issued)


def _book_rows(estimate: Estimate, issued: Issued | None) -> bytes:
    from kit.export.handoff import handoff_files

    return _packed(handoff_files(estimate, "books", issued=issued))


def _drawings(estimate: Estimate, _: Issued | None) -> bytes:
    from kit.draw.drawings import list_drawings, on_paper

    return _packed({f"{name}.svg": f"{on_paper(svg)}\n".encode() for name, svg in list_drawings(estimate)})


def _packed(files: Mapping[str, bytes]) -> bytes:
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in sorted(files.items()):
            archive.writestr(zipfile.ZipInfo(name, _WHEN), content)
    return packed.getvalue()


Make = Callable[[Estimate, Issued | None], bytes]
PAPERS: Mapping[str, tuple[str, str, str, Make]] = MappingProxyType(
    {
        "Proposal": ("For the customer: what is done, the price, choices, days, care", "-proposal.pdf", PDF, _proposal),
        "Purchase list": ("By supplier, with the day to order by", "-purchases.pdf", PDF, _purchase_list),
        "Crew sheet": ("For the crew: steps, tools, cuts, drawings; no prices", "-crew.pdf", PDF, _crew_sheet),
        "Workbook": ("The estimate as a spreadsheet with live formulas", ".xlsx", XLSX, _workbook),
        "Rows for the books": ("Budget rows with their description and control totals", "-books.zip", _ZIP, _book_rows),
        "Drawings": ("Every drawing as SVG, to scale", "-drawings.zip", _ZIP, _drawings),
    }
)
"""By their name: what they are for, the end of the file's name, its kind, and what makes them."""


def make_paper(name: str, estimate: Estimate, stem: str, issued: Issued | None) -> DownloadFile:
    """A paper of an estimate, a draft; of one that was issued as it stands, the file that was sent, where it is one.

    Raises
    ------
    KitError
        If it may not go out: a finding says stop, or a cut plan is not proven.
    """
    _, ending, kind, make = PAPERS[name]
    if issued is not None:
        sent = next((sent for sent in issued.file_names if sent.endswith(ending)), None)
        if sent is not None:
            return DownloadFile(sent, kind, issued.file(sent))
    return DownloadFile(f"{stem}{ending}", kind, make(estimate, issued))


class PapersPanel:
    """Buttons for the papers of the job on the screen, and the place where a paper is shown.

    Parameters
    ----------
    source
        Gives the estimate at rest, the stem of file names, and the issued document where the job stands as it was issued.
    missing
        Gives what was typed and is not in the job, in sentences.
    working
        The progress bar of the screen.
    """

    def __init__(self, source: Callable[[], tuple[Estimate, str, Issued | None]], missing: Callable[[], list[str]], working: Working) -> None:
        self._source, self._missing, self._working = source, missing, working
        self.note, self.view = Note(), PaperView()
        self._shown = False
        rows = [lay_box("sk-paper-row", self._button(name), lay_words("p", says)) for name, (says, *_) in PAPERS.items()]
        self.box: Any = lay_box("sk-papers", *rows, self.note.box, self.view)

    def _button(self, name: str) -> Any:
        return make_button(name, PAPERS[name][0], self.note.guard(partial(self.make, name)), "primary" if name == "Proposal" else "")

    def make(self, name: str) -> None:
        """Make a paper, and show it or hand it to the downloads."""
        with self._working.steps(1):
            estimate, stem, issued = self._source()
            file = make_paper(name, estimate, stem, issued)
        self.view.show(file, name)
        self._shown = True
        state = "as it was sent" if issued is not None else "a draft until it is issued"
        self.note.say(f"{name}: {file.name}, {state}.", *self._missing(), alert=bool(self._missing()))

    def forget(self) -> None:
        """The job has changed: what was made of it is taken off the screen."""
        if self._shown:
            self._shown = False
            self.view.clear()
            self.note.say("The job has changed. Make the paper again.")
