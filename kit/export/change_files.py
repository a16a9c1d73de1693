"""A change order of a signed contract: priced from what the ledger says, made out as files, and frozen with the issued estimate that it leads to."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal

from kit.change.effect import ChangedDraw
from kit.change.priced_change import ChangeOrder, price_change
from kit.contract.changed_draws import agreed_falls, change_of, draws_after
from kit.contract.contract_file import ContractFile, current_promise
from kit.contract.state import ContractState
from kit.errors import Fault, LedgerError
from kit.estimating import Estimate
from kit.export.change_order import ChangeOrderSource, change_order_bytes
from kit.export.estimate_files import files_to_send
from kit.export.handoff import row_files
from kit.export.handoff_change import change_rows
from kit.export.papers import mark_of
from kit.issued import Issued, issue_estimate, open_issued
from kit.lists.money_rows import ChangeFalls

__all__ = ["change_contents", "change_stem", "offer_change", "price_contract_change"]

_ZERO = Decimal("0.00")


def change_stem(changing: ChangeOrderSource) -> str:
    """The name of its files without ending."""
    return f"{mark_of(changing.old, changing.old_issued).file_stem}-change-{changing.order.number}"


def change_contents(changing: ChangeOrderSource) -> dict[str, bytes]:
    """Name and content of the paper to sign and of the rows for the books.

    Raises PriceError if nothing changes. Raises IssueError if a finding of the changed job says stop, and it was not issued with a reason.
    """
    stem = change_stem(changing)
    rows = change_rows(changing.order, changing.old, changing.new, day=changing.day, issued=changing.new_issued)
    return {f"{stem}.pdf": change_order_bytes(changing), **row_files(rows, f"{stem}-books")}


def price_contract_change(
    contract: ContractFile,
    new: Estimate,
    day: dt.date,
    *,
    new_issued: Issued | None = None,
    rule: str | None = None,
    finds: Mapping[str, float] | None = None,
    falls: ChangeFalls | None = None,
    reason: str = "",
) -> ChangeOrderSource:
    """The change order from what a contract stands for to a changed job; number, sum and payments are those of the ledger.

    Parameters
    ----------
    contract
        A signed contract.
    new
        The estimate with the change.
    day
        Day of the paper.
    new_issued
        The issued document of that estimate, None for a draft.
    rule, finds
        As in `price_change`.
    falls
        Which payments it moves; None for what was agreed with the signature.
    reason
        Why there is a change, in the owner's own words.

    Raises
    ------
    KitError
        If the contract is not signed or has ended, or the change can't be priced.
    """
    state = contract.state
    if state.signed is None:
        raise LedgerError(Fault(state.number, "is not signed yet: until then change the job and issue it again."))
    if state.canceled or state.closed:
        ended = f"was canceled ({state.canceled})" if state.canceled else f"is closed ({state.closed})"
        raise LedgerError(Fault(state.number, f"{ended}: nothing in it can change."))
    now = current_promise(contract, state)
    order = price_change(now.estimate, new, number=len(state.changes) + 1, contract=state.contract_sum, rule=rule, finds=finds or {})
    changed = new_issued or replace(contract.issued, work_out=lambda: new)
    agreed = agreed_falls(state)
    draws = _changed_draws(state, order, changed, falls)
    return ChangeOrderSource(order, now.estimate, new, day, draws, now, new_issued, reason, falls or agreed, agreed, state.signed_on)


def _changed_draws(state: ContractState, order: ChangeOrder, changed: Issued, falls: ChangeFalls | None) -> tuple[ChangedDraw, ...]:
    """Every payment before the change and after it; what is billed stays."""
    after = {draw.draw: draw for draw in draws_after(state, order, changed, falls)} if order.rows else {}
    before = {draw.draw: draw for draw in state.draws}
    billed = {one.bill.draw: one for one in state.bills}
    return tuple(
        ChangedDraw(
            name,
            (after.get(name) or before[name]).label,
            name in billed and not billed[name].open,
            before[name].due if name in before else _ZERO,
            after[name].due if name in after else _ZERO,
            billed=name in billed,
        )
        for name in dict.fromkeys((*after, *before))
    )


def offer_change(contract: ContractFile, changing: ChangeOrderSource, *, despite: str | None = None, fell_back: bool = False) -> ChangeOrderSource:
    """Freeze a change order in the ledger; gives it with the issued estimate that it leads to.

    Parameters
    ----------
    contract
        The contract that it was priced from.
    changing
        As `price_contract_change` gives it. Of a draft the changed job is issued first, and the change order is kept with what is sent.
    despite
        Why it is issued although something speaks against it.
    fell_back
        Whether the kit's invented lists stand in for the user's own.

    Raises
    ------
    KitError
        As `issue_estimate`; or somebody wrote to the contract meanwhile.
    """
    issued = changing.new_issued
    if issued is None:

        def make_files(estimate: Estimate, issued: Issued) -> dict[str, bytes]:
            return {**files_to_send(estimate, issued, signed_on=changing.signed_on), **change_contents(replace(changing, new_issued=issued))}

        path = issue_estimate(
            changing.new,
            contract.folder,
            make_files=make_files,
            stop_reason=despite,
            fell_back=fell_back,
            today=changing.day,
            signed_on=contract.state.signed_on,
        )
        issued = open_issued(path)
    contract.write(change_of(contract.state, changing.order, issued, falls=changing.falls, reason=changing.reason), changing.day)
    return replace(changing, new_issued=issued)
