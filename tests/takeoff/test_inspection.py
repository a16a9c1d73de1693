"""Inspector and permit."""

from takeoff_jobs import step_lines, step_quantities

from kit.records import Kind
from kit.takeoff.visits import count_inspection

ROUGH, FINAL = "inspect/inspection-visit/be there", "inspect-final/final-visit/be there"
FEE, STATED = "order/permit/fee", "order/permit-stated/fee"
HIGH_STUB = {"plumbing.stub_height": "24 in"}


def test_no_permit_no_visit():
    """A stub that may stay asks for nothing."""
    assert step_quantities(count_inspection) == {}


def test_a_drain_that_comes_down():
    """Rough and final visit, one permit at the list's price."""
    lines = step_lines(count_inspection, HIGH_STUB)
    assert {name: line.quantity for name, line in lines.items()} == {ROUGH: 1, FINAL: 1, FEE: 1}
    assert lines[FEE].kind is Kind.FEE


def test_fee_as_stated_for_the_place():
    """The terms' own fee, in USD, in place of the list's."""
    assert step_quantities(count_inspection, {**HIGH_STUB, "terms.permit_fee": "212.50 USD"}) == {ROUGH: 1, FINAL: 1, STATED: 212.5}


def test_a_free_permit_has_no_fee():
    """0 is an answer, not a gap."""
    assert step_quantities(count_inspection, {**HIGH_STUB, "terms.permit_fee": "0.00 USD"}) == {ROUGH: 1, FINAL: 1}


def test_not_where_the_move_is_excluded():
    """Somebody else's permit."""
    assert step_quantities(count_inspection, {**HIGH_STUB, "scope.drain_move": {"supplied_by": "excluded", "installed_by": "nobody"}}) == {}
