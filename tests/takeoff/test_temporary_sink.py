"""The temporary sink: an option of the terms."""

from takeoff_jobs import step_quantities

from kit.takeoff.water_kept import count_temporary_sink

LENT = {"keep-water/temporary-sink/lent": 1, "keep-water/lend-sink/connect and take away": 1}


def test_lent_where_the_terms_ask_for_it():
    """One sink, connected once and taken away once."""
    assert step_quantities(count_temporary_sink, {}) == {}
    assert step_quantities(count_temporary_sink, {"terms.temporary_sink": True}) == LENT


def test_not_lent_where_no_sink_comes_out():
    """There is no day without one."""
    assert step_quantities(count_temporary_sink, {"terms.temporary_sink": True, "old.sink_kind": "none"}) == {}
