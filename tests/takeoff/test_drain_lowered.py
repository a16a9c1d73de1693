"""Lowering the stub in the wall."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from takeoff_jobs import step_lines, step_quantities

from kit.records import Kind
from kit.takeoff.connect_drain import count_drain_lowered

HIGHEST = 34.5 - 9 - 0.625 - 6 + 1.61 / 2 - 0.25 * 16 / 12  # of the plain job: 19.35 in
HIGH = {"plumbing.stub_height": "24 in"}
PLUMBER = "rough-drain/hire-plumber/lower the stub"


def by(supplied_by, installed_by):
    return {"scope.drain_move": {"supplied_by": supplied_by, "installed_by": installed_by}}


def test_a_low_stub_stays():
    """Nothing to do at 15 in, nor just below the highest; something just above."""
    assert step_quantities(count_drain_lowered) == {}
    assert step_quantities(count_drain_lowered, {"plumbing.stub_height": "19 5/16 in"}) == {}
    assert PLUMBER in step_quantities(count_drain_lowered, {"plumbing.stub_height": "19 3/8 in"})


def test_a_hired_plumber_by_the_drop():
    """One opening of an hour, 3.6 h a foot of drop; his own parts."""
    lines = step_lines(count_drain_lowered, HIGH)
    assert list(lines) == [PLUMBER]
    assert lines[PLUMBER].kind is Kind.HIRE
    assert lines[PLUMBER].quantity == pytest.approx(1 + (24 - HIGHEST) / 12 * 3.6)
    assert lines[PLUMBER].source == "demo"


def test_parts_where_we_supply_them():
    """Riser of the drop and 24 in, tee, two couplings; 3 + 4 sockets at 90 a quart."""
    found = step_quantities(count_drain_lowered, {**HIGH, **by("us", "trade")})
    riser = (24 - HIGHEST) + 24
    assert found.pop(PLUMBER) > 0
    assert found == pytest.approx(
        {
            "rough-drain/pipe-pvc-1-1-2/riser": riser / 12,
            "rough-drain/sanitary-tee-pvc-1-1-2/tee": 1,
            "rough-drain/coupling-pvc-1-1-2/riser": 2,
            "rough-drain/cement-pvc/joints": 7 * 32 / 90,
            "rough-drain/primer-pvc/joints": 7 * 32 / 90 / 2,
        }
    )


@pytest.mark.parametrize(
    ("old", "material", "coupling"),
    [("abs", "abs", "coupling-abs-1-1-2"), ("cast-iron", "pvc", "shielded-coupling"), ("galvanized", "pvc", "shielded-coupling")],
)
def test_parts_by_the_old_pipe(old, material, coupling):
    """Same plastic is cemented, other pipe is clamped."""
    found = step_quantities(count_drain_lowered, {**HIGH, **by("us", "trade"), "plumbing.drain_old": old})
    assert found[f"rough-drain/{coupling}/riser"] == 2
    assert f"rough-drain/cement-{material}/joints" in found


def test_own_hours_only_where_the_scope_says_us():
    """Where the law allows it: opening and drop, no plumber."""
    found = step_quantities(count_drain_lowered, {**HIGH, **by("us", "us")})
    assert found["rough-drain/open-wall/open"] == 1
    assert found["rough-drain/lower-drain-foot/lower"] == pytest.approx((24 - HIGHEST) / 12)
    assert PLUMBER not in found


@pytest.mark.parametrize("scope", [("excluded", "nobody"), ("stays", "nobody")])
def test_no_part_of_the_job(scope):
    """Nothing, however high the stub."""
    assert step_quantities(count_drain_lowered, {**HIGH, **by(*scope)}) == {}


def test_a_customer_who_has_it_done():
    """His plumber, his bill."""
    assert step_quantities(count_drain_lowered, {**HIGH, **by("customer", "customer")}) == {}


def test_a_stub_nobody_measured():
    """No number, so no line; a check asks for it."""
    assert step_quantities(count_drain_lowered, {"plumbing.stub_height": "unknown"}) == {}


@given(st.floats(min_value=4, max_value=36), st.floats(min_value=4, max_value=36))
def test_a_higher_stub_never_takes_less(one, other):
    """Hours of the plumber."""
    low, high = (step_quantities(count_drain_lowered, {"plumbing.stub_height": f"{height:.4f} in"}).get(PLUMBER, 0) for height in sorted((one, other)))
    assert high >= low
