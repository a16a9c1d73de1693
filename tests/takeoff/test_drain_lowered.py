"""Lowering the stub in the wall."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from takeoff_jobs import sheet_of, step_lines, step_quantities

from kit.records import Kind
from kit.takeoff.connect_drain import count_drain, count_drain_lowered
from kit.takeoff.wall_patch import count_wall_patch

HIGHEST = 34.5 - 9 - 0.625 - 6 + 1.61 / 2 - 0.25 * 9.75 / 12  # of the plain job: 19.48 in; its arm is 14 3/4 in less a bend of 5
CHOSEN = HIGHEST - 0.5  # a stub that comes down keeps 1/2 in
HIGH = {"plumbing.stub_height": "24 in"}
PLUMBER = "rough-drain/hire-plumber/lower the stub"


def by(supplied_by, installed_by):
    return {"scope.drain_move": {"supplied_by": supplied_by, "installed_by": installed_by}}


def test_a_low_stub_stays():
    """Nothing to do at 15 in, nor just below the highest; something just above."""
    assert step_quantities(count_drain_lowered) == {}
    assert step_quantities(count_drain_lowered, {"plumbing.stub_height": "19 7/16 in"}) == {}
    assert PLUMBER in step_quantities(count_drain_lowered, {"plumbing.stub_height": "19 1/2 in"})


def test_a_hired_plumber_by_the_cut_out_and_the_joints():
    """An hour to open the wall, one to cut out plastic, 1/4 h for each of 3 + 2 sockets, whatever the drop; no parts where the customer has them."""
    lines = step_lines(count_drain_lowered, {**HIGH, **by("customer", "trade")})
    assert list(lines) == [PLUMBER]
    assert lines[PLUMBER].kind is Kind.HIRE
    assert lines[PLUMBER].quantity == pytest.approx(1 + 1 + 5 * 0.25)
    assert lines[PLUMBER].source == "demo"


@pytest.mark.parametrize(
    ("old", "hand_hours"),
    [("pvc", 1 + 1 + 5 * 0.25), ("abs", 1 + 1 + 5 * 0.25), ("copper", 1 + 1.3 + 7 * 0.25), ("galvanized", 1 + 2 + 7 * 0.25), ("cast-iron", 1 + 2.5 + 7 * 0.25)],
)
def test_iron_takes_longer_than_plastic(old, hand_hours):
    """The cut-out by the old pipe; a tee's 3 sockets and both ends of two couplings to metal."""
    assert step_lines(count_drain_lowered, {**HIGH, "plumbing.drain_old": old})[PLUMBER].quantity == pytest.approx(hand_hours)


@pytest.mark.parametrize("who", ["us", "trade"])
def test_parts_whoever_of_us_brings_them(who):
    """Riser of the drop and 4 in; stub from the middle of a 3 1/2 in wall through 1/2 in board and 2 in out; 3 + 2 sockets at 90 a quart."""
    found = step_quantities(count_drain_lowered, {**HIGH, **by(who, "trade")})
    hand_riser = (24 - CHOSEN) + 4
    hand_stub = 3.5 / 2 + 0.5 + 2
    assert found.pop(PLUMBER) > 0
    assert found == pytest.approx(
        {
            "rough-drain/pipe-pvc-1-1-2/riser": (hand_riser + hand_stub) / 12,
            "rough-drain/sanitary-tee-pvc-1-1-2/riser": 1,
            "rough-drain/repair-coupling-pvc-1-1-2/riser": 1,
            "rough-drain/cement-pvc/joints": 5 * 32 / 90,
            "rough-drain/primer-pvc/joints": 5 * 32 / 90 / 2,
        }
    )


@pytest.mark.parametrize(
    ("old", "material", "coupling", "hand_couplings", "hand_below", "hand_sockets"),
    [
        ("abs", "abs", "repair-coupling-abs-1-1-2", 1, 0, 5),
        ("cast-iron", "pvc", "shielded-coupling", 2, 4, 3),
        ("galvanized", "pvc", "shielded-coupling", 2, 4, 3),
        ("slip-joint", "pvc", "shielded-coupling", 2, 4, 3),
    ],
)
def test_parts_by_the_old_pipe(old, material, coupling, hand_couplings, hand_below, hand_sockets):
    """Same plastic takes a coupling that slides on; other pipe is clamped above and below, with 4 in of plastic below the tee too."""
    found = step_quantities(count_drain_lowered, {**HIGH, **by("us", "trade"), "plumbing.drain_old": old})
    assert found[f"rough-drain/{coupling}/riser"] == hand_couplings
    assert found[f"rough-drain/pipe-{material}-1-1-2/riser"] == pytest.approx(((24 - CHOSEN) + 4 + hand_below + 4.25) / 12)
    assert found[f"rough-drain/cement-{material}/joints"] == pytest.approx(hand_sockets * 32 / 90)
    assert not [name for name in found if "slip-joint" in name]


@pytest.mark.parametrize("seen", [False, "unknown"])
def test_a_riser_nobody_found_is_not_priced(seen):
    """No line in the wall, no plumber, no patch for it; the finding asks."""
    changes = {**HIGH, **by("us", "trade"), "plumbing.vent_seen": seen}
    assert step_quantities(count_drain_lowered, changes) == {}
    without = step_quantities(count_wall_patch, {"plumbing.vent_seen": seen})
    assert step_quantities(count_wall_patch, changes) == without


def test_what_is_cut_out_lies_within_the_opened_wall():
    """4 in of riser above, below a metal one too, 6 in of opening: a hand's room for the coupling."""
    plastic, metal = (sheet_of({**HIGH, "plumbing.drain_old": old}).design.drain.riser.cut_out_in for old in ("pvc", "galvanized"))
    assert (plastic, metal) == pytest.approx(((24 - CHOSEN) + 4, (24 - CHOSEN) + 2 * 4))
    assert metal < (24 - CHOSEN) + 2 * 6


def test_the_new_stub_is_of_the_risers_material():
    """Cast iron that comes down ends in PVC in the room: an own coupling there; excluded, the iron stays and needs the shielded one."""
    iron = {**HIGH, "plumbing.drain_old": "cast-iron"}
    lowered, stays = step_quantities(count_drain, iron), step_quantities(count_drain, {**iron, **by("excluded", "nobody")})
    assert lowered["connect-drain/coupling-pvc-1-1-2/fitting"] == 1
    assert "connect-drain/shielded-coupling/change of material" not in lowered
    assert stays["connect-drain/shielded-coupling/change of material"] == 1


def test_own_hours_only_where_the_scope_says_us():
    """Where the law allows it: opening, cut-out and joints, no plumber."""
    found = step_quantities(count_drain_lowered, {**HIGH, **by("us", "us")})
    assert found["rough-drain/open-wall/open"] == 1
    assert found["rough-drain/cut-drain-pvc/cut out"] == 1
    assert found["rough-drain/wall-joint/join"] == 5
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


@pytest.mark.parametrize(("old", "hand_clamps"), [("cast-iron", 1), ("galvanized", 1), ("pvc", 0), ("copper", 0)])
def test_iron_above_the_cut_is_held(old, hand_clamps):
    """A clamp holds what hangs above the cut, and each of the two cuts takes a blade; a plumber brings his own."""
    ours, theirs = (step_quantities(count_drain_lowered, {**HIGH, **by("us", who), "plumbing.drain_old": old}) for who in ("us", "trade"))
    assert [found.get("rough-drain/riser-clamp/riser", 0) for found in (ours, theirs)] == [hand_clamps, 0]
    assert [found.get("rough-drain/metal-blade/riser", 0) for found in (ours, theirs)] == [2 * hand_clamps, 0]


def test_a_two_inch_drain_takes_couplings_of_its_size():
    """In the wall, and where iron that stays meets the plastic arm."""
    large = {"plumbing.drain_old": "cast-iron", "plumbing.drain_size": "2"}
    assert step_quantities(count_drain_lowered, {**HIGH, **by("us", "trade"), **large})["rough-drain/shielded-coupling-2/riser"] == 2
    assert step_quantities(count_drain, large)["connect-drain/shielded-coupling-2/change of material"] == 1
