"""Which rates a lesson of hours moves: those of the work that its jobs had, kinds of work that never met in one job apart; by hand."""

import datetime as dt
import math
from dataclasses import replace

import pytest
from work_history import LISTS, finished_job, hours

import kit
from kit.draw.book_tables import draw_lessons
from kit.learning import learn
from kit.learning.belief import Interval
from kit.learning.deciding import accept_lessons
from kit.learning.job_rows import FolderJobs, PlannedStep
from kit.learning.words import figure_words, interval_words, moved_rows

DAY = dt.date(2026, 12, 1)


def sealed(number, ratio, **feet):
    """A finished job that sealed, or bedded and wiped, so many feet, in `ratio` times the hours of today's rates."""
    work = tuple((name.replace("_", "-"), quantity) for name, quantity in feet.items())
    expected = math.fsum(quantity * LISTS.rates[driver].likely_h for driver, quantity in work)
    return finished_job(number, hours("seal", expected * ratio, code="190"), steps={"seal": PlannedStep("190", expected, work, 1.0)})


@pytest.fixture
def teach(tmp_path, monkeypatch):
    """What some jobs teach, by the id of the subject."""

    def read(jobs, lists=LISTS):
        monkeypatch.setattr(learn, "list_jobs", lambda *_: FolderJobs(tuple(jobs), ()))
        found = learn.learn_from_jobs(tmp_path, lists, DAY)
        return found, {lesson.subject.id: lesson for lesson in found.lessons}

    return read


def test_kinds_of_work_that_never_met_are_learned_apart(teach):
    """Eight undermounts took half as long again, eight drop-ins what was listed: the rate of sealing moves alone, by 8 / 13 of the logarithm (5 jobs weigh
    the lists): 0.05 h x 1.5 ^ (8 / 13) = 0.06417 h."""
    learning, found = teach([*(sealed(n, 1.5, seal_foot=20) for n in range(8)), *(sealed(n, 1.0, wipe_rim_foot=10) for n in range(8, 16))])
    assert set(found) == {"hours/seal/seal-foot", "hours/seal/wipe-rim-foot"}
    slow, listed = found["hours/seal/seal-foot"], found["hours/seal/wipe-rim-foot"]
    assert (slow.status, slow.subject.name, slow.subject.step) == ("proposed", "Seal the joints: Mask, fill and tool sealant", "hours/seal")
    assert {change.key for change in slow.changes} == {"seal-foot"}
    assert next(change.after for change in slow.changes if change.column == "likely") == "0.06417 h"
    assert (listed.status, listed.changes) == ("as listed", ())
    assert "Not shown: 1 that may be right as listed.<" in draw_lessons(learning)  # and nothing of what there is none of


def test_kinds_of_work_that_met_move_together_and_what_no_job_had_stays(teach):
    """One job that had both links them; the shares are those of the hours: 8 x 20 ft x 0.05 h = 8 h and 10 ft x 0.02 h = 0.2 h."""
    together = [*(sealed(n, 1.5, seal_foot=20) for n in range(7)), sealed(7, 1.5, seal_foot=20, wipe_rim_foot=10)]
    learning, found = teach(together)
    (lesson,) = found.values()
    assert lesson.subject.id == "hours/seal"
    assert {change.key for change in lesson.changes} == {"seal-foot", "wipe-rim-foot"}
    assert [(one.driver, one.jobs, round(one.share, 4)) for one in lesson.moves] == [
        ("seal-foot", 8, round(8 / 8.2, 4)),
        ("wipe-rim-foot", 1, round(0.2 / 8.2, 4)),
    ]
    assert lesson.stays == ("Seal the grout",)
    said = ("Hours: Seal the joints", "Mask, fill and tool sealant 98%, Bed and wipe a thin rim 2%", "Seal the grout")
    assert moved_rows(learning.lessons) == [said]
    assert all(words in draw_lessons(learning) for words in said[1:])
    assert "Not shown" not in draw_lessons(learning)


def test_what_was_accepted_of_a_step_still_counts_when_a_new_kind_of_work_comes(teach, tmp_path):
    """The first drop-in parts the step in two: the undermounts that taught don't teach again, and the drop-in starts from the lists."""
    taught = [sealed(n, 1.5, seal_foot=20) for n in range(8)]
    learning, _ = teach(taught)
    folder = accept_lessons(learning, ["hours/seal"], who="Pat", home=tmp_path, valid_from=DAY)
    lists = kit.load_lists(folder)
    assert lists.rates["wipe-rim-foot"] == LISTS.rates["wipe-rim-foot"]
    _, found = teach([*taught, sealed(8, 1.2, wipe_rim_foot=10)], lists)
    again, new = found["hours/seal/seal-foot"], found["hours/seal/wipe-rim-foot"]
    assert (again.status, again.used, again.jobs) == ("as listed", (), 8)
    assert (new.status, new.earlier, new.jobs, new.prior.mean) == ("too few jobs", (), 1, 0.0)


def test_kinds_of_work_that_meet_later_are_not_taught_twice_by_the_jobs_from_before(teach, tmp_path):
    """Learned apart and taken over, 8 jobs each; then one job has both: only that job is new, and it weighs against the 13 of the belief (5 + 8)."""
    apart = [*(sealed(n, 1.5, seal_foot=20) for n in range(8)), *(sealed(n, 0.5, wipe_rim_foot=10) for n in range(8, 16))]
    learning, _ = teach(apart)
    folder = accept_lessons(learning, ["hours/seal/seal-foot", "hours/seal/wipe-rim-foot"], who="Pat", home=tmp_path, valid_from=DAY)
    lists = kit.load_lists(folder)
    both = [("seal-foot", 20), ("wipe-rim-foot", 10)]
    hand_hours = 2 * math.fsum(feet * lists.rates[driver].likely_h for driver, feet in both)
    met = finished_job(16, hours("seal", hand_hours, code="190"), steps={"seal": PlannedStep("190", hand_hours / 2, tuple(both), 1.0)})
    _, found = teach([*apart, met], lists)
    (lesson,) = found.values()
    assert len(lesson.earlier) == 16
    assert [one.job for one in lesson.used] == [met.number]
    assert lesson.prior.jobs == 13
    assert lesson.belief.mean == pytest.approx(lesson.prior.mean + (math.log(2) - lesson.prior.mean) / 14, abs=1e-3)


def test_what_is_not_clear_can_be_taken_over_too(teach, tmp_path):
    """The lists' figure may be right; a person who knows better decides."""
    learning, found = teach(sealed(n, ratio, seal_foot=20) for n, ratio in enumerate((1.0, 1.1) * 4))
    assert found["hours/seal"].status == "not clear"
    folder = accept_lessons(learning, ["hours/seal"], who="Pat", home=tmp_path, valid_from=DAY)
    assert kit.load_lists(folder).rates["seal-foot"].likely_h == pytest.approx(0.05 * math.exp(4 * math.log(1.1) / 13), rel=1e-3)


def test_figures_are_said_as_people_say_them(teach):
    """Eight jobs at half as long again: 1.5 ^ (8 / 13) = 1.2834; days of a wait never go below none: (0 + 1) x 0.5 - 1."""
    _, found = teach(sealed(n, 1.5, seal_foot=20) for n in range(8))
    lesson = found["hours/seal"]
    assert figure_words(lesson, 1.0) == "100%"
    assert figure_words(lesson, lesson.ratio) == "128%"
    assert interval_words(lesson, Interval(0.9, 1.2, "rate")) == "90% to 120%"
    wait = replace(lesson, subject=replace(lesson.subject, kind="days"), listed=0.0)
    assert interval_words(wait, Interval(0.5, 3.0, "next job")) == "0.0 to 2.0 days"
    waste = replace(lesson, subject=replace(lesson.subject, kind="waste"), listed=0.05)
    assert interval_words(waste, Interval(0.90, 0.94, "rate")) == "no waste"
    assert interval_words(waste, Interval(0.90, 1.0, "rate")) == "0.0% to 5.0%"


def test_of_many_rates_that_stay_three_are_named(teach):
    """Five that no job had: three by name, two counted."""
    _, found = teach(sealed(n, 1.5, seal_foot=20) for n in range(8))
    lesson = replace(found["hours/seal"], stays=("one", "two", "three", "four", "five"))
    assert moved_rows([lesson])[0][2] == "one, two, three and 2 more"
    assert moved_rows([replace(lesson, stays=("one", "two", "three"))])[0][2] == "one, two, three"
