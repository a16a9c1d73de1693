"""Board, compound and paint."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from takeoff_jobs import sheet_of, step_lines, step_quantities

from kit.records import Kind
from kit.takeoff.wall_patch import count_wall_patch

BOARD, COMPOUND, SCREWS, HANG, FINISH, TRADE = (
    f"patch-wall/{part}"
    for part in (
        "wall-board/board",
        "joint-compound/joints",
        "board-screw/board",
        "patch-board/board",
        "patch-finish/tape and compound",
        "wall-trade/patch",
    )
)
PAINT, COATS, FILL = "paint-wall/wall-paint/coats", "paint-wall/patch-paint/prime and paint", "finish-wall/patch-fill/fill and sand"
BACK, CLOSE = "patch-wall/plywood-1-4/back panel", "patch-wall/back-panel/open and close"


def repair(supplied_by, installed_by):
    return {"scope.wall_repair": {"supplied_by": supplied_by, "installed_by": installed_by}}


def test_plain_job_by_hand():
    """10 ft of glued splash, 4 in high; the new one covers it, so nothing is painted."""
    hand_area = 10 * 4 / 12
    hand_goods = {BOARD: hand_area, COMPOUND: hand_area, SCREWS: 1.3 * hand_area}
    assert step_quantities(count_wall_patch) == pytest.approx({**hand_goods, HANG: hand_area, FINISH: hand_area})


@pytest.mark.parametrize(("splash", "patched"), [("none", False), ("loose", False), ("glued", True), ("tile", True)])
def test_only_what_tears_the_board(splash, patched):
    """A loose splash leaves the wall whole."""
    assert bool(step_quantities(count_wall_patch, {"old.splash": splash})) == patched


@pytest.mark.parametrize(
    ("changes", "hand_painted_height"),
    [
        ({"old.splash_height": "4 in"}, 0),
        ({"old.splash_height": "4 1/16 in"}, 0.0625),
        ({"old.splash_height": "18 in"}, 14),
        ({"old.splash_height": "18 in", "counter.splash": "none"}, 18),
        ({"old.splash_height": "18 in", "counter.splash": "tile-by-others", "counter.splash_height": "18 in"}, 0),
    ],
)
def test_paint_where_the_patch_stays_in_sight(changes, hand_painted_height):
    """Filled once the counter is set, then two coats, on what stands above the new splash, 10 ft long."""
    found = step_quantities(count_wall_patch, {"old.splash": "tile", **changes})
    hand_coats = 10 * hand_painted_height / 12 * 2
    assert (found.get(PAINT, 0), found.get(COATS, 0), found.get(FILL, 0)) == pytest.approx((hand_coats, hand_coats, hand_coats / 2))


def test_opening_where_the_drain_comes_down():
    """From stud to stud, 6 in beyond both ends; not painted behind the cabinet."""
    changes = {"old.splash": "none", "plumbing.stub_height": "24 in"}
    lower_in = sheet_of(changes).design.drain.lower_by_in
    assert lower_in > 0
    hand_area = (lower_in + 12) * 16 / 144
    found = step_quantities(count_wall_patch, changes)
    assert found[BOARD] == pytest.approx(hand_area)
    assert PAINT not in found
    assert step_quantities(count_wall_patch, {**changes, "scope.drain_move": {"supplied_by": "excluded", "installed_by": "nobody"}}) == {}


def test_back_panel_of_the_base():
    """Opened where the drain comes down, only where there is one; as large as the opening in the wall, from the 1/4 in sheet, as long as its body."""
    changes = {"old.splash": "none", "plumbing.stub_height": "24 in", "cabinet.clear_back": False}
    hand_high = sheet_of(changes).design.drain.lower_by_in + 12
    lines = step_lines(count_wall_patch, changes)
    assert lines[BACK].quantity == lines[CLOSE].quantity == pytest.approx(hand_high * 16 / 144)
    assert sheet_of(changes).design.placed.model["patch of the back"].length_in == pytest.approx(max(hand_high, 16))
    assert [(piece.length_in, piece.width_in, piece.count) for piece in lines[BACK].pieces] == [(max(hand_high, 16), min(hand_high, 16), 1)]
    assert not {BACK, CLOSE} & set(step_quantities(count_wall_patch, {**changes, "cabinet.clear_back": True}))
    assert not {BACK, CLOSE} & set(step_quantities(count_wall_patch, {"cabinet.clear_back": False}))
    assert CLOSE in step_quantities(count_wall_patch, {**changes, **repair("customer", "us")})
    assert BACK not in step_quantities(count_wall_patch, {**changes, **repair("customer", "us")})


@pytest.mark.parametrize(
    ("scope", "hand_ids"),
    [
        (repair("us", "us"), {BOARD, COMPOUND, SCREWS, HANG, FINISH}),
        (repair("customer", "us"), {HANG, FINISH}),
        (repair("us", "customer"), {BOARD, COMPOUND, SCREWS}),
        (repair("trade", "trade"), {TRADE}),
        (repair("customer", "customer"), set()),
        (repair("excluded", "nobody"), set()),
        (repair("stays", "nobody"), set()),
    ],
)
def test_by_whom_the_scope_says(scope, hand_ids):
    """Goods where we supply, hours where we install, a hired trade by the square foot, nothing where it is not ours."""
    lines = step_lines(count_wall_patch, scope)
    assert set(lines) == hand_ids
    assert all(line.kind is Kind.HIRE for name, line in lines.items() if name == TRADE)


def test_a_hired_trade_comes_again_for_what_stays_in_sight():
    """14 in of 18 above the new splash, 10 ft long, filled and painted after the counter; covered, it comes once. The base's back is ours to close."""
    high = {"old.splash": "tile", "old.splash_height": "18 in", **repair("trade", "trade")}
    found = step_quantities(count_wall_patch, high)
    hand_seen = 10 * 14 / 12
    assert found == pytest.approx(
        {TRADE: 10 * 18 / 12, "finish-wall/wall-trade-finish/fill and sand": hand_seen, "paint-wall/wall-trade-finish/prime and paint": hand_seen}
    )
    assert set(step_quantities(count_wall_patch, repair("trade", "trade"))) == {TRADE}
    opened = {"old.splash": "none", "plumbing.stub_height": "24 in", "cabinet.clear_back": False, **repair("trade", "trade")}
    assert set(step_quantities(count_wall_patch, opened)) == {TRADE, BACK, CLOSE}


@given(height=st.integers(0, 58), more=st.integers(0, 2), stub=st.integers(4, 35), higher=st.integers(0, 1))
def test_more_damage_is_never_less_board(height, more, stub, higher):
    """A higher old splash and a higher stub never take less board."""
    small, large = (
        step_quantities(count_wall_patch, {"old.splash": "tile", "old.splash_height": f"{splash} in", "plumbing.stub_height": f"{center} in"})
        for splash, center in ((height, stub), (height + more, stub + higher))
    )
    assert large.get(BOARD, 0) >= small.get(BOARD, 0)
    assert large.get(PAINT, 0) >= small.get(PAINT, 0)


def test_wall_that_the_old_counter_leaves_bare_is_painted():
    """The old counter was 24 in longer, old and new splash are 4 in high: two coats on 24 x 4 in that nothing covers; none where it was as long."""
    assert step_quantities(count_wall_patch, {"old.counter_length": "120 in"})[COATS] == pytest.approx(24 * 4 / 144 * 2)
    assert COATS not in step_quantities(count_wall_patch, {"old.counter_length": "96 in"})
