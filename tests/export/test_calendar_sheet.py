"""The sheet Calendar holds what the outlook says: every step, the dates that people ask for, and the spread."""

import datetime as dt
import io

import export_demo as demo
import openpyxl
import pytest

from kit.outlook import assess_risk, plan_schedule
from kit.units import format_days


@pytest.fixture(scope="module", params=demo.SOME)
def sheet(request):
    """An estimate, and its sheet as rows of values."""
    estimate = demo.example(request.param)
    book = openpyxl.load_workbook(io.BytesIO(demo.workbook_of(request.param)), data_only=True)
    return estimate, [tuple(cell.value for cell in row) for row in book["Calendar"].iter_rows()]


def test_every_step_stands_with_its_instants(sheet):
    """In the order of the calendar, by half days, with its people."""
    estimate, rows = sheet
    identity, days_to_sign = estimate.job.identity, estimate.lists.company.days_to_sign
    hand_signed = estimate.job.terms.signed_on or identity.visit_date + dt.timedelta(days=days_to_sign)
    hand_days = (
        f"{identity.visit_date.year} and a signature on {hand_signed:%a, %b} {hand_signed.day}, worked out when this file was written"  # the year of all
    )
    assert hand_days in rows[1][0]
    by_step = {row[0]: row for row in rows}
    for step in plan_schedule(estimate).schedule.steps:
        row = by_step[estimate.step_names[step.step]]
        hand_halves = [f"{when:%a, %b} {when.day}, {'morning' if when.hour < 12 else 'afternoon'}" for when in (step.start, step.finish)]
        assert [*row[3:5]] == hand_halves
        assert (row[2], row[6]) == (step.crew, pytest.approx(step.float_h, abs=0.006))


def test_dates_and_spread_are_those_of_the_outlook(sheet):
    """Days without a sink, and what four of five trials don't exceed."""
    estimate, rows = sheet
    told, schedule, risk = {row[0]: row for row in rows if row[0]}, plan_schedule(estimate), assess_risk(estimate)
    days = schedule.days_without_sink
    assert told["Without a kitchen sink"][3] == ("-" if days is None else format_days(days))
    lent = schedule.days_with_temporary_sink  # told where it makes a difference: none in a swap of one day
    assert ("With a temporary sink lent" in told) is (days is not None and lent is not None and format_days(days) != format_days(lent))
    assert told["Trips"][3] == str(len(schedule.trips) + (estimate.job.terms.extra_trips or 0))
    assert told["4 in 5"][3] == pytest.approx(float(risk.cost_at(0.8)))
    assert told["1 in 10"][3] < told["1 in 2"][3] < told["9 in 10"][3]
    assert told["Chance that the job loses money"][3] == pytest.approx(risk.chance_to_lose)
