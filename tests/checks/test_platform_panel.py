"""The panel under the bowls between its joists, by hand from capacities by foot of width."""

import itertools
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "takeoff"))

from takeoff_jobs import sheet_of

from kit.checks.platform_panel import check_panel
from kit.checks.wood_members import support_limit
from kit.records import Level

PLATFORM = {"sink.carried_at": "bowl", "sink.depth": "22 in", "sink.outlet_setback": "12 in"}


def found(load_lb, changes=None):
    (finding,) = check_panel(sheet_of({**PLATFORM, **(changes or {})}).design, load_lb)
    return finding


def test_without_a_platform_there_is_no_panel():
    """Cleats carry it."""
    assert check_panel(sheet_of({"sink.carried_at": "rim"}).design, 400) == []


def test_the_worst_of_all_ways_by_hand():
    """Even load, single spans: M = wL2/8 and V = wL/2 between joists, wL2/2 and wL beyond the last; 270 lb in, 65000 lb in2, 300 lb a foot of width."""
    model = sheet_of(PLATFORM).design.placed.model
    panel, load = model["platform panel"], 400.0
    joists = sorted(model[name].span("y") for name in panel.stands_on)
    feet, per_in = panel.size_in("x") / 12, load / panel.size_in("y")
    between = max(after[0] - before[1] for before, after in itertools.pairwise(joists))
    beyond = max(joists[0][0] - panel.span("y")[0], panel.span("y")[1] - joists[-1][1])
    stiff = 65_000 * feet
    hand = [
        per_in * between**2 / 8 / (270 * feet),
        per_in * between / 2 / (300 * feet),
        5 * per_in * between**4 / (384 * stiff) / support_limit(between, stone=False),
        per_in * beyond**2 / 2 / (270 * feet),
        per_in * beyond / (300 * feet),
        per_in * beyond**4 / (8 * stiff) / support_limit(beyond, stone=False),
    ]
    finding = found(load)
    assert finding.margin == pytest.approx(1 - max(hand))
    assert finding.level is Level.OK


def test_more_load_takes_more_and_too_much_is_a_stop():
    """In proportion; the remedy says what helps."""
    light, heavy = found(400), found(800)
    assert 1 - heavy.margin == pytest.approx(2 * (1 - light.margin))
    stop = found(400 / (1 - light.margin) * 1.01)
    assert stop.level is Level.STOP
    assert "joist" in stop.remedy
