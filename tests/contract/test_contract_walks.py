"""What holds for every contract, whatever happens to it and in whatever order: to the cent."""

from decimal import Decimal

import pytest
from contract_walks import walk

from kit.contract.state import contract_state

ZERO = Decimal("0.00")


def check_walk(seed: int) -> int:
    """Every state of one walk; gives how many events it had."""
    bills = {}
    states = []
    events = ()
    for events, state in walk(seed):
        states.append((events[-1].day, state))
        if state.signed is None:
            continue
        together = state.billed + state.held + state.not_billed - state.credit_due
        assert together == state.contract_sum
        assert state.billed + sum((draw.due for draw in state.left), ZERO) == state.contract_sum + state.credit_due
        assert min(state.held, state.not_billed, state.deposits, state.credit_due) >= ZERO
        assert state.receivable == state.billed - state.received
        assert sum((one.paid for one in state.bills), ZERO) <= state.received + state.credited
        taken_back = {event.what.event for event in events if event.what.kind == "voided"}
        for event in events:
            if event.what.kind == "billed" and event.id not in taken_back:
                assert bills.setdefault(event.id, event.what) in [one.bill for one in state.bills]
        if state.stage == "closed":
            assert state.deposits == state.held == ZERO
            assert not state.left
            assert state.tax_billed + sum((event.what.tax for event in events if event.what.kind == "closed"), ZERO) == state.tax
    for day, _ in states:
        last_of_day = [state for at, state in states if at == day][-1]
        assert contract_state(events[0].contract, events, day) == last_of_day
    return len(events)


@pytest.mark.parametrize("seed", range(40))
def test_every_state_of_a_contract_adds_up(seed):
    """Billed + held back + left = contract sum; a bill never changes; no deposit below 0; a later day never moves an earlier one."""
    assert check_walk(seed) >= 2


@pytest.mark.long
def test_every_state_of_a_thousand_contracts_adds_up():
    """The same of a thousand."""
    assert sum(check_walk(seed) for seed in range(1000)) > 8000
