"""The meeting at the template."""

import pytest
from takeoff_jobs import step_quantities

from kit.takeoff.visits import count_template

PARTS = "template/template-part/meeting"


@pytest.mark.parametrize(
    ("changes", "hand_lines"),
    [
        ({}, {PARTS: 1 + 1 + 1}),
        ({"counter.holes": []}, {PARTS: 2}),
        ({"counter.runs[1].length": "150 in"}, {PARTS: 3 + 1}),
        ({"counter.made_by": "us"}, {}),
        ({"counter.made_by": "stays"}, {}),
        ({"scope.counter": {"supplied_by": "excluded", "installed_by": "nobody"}}, {}),
    ],
)
def test_what_is_agreed_with_the_fabricator(changes, hand_lines):
    """Sink, run and hole, and the seam of a run longer than a slab; no meeting without a fabricator."""
    assert step_quantities(count_template, changes) == hand_lines
