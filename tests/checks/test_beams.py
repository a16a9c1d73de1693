"""Statics of straight members against an independent integration of the elastic line."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kit.checks.beams import (
    Effects,
    add_effects,
    cantilever_end,
    cantilever_uniform,
    span_midpoint,
    span_point,
    span_two_points,
    span_uniform,
)
from kit.errors import JobError

SPAN, EI = 36.0, 7.5e6
spans = st.floats(1.0, 120.0)
loads = st.floats(0.0, 2000.0)


def integrate(moment, length, *, cantilever=False, steps=4000):
    """Largest deflection from the moment line: slope and deflection by the trapezoid rule."""
    dx = length / steps
    slopes, bends = [0.0], [0.0]
    for i in range(steps):
        curvature = (moment(i * dx) + moment((i + 1) * dx)) / 2.0 / EI
        slopes.append(slopes[-1] + curvature * dx)
        bends.append(bends[-1] + (slopes[-2] + slopes[-1]) / 2.0 * dx)
    if cantilever:  # fixed at 0
        return abs(bends[-1])
    return max(abs(bend - bends[-1] * i / steps) for i, bend in enumerate(bends))  # both ends back to 0


@pytest.mark.parametrize(
    ("effects", "moment", "cantilever"),
    [
        (span_uniform(5.0, SPAN, EI), lambda x: 5.0 * x * (SPAN - x) / 2.0, False),
        (span_midpoint(200.0, SPAN, EI), lambda x: 100.0 * min(x, SPAN - x), False),
        (span_point(200.0, 10.0, SPAN, EI), lambda x: min(200.0 * 26.0 / SPAN * x, 200.0 * 10.0 / SPAN * (SPAN - x)), False),
        (span_two_points(150.0, 8.0, SPAN, EI), lambda x: 150.0 * min(x, 8.0, SPAN - x), False),
        (cantilever_end(90.0, SPAN, EI), lambda x: 90.0 * (SPAN - x), True),
        (cantilever_uniform(4.0, SPAN, EI), lambda x: 4.0 * (SPAN - x) ** 2 / 2.0, True),
    ],
)
def test_deflection_is_that_of_the_integrated_elastic_line(effects, moment, cantilever):
    """Each deflection formula agrees with the moment line integrated twice."""
    hand_deflection = integrate(moment, SPAN, cantilever=cantilever)
    assert effects.deflection_in == pytest.approx(hand_deflection, rel=1e-4)
    hand_moment = max(moment(i * SPAN / 3600.0) for i in range(3601))
    assert effects.moment_inlb == pytest.approx(hand_moment, rel=1e-6)


def test_shear_and_moment_by_hand():
    """Reactions of each case, worked from balance."""
    assert span_uniform(5.0, 36.0, EI).shear_lb == 90.0  # hand: 180 lb on two supports
    assert span_midpoint(200.0, 36.0, EI).shear_lb == 100.0
    assert span_point(180.0, 12.0, 36.0, EI).shear_lb == pytest.approx(120.0)  # hand: two thirds to the near support
    assert span_point(180.0, 24.0, 36.0, EI) == span_point(180.0, 12.0, 36.0, EI)  # 24 in from one support is 12 in from the other
    assert span_two_points(150.0, 8.0, 36.0, EI).shear_lb == 150.0
    assert cantilever_end(90.0, 10.0, EI).shear_lb == 90.0
    assert cantilever_uniform(4.0, 10.0, EI).shear_lb == 40.0


def test_a_point_load_at_the_middle_is_the_midpoint_case():
    """The general point load meets the special case."""
    general, special = span_point(200.0, 18.0, 36.0, EI), span_midpoint(200.0, 36.0, EI)
    assert general.moment_inlb == pytest.approx(special.moment_inlb)
    assert general.deflection_in == pytest.approx(special.deflection_in)
    two = span_two_points(100.0, 18.0, 36.0, EI)
    assert (two.moment_inlb, two.deflection_in) == pytest.approx((special.moment_inlb, special.deflection_in))


def test_a_load_over_its_support_bends_nothing():
    """At the support the load goes straight down."""
    at_support = span_point(200.0, 0.0, 36.0, EI)
    assert (at_support.shear_lb, at_support.moment_inlb, at_support.deflection_in) == (200.0, 0.0, 0.0)
    assert span_two_points(200.0, 0.0, 36.0, EI).moment_inlb == 0.0


def test_no_load_no_effect():
    """A load of 0 gives 0 everywhere."""
    for effects in (span_uniform(0.0, 36.0, EI), span_midpoint(0.0, 36.0, EI), cantilever_end(0.0, 36.0, EI)):
        assert (effects.shear_lb, effects.moment_inlb, effects.deflection_in) == (0.0, 0.0, 0.0)


def test_effects_add_up():
    """Two loads on one member are added, and both workings stay readable."""
    both = add_effects(span_uniform(5.0, 36.0, EI), span_midpoint(100.0, 36.0, EI))
    assert both.shear_lb == 140.0
    assert both.moment_inlb == pytest.approx(5.0 * 36.0**2 / 8.0 + 900.0)
    assert "5wL^4/384EI" in both.working
    assert "PL^3/48EI" in both.working
    assert add_effects() == Effects(0, 0, 0, "")


def test_every_wrong_measure_is_named():
    """All faults come in one report."""
    with pytest.raises(JobError, match=r"(?s)span: -1 was given; give a number, more than 0\.\nstiffness: nan was given.*\nload: -5 .*0 or more"):
        span_uniform(-5.0, -1.0, math.nan)
    with pytest.raises(JobError, match=r"from_end_in: 40 was given; give a number, 0 to 36\."):
        span_point(1.0, 40.0, 36.0, EI)
    with pytest.raises(JobError, match=r"from_end_in: 19 was given; give a number, 0 to 18\."):
        span_two_points(1.0, 19.0, 36.0, EI)
    with pytest.raises(JobError, match="load: inf was given"):
        cantilever_uniform(math.inf, 36.0, EI)
    with pytest.raises(JobError, match="span: 0 was given"):
        cantilever_end(1.0, 0.0, EI)


@given(spans, loads, loads, st.floats(0.0, 1.0))
def test_a_heavier_load_never_does_less(span, lighter, heavier, place):
    """Shear, moment and deflection never fall when the load grows."""
    lighter, heavier = sorted((lighter, heavier))
    low, high = span_point(lighter, place * span, span, EI), span_point(heavier, place * span, span, EI)
    assert low.shear_lb <= high.shear_lb
    assert low.moment_inlb <= high.moment_inlb
    assert low.deflection_in <= high.deflection_in


@given(spans, loads, st.floats(0.0, 1.0))
def test_no_place_is_worse_than_the_middle(span, load, place):
    """A single load bends the member most at mid-span."""
    anywhere, middle = span_point(load, place * span, span, EI), span_midpoint(load, span, EI)
    assert anywhere.moment_inlb <= middle.moment_inlb * (1 + 1e-9) + 1e-9
    assert anywhere.deflection_in <= middle.deflection_in * (1 + 1e-9) + 1e-12


@given(spans, spans, loads)
def test_a_longer_span_never_bends_less(one, other, load):
    """Deflection under the same total load grows with the span."""
    short, long = sorted((one, other))
    assert span_uniform(load / short, short, EI).deflection_in <= span_uniform(load / long, long, EI).deflection_in * (1 + 1e-9)
