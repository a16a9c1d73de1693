"""Would learning have helped? By hand on a few jobs; nobody is predicted from a job that had not ended; offers signed against scipy."""

import datetime as dt
import math
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest
from scipy.stats import beta
from work_history import FIRST_END, LISTS, finished_job, hours

from kit.learning.back_test import _whole_cost, back_test
from kit.learning.belief import update_belief
from kit.learning.learn import Learning, prior_of
from kit.learning.offer_shares import offer_shares

COMPANY = replace(LISTS.company, learn_from_jobs=2)
EXPECTED = 4 * LISTS.rates["frame-member"].likely_h * 1.05


def learning(*jobs):
    return Learning(Path(), FIRST_END + dt.timedelta(days=365), replace(LISTS, company=COMPANY), jobs, invented=False, lessons=(), notes=())


def jobs_taking(*ratios):
    """A job a week, offered six weeks before it ended: the seventh knows the first of them."""
    return [finished_job(number, hours("build-frame", EXPECTED * ratio)) for number, ratio in enumerate(ratios)]


def test_each_job_is_predicted_from_those_that_had_ended_before_its_offer():
    """By hand: of ten jobs the ninth and tenth are predicted, from two and three; learned errors and the prior's; both intervals held or not."""
    ratios = (1.4, 1.5, 1.3, 1.4, 1.5, 1.4, 1.3, 1.4, 1.45, 3.0)
    (found,) = [test for test in back_test(learning(*jobs_taking(*ratios))) if test.name == "Hours of a step"]
    prior, logs = prior_of(COMPANY, "hours"), [math.log(ratio) for ratio in ratios]
    ninth, tenth = (update_belief(prior, logs[:count]) for count in (2, 3))
    hand_away = (ninth.mean - logs[8], tenth.mean - logs[9])
    assert found.predictions == 2
    assert found.after.mean_error == pytest.approx(sum(1 - math.exp(away) for away in hand_away) / 2)
    assert found.after.bias == pytest.approx(-found.after.mean_error)  # both too low: as far under as off
    assert found.before.mean_error == pytest.approx(((1 - 1 / 1.45) + (1 - 1 / 3.0)) / 2)
    assert (found.before.coverage, found.after.coverage) == (0.5, 0.5)  # three times as long lies outside of all of them


def test_predictions_run_no_further_over_or_under_than_they_lie_off():
    """All too low by different shares: the mean error is the mean absolute one, and never more, as that of the logarithms was."""
    (found,) = [test for test in back_test(learning(*jobs_taking(1, 1, 1, 1, 1, 1, 1, 1, 1.1, 1.9))) if test.name == "Hours of a step"]
    hand_error = ((1 - 1 / 1.1) + (1 - 1 / 1.9)) / 2
    assert (found.before.bias, found.before.mean_error) == pytest.approx((-hand_error, hand_error))


def test_whole_jobs_are_held_against_what_was_promised():
    """Hours of all steps together; direct cost as promised: 700 against 750 each, 1 - 700 / 750 too little."""
    found = {test.name: test for test in back_test(learning(*jobs_taking(*[1.2] * 9)))}
    assert set(found) == {"Hours of a whole job", "Direct cost of a whole job", "Hours of a step"}
    assert found["Hours of a whole job"].before.bias == pytest.approx(1 / 1.2 - 1)
    assert found["Direct cost of a whole job"].before.bias == pytest.approx(700 / 750 - 1)
    assert found["Direct cost of a whole job"].after.mean_error < found["Direct cost of a whole job"].before.mean_error


def test_a_job_without_a_cost_on_both_sides_predicts_nothing():
    """Half a dollar is a cost; nothing promised, nothing spent, or more given back than spent is none, and no job of them counts."""
    costs = [("0.50", "0.50"), ("0.00", "5.00"), ("5.00", "0.00"), ("5.00", "-1.00")]
    jobs = [finished_job(number, cost_promised=Decimal(promised), cost_real=Decimal(real)) for number, (promised, real) in enumerate(costs)]
    assert [one.job for one in _whole_cost({job.number: job for job in jobs})] == ["JOB-00"]


def test_too_few_jobs_give_no_back_test():
    """Nothing that was predicted from less than is asked for."""
    assert back_test(learning(*jobs_taking(1.1, 1.2, 1.3))) == ()


@pytest.mark.parametrize(("signed", "lost"), [(0, 8), (8, 0), (3, 7), (60, 40)])
def test_the_share_of_offers_signed_has_the_interval_of_its_beta_distribution(signed, lost):
    """scipy's quantiles for 1 + signed and 1 + not signed."""
    offers = [finished_job(number) for number in range(signed)]
    offers += [finished_job(signed + number, stage="offered", signed=None, ended=None) for number in range(lost)]
    found = replace(learning(*offers), day=dt.date(2035, 1, 1))
    by_mount, by_counter = offer_shares(found)
    scipy_limits = beta.ppf([0.05, 0.95], 1 + signed, 1 + lost)
    assert (by_mount.signed_low, by_mount.signed_high) == pytest.approx(scipy_limits, abs=1e-5)
    assert (by_mount.by, by_mount.name, by_counter.by, by_counter.name) == ("mount", "under", "counter", "3 cm stone countertop")
    assert (by_mount.decided, by_mount.signed, by_mount.share) == (signed + lost, signed, signed / (signed + lost))


def test_margins_and_shares_are_given_where_there_are_enough():
    """One job is one job; an offer that may still be signed counts neither way; a canceled one was signed."""
    (one, _) = offer_shares(learning(finished_job(1)))
    assert (one.decided, one.signed_low, one.margin) == (1, None, None)
    margins = [finished_job(number, hours("build-frame", 1.0), cost_real=cost) for number, cost in enumerate((700, 740, 780))]
    waiting = finished_job(4, stage="offered", signed=None, ended=None, valid_until=dt.date(2099, 1, 1))
    canceled = finished_job(5, stage="canceled")
    (enough, _) = offer_shares(learning(*margins, waiting, canceled))
    assert (enough.decided, enough.signed, enough.finished) == (4, 4, 3)
    assert enough.margin is not None
    assert enough.margin.mean == pytest.approx((0.30 + 0.26 + 0.22) / 3)
    (two, _) = offer_shares(learning(*margins[:2]))
    assert (two.finished, two.margin is None, two.signed_low is None) == (2, False, False)  # two are asked for


def test_an_offer_may_be_signed_on_its_last_day():
    """It is decided the day after."""
    for days, hand_decided in ((0, 1), (1, 2)):
        found = learning(finished_job(1), finished_job(2, stage="offered", signed=None, ended=None, valid_until=FIRST_END))
        (by_mount, _) = offer_shares(replace(found, day=FIRST_END + dt.timedelta(days=days)))
        assert by_mount.decided == hand_decided


def test_a_job_that_ended_on_the_day_of_an_offer_was_not_known_then():
    """Two that ended before it are asked for: the second ended on that day, or on the day before."""
    for day, hand_tests in ((FIRST_END, 0), (FIRST_END + dt.timedelta(days=1), 1)):
        known = [finished_job(number, hours("build-frame", EXPECTED), ended=FIRST_END - dt.timedelta(days=number)) for number in (0, 1)]
        offered = finished_job(5, hours("build-frame", EXPECTED), offered=day)
        found = [test.predictions for test in back_test(learning(*known, offered)) if test.name == "Hours of a step"]
        assert found == [1] * hand_tests
