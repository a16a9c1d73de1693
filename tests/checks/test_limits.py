"""A limit on a tape is never past what it is: "at most" reads down, "at least" up, on every finding of the examples and of random jobs."""

import importlib
import pkgutil
import re
from fractions import Fraction

import pytest
from random_jobs import random_job, random_lists

import kit
from kit import checks
from kit.checks import support
from kit.checks.finding import fit_finding
from kit.design.frame import Member
from kit.records import Level
from kit.units import format_limit

LISTS = kit.load_lists(kit.shipped("price_lists"))
EXAMPLES = [kit.read_job(path) for path in sorted(kit.shipped("examples").glob("*.toml"))]
NOISE_IN = 1e-6


def shown_in(limit: str, *, most: bool) -> float:
    """A limit's figure as somebody reads it off [in]: "at most 2 in below the floor" is at least -2 in, "a gap" at least none."""
    if limit == "a gap":
        assert not most
        return 0.0
    words = re.fullmatch(r"(at most|at least) (?:(\d+)(?![\d/]) ?)?(\d+/\d+)? in( .*)?", limit)
    assert words, limit
    figure_in = float(Fraction(words[2] or 0) + Fraction(words[3] or 0))
    return figure_in if most == (words[1] == "at most") else -figure_in


@pytest.fixture
def limits(monkeypatch):
    """Every length that any check holds against a limit: what the limit is [in], whether it is the most, and the finding that was made."""
    found = []

    def fit(*args, most=False, **more):
        finding, limit = fit_finding(*args, most=most, **more), args[3]
        if limit is not None:
            found.append((getattr(limit, "value", limit), most, finding))
        return finding

    for module in pkgutil.iter_modules(checks.__path__, "kit.checks."):
        if hasattr(importlib.import_module(module.name), "fit_finding"):
            monkeypatch.setattr(f"{module.name}.fit_finding", fit)
    return found


def test_no_limit_reads_past_what_it_is(limits):
    """The six examples and 50 random jobs; no more than a sixteenth is lost by it."""
    for job in EXAMPLES:
        kit.estimate(job, LISTS, exact=False)
    for seed in range(50):
        kit.estimate(random_job(seed), random_lists(seed), exact=False)
    off_tape = 0
    for limit_in, most, finding in limits:
        shown = shown_in(finding.limit, most=most)
        past_in = shown - limit_in if most else limit_in - shown
        assert -1 / 16 < past_in <= NOISE_IN, (finding.id, limit_in, finding.limit)
        off_tape += past_in < -NOISE_IN
    assert (len(limits) > 1500, off_tape > 100) == (True, True)


@pytest.mark.parametrize(
    ("measured_in", "limit_in", "most", "level", "hand"),
    [
        (2.0, 2.1, True, "ok", ("2 in", "at most 2 1/16 in")),
        (2.1, 2.1, True, "ok", ("2 3/32 in", "at most 2 3/32 in")),  # in sixteenths 2.1 in would read 2 1/8 in, past its own limit
        (2.09, 2.1, True, "ok", ("2 3/32 in", "at most 2 3/32 in")),  # nothing finer than 1/64 in is read
        (2.12, 2.1, True, "stop", ("2 1/8 in", "at most 2 1/16 in")),
        (2.0, 2.02, False, "stop", ("2 in", "at least 2 1/16 in")),
        (2.05, 2.02, False, "ok", ("2 1/16 in", "at least 2 1/32 in")),
        (0.5, 0.0, False, "ok", ("1/2 in", "a gap")),  # "at least 0 in" says nothing
        (-0.5, 0.0, False, "stop", ("none, 1/2 in short", "a gap")),
        (-2.0, -2.03, True, "stop", ("2 in below the floor", "at least 2 1/16 in below the floor")),
    ],
)
def test_a_length_and_its_limit_read_the_right_way_round(measured_in, limit_in, most, level, hand):
    """Worked by hand in 16ths, 32nds and 64ths."""
    past_zero = "below the floor" if limit_in < 0 else ""
    found = fit_finding("a", "A", measured_in, limit_in, basis="", remedy="", tolerance_in=0.0, most=most, past_zero=past_zero)
    assert (found.level.name.lower(), found.measured, found.limit) == (level, *hand)


@pytest.mark.parametrize("sixteenths", range(0, 16 * 40, 7))
def test_a_limit_that_the_tape_has_is_shown_as_it_is(sixteenths):
    """No noise of a sum moves it to its neighbor."""
    for noise_in in (-1e-9, 0.0, 1e-9):
        assert {format_limit(sixteenths / 16 + noise_in, most=most) for most in (True, False)} == {format_limit(sixteenths / 16, most=True)}
        assert shown_in(f"at most {format_limit(sixteenths / 16 + noise_in, most=True)}", most=True) == sixteenths / 16


@pytest.mark.parametrize(
    ("load_lb", "shown", "level"), [(998.2, "998 lb", Level.OK), (999.6, "999 lb", Level.OK), (999.9, "1,000 lb", Level.STOP), (1000.7, "1,001 lb", Level.STOP)]
)
def test_a_load_reads_on_its_side_of_what_a_post_carries(monkeypatch, load_lb, shown, level):
    """999.8 lb are carried: the pound below never stands beside a heavier load that holds, nor the same beside one that doesn't."""
    monkeypatch.setattr(support, "_post_capacity", lambda _: (999.8, "by hand"))
    said = support._one_post(Member("post", "lumber-2x4", 30.0, 4, "upright"), load_lb)
    assert (said.measured, said.limit, said.level) == (shown, "at most 999 lb", level)
