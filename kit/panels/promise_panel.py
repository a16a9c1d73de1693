"""Issue the job on the screen, and keep its contract from the same place: signed, changed, billed, paid."""

import datetime as dt
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from html import escape
from pathlib import Path
from typing import Any

import ipywidgets as widgets

from kit.contract.contract_file import ContractFile, current_promise, offer_contract, open_contract, refuse_ended, say_ended
from kit.errors import KitError
from kit.estimating import Estimate
from kit.export.estimate_files import PROPOSAL, files_to_send
from kit.issued import Issued, issue_estimate, kept_folder, list_issued, open_issued
from kit.job import Job, parse_job
from kit.job.prices import whose_lists
from kit.money import format_money
from kit.outlook import ahead_of, counted_from
from kit.panels.change_panel import ChangePanel
from kit.panels.contract_panel import FIELD, ContractPanel
from kit.panels.customer_view import Agreed
from kit.panels.issued_files import IssuedFiles
from kit.panels.job_files import JobFiles
from kit.panels.screen import Note, Working, lay_bar, lay_box, lay_words, make_button
from kit.panels.tabs import Tabs

__all__ = ["PromisePanel"]

_HELP = (
    "Issuing freezes this estimate as the next revision of its job number and keeps every paper with it; nothing overwrites it. "
    "If something stands against it, such as a stop or old prices, give your reason first: it is kept."
)
_CHANGED_HERE = "Change the job on this screen and save it: then it can be chosen here."
_OTHER_JOB = (
    "The contract stands at {stands}. The price at the top, {price}, is that of the job as it stands now, which the customer has not signed: "
    "change the contract by a change order, under Changes."
)
_SAME_JOB = (
    "The contract stands at {stands}: that is what the customer signed. The price at the top, {price}, is what the same job would be offered at today; "
    "the contract does not follow it."
)
_BOUND = "The contract under {number} is signed, and this job is not what its proposal says. A change goes to the customer as a change order."
_ISSUE = "Freeze this estimate as the next revision of its job number"


@dataclass(frozen=True, slots=True)
class _Standing:
    """What the ledger says of a job number: from which signature days count, None before one and once canceled; how its contract ended, "" until then."""

    number: str = ""
    signed_on: dt.date | None = None
    ended: str = ""


class PromisePanel:
    """Issue, and the contract of the job's number.

    Parameters
    ----------
    files
        The job files of the folder.
    settled
        Gives the estimate to issue, at rest; refuses where entries are not taken over.
    number
        Gives the job's number.
    name
        Gives the job's file name.
    fell_back
        Whether the kit's invented lists stand in for the job's own.
    working
        The progress bar of the screen.
    day
        Day of issue, and of what is written into the contract; today when left out.
    """

    def __init__(
        self,
        files: JobFiles,
        settled: Callable[[], Estimate],
        number: Callable[[], str],
        name: Callable[[], str],
        fell_back: Callable[[], bool],
        working: Working,
        day: dt.date | None = None,
    ) -> None:
        self._files, self._settled, self._number, self._name, self._fell_back, self._working = files, settled, number, name, fell_back, working
        self._day = day
        self._followed = ""
        self._priced: Estimate | None = None
        self._signed: Job | None = None
        self._dated: tuple[Estimate, dt.date, Estimate] | None = None
        self._standing = _Standing()
        self._ahead: tuple[Estimate, Issued, Estimate] | None = None
        self._latest: tuple[str, tuple[Issued, Job] | None] | None = None
        self.note = Note()
        self.reason = widgets.Text(description="Reason", placeholder="if something stands against it", continuous_update=False, **FIELD)
        self.issue_button = make_button("Issue", _ISSUE, self.note.guard(self.issue))
        self.contract: ContractPanel | None = None
        self.look_again: Callable[[], object] = lambda: None
        """To be called when job files have been written: the change of the contract can be priced from the one on the screen."""
        self.days_moved: Callable[[], object] = lambda: None
        """Called when a signature has come into the ledger or has gone, a contract has ended, and when a proposal went out."""
        self._open_button = make_button(
            "Open the contract", "Signature, bills, payments and change orders of this job number", self.note.guard(self.open_contract)
        )
        self.stands, self._contract = widgets.HTML(), lay_box("sk-contract-box")
        self.box: Any = lay_box(
            "sk-promise",
            lay_words("h3", "Issue"),
            lay_words("p", _HELP),
            lay_bar(self.reason, self.issue_button, self._open_button),
            self.note.box,
            self.stands,
            self._contract,
        )

    def issue(self) -> None:
        """Freeze the estimate on the screen as the next revision of its job number."""
        priced = self._settled()
        refuse_ended(self._files.folder, priced.job.identity.job_number)
        self._files.folder.mkdir(parents=True, exist_ok=True)
        with self._working.steps(1):
            path = issue_estimate(
                priced, self._files.folder, make_files=files_to_send, stop_reason=str(self.reason.value), fell_back=self._fell_back(), today=self._day
            )
            offer_contract(open_contract(path))
        where = f"The files to send are in the folder {kept_folder(path).name}. They are never overwritten; the next issue is a new revision."
        self.note.say(f"Issued as {path.name}. {where} {whose_lists(priced.lists)}")
        self._open_latest(path)
        self.days_moved()

    def agreed(self, job: Job) -> Agreed | None:
        """What the customer signed under the job's number, and whether this job is it; None before the signature. Errors as in `open_contract`."""
        paths = self._issued_under(job.identity.job_number)
        contract = open_contract(paths[-1]) if paths else None
        signed_on = contract.state.signed_on if contract is not None else None
        if contract is None or signed_on is None:
            return None
        as_signed = _is_same(job, _signed_job(contract), signed_on)
        state = contract.state
        return Agreed(state.contract_sum, signed_on, as_signed=as_signed, ended=state.ended)

    def dated(self, priced: Estimate) -> Estimate:
        """The estimate with its days counted from the signature in the ledger of its job's number; as it is before one, and once that contract is canceled."""
        signed_on = self._signed_on(priced.job_as_read)
        if signed_on is None or signed_on == priced.job.terms.signed_on:
            return priced
        if self._dated is None or self._dated[0] is not priced or self._dated[1] != signed_on:
            self._dated = priced, signed_on, counted_from(priced, signed_on)
        return self._dated[2]

    def told(self, priced: Estimate) -> Estimate:
        """The estimate with its days as this screen tells them: as in `dated`, and unsigned, where the job is as it was issued, as its proposal says."""
        dated = self.dated(priced)
        if self._signed_on(priced.job_as_read) is not None:
            return dated
        sent = self._latest_sent(priced.job.identity.job_number)
        if sent is None or sent[0].price != priced.price or sent[1] != priced.job_as_read:
            return dated
        if self._ahead is None or self._ahead[0] is not priced or self._ahead[1] is not sent[0]:
            self._ahead = priced, sent[0], ahead_of(priced, sent[0].issued)
        return self._ahead[2]

    def _latest_sent(self, number: str) -> tuple[Issued, Job] | None:
        """The last revision under a number and its job; None without one, and where it can't be read, which is told where it is opened."""
        if self._latest is None or self._latest[0] != number:
            paths, self._latest = self._issued_under(number), (number, None)
            with suppress(KitError):
                if paths:
                    issued = open_issued(paths[-1])
                    self._latest = number, (issued, parse_job(issued.content["job"]))
        return self._latest[1]

    def ended(self, job: Job) -> str:
        """How the contract under the job's number ended: "closed" or "canceled"; "" where none has."""
        return self._stands_under(job).ended

    def say_ended(self, job: Job) -> str:
        """What follows from that, in sentences."""
        return say_ended(job.identity.job_number, self.ended(job))

    def say_bound(self, job: Job) -> str:
        """Why a proposal goes out only as it was sent, in sentences: a contract is signed under the job's number, or has ended; "" before."""
        if self._signed_on(job) is None or self.ended(job):
            return self.say_ended(job)
        return _BOUND.format(number=job.identity.job_number)

    def _signed_on(self, job: Job) -> dt.date | None:
        """The day of the signature in the ledger of the job's number; None before one, and once that contract is canceled."""
        return self._stands_under(job).signed_on

    def _stands_under(self, job: Job) -> _Standing:
        number = job.identity.job_number
        if number != self._standing.number:
            self._standing = self._look_up(job)
        return self._standing

    def _look_up(self, job: Job) -> _Standing:
        """The same read from the ledger; nothing where a contract can't be read, which is told where it is opened."""
        agreed, number = None, job.identity.job_number
        with suppress(KitError):
            agreed = self.agreed(job)
        if agreed is None:
            return _Standing(number)
        return _Standing(number, None if agreed.ended == "canceled" else agreed.signed_on, agreed.ended)

    def is_as_sent(self, priced: Estimate) -> bool:
        """Whether the job stands as it was proposed last; False where that can't be read, or no proposal went out with it: a change order did."""
        sent, job = self._latest_sent(priced.job.identity.job_number), priced.job_as_read
        proposed = sent is not None and any(name.endswith(PROPOSAL) for name in sent[0].file_names)
        return sent is not None and proposed and sent[0].price == priced.price and _is_same(job, sent[1], self._signed_on(job))

    def issued_as(self, estimate: Estimate) -> Issued | None:
        """The last revision of the job's number, where the job stands as it was issued; None where it has changed since, or none is out."""
        paths = self._issued_under(estimate.job.identity.job_number)
        if not paths:
            return None
        issued, job = open_issued(paths[-1]), estimate.job_as_read
        return issued if issued.price == estimate.price and _is_same(job, parse_job(issued.content["job"]), self._signed_on(job)) else None

    def open_contract(self) -> None:
        """Show the contract of the job's number: that of its last revision. Raises KitError if nothing of that number was issued yet."""
        number = self._number()
        paths = self._issued_under(number)
        if not paths:
            raise KitError(f"Nothing is issued under {number} yet. Issue the estimate first.")
        self._open_latest(paths[-1])

    def _issued_under(self, number: str) -> list[Path]:
        return list_issued(self._files.folder, number) if self._files.folder.is_dir() else []

    def _open_latest(self, path: Path) -> None:
        """Boxes of the contract, made when they are first wanted."""
        self._latest = None
        if self.contract is None:
            self.contract = ContractPanel(IssuedFiles(self._files), self._working, self._day)
            self._changes = changes = ChangePanel(self._files, self.contract, self._working, _CHANGED_HERE)

            def look_again() -> None:
                changes.look_again(self._name())
                changes.show()
                self._note_signed()

            self.contract.shown = self.look_again = lambda: changes.note.guard(look_again)(None)
            parts = Tabs({"Bills": self.contract.bills, "Changes": changes.box, "Ledger": self.contract.ledger})
            self._contract.children = (lay_words("h3", "The contract"), self.contract.top, parts.box)
        self.contract.open(path.name)

    def _note_signed(self) -> None:
        """The job that the customer signed, its signed changes in it; None while no signed contract runs."""
        contract = self.contract.of_contract() if self.contract is not None else None
        runs = contract is not None and contract.state.stage == "signed" and not contract.state.canceled
        self._signed = _signed_job(contract) if contract is not None and runs else None
        if contract is not None:
            state, before = contract.state, self._standing
            self._standing = _Standing(self._followed, None if state.canceled else state.signed_on, state.ended)
            if before != self._standing:
                self.days_moved()
        self._say_where_it_stands()

    def _say_where_it_stands(self) -> None:
        """The contract's sum and the price on top may differ: which is which, and what to do."""
        self.stands.value = ""
        if self.contract is None or self._signed is None or self._priced is None:
            return
        state, price = self.contract.of_contract().state, self._priced.price
        stands = state.contract_sum
        words = _SAME_JOB if _is_same(self._priced.job_as_read, self._signed, state.signed_on) else _OTHER_JOB
        if stands != price:
            self.stands.value = f"<p>{escape(words.format(stands=format_money(stands), price=format_money(price)))}</p>"

    def follow(self, job: Job, waits: str, priced: Estimate | None) -> None:
        """The job on the screen was changed, or is another one: then its contract is opened anew.

        Nothing is issued while it `waits` for something, or under the number of a contract that has ended.
        """
        self._priced, number = priced, job.identity.job_number
        waits = waits or self.say_ended(job)
        self.issue_button.disabled = bool(waits)
        self.issue_button.tooltip = waits or _ISSUE
        if number != self._followed:
            self._followed, self.reason.value = number, ""  # a reason is kept with the job for which it was given
            self._close()
        self._say_where_it_stands()

    def clear(self) -> None:
        """Nothing of the contract is left in the page; it stays open, and `go_on` brings it back."""
        self._signed, self.stands.value = None, ""
        self.note.say()
        if self.contract is not None:
            self.contract.clear()
            self._changes.clear()

    def go_on(self) -> None:
        """Show the contract that was open as it stands now. Raises as `open_contract`; then it is closed."""
        if self.contract is None:
            return
        try:
            self.open_contract()
        except KitError:
            self._close()
            raise

    def _close(self) -> None:
        """Take the contract off the screen."""
        self.clear()
        self.contract, self.look_again, self._contract.children = None, lambda: None, ()


def _is_same(job: Job, promised: Job, signed_on: dt.date | None) -> bool:
    """Whether a job is the one that was promised; that the day of its signature was filled in since is no change."""
    if signed_on is not None and job.terms.signed_on == signed_on:
        job = job.model_copy(update={"terms": job.terms.model_copy(update={"signed_on": promised.terms.signed_on})})
    return job == promised


def _signed_job(contract: ContractFile) -> Job:
    """The job that a signed contract stands for, its signed changes in it."""
    return parse_job(current_promise(contract, contract.state).content["job"])
