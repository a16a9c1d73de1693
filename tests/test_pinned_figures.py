"""What the computing rooms say of fixed jobs is what was kept when somebody last looked; `python tests/pinned_figures.py` keeps today's."""

import pytest
from pinned_figures import ROOMS, figures_of, moved, read_kept

SHOWN = 12


@pytest.mark.parametrize("room", ROOMS)
def test_no_figure_moves_unseen(room: str) -> None:
    """Each figure of the room for the examples, the chosen random jobs, and what is walked through with them."""
    was = read_kept(room)
    found = moved(room, was, figures_of(room))
    assert len(was) > 1000
    assert not found, "\n".join([f"{len(found)} figures moved; the first of them:", *found[:SHOWN]])


def test_a_figure_that_moves_is_named() -> None:
    """With its job and place; what another machine's arithmetic may change in the ninth digit is none, nor is a figure that stays."""
    was = {("a", ".x"): "1.25 top", ("a", ".y"): "3", ("b", ".x"): "2.5"}
    now = {("a", ".x"): "1.2500000001 top", ("a", ".y"): "4", ("b", ".z"): "2.5"}
    assert moved("room", was, now) == [
        "room, a: y: was 3, now 4",
        "room, b: x: was 2.5, now not there",
        "room, b: z: was not there, now 2.5",
    ]
