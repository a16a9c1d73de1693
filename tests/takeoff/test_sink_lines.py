"""Lines of setting the sink."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from takeoff_jobs import step_lines, step_quantities

from kit.records import Kind
from kit.takeoff.set_sink import count_sink

SINK, SET, POUND, DRY = "set-sink/fired-clay-apron-33/sink", "set-sink/set-sink/lift and set", "set-sink/set-sink-pound/weight", "set-sink/dry-fit/dry fit"
CLIPS, STRAINERS, PUTTY = "hang-sink/sink-clip/clips", "set-sink/strainer/strainers", "set-sink/putty/strainers"
FIT_STRAINER = "set-sink/fit-strainer/bed and tighten"
STANDARD = {"sink.style": "standard", "sink.apron_width": None, "sink.apron_height": None}
LIGHT = {"sink.weight": "30 lb"}


def by(supplied_by, installed_by):
    return {"supplied_by": supplied_by, "installed_by": installed_by}


def test_an_apron_sink_by_us():
    """Dry fit before and after trimming the cut; one strainer in 1 1/2 fl oz of putty; no clips, the frame carries it."""
    assert step_quantities(count_sink) == {SINK: 1, DRY: 2, SET: 1, POUND: 118, STRAINERS: 1, PUTTY: 1.5, FIT_STRAINER: 1}


def test_a_sink_that_the_customer_bought():
    """Nothing to buy, everything to do."""
    found = step_quantities(count_sink, {"scope.sink": by("customer", "us")})
    assert SINK not in found
    assert (found[SET], found[POUND]) == (1, 118)


@pytest.mark.parametrize("who", ["customer", "fabricator"])
def test_a_sink_that_others_set(who):
    """Bought by us, set by them."""
    found = step_quantities(count_sink, {"scope.sink": by("us", who)})
    assert found[SINK] == 1
    assert SET not in found


def test_a_sink_that_a_trade_sets_is_hired_hours():
    """The likely hours of our own rates: an hour and 118 lb at 0.004 h."""
    lines = step_lines(count_sink, {"scope.sink": by("us", "trade")})
    line = lines["set-sink/hire-plumber/weight"]
    assert line.kind is Kind.HIRE
    assert line.quantity == pytest.approx(118 * 0.004)
    assert SET not in lines


@pytest.mark.parametrize("who", ["us", "nobody"])
def test_a_sink_that_stays_is_set_again_when_the_counter_changes(who):
    """By us, who took it out, whoever the scope names; and not when the counter stays too."""
    stays = {"scope.sink": by("stays", who)}
    assert step_quantities(count_sink, stays)[SET] == 1
    both = {**stays, "counter.made_by": "stays", "scope.counter": by("stays", "nobody")}
    assert SET not in step_quantities(count_sink, both)


def test_clips_round_an_under_mount():
    """2 x 32 1/2 + 2 x 18 in at 10 in: 10.1, so eleven."""
    found = step_quantities(count_sink, {**STANDARD, **LIGHT, "sink.mount": "under"})
    assert found[CLIPS] == found["hang-sink/sink-clip-fix/clips"] == 11
    assert found[DRY] == 1


def test_clips_and_raising_belong_to_whoever_sets_the_sink():
    """A plumber: eleven clips at 0.08 h and 0.3 h to raise and bond, the clips bought; the customer sees to his own."""
    light = {**STANDARD, **LIGHT, "sink.mount": "under"}
    found = step_quantities(count_sink, {**light, "scope.sink": by("us", "trade")})
    assert found[CLIPS] == 11
    assert found["hang-sink/hire-plumber/clips"] == pytest.approx(11 * 0.08)
    assert found["hang-sink/hire-plumber/raise and bond"] == pytest.approx(0.3)
    assert not [name for name in step_quantities(count_sink, {**light, "scope.sink": by("us", "customer")}) if name.startswith("hang-sink/")]


@pytest.mark.parametrize(("depth", "hand_clips"), [("17 1/2 in", 10), ("17 9/16 in", 11)])
def test_clips_either_side_of_a_whole_number(depth, hand_clips):
    """100 in of rim and a hair more."""
    assert step_quantities(count_sink, {**STANDARD, **LIGHT, "sink.mount": "under", "sink.depth": depth})[CLIPS] == hand_clips


@pytest.mark.parametrize(("weight", "hand_clips"), [("51 lb", 11), ("52 lb", None)])
def test_a_heavy_undermount_stands_on_a_frame_and_needs_no_clips(weight, hand_clips):
    """29 1/2 x 15 1/2 x 9 in hold 17.815 gal, 148.4 lb at 8.33 lb: up to 200 lb when full hang on clips."""
    assert step_quantities(count_sink, {**STANDARD, "sink.mount": "under", "sink.weight": weight}).get(CLIPS) == hand_clips


@pytest.mark.parametrize("way", ["rails", "cradle"])
def test_rails_or_a_cradle_as_the_job_says(way):
    """One set, its hour, and no clips."""
    found = step_quantities(count_sink, {**STANDARD, "sink.mount": "under", "sink.held_by": way})
    assert (found[f"hang-sink/sink-{way}/{way}"], found[f"hang-sink/sink-rails-fix/{way}"]) == (1, 1)
    assert CLIPS not in found


@pytest.mark.parametrize(
    ("mount", "changes"), [("top", STANDARD), ("flush", STANDARD), ("under", {}), ("under", {**STANDARD, "scope.sink": by("us", "fabricator")})]
)
def test_no_clips_elsewhere(mount, changes):
    """Top and flush are bedded, an apron stands on its frame, a shop brings its own."""
    assert CLIPS not in step_quantities(count_sink, {**changes, "sink.mount": mount})


@pytest.mark.parametrize(("bowls", "disposer", "hand_strainers"), [(1, "none", 1), (1, "new", None), (2, "none", 2), (2, "keep", 1)])
def test_a_strainer_for_each_outlet_without_a_disposer(bowls, disposer, hand_strainers):
    """A disposer takes one outlet."""
    bowl = {"width": "14 in", "front_to_back": "15 in", "depth": "9 in"}
    found = step_quantities(count_sink, {"sink.bowls": [bowl] * bowls, "plumbing.disposer": disposer})
    assert found.get(STRAINERS) == found.get(FIT_STRAINER) == hand_strainers
    assert found.get(PUTTY) == (None if hand_strainers is None else 1.5 * hand_strainers)


@pytest.mark.parametrize(
    ("scope", "sink", "bought", "fitted"),
    [
        (("customer", "us"), ("us", "us"), False, True),
        (("us", "customer"), ("us", "us"), True, False),
        (("stays", "nobody"), ("us", "us"), True, True),
        (("excluded", "nobody"), ("us", "us"), True, True),
        (("excluded", "nobody"), ("customer", "us"), False, True),
        (("stays", "nobody"), ("stays", "us"), False, False),
        (("excluded", "nobody"), ("stays", "us"), False, False),
    ],
)
def test_strainers_by_scope(scope, sink, bought, fitted):
    """Who supplies and who fits them; a new sink comes without one, so it goes with the sink where the scope leaves it out."""
    found = step_quantities(count_sink, {"scope.strainer": by(*scope), "scope.sink": by(*sink)})
    assert (STRAINERS in found, FIT_STRAINER in found, PUTTY in found) == (bought, fitted, fitted)


@given(st.floats(min_value=5, max_value=400), st.floats(min_value=5, max_value=400))
def test_a_heavier_sink_never_takes_less(one, other):
    """Every quantity of the step."""
    light, heavy = (step_quantities(count_sink, {"sink.weight": f"{weight:.3f} lb"}) for weight in sorted((one, other)))
    assert light.keys() == heavy.keys()
    assert all(heavy[name] >= light[name] for name in light)


@pytest.mark.parametrize(("thick", "hand_item"), [("5/8 in", "strainer"), ("3/4 in", "strainer"), ("13/16 in", "strainer-extended")])
def test_a_thick_bottom_takes_a_longer_strainer(thick, hand_item):
    """Up to 3/4 in a usual body clamps (from memory; its sheet says)."""
    found = step_quantities(count_sink, {"sink.bottom_thickness": thick})
    assert [name for name in found if name.startswith("set-sink/strainer")] == [f"set-sink/{hand_item}/strainers"]
