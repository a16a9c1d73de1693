"""Critical path: published examples with every float, an outside judge on random networks, and errors that name names."""

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kit.errors import KitError
from kit.labor.network import Activity, Link, bridge_absent, order_activities, plan_network

# cpm-33-days: activity, forerunners, duration, ES, EF, LS, LF, total float (printed); free float (worked out: min ES of followers - EF)
EXAMPLE_33_DAYS = """
A  -   3   0  3   0  3  0 0
B  A   5   3  8   3  8  0 0
C  A   8   3 11   7 15  4 0
D  B  10   8 18   8 18  0 0
E  B   5   8 13  17 22  9 5
F  C   7  11 18  15 22  4 0
G  D  12  18 30  18 30  0 0
H  EF  8  18 26  22 30  4 4
I  GH  3  30 33  30 33  0 0
"""


def read_example(text):
    return [(words[0], "" if words[1] == "-" else words[1], *map(float, words[2:])) for words in map(str.split, text.strip().splitlines())]


def activity(name, duration, before="", lag=0.0):
    return Activity(name, duration, tuple(Link(other, lag) for other in before))


def test_published_example_of_33_days_with_every_float():
    """All early and late times and floats of nine activities (cpm-33-days)."""
    rows = read_example(EXAMPLE_33_DAYS)
    network = plan_network([activity(name, duration, before) for name, before, duration, *_ in rows])
    printed_finish, printed_critical = 33, tuple("ABDGI")
    assert network.finish == printed_finish
    assert network.critical == printed_critical
    for name, _, _, printed_es, printed_ef, printed_ls, printed_lf, printed_total, hand_free in rows:
        times = network.times[name]
        assert (times.early_start, times.early_finish, times.late_start, times.late_finish) == (printed_es, printed_ef, printed_ls, printed_lf)
        assert (times.total_float, times.free_float) == (printed_total, hand_free)


def test_example_with_expected_durations_from_three_points():
    """PERT's seven activities (pert-article, from memory): its 19.51, 3.84, 4.68 come from durations rounded to two places."""
    points = {"a": (2, 4, 6), "b": (3, 5, 9), "c": (4, 5, 7), "d": (4, 6, 10), "e": (4, 5, 7), "f": (3, 4, 8), "g": (3, 5, 8)}
    before = {"a": "", "b": "", "c": "a", "d": "a", "e": "bc", "f": "d", "g": "e"}
    network = plan_network([activity(name, (low + 4 * likely + high) / 6, before[name]) for name, (low, likely, high) in points.items()])
    remembered_finish, remembered_slack = 19.51, {"b": 3.84, "d": 4.68, "f": 4.68}
    assert network.finish == pytest.approx(remembered_finish, abs=0.02)
    assert network.critical == ("a", "c", "e", "g")
    for name, slack in remembered_slack.items():
        assert network.times[name].total_float == pytest.approx(slack, abs=0.02)


def test_lag_delays_the_follower_and_is_no_float():
    """Concrete 2 days, 3 days of lag, posts 1 day; digging of 4 days beside it has 2 days of float."""
    network = plan_network([activity("pour", 2), activity("post", 1, ["pour"], lag=3), activity("dig", 4)])
    hand_finish, hand_post_start, hand_dig_float = 6, 5, 2
    assert network.finish == hand_finish
    assert network.times["post"].early_start == hand_post_start
    assert network.times["dig"].total_float == network.times["dig"].free_float == hand_dig_float
    assert network.critical == ("pour", "post")


def test_a_lag_after_the_last_activity_does_not_count():
    """Nothing waits for it."""
    assert plan_network([Activity("seal", 2.0), Activity("look", 1.0, (Link("seal", 24.0),))]).finish == 27
    assert plan_network([Activity("seal", 2.0)]).finish == 2


def test_nothing_to_do_is_done_at_once():
    """No activity, no time."""
    network = plan_network([])
    assert (network.finish, network.critical, dict(network.times)) == (0.0, (), {})


def test_binary_dust_does_not_make_a_step_uncritical():
    """0.1 + 0.2 hours beside 0.3 hours: both ways are critical."""
    network = plan_network([activity("a", 0.1), activity("b", 0.2, "a"), activity("c", 0.3), activity("d", 1, "bc")])
    assert network.critical == ("a", "b", "c", "d")


def test_ids_may_be_anything_hashable():
    """Tuples serve as ids too."""
    assert plan_network([Activity((1, "x"), 2.0), Activity((2, "y"), 1.0, (Link((1, "x")),))]).finish == 3


def test_order_prefers_the_given_one():
    """Only what must come first is moved forward."""
    assert order_activities({"c": ["d"], "a": [], "d": [], "b": ["a"]}) == ("a", "d", "c", "b")


@pytest.mark.parametrize(
    ("activities", "wording"),
    [
        (
            [activity("a", 1, "b"), activity("b", 1, "c"), activity("c", 1, "a")],
            r"These wait for each other, so none can start: (a -> c -> b -> a|b -> a -> c -> b|c -> b -> a -> c)",
        ),
        ([activity("a", 1, "a")], r"none can start: a -> a"),
        ([activity("a", 1, "z")], r'a waits for "z", which is not among the activities'),
        ([activity("a", 1), activity("a", 2)], r"a is there twice\."),
        ([activity("a", -1)], r"a: A time of -1 can't be right\. Give 0 or more"),
        ([activity("a", float("nan"))], r"a: A time of nan can't be right"),
        ([activity("a", 1), activity("b", 1, "a", lag=-2)], r"b: A time of -2 can't be right"),
    ],
)
def test_what_cannot_be_planned_is_named(activities, wording):
    """Rings, unknown and doubled names and impossible times are refused by name."""
    with pytest.raises(KitError, match=wording):
        plan_network(activities)


def test_all_unknown_forerunners_come_in_one_report():
    """Two unknown names, two faults."""
    with pytest.raises(KitError, match=r'"y"') as caught:
        plan_network([activity("a", 1, "xy")])
    assert len(caught.value.faults) == 2


def test_absent_steps_are_bridged():
    """Without its middle steps an order still holds."""
    after = {"a": (), "b": ("a",), "c": ("b",), "d": ("b", "c"), "e": ("d", "a")}
    assert bridge_absent(after, ["a", "d", "e"]) == {"a": (), "d": ("a",), "e": ("d", "a")}
    assert bridge_absent(after, ["a", "e"]) == {"a": (), "e": ("a",)}


def test_bridging_stops_at_a_ring_of_absent_steps():
    """A ring among absent steps holds nothing back."""
    assert bridge_absent({"a": ("x",), "x": ("y",), "y": ("x", "b"), "b": ()}, ["b", "a"]) == {"b": (), "a": ("b",)}


@st.composite
def networks(draw):
    """Activities with whole durations and lags, each after some of those before it."""
    count = draw(st.integers(1, 9))
    numbers = st.integers(0, 12)
    return [Activity(n, float(draw(numbers)), tuple(Link(m, float(draw(st.integers(0, 4)))) for m in range(n) if draw(st.booleans()))) for n in range(count)]


def longest(graph, nodes):
    """Length of the longest way through some nodes, by networkx."""
    return nx.dag_longest_path_length(graph.subgraph(nodes), weight="time")


@settings(deadline=None, max_examples=150)
@given(networks())
def test_floats_agree_with_longest_paths_of_networkx(activities):
    """Total float = whole - longest way through the activity; free float = earliest follower - own end; judged by networkx."""
    graph = nx.DiGraph()
    for found in activities:
        graph.add_edge("start", (found.id, "in"), time=0)
        graph.add_edge((found.id, "in"), (found.id, "out"), time=found.duration)
        graph.add_edge((found.id, "out"), "end", time=0)
        for link in found.after:
            graph.add_edge((link.before, "out"), (found.id, "in"), time=link.lag)
    network = plan_network(activities)
    whole = longest(graph, graph.nodes)
    head = {found.id: longest(graph, nx.ancestors(graph, (found.id, "in")) | {(found.id, "in")}) for found in activities}
    assert network.finish == whole
    for found in activities:
        tail = longest(graph, nx.descendants(graph, (found.id, "out")) | {(found.id, "out")})
        times = network.times[found.id]
        assert times.early_start == head[found.id]
        assert times.total_float == whole - (head[found.id] + found.duration + tail)
        nearest = [head[later.id] - link.lag for later in activities for link in later.after if link.before == found.id]
        assert times.free_float == min(nearest, default=whole) - (head[found.id] + found.duration)
        assert 0 <= times.free_float <= times.total_float


@settings(deadline=None)
@given(networks(), st.data())
def test_a_longer_activity_never_ends_the_whole_earlier(activities, data):
    """More time on one activity, more or equal time in all; as much more as goes beyond its float."""
    chosen = data.draw(st.sampled_from(activities))
    more = data.draw(st.integers(1, 20))
    longer = [Activity(found.id, found.duration + more * (found is chosen), found.after) for found in activities]
    before, after = plan_network(activities), plan_network(longer)
    assert after.finish == before.finish + max(0, more - before.times[chosen.id].total_float)


def test_binary_dust_grows_with_the_hours():
    """Three times 1,111.1 hours beside 3,333.3: nearly half a billionth of a thousandth apart, and both ways are critical."""
    row = [activity("a", 1111.1), activity("b", 1111.1, "a"), activity("c", 1111.1, "b"), activity("d", 3333.3)]
    assert 1111.1 + 1111.1 + 1111.1 != 3333.3
    assert plan_network(row).critical == ("a", "b", "c", "d")
