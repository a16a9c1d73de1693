"""The part of the bookkeeper's screen that changes a signed contract: a job file with the change, its price and paper, made out and signed."""

import math
from collections.abc import Callable, Mapping
from html import escape
from typing import Any

import ipywidgets as widgets

from kit.change.agreed_finds import agreed_finds
from kit.contract.changed_draws import agreed_falls
from kit.contract.contract_file import current_promise, sign_contract
from kit.contract.state import ChangeState, ContractState
from kit.draw.book_tables import draw_change
from kit.draw.folds import fold_words
from kit.errors import Fault, IssueError, KitError
from kit.estimating import estimate
from kit.export.change_files import offer_change, price_contract_change
from kit.export.change_order import ChangeOrderSource
from kit.export.change_words import falls_choices, rule_words
from kit.issued import Issued, issued_path, open_issued
from kit.lists.money_rows import UnitPrice
from kit.money import format_money
from kit.panels.contract_panel import FIELD, ContractPanel
from kit.panels.job_files import FROM_EXAMPLES, JobFiles
from kit.panels.screen import PDF, DownloadFile, Note, Working, close_widgets, fill_choices, lay_actions, lay_bar, lay_box, make_button, make_download
from kit.units import format_day

__all__ = ["ChangePanel"]

FOUND_HELP = (
    "What turned up in the house and has a price agreed in advance: type how many. Leave that work out of the changed job. If nothing else "
    "changes, choose the job file as it is."
)
HELP = (
    "Save the job with its change under a name of its own on the estimator's screen, then choose it here. It is compared with the contract "
    "as it is now; number, sum and payments come from the ledger. Once you write the change order, it is issued as the next revision "
    "and its paper is kept with it. It counts when the customer has signed it."
)
_NO_JOB = "Your folder has no job file with the change."
_THERE = "Save one on the estimator's screen. Then press Look again."
_WAITS = "Nothing is signed yet: change the job itself and issue it again. A change order follows the signature."
_RULE: dict[str, Any] = {"layout": {"width": "640px"}, "style": {"description_width": "130px"}}
_FOUND: dict[str, Any] = {"layout": {"width": "560px"}, "style": {"description_width": "400px"}}


class ChangePanel:
    """Change orders of the contract that is open.

    Parameters
    ----------
    files
        The job files of the folder.
    contract
        The contract's part of the screen; its day is the day of the change.
    working
        The progress bar of the screen.
    how
        How a job file with the change comes into the list, in a sentence.
    """

    def __init__(self, files: JobFiles, contract: ContractPanel, working: Working, how: str = _THERE) -> None:
        self.files, self.contract, self._working, self._how = files, contract, working, how
        self.changing: ChangeOrderSource | None = None
        self.note, self.standing, self.table, self.none = Note(), widgets.HTML(), widgets.HTML(), widgets.HTML()
        self.choice = widgets.Dropdown(description="Changed job", tooltip="Job files of your folder", **_RULE)
        self.reason = widgets.Text(description="Why", placeholder="the wall is open now", tooltip="For the paper, in your own words", **_RULE)
        self.rule = widgets.Dropdown(description="Markup rule", tooltip="Markup on what is added and on what is taken off", **_RULE)
        self.found: dict[str, Any] = {}
        self._asked: object = None  # what choices and fields are on the screen for
        self._rule: str | None = None  # what was chosen, while the page was cleared
        self.falls = widgets.Dropdown(description="Billed with", tooltip="Payments that this change moves; its paper says so", **_RULE)
        self._found_box = lay_bar()
        self.despite = widgets.Text(
            description="Reason",
            placeholder="if something stands against it",
            tooltip="Why you issue it despite a warning; it is kept",
            **FIELD,
        )
        self.orders = widgets.Dropdown(description="Change order", tooltip="Change orders written so far", **_RULE)
        self.price_button = self._button("Price the change", "Row by row; nothing is written", self.price)
        self.offer_button = self._button("Write the change order", "Number it and record it in the ledger", self.offer)
        self.sign_button = self._button("Customer signed the change", "Sum and later payments change from now on", self.sign)
        download = make_download("Download change order", "The chosen paper to sign as PDF", self.paper, self.note, working)
        for control in (self.choice, self.reason, self.rule, self.falls):
            control.observe(self._drop_price, names="value")
        self._orders_row = lay_bar(self.orders, lay_actions(download, self.sign_button))
        self._form = lay_box(
            "sk-change-form",
            widgets.HTML(fold_words("How to change a contract", HELP, FOUND_HELP)),
            self.none,
            lay_bar(self.choice, self.reason, self.rule, self.falls),
            self._found_box,
            lay_actions(self.price_button),
            lay_bar(self.despite, lay_actions(self.offer_button)),
        )
        self.box = widgets.VBox(
            [
                self.standing,
                self._form,
                self.note.box,
                lay_box("sk-scroll sk-change", self.table),
                self._orders_row,
            ]
        )

    def _button(self, label: str, tip: str, action: Callable[[], object]) -> Any:
        return make_button(label, tip, self.note.guard(action))

    def look_again(self, chosen: str | None = None) -> None:
        """Read anew which job files there are; the `chosen` one, else the one that was, is chosen."""
        fill_choices(self.choice, [pair for pair in self.files.named() if not pair[1].startswith(FROM_EXAMPLES)], chosen)
        self.none.value = "" if self.choice.options else f"<p>{_NO_JOB} {self._how}</p>"
        self.choice.layout.display = "" if self.choice.options else "none"

    def show(self) -> None:
        """The contract was written to, or is another one."""
        state = self.contract.of_contract().state
        self._drop_price()
        self._choose_of(state.number)
        self.table.value = ""
        signed = state.stage == "signed" and not state.canceled
        self.price_button.disabled, self.offer_button.disabled = not signed or not self.choice.options, True
        waits = _WAITS if state.signed is None else f"This contract is {state.ended}: nothing in it can change."
        self.standing.value = "" if signed else f"<p>{waits}</p>"
        self._form.layout.display = "" if signed else "none"
        self._orders_row.layout.display = "" if state.changes else "none"
        self._offer_choices(state)
        said = [(f"{one.order.number}: {format_money(one.order.amount)}, {_signed_words(state, one)}", one) for one in state.changes]
        self.orders.options = [(words, one.order.number) for words, one in said]
        self.orders.value = state.changes[-1].order.number if state.changes else None
        self.sign_button.disabled = not signed or all(one.signed or state.outdated(one) for one in state.changes)

    def _choose_of(self, number: str) -> None:
        """A job file of the contract's number, unless one of these is chosen: a contract changes into no other job."""
        mine = [file for name, file in self.choice.options if f"{name} ".partition(f", {number} ")[1]]
        if mine and self.choice.value not in mine:
            self.choice.value = mine[0]

    def clear(self) -> None:
        """Nothing of a change is left in the page but what a person typed; the next `show` goes on with it."""
        self.changing, self.table.value, self.orders.options = None, "", ()
        self._rule, self.rule.options = self.rule.value, ()
        self.note.say()

    def _drop_price(self, _: object = None) -> None:
        """What was priced is no longer what the fields say: it goes, and is not written."""
        if self.changing is not None:
            self.changing, self.table.value, self.offer_button.disabled = None, "", True
            self.note.say("Price the change again: it is no longer the one that was priced.")

    def _offer_choices(self, state: ContractState) -> None:
        """The rules and the prices agreed in advance of the lists that the contract stands for; what was chosen and typed for another contract goes."""
        if state.stage != "signed" or state.signed is None:
            return
        promise, falls = current_promise(self.contract.of_contract(), state), agreed_falls(state)
        lists = promise.lists
        asked = (state.number, state.revision, dict(lists.unit_prices), rule_words(lists), lists.company.change_rule, falls)
        if asked == self._asked and self.rule.options:
            return
        self.rule.options = [(words, name) for name, words in rule_words(lists).items()]
        if asked == self._asked:
            self.rule.value = self._rule
            return
        self._asked, self.rule.value = asked, lists.company.change_rule
        self.falls.options = [(words, rule) for rule, words in falls_choices(falls).items()]
        self.falls.value = falls
        old, self.found = self.found, {name: self._found_field(row) for name, row in _agreed(promise).items()}
        self._found_box.children = tuple(self.found.values())
        close_widgets(*old.values())

    def _found_field(self, row: UnitPrice) -> Any:
        price = f"{format_money(row.price)} {'each' if row.unit == 'each' else f'a {row.unit}'}"
        field = widgets.Text(description=f"{row.name}, {price}", placeholder="0", tooltip=f"How many were found, at {price}", **_FOUND)
        field.observe(self._drop_price, names="value")
        return field

    def finds(self) -> dict[str, float]:
        """How much of each was found. Raises KitError with each that is no number above 0."""
        typed = {name: text for name, field in self.found.items() if (text := str(field.value).strip())}
        counted = {name: _count(text) for name, text in typed.items()}
        faults = [Fault(self.found[name].description, f'"{text}" is not a number above 0.') for name, text in typed.items() if not counted[name]]
        if faults:
            raise KitError(faults)
        return counted

    def price(self) -> None:
        """Price the chosen job against the contract; nothing is written.

        Raises KitError if no job is chosen, it has unsaved work or can't be priced, or nothing is signed.
        """
        if not self.choice.value:
            raise KitError(_NO_JOB)
        if self.files.keeper.is_kept(str(self.choice.value)):
            raise KitError(Fault("", "has unsaved work: save it first.", str(self.choice.value)))
        with self._working.steps(2):
            job = self.files.open(str(self.choice.value))
            new = estimate(job, self.files.lists_for(job))
            self._working.advance()
            contract = self.contract.of_contract()
            asked: dict[str, Any] = {"rule": self.rule.value, "falls": self.falls.value, "finds": self.finds(), "reason": str(self.reason.value).strip()}
            self.changing = price_contract_change(contract, new, self.contract.chosen_day(), **asked)
            self.table.value = draw_change(self.changing.order, self.changing.draws) + f"<p>{escape(self.changing.falls_words)}</p>"
        self.offer_button.disabled = not self.changing.order.rows
        self.note.say("This is what it would change; nothing is written yet." if self.changing.order.rows else "Nothing changes: there is nothing to charge.")

    def offer(self) -> None:
        """Make out what was priced last: issued, numbered, frozen.

        Raises KitError if nothing was priced, or something speaks against issuing it and no reason is given.
        """
        if self.changing is None:
            raise KitError("Price the change first.")
        contract = self.contract.of_contract()
        fell_back = self.files.fell_back(self.changing.new.job_as_read)
        with self._working.steps(1):
            offered = offer_change(contract, self.changing, despite=str(self.despite.value).strip() or None, fell_back=fell_back)
            self.changing = self._asked = None  # what was found is on the paper now
            self.contract.open(issued_path(contract.folder, contract.state.number, contract.issued.revision).name)
        self.reason.value = self.despite.value = ""
        self.note.say(f"Change order {offered.order.number} is written: {format_money(offered.order.amount)}. Download it below for the customer to sign.")

    def _chosen(self) -> int:
        if self.orders.value is None:
            raise KitError("No change order was written yet.")
        return int(self.orders.value)

    def sign(self) -> None:
        """The customer signed the chosen change order."""
        number = self._chosen()
        self.contract.show(sign_contract(self.contract.of_contract(), self.contract.chosen_day(), number))
        self.note.say(f"Change order {number} is signed: the payments that are not billed are those of its paper.")

    def paper(self) -> DownloadFile:
        """The chosen change order as it was made out.

        Raises KitError if none was made out, or its paper is not kept with the issued estimate that it leads to.
        """
        contract, number = self.contract.of_contract(), self._chosen()
        order = contract.state.changes[number - 1].order
        issued = open_issued(issued_path(contract.folder, contract.state.number, order.revision))
        name = next((name for name in issued.file_names if name.endswith(f"-change-{number}.pdf")), None)
        if name is None:
            raise KitError(f"The paper of change order {number} is not kept here: the command that wrote it put it in its --out folder.")
        return DownloadFile(name, PDF, issued.file(name))


def _signed_words(state: ContractState, change: ChangeState) -> str:
    if change.signed:
        return f"signed {format_day(change.signed)}"
    return "out of date: write it again" if state.outdated(change) else "not signed"


def _agreed(promise: Issued) -> Mapping[str, UnitPrice]:
    """The prices that a contract states for what turns up; all of its lists where today's rules can't work it out."""
    try:
        return agreed_finds(promise.estimate)
    except IssueError:
        return promise.lists.unit_prices


def _count(text: str) -> float:
    """A number above 0; 0 where it is none."""
    try:
        number = float(text)
    except ValueError:
        return 0.0
    return number if math.isfinite(number) and number > 0 else 0.0
