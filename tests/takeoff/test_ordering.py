"""Orders, bookings and papers."""

import pytest
from takeoff_jobs import sheet_of, step_lines, step_quantities

from kit.records import Kind
from kit.takeoff.ordering import count_ordering, hired_parties

ORDERS, BOOKINGS, PAPERS, TEST = "order/order-item/orders", "order/book-party/bookings", "order/paper-set/papers", "order/floor-test/suspect floor"
BY_US = {"supplied_by": "us", "installed_by": "us"}
BY_CUSTOMER = {"supplied_by": "customer", "installed_by": "us"}
BY_TRADE = {"supplied_by": "us", "installed_by": "trade"}
HIGH_STUB = {"plumbing.stub_height": "24 in"}


def test_orders_of_the_plain_job():
    """Sink, faucet and strainer, and one pick list; the fabricator is booked, nothing is filed."""
    assert step_quantities(count_ordering) == {ORDERS: 4, BOOKINGS: 1}


@pytest.mark.parametrize(
    ("changes", "hand_orders"),
    [
        ({"scope.sink": BY_CUSTOMER}, 3),
        ({"scope.sink": BY_CUSTOMER, "scope.faucet": BY_CUSTOMER, "scope.strainer": BY_CUSTOMER}, 1),
        ({"scope.disposer": BY_US}, 4),
        ({"scope.disposer": BY_US, "plumbing.disposer": "new"}, 4),  # sink, faucet, disposer, pick list: the one outlet has no strainer
        ({"scope.dishwasher": BY_US}, 5),
        ({"scope.dishwasher": BY_US, "plumbing.dishwasher": False}, 4),
        ({"scope.counter": BY_US}, 4),
        ({"scope.counter": BY_US, "counter.made_by": "us"}, 5),
    ],
)
def test_an_order_for_each_thing_we_supply(changes, hand_orders):
    """What the customer brings, or nobody needs, is not ordered."""
    assert step_quantities(count_ordering, changes)[ORDERS] == hand_orders


@pytest.mark.parametrize(
    ("changes", "hand_parties"),
    [
        ({}, ["countertop shop"]),
        ({"scope.counter": BY_US, "scope.splash": BY_US, "counter.made_by": "us"}, []),
        ({"scope.faucet": BY_TRADE}, ["countertop shop", "plumber"]),
        (HIGH_STUB, ["countertop shop", "plumber"]),
        ({**HIGH_STUB, "scope.drain_move": {"supplied_by": "excluded", "installed_by": "nobody"}}, ["countertop shop"]),
        ({"scope.disposer": BY_US, "plumbing.disposer": "new"}, ["countertop shop", "electrician"]),
        ({"scope.disposer": BY_US, "plumbing.disposer": "new", "old.disposer": True}, ["countertop shop"]),
        ({"scope.wall_repair": BY_TRADE}, ["countertop shop", "other trade"]),
        ({"scope.haul_away": BY_TRADE}, ["countertop shop", "hauler"]),
    ],
)
def test_parties_by_scope_and_duty(changes, hand_parties):
    """Fabricator and trades by the scope table; plumber and electrician by what the work asks for too."""
    assert hired_parties(sheet_of(changes)) == hand_parties


def test_bookings_beside_the_parties():
    """The customer is asked about his goods; the water supplier comes when the main shut-off leaks and stops are renewed."""
    assert step_quantities(count_ordering, {"scope.sink": BY_CUSTOMER})[BOOKINGS] == 2
    assert step_quantities(count_ordering, {"site.main_shutoff_closes": False})[BOOKINGS] == 2
    assert step_quantities(count_ordering, {"site.main_shutoff_closes": False, "plumbing.stops_to_renew": 0})[BOOKINGS] == 1


def test_no_booking_line_without_a_party():
    """All by us, nothing of the customer's: nobody to book."""
    assert BOOKINGS not in step_quantities(count_ordering, {"scope.counter": BY_US, "scope.splash": BY_US, "counter.made_by": "us"})


@pytest.mark.parametrize(
    ("changes", "hand_papers"),
    [
        (HIGH_STUB, 1),
        ({"site.year_built": 1977}, 2),
        ({"site.year_built": 1978}, 1),
        ({"site.year_built": 1977, **HIGH_STUB}, 3),
        ({"site.year_built": 1977, "site.floor_covering": "sheet", "cabinet.wet_floor": True}, 3),
        ({"site.year_built": 1981}, 0),
    ],
)
def test_papers_by_what_triggers_them(changes, hand_papers):
    """A permit for a drain that comes down; lead papers before 1978; papers of each sample: the glued splash up to 1980, a wet sheet floor."""
    assert step_quantities(count_ordering, changes).get(PAPERS, 0) == hand_papers


@pytest.mark.parametrize(
    ("changes", "hand_samples"),
    [
        ({"site.year_built": 1980}, 1),  # the splash of the plain job is glued
        ({"site.year_built": 1981}, 0),
        ({"site.year_built": 1980, "old.splash": "loose"}, 0),
        ({"site.year_built": 1980, "old.splash": "loose", "old.counter_fixing": "glued"}, 1),
        ({"site.year_built": 1980, "old.splash": "loose", "old.counter_material": "tile"}, 1),
    ],
)
def test_suspect_glue_or_backer_is_tested_before_it_is_torn_out(changes, hand_samples):
    """In houses up to 1980, where we tear out what is glued or set in a bed."""
    assert step_quantities(count_ordering, changes).get("order/floor-test/suspect glue or backer", 0) == hand_samples


@pytest.mark.parametrize(("year", "hand_samples"), [(1980, 1), (1981, 0)])
def test_suspect_floor_is_tested_by_a_laboratory(year, hand_samples):
    """Sheet flooring of 1980 or older under a wet cabinet floor; hired, not ours."""
    lines = step_lines(count_ordering, {"site.year_built": year, "site.floor_covering": "sheet", "cabinet.wet_floor": True})
    assert (TEST in lines) == bool(hand_samples)
    assert all(line.kind is Kind.HIRE for name, line in lines.items() if name == TEST)
