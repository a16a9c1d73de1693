"""Disposer, drain, dishwasher hose, fill test."""

from dataclasses import replace

import pytest
from takeoff_jobs import sheet_of, step_lines, step_quantities
from work_jobs import lists

from kit.records import Kind
from kit.sources import value
from kit.takeoff.connect_dishwasher import count_dishwasher_hose
from kit.takeoff.connect_drain import count_drain
from kit.takeoff.fixtures import count_disposer
from kit.takeoff.visits import count_fill_test

US = {"supplied_by": "us", "installed_by": "us"}
NEW = {"plumbing.disposer": "new", "scope.disposer": US}
ARM = 24 + 0.75 - 18 + 8 - 5  # the outlet's distance from the wall less the bend: 9 3/4 in
WEIR = 15 - 1.61 / 2 + 0.25 * ARM / 12
TAIL = 34.5 - 9 - 0.625 - 2 - (WEIR + 1.9 - 1)  # from the strainer's 2 in to 1 in below the top of the trap


def test_a_new_disposer_by_us():
    """Bought with its cord and, in a bottom of 5/8 in, a long flange; bedded, hung; an electrician with box, device and cable: there was none before."""
    lines = step_lines(count_disposer, NEW)
    assert {name: line.quantity for name, line in lines.items()} == {
        "connect-disposer/disposer/disposer": 1,
        "connect-disposer/disposer-cord/cord": 1,
        "connect-disposer/disposer-flange-extended/thick bottom": 1,
        "connect-disposer/putty/flange": 1.5,
        "connect-disposer/hang-disposer/hang": 1,
        "connect-disposer/knock-out/dishwasher inlet": 1,
        "rough-electric/hire-electrician/outlet": 1.5,
        "electric-device/hire-electrician/outlet": 1,
        "rough-electric/electric-box/outlet": 1,
        "electric-device/electric-device/outlet": 1,
        "rough-electric/electric-cable/outlet": 15,
    }
    assert lines["rough-electric/hire-electrician/outlet"].kind is Kind.HIRE


def test_one_cemented_joint_is_one():
    """A slip-joint trap with its adapter on a plastic stub: one socket, said in the singular by every row that counts it."""
    changes = {"plumbing.drain_new": "slip-joint", "plumbing.drain_old": "abs"}
    said = [line.basis for count in (count_drain, count_fill_test) for line in step_lines(count, changes).values() if "cemented" in line.basis]
    assert len(said) == 3
    assert all("1 cemented joint " in f"{basis} " for basis in said)


def test_no_electrician_where_an_old_one_hung():
    """Its outlet is there: no work, no box."""
    assert not [name for name in step_quantities(count_disposer, {**NEW, "old.disposer": True}) if "outlet" in name]


@pytest.mark.parametrize(("thick", "long"), [("1/4 in", False), ("1/2 in", False), ("9/16 in", True)])
def test_a_long_flange_where_the_bottom_is_thick(thick, long):
    """A usual flange clamps half an inch."""
    found = step_quantities(count_disposer, {**NEW, "sink.bottom_thickness": thick})
    assert ("connect-disposer/disposer-flange-extended/thick bottom" in found) == long


def test_an_old_disposer_is_hung_again():
    """Nothing to buy but putty, where the bottom is thin."""
    keep = {"plumbing.disposer": "keep", "scope.disposer": {"supplied_by": "stays", "installed_by": "us"}, "sink.bottom_thickness": "1/4 in"}
    assert step_quantities(count_disposer, keep) == {"connect-disposer/putty/flange": 1.5, "connect-disposer/rehang-disposer/hang": 1}


@pytest.mark.parametrize("changes", [{}, {"plumbing.disposer": "new"}, {"plumbing.disposer": "none", "scope.disposer": US}])
def test_no_disposer_or_none_of_ours(changes):
    """None there, or excluded."""
    assert step_quantities(count_disposer, changes) == {}


def test_drain_of_the_plain_job_by_hand():
    """Tailpiece, arm from 2 in of stub on; trap 2, coupling 2 sockets at 90 joints a quart; two slip joints."""
    assert step_quantities(count_drain) == pytest.approx(
        {
            "connect-drain/tube-slip-joint/cut lengths": TAIL / 12,
            "connect-drain/pipe-pvc-1-1-2/lengths": (ARM - 2) / 12,
            "connect-drain/drain-cut/measure and cut": 2,
            "connect-drain/trap-pvc/fitting": 1,
            "connect-drain/trap-adapter-pvc/fitting": 1,
            "connect-drain/coupling-pvc-1-1-2/fitting": 1,
            "connect-drain/branch-tailpiece/fitting": 1,
            "connect-drain/cement-pvc/joints": 4 * 32 / 90,
            "connect-drain/primer-pvc/joints": 4 * 32 / 90 / 2,
            "connect-drain/slip-joint-washer/slip joints": 2,
            "connect-drain/drain-joint/make and check": 6,
        }
    )


def test_an_uncertain_cut_says_so():
    """Bought center to center, cut after measuring; a tube's length is its cut."""
    lines = step_lines(count_drain)
    assert "center to center, cut after measuring the fittings" in lines["connect-drain/pipe-pvc-1-1-2/lengths"].basis
    assert [piece.name for piece in lines["connect-drain/pipe-pvc-1-1-2/lengths"].pieces] == ["arm, center to center"]
    assert [piece.name for piece in lines["connect-drain/tube-slip-joint/cut lengths"].pieces] == ["tailpiece"]
    assert "measuring" not in lines["connect-drain/tube-slip-joint/cut lengths"].basis


def test_pieces_add_up_to_the_line():
    """For the cut plan."""
    for line in step_lines(count_drain, {"plumbing.stub_offset": "5 in"}).values():
        if line.pieces:
            assert sum(piece.length_in * piece.count for piece in line.pieces) / 12 == pytest.approx(line.quantity)


def test_abs_takes_no_primer():
    """Cement alone."""
    found = step_quantities(count_drain, {"plumbing.drain_old": "abs", "plumbing.drain_new": "abs"})
    assert "connect-drain/cement-abs/joints" in found
    assert not [name for name in found if "primer" in name]


def test_two_inch_pipe_takes_more_cement_a_joint():
    """60 joints a quart, and a reducer's two sockets more."""
    assert step_quantities(count_drain, {"plumbing.drain_size": "2"})["connect-drain/cement-pvc/joints"] == pytest.approx(6 * 32 / 60)


def test_a_change_of_material_has_its_coupling():
    """Cast iron to PVC."""
    found = step_quantities(count_drain, {"plumbing.drain_old": "cast-iron"})
    assert found["connect-drain/shielded-coupling/change of material"] == 1


def test_a_slip_joint_drain_takes_washers_and_no_cement():
    """On a stub that has its slip nut: washers at trap, branch, and the trap's seal and outlet."""
    near = {"plumbing.drain_old": "slip-joint", "plumbing.drain_new": "slip-joint", "plumbing.arm_to_wall": "12 in"}
    found = step_quantities(count_drain, near)
    assert found["connect-drain/slip-joint-washer/slip joints"] == 4
    assert not [name for name in found if "cement" in name or "primer" in name]


def test_a_dishwasher_with_a_high_loop():
    """Its own hose reaches 60 in: a clamp where it is joined again, a strap."""
    assert step_quantities(count_dishwasher_hose) == {
        "connect-dishwasher/hose-clamp/hoses": 1,
        "connect-dishwasher/loop-strap/high loop": 1,
        "connect-dishwasher/connect-dishwasher/drain and water": 1,
    }


@pytest.mark.parametrize(("run", "hand_feet", "hand_clamps"), [("72 in", 0, 1), ("72 1/16 in", 72.0625 / 12, 2), ("96 in", 8, 2)])
def test_a_hose_only_where_its_own_is_too_short(run, hand_feet, hand_clamps):
    """About 6 ft come with a machine; a new hose takes a clamp at each end."""
    found = step_quantities(count_dishwasher_hose, {"plumbing.hose_run": run})
    assert found.get("connect-dishwasher/dishwasher-hose/drain hose", 0) == pytest.approx(hand_feet)
    assert found["connect-dishwasher/hose-clamp/hoses"] == hand_clamps


def test_a_dishwasher_with_an_air_gap():
    """A second hose from the deck down to the trap's weir with a clamp at each end, one on the machine's own; no strap."""
    found = step_quantities(count_dishwasher_hose, {"plumbing.dishwasher_drain": "air-gap"})
    assert found["connect-dishwasher/hose-clamp/hoses"] == 3
    assert found["connect-dishwasher/air-gap-hose/air gap to drain"] == pytest.approx((34.5 + 1.1875 - WEIR) / 12)
    assert "connect-dishwasher/loop-strap/high loop" not in found


def test_a_hose_that_comes_to_nothing_takes_no_clamps():
    """A trap whose weir stands above the deck leaves nothing of the hose from the air gap: the machine's own has its clamp."""
    sheet = sheet_of({"plumbing.dishwasher_drain": "air-gap"})
    low = replace(sheet, design=replace(sheet.design, levels=replace(sheet.design.levels, counter_top_in=WEIR - 1.0)))
    found = {line.id: line.quantity for line in count_dishwasher_hose(low)}
    assert found["connect-dishwasher/hose-clamp/hoses"] == 1
    assert found["connect-dishwasher/air-gap-hose/air gap to drain"] == pytest.approx(-1.0 / 12)  # less than nothing is not bought: the takeoff leaves it out


def test_what_a_new_dishwasher_comes_without():
    """Supply line, elbow with its thread taped, cord; one that stays has them."""
    goods = {f"connect-dishwasher/{item}/new dishwasher" for item in ("dishwasher-supply", "dishwasher-elbow", "dishwasher-cord")}
    goods.add("connect-dishwasher/thread-tape/threads")
    assert goods <= step_quantities(count_dishwasher_hose, {"scope.dishwasher": US}).keys()
    assert not goods & step_quantities(count_dishwasher_hose).keys()


def test_a_new_dishwasher_by_us():
    """Bought, slid in, connected."""
    found = step_quantities(count_dishwasher_hose, {"scope.dishwasher": US})
    assert found["connect-dishwasher/dishwasher/dishwasher"] == found["connect-dishwasher/set-dishwasher/slide in and level"] == 1


@pytest.mark.parametrize("changes", [{"plumbing.dishwasher": False}, {"scope.dishwasher": {"supplied_by": "excluded", "installed_by": "nobody"}}])
def test_no_dishwasher_of_ours(changes):
    """None there, or no part of the job."""
    assert step_quantities(count_dishwasher_hose, changes) == {}


def test_fill_test_by_water_and_joints():
    """29 1/2 x 15 1/2 x 9 in twice, 231 cu in a gallon; 2 + 4 joints of the drain, 2 hoses, 2 stops, the dishwasher's hose."""
    assert step_quantities(count_fill_test) == pytest.approx(
        {
            "fill-test/fill-gallon/fill and drain": 2 * 29.5 * 15.5 * 9 / 231,
            "fill-test/look-joint/dry and look": 2 + 4 + 2 + 2 + 1,
            "fill-test/dishwasher-cycle/run a cycle": 1,
        }
    )


def test_the_words_of_the_fill_test_say_as_many_fillings_as_are_counted():
    """36 gal are the sink filled twice: the crew reads so beside the gallons."""
    assert value("practice", "fill/fillings") == 2
    assert lists().rates["fill-gallon"].count_words(36.0) == "36 gal of water in two fillings: one left to stand, one drained at full flow"


def test_fewer_joints_to_look_at():
    """Each condition by itself."""
    look = "fill-test/look-joint/dry and look"
    assert step_quantities(count_fill_test, {"plumbing.stops_to_renew": 0})[look] == 9
    assert step_quantities(count_fill_test, {"plumbing.dishwasher": False})[look] == 11 - 2  # its hose and its branch
    assert step_quantities(count_fill_test, {"scope.dishwasher": {"supplied_by": "excluded", "installed_by": "nobody"}})[look] == 10


def test_the_ceiling_below_is_one_thing_more_to_look_at():
    """Where rooms lie under the kitchen."""
    look = "fill-test/look-joint/dry and look"
    rooms, none = (step_quantities(count_fill_test, {"site.below": below})[look] for below in ("rooms", "basement"))
    assert rooms == none + 1


def test_nothing_comes_apart_where_only_the_faucet_is_new():
    """Sink and counter stay: no drain, no dishwasher hose; the faucet's two hoses and the stops are looked at."""
    stays = {"supplied_by": "stays", "installed_by": "nobody"}
    job = {"scope.sink": stays, "scope.counter": stays, "counter.made_by": "stays"}
    assert step_quantities(count_drain, job) == {}
    assert step_quantities(count_dishwasher_hose, job) == {}
    assert step_quantities(count_fill_test, job)["fill-test/look-joint/dry and look"] == 4
    assert step_quantities(count_fill_test, {**job, "scope.faucet": stays, "plumbing.stops_to_renew": 0}) == {}


@pytest.mark.parametrize("changes", [NEW, {"plumbing.stub_height": "24 in"}])
def test_a_new_disposer_or_a_lower_stub_opens_the_drain(changes):
    """Even under a sink that stays."""
    stays = {"supplied_by": "stays", "installed_by": "nobody"}
    assert step_quantities(count_drain, {"scope.sink": stays, "scope.counter": stays, "counter.made_by": "stays", **changes}) != {}
