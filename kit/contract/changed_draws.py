"""What does a change order do to the payments that are left? Billed ones stay; the rule is the one agreed with the signature, or the order's own."""

from collections.abc import Sequence
from decimal import Decimal

from kit.change.priced_change import ChangeOrder
from kit.contract.events import ChangeOffered, ContractDraw
from kit.contract.signing import contract_draws
from kit.contract.state import ContractState
from kit.errors import Fault, LedgerError
from kit.issued import Issued
from kit.lists.money_rows import ChangeFalls
from kit.money import EXACT, format_money, sum_money
from kit.pricing.draws import Draw, plan_draws
from kit.steps import Step

__all__ = ["agreed_falls", "change_of", "draws_after"]

_ZERO = Decimal("0.00")


def change_of(state: ContractState, order: ChangeOrder, new: Issued, *, falls: ChangeFalls | None = None, reason: str = "") -> ChangeOffered:
    """A change order made out: its figures, and every payment as it will be.

    Parameters
    ----------
    state
        Where the contract stands.
    order
        The change, priced from what the contract stands for now to `new`, with the contract sum of the ledger.
    new
        The issued estimate with the change.
    falls
        Which payments it moves; None for what was agreed with the signature.
    reason
        Why, in the owner's words.

    Raises
    ------
    LedgerError
        If the order does not start from the contract sum, changes nothing, or leaves a sum below 0.
    """
    if order.contract_before != state.contract_sum:
        raise LedgerError(
            Fault(state.number, f"is {format_money(state.contract_sum)} now; the change order starts from {format_money(order.contract_before)}.")
        )
    if not order.rows:
        raise LedgerError(Fault(f"change order {order.number}", "changes nothing."))
    if order.contract_after < 0:
        raise LedgerError(Fault(f"change order {order.number}", f"would leave a contract sum of {format_money(order.contract_after)}."))
    return ChangeOffered(
        number=order.number,
        document=new.document,
        revision=new.revision,
        sha256=new.sha256,
        amount=order.amount,
        tax=sum_money([row.amount for row in order.rows if row.kind == "tax"]),
        sum_before=order.contract_before,
        sum_after=order.contract_after,
        draws=draws_after(state, order, new, falls),
        rows=tuple((row.label, row.amount) for row in order.rows),
        falls=falls or agreed_falls(state),
        reason=reason,
    )


def agreed_falls(state: ContractState) -> ChangeFalls:
    """Which payments a change moves by what was agreed with the signature."""
    return state.signed.change_falls if state.signed else "by-shares"


def draws_after(state: ContractState, order: ChangeOrder, new: Issued, falls: ChangeFalls | None = None) -> tuple[ContractDraw, ...]:
    """Every payment once the change is signed; what is not billed of them comes to the new contract sum less what is billed, or to nothing."""
    billed = {one.bill.draw for one in state.bills}
    rule = falls or agreed_falls(state)
    draws = _by_shares(state, order, new, billed) if rule == "by-shares" else _without_gone(state.draws, new, billed)
    if rule == "own-draw" and order.amount > 0:
        place = max((number for number, draw in enumerate(draws, 1) if draw.draw in billed or draw.deposit), default=0)
        return (*draws[:place], _own_draw(order, order.amount), *draws[place:])
    target = EXACT.add(order.contract_after, state.credited)
    return _on_the_last(draws, billed, EXACT.subtract(target, sum_money([draw.due for draw in draws])), order)


def _without_gone(draws: Sequence[ContractDraw], new: Issued, billed: set[str]) -> tuple[ContractDraw, ...]:
    """The draws without those whose event the change takes out of the work: what such a one would have paid comes with the next."""
    done = {task.step for task in (*new.estimate.tasks, *new.estimate.hired)}
    planned = {draw.id: draw for draw in plan_draws(new.estimate, keep_empty=True).draws}
    remaining: list[ContractDraw] = []
    waits = _ZERO
    for signed in draws:
        draw = signed if signed.draw in billed else _inspected(signed, planned.get(signed.draw))
        if draw.step is None or draw.draw in billed or draw.step in done or signed is draws[-1]:
            added = waits if draw.draw not in billed and not draw.deposit else _ZERO
            remaining.append(draw.model_copy(update={"due": EXACT.add(draw.due, added)}) if added else draw)
            waits = EXACT.subtract(waits, added)
        else:
            waits = EXACT.add(waits, draw.due)
    return tuple(remaining)


def _inspected(draw: ContractDraw, planned: Draw | None) -> ContractDraw:
    """A draw that is due at completion: with the final inspection that the changed work has, or without the one it no longer has."""
    if planned is None or draw.step == planned.step or Step.INSPECT_FINAL not in {draw.step, planned.step}:
        return draw
    return draw.model_copy(update={"step": planned.step, "label": planned.label})


def _own_draw(order: ChangeOrder, amount: Decimal) -> ContractDraw:
    label = f"Change order {order.number}"
    return ContractDraw(draw=f"change-{order.number}", label=label, step=None, deposit=False, earned=_ZERO, held=_ZERO, due=amount)


def _by_shares(state: ContractState, order: ChangeOrder, new: Issued, billed: set[str]) -> tuple[ContractDraw, ...]:
    """Every later draw by its share of the new sum; the deposit, draws of their own and what earlier changes put on the last draw stay."""
    fixed = {draw.draw: draw for draw in state.draws if draw.draw in billed or draw.deposit}
    own = [draw for draw in state.draws if draw.draw.startswith("change-")]
    apart = sum_money([*(draw.due for draw in own), *_on_last_before(state, billed)])
    target = EXACT.subtract(EXACT.add(order.contract_after, state.credited), apart)
    if target <= 0:
        return state.draws
    paid = {name: draw.due for name, draw in fixed.items()}
    draws = contract_draws(plan_draws(new.estimate, contract=target, paid=paid))
    planned = [fixed.get(draw.draw, draw) for draw in draws if draw.draw in fixed or not draw.due.is_signed()]
    first = sum(draw.draw in fixed for draw in planned)
    return (*planned[:first], *own, *planned[first:])


def _on_last_before(state: ContractState, billed: set[str]) -> list[Decimal]:
    """What signed changes put on the last draw or took off it [USD], so that a later one by shares does not move it; nothing once that draw is billed."""
    agreed, names = agreed_falls(state), [draw.draw for draw in state.draws]
    own = {name for name in names if name.startswith("change-")}
    planned = [name for name in names if name not in own]
    if not planned or planned[-1] in billed:
        return []
    fell = [(one.order, one.order.falls or agreed) for one in state.changes if one.signed and f"change-{one.order.number}" not in own]
    return [order.amount for order, rule in fell if rule != "by-shares"]


def _on_the_last(draws: Sequence[ContractDraw], billed: set[str], amount: Decimal, order: ChangeOrder) -> tuple[ContractDraw, ...]:
    """An amount added to the last draw that is not billed; what it can't take off there, off those before it. All billed: a draw of its own."""
    changed = list(draws)
    for place in reversed(range(len(changed))):
        draw = changed[place]
        if draw.draw not in billed and amount:
            due = max(EXACT.add(draw.due, amount), _ZERO)
            amount = EXACT.subtract(amount, EXACT.subtract(due, draw.due))
            changed[place] = draw.model_copy(update={"due": due})
    return (*changed, _own_draw(order, amount)) if amount > 0 else tuple(changed)
