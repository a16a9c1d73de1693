"""The screen keeps up with a hand on a slider. Figures are printed by tests/bench/screen.py; here only three times the limit fails."""

import pytest
from browsing import open_notebook
from latency import ECHO, limit_ms, percentile, time_presses, time_settling, write_echo

FAILS_AT = 3.0


@pytest.mark.alone
def test_the_total_follows_the_key_and_a_drag_does_not_queue(tab, pages, home, jobs):
    """Against an empty slider and its label, in the same browser on the same server, in the same run."""
    write_echo(home)
    try:
        screen = open_notebook(tab, pages, "page", ECHO)
        echo = time_presses(tab, screen.root.get_by_role("slider").first, ".echo", 30)
    finally:
        (home / "notebooks" / ECHO).unlink()
    screen = open_notebook(tab, pages, "page", "1_estimator.ipynb")
    screen.turn("Options")
    handle = screen.root.get_by_role("slider", name="Overhead [%]")
    handle.wait_for()
    series = []
    for _ in range(3):  # what else the machine does may spoil one series, not three
        series.append(time_presses(tab, handle, ".sk-was-now", 20))
        if percentile(series[-1], 0.95) < FAILS_AT * limit_ms(echo):
            break
    assert min(percentile(total, 0.95) for total in series) < FAILS_AT * limit_ms(echo), (series, echo)
    screen.price()
    weight = screen.root.get_by_role("slider", name="All hours, times [%]")
    limit = FAILS_AT * limit_ms(echo)
    drags = []
    for _ in range(3):
        drags.append(time_settling(tab, weight, ".sk-was-now"))
        screen.price()
        if drags[-1][0] < limit:
            break
    assert all(changes > 1 for _, changes in drags)
    assert min(settled for settled, _ in drags) < limit, drags
    shown = screen.price()
    screen.turn("Keep")
    assert screen.change_of_price(shown) != shown
