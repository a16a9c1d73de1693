"""Everything that goes out for a job, made by a press: proposal, purchase list, crew sheet, workbook, rows for the books, drawings."""

import datetime as dt
import io
import zipfile
from collections.abc import Callable, Mapping
from functools import partial
from html import escape
from types import MappingProxyType
from typing import Any

import ipywidgets as widgets

from kit.estimating import Estimate
from kit.export.estimate_files import PROPOSAL
from kit.issued import Issued
from kit.job import Job, parse_job
from kit.job.field_names import label_of
from kit.panels.paper_view import PaperView
from kit.panels.screen import PDF, XLSX, DownloadFile, Note, Working, lay_box, lay_words, make_button
from kit.units import format_day

__all__ = ["PAPERS", "PapersPanel", "make_paper", "say_what_is_missing"]

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
        "Proposal": ("For the customer: what is done, the price, choices, days, care", PROPOSAL, PDF, _proposal),
        "Purchase list": ("By supplier, with the day to order by", "-purchases.pdf", PDF, _purchase_list),
        "Crew sheet": ("For the crew: steps, tools, cuts, drawings; no prices", "-crew.pdf", PDF, _crew_sheet),
        "Workbook": ("The estimate as a spreadsheet with live formulas", ".xlsx", XLSX, _workbook),
        "Rows for the books": ("Budget rows with their description and control totals", "-books.zip", _ZIP, _book_rows),
        "Drawings": ("Every drawing as SVG, to scale", "-drawings.zip", _ZIP, _drawings),
    }
)
"""By their name: what they are for, the end of the file's name, its kind, and what makes them."""
_SIGNED = "Proposal"  # it stays as it was sent, its expected days with it
_WITHOUT_DAYS = {"Rows for the books", "Drawings"}
_WITHOUT_NAMES = {"Workbook", "Drawings"}  # they are ours, and may say that the customer is not named yet


def make_paper(name: str, estimate: Estimate, stem: str, issued: Issued | None) -> DownloadFile:
    """A paper of an estimate, a draft; of one that was issued as it stands, the file that was sent, where it is one and its days still hold.

    Raises KitError if it may not go out: a finding says stop, or a cut plan is not proven.
    """
    _, ending, kind, make = PAPERS[name]
    if issued is not None:
        sent = next((sent for sent in issued.file_names if sent.endswith(ending)), None)
        if sent is not None and (name == _SIGNED or not _days_moved(estimate, issued)):
            return DownloadFile(sent, kind, issued.file(sent))
    return DownloadFile(f"{stem}{ending}", kind, make(estimate, issued))


def _days_moved(estimate: Estimate, issued: Issued) -> bool:
    """Whether the days count from a signature that came after it was issued."""
    return estimate.job.terms.signed_on != parse_job(issued.content["job"]).terms.signed_on


def _say_state(name: str, estimate: Estimate, issued: Issued | None, file: DownloadFile) -> tuple[str, ...]:
    """What a paper is, in sentences: a draft, what was sent, or made again since, and from which day its days count."""
    if issued is None:
        return (f"{name}: {file.name}, a draft until it is issued.",)
    signed_on = estimate.job.terms.signed_on if name not in _WITHOUT_DAYS and _days_moved(estimate, issued) else None
    counted = f"the signature on {format_day(signed_on)}" if signed_on else ""
    if file.name not in issued.file_names:
        return (f"{name}: {file.name}, of revision {issued.revision}{f', with its days counted from {counted}' if counted else ''}.",)
    return f"{name}: {file.name}, as it was sent.", f"Its days are those expected then; all else here counts from {counted}." if counted else ""


def say_what_is_missing(job: Job) -> str:
    """Why nothing can go out of a job yet: what decides its price, or whose it is; empty where it can."""
    if job.deciding_places:
        return "Nothing can go out yet: first answer what decides the price, named above."
    if job.open_places:
        labels = ", ".join(label_of(place) for place in job.open_places)
        return f"Fill in first, in the step Start: {labels}. The papers name them; workbook and drawings are ready now."
    return ""


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
        self._made_of: tuple[dt.date | None, int] | None = None
        self.waits, self.buttons = widgets.HTML(), {name: self._button(name) for name in PAPERS}
        rows = [lay_box("sk-paper-row", button, lay_words("p", PAPERS[name][0])) for name, button in self.buttons.items()]
        self.box: Any = lay_box("sk-papers", self.waits, *rows, self.note.box, self.view)

    def _button(self, name: str) -> Any:
        return make_button(name, PAPERS[name][0], self.note.guard(partial(self.make, name)), "primary" if name == "Proposal" else "")

    def follow(self, job: Job, said: str = "", *, proposal: bool = True) -> str:
        """Only what can be made can be pressed; gives the reason why nothing can go out, in words, which stands above the buttons after what is `said`.

        There is no `proposal` where the job is not what the contract of its number was offered as.
        """
        why = say_what_is_missing(job)
        for name, button in self.buttons.items():
            button.disabled = bool(job.deciding_places if name in _WITHOUT_NAMES else job.open_places)
        if not proposal:
            self.buttons[_SIGNED].disabled = True
        above = " ".join(words for words in (said, why) if words)
        self.waits.value = f"<p>{escape(above)}</p>" if above else ""
        return why

    def make(self, name: str) -> None:
        """Make a paper, and show it or hand it to the downloads."""
        with self._working.steps(1):
            estimate, stem, issued = self._source()
            file = make_paper(name, estimate, stem, issued)
        self.view.show(file, name)
        self._made_of = _stands(estimate, issued)
        self.note.say(*_say_state(name, estimate, issued, file), *self._missing(), alert=bool(self._missing()))

    def forget(self) -> None:
        """The job has changed: what was made of it is taken off the screen."""
        self._take_off("The job has changed. Make the paper again.")

    def look_again(self) -> None:
        """An estimate went out, or its contract was signed or canceled: a draft of before, or a paper with other days, is taken off the screen."""
        if self._made_of is not None:
            estimate, _, issued = self._source()
            if self._made_of != _stands(estimate, issued):
                self._take_off("The paper was made before the estimate was issued or signed. Make it again.")

    def _take_off(self, why: str) -> None:
        if self._made_of is not None:
            self._made_of = None
            self.view.clear()
            self.note.say(why)


def _stands(estimate: Estimate, issued: Issued | None) -> tuple[dt.date | None, int]:
    """What besides the job tells one paper from the next: the signature that its days count from, and the revision that it is of (0 for a draft)."""
    return estimate.job.terms.signed_on, issued.revision if issued is not None else 0
