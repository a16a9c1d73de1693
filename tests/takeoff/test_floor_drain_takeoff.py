"""What a drain through the floor takes: parts and the plumber's hours where it is designed, his call-out where it is not."""

from decimal import Decimal

import pytest
from floor_jobs import BY_NOBODY, BY_US, VENTED, lists, plain_job, sheet_of, step_lines

from kit.estimating import estimate
from kit.job import change_job
from kit.records import Kind
from kit.takeoff.connect_drain import count_drain

JOINED, CALL = (f"connect-drain/hire-plumber/{part}" for part in ("join the pipe in the floor", "call-out"))
CUT, MADE = "connect-drain/drain-cut/measure and cut", "connect-drain/drain-joint/make and check"
# tailpiece and arm are cut; trap and coupling are cemented with two sockets each, tailpiece and trap adapter slip
HAND_CUTS, HAND_JOINTS = 2, 2 + 2 + 2


def test_the_plumber_joins_what_is_designed():
    """0.12 h a cut and 0.1 h a joint by the lists; trap, tube, pipe and cement are bought as for a drain into the wall."""
    lines, plain = step_lines(count_drain, VENTED), step_lines(count_drain)
    assert lines[JOINED].quantity == pytest.approx(HAND_CUTS * 0.12 + HAND_JOINTS * 0.1)
    assert {one.kind for name, one in lines.items() if name != JOINED} == {Kind.BUY}
    assert {*lines} - {JOINED} == {*plain} - {CUT, MADE}


@pytest.mark.parametrize("scope", [BY_US, BY_NOBODY])
def test_our_crew_joins_it_where_no_plumber_is_hired(scope):
    """As to a stub in the wall: nothing of the pipe itself is moved."""
    lines = step_lines(count_drain, {**VENTED, **scope})
    assert (lines[CUT].quantity, lines[MADE].quantity) == pytest.approx((HAND_CUTS, HAND_JOINTS))
    assert Kind.HIRE not in {line.kind for line in lines.values()}


def test_parts_that_the_customer_brings_are_not_bought():
    """The plumber's hours alone."""
    assert [*step_lines(count_drain, {**VENTED, "scope.drain_move.supplied_by": "customer"})] == [JOINED]


def test_without_a_vent_the_plumber_is_called():
    """An hour of his, which his least charge of 236.00 USD brings to that: the list has 118.00 USD an hour."""
    cells = {**VENTED, "plumbing.floor_pipe_vent": "unknown"}
    assert {name: line.quantity for name, line in step_lines(count_drain, cells).items()} == {CALL: 1.0}
    made = estimate(change_job(plain_job(), cells), lists())
    hired = [one for one in made.purchases if "plumber" in one.item]
    assert [(one.item, one.amount) for one in hired] == [("hire-plumber", Decimal("118.00")), ("minimum-plumber", Decimal("118.00"))]


@pytest.mark.parametrize("by", ["us", "customer", "nobody"])
def test_who_is_not_hired_has_no_price(by):
    """A plumber of the customer's, our crew, or nobody: nothing of it is bought or billed."""
    cells = {**VENTED, "plumbing.floor_pipe_vent": "none", "scope.drain_move.supplied_by": "excluded" if by == "nobody" else by}
    assert step_lines(count_drain, {**cells, "scope.drain_move.installed_by": by}) == {}


def test_a_trap_that_is_not_taken_apart_asks_for_nobody():
    """Sink and countertop stay: so does the trap."""
    stays = {"supplied_by": "stays", "installed_by": "nobody"}
    cells = {**VENTED, "plumbing.floor_pipe_vent": "none", "scope.sink": stays, "scope.counter": stays, "counter.made_by": "stays", "scope.strainer": stays}
    sheet = sheet_of({**cells, "scope.splash": stays})
    assert not sheet.design.duties.floor_plumber
    assert count_drain(sheet) == []
