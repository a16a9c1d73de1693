"""A folder of jobs teaches its lists: proposed, accepted into new lists, refused and remembered; invented jobs never teach a firm's own lists."""

import datetime as dt
import errno
import math
from dataclasses import replace
from pathlib import Path

import pytest
from work_history import as_own

import kit
from kit.contract.events import Worked
from kit.contract.ledger import Ledger
from kit.errors import KitError
from kit.learning.deciding import accept_lessons, refuse_lesson, take_in_job
from kit.learning.decisions import read_decisions
from kit.learning.invented import INVENTED_REASON, InventedTruth, write_invented_history
from kit.learning.job_rows import list_jobs
from kit.learning.learn import Learning, learn_from_jobs
from kit.lists import Lists

DAY = dt.date(2026, 6, 1)


def lists_of(folder: Path) -> Lists:
    return kit.load_lists(folder / "price_lists")


def learn(folder: Path, lists: Lists | None = None, day: dt.date = DAY) -> Learning:
    return learn_from_jobs(folder, lists or lists_of(folder), day)


def first_proposed(learning: Learning):
    return next(lesson for lesson in learning.lessons if lesson.status == "proposed")


def test_an_invented_history_says_so_everywhere(demo):
    """In the ledger, in every document, in the table of jobs, and before anything is learned."""
    rows = list_jobs(demo).rows
    assert len(rows) == 12
    worked = [event.what for row in rows for event in Ledger(demo).events(row.number) if isinstance(event.what, Worked)]
    assert worked
    assert all(what.text == f"{lists_of(demo).steps[what.step].name} (invented)" for what in worked)
    assert all(row.invented and row.number.startswith("INVENTED-") for row in rows)
    assert all(INVENTED_REASON in path.read_text(encoding="utf-8") for path in demo.glob("INVENTED-*.json"))
    found = learn(demo)
    assert found.invented
    assert found.notes[0] == "All 12 jobs of this folder are invented: a demonstration. Nothing here says anything about your own work."


def test_the_same_seed_gives_the_same_truth_and_a_folder_with_anything_in_it_is_refused(demo):
    """Nothing is written into somebody's own folder."""
    company = lists_of(demo).company
    assert InventedTruth(4, company).of("hours", "visit") == InventedTruth(4, company).of("hours", "visit") != InventedTruth(5, company).of("hours", "visit")
    with pytest.raises(KitError, match=r"is not empty. An invented history needs a folder of its own"):
        write_invented_history(demo, jobs=1, seed=1)


def test_invented_jobs_never_teach_a_firms_own_lists(demo, own, tmp_path):
    """Not in a folder of invented jobs alone, and not among a firm's own: the lessons are those of the own jobs, to the last digit."""
    other = lists_of(own)
    alone = learn(demo, other)
    assert (alone.lessons, alone.jobs, alone.invented) == ((), (), False)
    assert alone.notes == ("12 invented jobs of a demonstration are left out: they teach no lists of yours.",)
    before = learn(own).lessons
    demonstration = Ledger(demo)
    for number in sorted(demonstration.contracts())[10:]:  # the ledger of a demonstration brought into the firm's own folder
        for path in demo.glob(f"{number}-*.json"):
            (own / path.name).write_bytes(path.read_bytes())
        Ledger(own).append_all(number, [(event.what, event.day) for event in demonstration.events(number)])
    mixed = learn(own)
    assert mixed.lessons == before
    assert (mixed.finished, mixed.notes) == (10, ("2 invented jobs of a demonstration are left out: they teach no lists of yours.",))
    with_lists_of_the_kit = learn_from_jobs(own, kit.load_lists(kit.shipped("price_lists")), DAY)  # own jobs are there: these teach
    assert with_lists_of_the_kit.finished == 10
    assert tmp_path.exists()


def test_nothing_is_proposed_from_fewer_jobs_than_the_company_asks_for(demonstration, tmp_path):
    """Seven jobs: shown, not proposed, and refused when somebody accepts it all the same."""
    folder = as_own(demonstration, tmp_path / "few", 7)
    found = learn(folder)
    assert {lesson.status for lesson in found.lessons} == {"too few jobs"}
    with pytest.raises(KitError, match=r"hours/order is based on 7 finished jobs; your company file asks for 8. Wait for more"):
        accept_lessons(found, ["hours/order"], who="Pat", home=tmp_path, valid_from=DAY)
    assert "too few jobs" not in {lesson.status for lesson in learn(as_own(demonstration, folder, 8)).lessons if lesson.jobs == 8}


def test_the_weight_of_the_lists_is_a_setting(own):
    """The more jobs the lists weigh, the nearer the answer stays to them; by hand: n x average / (n + weight)."""
    lists = lists_of(own)
    for weight in (1, 5, 40):
        found = learn(own, replace(lists, company=replace(lists.company, learn_prior_jobs=weight)))
        lesson = next(lesson for lesson in found.lessons if lesson.subject.id == "hours/order")
        values = [one.value for one in lesson.used]
        hand_mean = math.fsum(values) / (len(values) + weight)
        assert lesson.belief.mean == pytest.approx(hand_mean)


def test_what_is_accepted_stands_in_a_new_dated_folder_with_its_source(own):
    """The old folder is untouched; the row says from how many jobs, by whom, when; the figure is the one that was shown."""
    found = learn(own)
    lesson = first_proposed(found)
    folder = accept_lessons(found, [lesson.subject.id], who="Pat", home=own, valid_from=dt.date(2026, 7, 1))
    assert folder.name == "price_lists_2026-07-01"
    after = kit.load_lists(folder)
    changed = {file for file, text in after.texts.items() if text != found.lists.texts[file]}
    assert changed == {change.file for change in lesson.changes}
    for change in lesson.changes:
        assert change.after in after.texts[change.file]
    assert f"learned from {lesson.jobs} finished jobs, accepted by Pat on 2026-06-01" in after.texts[lesson.changes[0].file]
    (decision,) = read_decisions(own)
    assert (decision.kind, decision.subject, decision.who, len(decision.jobs)) == ("accepted", lesson.subject.id, "Pat", lesson.jobs)
    assert lists_of(own).texts == found.lists.texts


def test_after_acceptance_only_later_jobs_count_and_the_answer_is_that_of_all_at_once(demonstration, tmp_path):
    """The new lists carry what was believed: no job teaches twice; two more jobs then give the posterior of all twelve (but for the rounding in the list)."""
    folder = as_own(demonstration, tmp_path / "own", 10)
    company = lists_of(folder).company
    before = learn(folder)
    subject = next(one.subject.id for one in before.lessons if one.open and one.subject.kind == "hours" and not one.flagged)
    taken = accept_lessons(before, [subject], who="Pat", home=folder, valid_from=DAY)
    new = kit.load_lists(taken)
    (again,) = [lesson for lesson in learn(folder, new).lessons if lesson.subject.id == subject]
    assert (again.status, again.used, again.jobs) == ("as listed", (), 10)
    as_own(demonstration, folder, 12)
    (more,) = [lesson for lesson in learn(folder, new).lessons if lesson.subject.id == subject]
    (at_once,) = [lesson for lesson in learn(folder).lessons if lesson.subject.id == subject]
    assert (at_once.flagged, more.flagged) == ((), ())
    assert (len(more.used), more.jobs, more.belief.jobs) == (2, 12, 12 + company.learn_prior_jobs)
    moved = math.log(new.rates[more.changes[0].key].likely_h / before.lists.rates[more.changes[0].key].likely_h)
    assert more.belief.mean + moved == pytest.approx(at_once.belief.mean, abs=1e-3)
    assert more.belief.variance == pytest.approx(at_once.belief.variance, rel=0.01)


def test_a_refused_lesson_comes_back_only_when_more_jobs_have_ended(demonstration, tmp_path):
    """With its reason until then; what is refused can't be accepted."""
    folder = as_own(demonstration, tmp_path / "own", 10)
    subject = first_proposed(learn(folder)).subject.id
    with pytest.raises(KitError, match=r"--why is empty. Say why"):
        refuse_lesson(learn(folder), subject, who="Pat", why=" ")
    refuse_lesson(learn(folder), subject, who="Pat", why="two of them were training")
    (decision,) = read_decisions(folder)
    assert (decision.mean, decision.weight, decision.freedom, decision.variance, decision.cells) == (0, 0, 0, 0, ())  # it says nothing of the figure
    (lesson,) = [lesson for lesson in learn(folder).lessons if lesson.subject.id == subject]
    assert lesson.status == "refused"
    order = [("proposed", "refused", "not clear", "as listed", "too few jobs").index(lesson.status) for lesson in learn(folder).lessons]
    assert order == sorted(order)  # what is clear first; a refusal stands above what the jobs leave open
    assert len({*order}) > 2
    with pytest.raises(KitError, match=f"{subject} was refused on Mon, Jun 1, 2026: two of them were training. It comes back when more jobs have finished"):
        accept_lessons(learn(folder), [subject], who="Pat", home=folder, valid_from=DAY)
    as_own(demonstration, folder, 12)
    (lesson,) = [lesson for lesson in learn(folder).lessons if lesson.subject.id == subject]
    assert lesson.status != "refused"


@pytest.mark.parametrize(
    ("subjects", "who", "said"),
    [
        (["hours/nothing"], "Pat", '--accept: "hours/nothing" is not something jobs teach. Known: '),
        ([], "", "--by is empty. Say who accepts"),
    ],
)
def test_what_can_not_be_accepted_is_refused_and_nothing_is_written(own, subjects, who, said):
    """An unknown subject; nobody's name."""
    found = learn(own)
    with pytest.raises(KitError, match=said):
        accept_lessons(found, subjects or [first_proposed(found).subject.id], who=who, home=own, valid_from=DAY)
    assert read_decisions(own) == ()
    assert list(own.glob("price_lists_*")) == []


def test_a_job_that_stands_out_is_left_out_until_somebody_takes_it_in(own):
    """Twenty times the hours of the orders: shown with its distance, not counted; taken in with a reason it counts."""
    ledger, strange = Ledger(own), sorted(Ledger(own).contracts())[3]
    event = next(one for one in ledger.events(strange) if one.what.kind == "worked" and one.what.step == "order")
    ledger.append(strange, event.what.model_copy(update={"hours": event.what.hours * 20}), event.day)
    (lesson,) = [lesson for lesson in learn(own).lessons if lesson.subject.id == "hours/order"]
    (flagged,) = lesson.flagged
    assert flagged.observation.job == strange
    assert flagged.distance > flagged.limit
    assert strange not in {one.job for one in lesson.used}
    with pytest.raises(KitError, match=r'"NONE" is not a job left out as an outlier. Left out are: .*INVENTED'):
        take_in_job(learn(own), "NONE", who="Pat", why="x")
    take_in_job(learn(own), strange, who="Pat", why="the road was closed; it happens")
    (after,) = [lesson for lesson in learn(own).lessons if lesson.subject.id == "hours/order"]
    assert (after.flagged, len(after.used)) == ((), len(lesson.used) + 1)
    assert after.ratio > lesson.ratio


def test_what_nobody_proposed_is_not_refused_and_a_job_counts_for_a_reason(own):
    """A lesson that is in the lists is no open one; a job is taken in with a why, or not at all."""
    found = learn(own)
    subject = first_proposed(found).subject.id
    new = kit.load_lists(accept_lessons(found, [subject], who="Pat", home=own, valid_from=DAY))
    with pytest.raises(KitError, match=f"{subject} matches what the jobs say: there is nothing to accept"):
        refuse_lesson(learn(own, new), subject, who="Pat", why="x")
    ledger, strange = Ledger(own), sorted(Ledger(own).contracts())[3]
    event = next(one for one in ledger.events(strange) if one.what.kind == "worked" and one.what.step == "order")
    ledger.append(strange, event.what.model_copy(update={"hours": event.what.hours * 20}), event.day)
    with pytest.raises(KitError, match=r"--why is empty\. Say why an outlier should count"):
        take_in_job(learn(own), strange, who="Pat", why=" ")
    assert [decision.kind for decision in read_decisions(own)] == ["accepted"]


def test_a_decision_that_can_not_be_read_is_said(own):
    Ledger(own).add_decisions(["{}"], seen=0)
    with pytest.raises(KitError, match="a decision about what jobs teach can't be read"):
        read_decisions(own)


def test_an_invented_history_that_a_disk_refuses_leaves_nothing(tmp_path, monkeypatch):
    """A file where the folder should be; a disk that fills up under way."""
    (tmp_path / "file").write_text("mine", encoding="utf-8")
    with pytest.raises(KitError, match="can't be written: "):
        write_invented_history(tmp_path / "file" / "history", jobs=1, seed=1)

    def full(*_: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(Ledger, "append_all", full)
    with pytest.raises(KitError, match="history can't be written: the disk is full"):
        write_invented_history(tmp_path / "history", jobs=1, seed=1)
    assert [path.name for path in tmp_path.iterdir()] == ["file"]


def test_what_is_known_later_does_not_change_what_was_known_on_a_day(own):
    """Before the first job had ended nothing is learned."""
    assert learn(own, day=dt.date(2023, 1, 20)).lessons == ()
    half = learn(own, day=dt.date(2024, 8, 1))
    assert 0 < half.finished < 10


def test_two_who_decide_at_once_don_t_write_over_each_other(own):
    """The slower one looks again: no second folder, one decision."""
    found = learn(own)
    subject = first_proposed(found).subject.id
    accept_lessons(found, [subject], who="Pat", home=own, valid_from=DAY)
    with pytest.raises(KitError, match=r"Somebody else decided in the meantime\. Look again at what the jobs teach, then decide"):
        accept_lessons(found, [subject], who="Sam", home=own, valid_from=DAY)
    assert [folder.name for folder in own.glob("price_lists_*")] == ["price_lists_2026-06-01"]
    assert [decision.who for decision in read_decisions(own)] == ["Pat"]


def test_what_was_accepted_from_invented_jobs_is_no_belief_about_own_ones(demonstration, demo):
    """A firm goes on in the folder of a demonstration, with the lists that it accepted there: its own jobs start from the lists' plain weight."""
    found = learn(demo)
    subject = first_proposed(found).subject.id
    taken = accept_lessons(found, [subject], who="Pat", home=demo, valid_from=DAY)
    assert taken.name == "invented_price_lists_2026-06-01"
    as_own(demonstration, demo / "mine", 10)
    for path in (demo / "mine").glob("*.json"):
        (demo / path.name.replace("INVENTED", "OWN")).write_bytes(path.read_bytes())
    ledger = Ledger(demo)
    for number in Ledger(demo / "mine").contracts():
        happened = [(event.what, event.day) for event in Ledger(demo / "mine").events(number)]
        ledger.append_all(number.replace("INVENTED", "OWN"), happened)
    after = learn(demo, kit.load_lists(taken))
    assert (after.invented, after.finished) == (False, 10)
    (lesson,) = [lesson for lesson in after.lessons if lesson.subject.id == subject]
    assert (lesson.earlier, lesson.prior.jobs, lesson.prior.mean) == ((), after.lists.company.learn_prior_jobs, 0.0)


def test_a_new_job_is_tested_beside_those_that_taught_before(demonstration, tmp_path):
    """After acceptance one more job, twenty times as long: it stands out among all, though it is the only new one."""
    folder = as_own(demonstration, tmp_path / "own", 11)
    before = learn(folder)
    subject = next(lesson.subject for lesson in before.lessons if lesson.subject.id == "hours/seal")
    new = kit.load_lists(accept_lessons(before, [subject.id], who="Pat", home=folder, valid_from=DAY))
    as_own(demonstration, folder, 12)
    ledger, number = Ledger(folder), "INVENTED-012"
    event = next(one for one in ledger.events(number) if one.what.kind == "worked" and one.what.step == subject.row)
    ledger.append(number, event.what.model_copy(update={"hours": event.what.hours * 20}), event.day)
    (lesson,) = [lesson for lesson in learn(folder, new).lessons if lesson.subject.id == subject.id]
    assert [one.observation.job for one in lesson.flagged] == [number]
    assert (lesson.used, lesson.jobs) == ((), 11)
