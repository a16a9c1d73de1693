"""A changed number of the shipped tables is noticed."""

import mutation
import pytest

import kit.sources
from kit.sources import list_tables, value


@pytest.mark.parametrize("check", mutation.hand_checks(), ids=lambda check: check.name)
def test_hand_check(check):
    """Each derivation by hand holds for the shipped tables."""
    check.run()


@pytest.mark.parametrize("table", list_tables())
def test_one_percent_off_is_noticed(table):
    """Each row that is not judged, changed by one percent, makes a printed case, a hand check or an offered test fail."""
    uncovered = mutation.find_uncovered(table)
    assert not uncovered, (
        f"kit/sources/{table}.csv: no check notices a change of {', '.join(uncovered)}. Add the printed value to tests/printed.csv, "
        "a derivation to tests/sources/hand_checks/, or a test (without fixtures) of the module that reads the row."
    )


def test_the_harness_tells_a_held_row_from_a_loose_one():
    """A check that reads a row and one that looks away: only the first counts; afterwards the tables are as before."""
    row = kit.sources.row("lumber", "2x4/width")
    holding = mutation.Check("holding", lambda: exec("assert value('lumber', '2x4/width') == 3.5", {"value": value}))
    loose = mutation.Check("loose", lambda: value("lumber", "2x4/width"))
    assert mutation.rows_read_by(holding) == mutation.rows_read_by(loose) == {("lumber", "2x4/width")}
    with mutation.tables_read_by(mutation.changed(row)):
        assert value("lumber", "2x4/width") == pytest.approx(3.535)
        assert holding.fails()
        assert not loose.fails()
    assert value("lumber", "2x4/width") == 3.5


def test_parameters_of_tests_are_found():
    """Marks are multiplied out as pytest does; a test that wants a fixture offers nothing."""

    @pytest.mark.parametrize("size", [1, pytest.param(2, id="two")])
    @pytest.mark.parametrize(("left", "right"), [(3, 4)])
    def crossed(size, left, right): ...

    def fixture_wanted(tmp_path): ...

    def plain(): ...

    assert mutation.parameters(crossed) == [{"left": 3, "right": 4, "size": 1}, {"left": 3, "right": 4, "size": 2}]
    assert mutation.parameters(fixture_wanted) == []
    assert mutation.parameters(plain) == [{}]
