"""Floor, stairs, dust wall, and the lead-safe floor."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from takeoff_jobs import sheet_of, step_lines, step_quantities

from kit.takeoff.protection import count_protection, path_area, work_area

BOARD, LAY, RUNNER, STEPS, SHEET, TAPE, WALL, LEAD_SHEET, LEAD = (
    f"protect/{part}"
    for part in (
        "floor-board/floor",
        "protect-floor/lay and take up",
        "stair-runner/stairs",
        "protect-step/stairs",
        "dust-sheet/dust wall",
        "dust-tape/dust wall",
        "dust-wall/hang and take down",
        "dust-sheet/lead-safe floor",
        "lead-floor/lead-safe floor",
    )
)
STAYS = {"scope.counter": {"supplied_by": "stays", "installed_by": "nobody"}, "counter.made_by": "stays"}
BY_US = {"scope.counter": {"supplied_by": "us", "installed_by": "us"}, "counter.made_by": "us"}


def test_plain_job_by_hand():
    """96 in of counter before a 42 in aisle; half of 40 ft, 3 ft wide; laid twice round the fabricator; 3 sides of sheet, 8 ft high."""
    hand_floor = 8 * 3.5 + 40 / 2 * 3
    hand_around = 8 + 2 * 3.5
    assert step_quantities(count_protection) == pytest.approx(
        {BOARD: hand_floor, LAY: 2 * hand_floor, RUNNER: 3 * 1.5, STEPS: 6, SHEET: hand_around * 8, TAPE: 2 * hand_around, WALL: hand_around * 8}
    )


@pytest.mark.parametrize(("aisle", "hand_depth"), [("30 in", 2.5), ("47 3/4 in", 3.979167), ("48 in", 4), ("49 in", 4), ("120 in", 4), (None, 4)])
def test_depth_of_the_work(aisle, hand_depth):
    """The aisle where it is narrow; else, or where nobody measured it, 4 ft."""
    assert work_area(sheet_of({"cabinet.aisle": aisle})).value == pytest.approx(8 * hand_depth)


def test_width_of_the_work_where_the_counter_stays():
    """Round the base only: 3 ft and 2 ft on each side."""
    assert work_area(sheet_of(STAYS)).value == pytest.approx((3 + 2 * 2) * 3.5)


def test_way_of_nothing():
    """No walk, no path; the work is still covered."""
    assert path_area(sheet_of({"site.carry": "0 ft"})).value == 0
    assert step_quantities(count_protection, {"site.carry": "0 ft"})[BOARD] == pytest.approx(28)


def test_one_stay_without_a_fabricator():
    """A crew that makes the top itself covers the floor once."""
    found = step_quantities(count_protection, BY_US)
    assert found[LAY] == found[BOARD]
    assert found[STEPS] == 3


@pytest.mark.parametrize(("mount", "style"), [("top", "apron"), ("flush", "standard"), ("under", "standard")])
def test_one_stay_where_the_template_comes_first(mount, style):
    """Old counter off and new one on in one stay: only an apron that the counter joins at its sides waits in an open kitchen for the shop."""
    plain = {} if style == "apron" else {"sink.style": style, "sink.apron_width": None, "sink.apron_height": None}
    changes = {"sink.mount": mount} | plain
    found = step_quantities(count_protection, changes)
    assert found[LAY] == found[BOARD]


def test_the_dust_wall_hangs_again_where_a_patch_is_sanded():
    """A glued splash higher than the new one leaves a patch in sight, filled and sanded when the counter is set: the sheet is kept, the tape is new."""
    plain, seen = (step_quantities(count_protection, {"old.splash": "glued", "old.splash_height": high}) for high in ("3 in", "12 in"))
    assert (seen[WALL], seen[TAPE], seen[SHEET]) == pytest.approx((2 * plain[WALL], 2 * plain[TAPE], plain[SHEET]))


def test_stairs_only_where_there_are_steps():
    """No steps, no runner."""
    assert not {RUNNER, STEPS} & set(step_quantities(count_protection, {"site.stair_steps": 0}))


@pytest.mark.parametrize(
    ("changes", "hangs"),
    [
        ({}, True),
        ({"site.occupied": False}, False),
        ({"site.occupied": False, "site.year_built": 1950}, True),
        (STAYS, True),
        ({**STAYS, "sink.style": "standard", "sink.apron_width": None, "sink.apron_height": None}, False),
        ({"sink.style": "standard", "sink.apron_width": None, "sink.apron_height": None}, True),
    ],
)
def test_dust_wall_where_people_live_and_dust_is_made(changes, hangs):
    """A cut front or a counter that comes off, in an occupied house; lead-safe work always."""
    assert (WALL in step_quantities(count_protection, changes)) == hangs


def test_lead_safe_floor():
    """Sheet 6 ft beyond the work on three sides, before 1978 only."""
    hand_area = (8 + 2 * 6) * 6
    found = step_quantities(count_protection, {"site.year_built": 1977})
    assert (found[LEAD_SHEET], found[LEAD]) == pytest.approx((hand_area, hand_area))
    assert not {LEAD_SHEET, LEAD} & set(step_quantities(count_protection, {"site.year_built": 1978}))


def test_waste_of_the_terms_stands_in_for_the_items_own():
    """Bought sheets carry the item's waste, or what the terms say."""
    assert step_lines(count_protection)[BOARD].waste == pytest.approx(0.05)
    assert step_lines(count_protection, {"terms.waste": "12 %"})[BOARD].waste == pytest.approx(0.12)


@given(feet=st.integers(0, 480), more=st.integers(1, 20), steps=st.integers(0, 390), climb=st.integers(1, 10))
def test_a_longer_way_is_never_less_covered(feet, more, steps, climb):
    """More walk and more steps, never less board, runner or work."""
    less = step_quantities(count_protection, {"site.carry": f"{feet} ft", "site.stair_steps": steps})
    greater = step_quantities(count_protection, {"site.carry": f"{feet + more} ft", "site.stair_steps": steps + climb})
    assert all(greater.get(name, 0.0) >= value for name, value in less.items())
