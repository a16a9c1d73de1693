"""Nominal sizes of pipe."""

import pytest

from kit.sources.sizes import item_size, table_size


@pytest.mark.parametrize(("nominal", "hand_item", "hand_table"), [("1-1/2", "1-1-2", "1.5"), ("2", "2", "2"), ("1-1/4", "1-1-4", "1.25")])
def test_a_nominal_pipe_size_in_items_and_tables(nominal, hand_item, hand_table):
    """One size as typed, as in the ids of items, and in decimal inches."""
    assert (item_size(nominal), table_size(nominal)) == (hand_item, hand_table)
