"""Issued estimates: never overwritten, opened again with the same totals, refused where a finding says stop."""

import datetime as dt
import gzip
import json
import os
import shutil
import time
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

import kit
from kit.errors import IssueError
from kit.estimating import revalue
from kit.issued import issue_estimate, list_issued, open_issued
from kit.job import change_job
from kit.money import format_money
from kit.records import Kind
from kit.whole_files import DRAFT

LISTS = kit.load_lists(kit.shipped("price_lists"))
JOB = kit.read_job(kit.shipped("examples") / "counter_stays_sink_only.toml")
DAY = dt.date(2026, 4, 14)


def walked(feet: int) -> kit.Job:
    """The job with another way from the truck."""
    return change_job(JOB, {"site.carry": f"{feet} ft"})


def test_opened_again_it_gives_what_was_issued(tmp_path):
    """Job, lists, assumptions and totals come back as they were."""
    made = kit.estimate(JOB, LISTS)
    path = issue_estimate(made, tmp_path, today=DAY)
    issued = open_issued(path)
    assert (issued.revision, issued.issued, issued.stop_reason, issued.changes) == (1, DAY, None, ())
    assert issued.estimate.job_as_read == JOB
    assert issued.estimate.assumptions == made.assumptions
    assert (issued.estimate.price, issued.estimate.cost, issued.estimate.lines) == (made.price, made.cost, made.lines)


def test_totals_stay_after_prices_have_moved(tmp_path):
    """The lists inside the document count, not those on the shelf."""
    folder = tmp_path / "lists"
    shutil.copytree(kit.shipped("price_lists"), folder)
    made = kit.estimate(JOB, kit.load_lists(folder))
    path = issue_estimate(made, tmp_path, today=DAY)
    prices = folder / "prices.csv"
    text = prices.read_text(encoding="utf-8")
    head, *rows = text.splitlines()
    at = head.split(",").index("price")
    moved = [",".join([*cells[:at], f"{float(cells[at]) * 2:.2f}", *cells[at + 1 :]]) for cells in (row.split(",") for row in rows if '"' not in row)]
    prices.write_text("\n".join([head, *moved, *[row for row in rows if '"' in row]]) + "\n", encoding="utf-8")
    assert kit.estimate(JOB, kit.load_lists(folder)).price > made.price
    assert open_issued(path).estimate.price == made.price


def test_a_revision_says_what_changed_and_leaves_the_first_alone(tmp_path):
    """The second file stands beside the first and names field and price."""
    first = issue_estimate(kit.estimate(JOB, LISTS), tmp_path, today=DAY)
    before = first.read_bytes()
    heavier = change_job(JOB, {"site.carry": "190 ft"})
    second = issue_estimate(kit.estimate(heavier, LISTS), tmp_path, today=DAY)
    assert first.read_bytes() == before
    assert list_issued(tmp_path, JOB.identity.job_number) == [first, second]
    changes = open_issued(second).changes
    assert any(change.startswith("Walk from truck to kitchen: ") and change.endswith(" -> 190 ft") for change in changes)
    assert any(change.startswith("Price: ") for change in changes)


def test_a_stop_is_refused_unless_the_reason_is_stated(tmp_path):
    """Issuing against a stop needs a reason, which becomes part of the document."""
    made = kit.estimate(change_job(JOB, {"cabinet.swollen_side": "both"}), LISTS)
    assert not made.buildable
    with pytest.raises(IssueError, match=r"Cabinet sides.*says stop.*state why"):
        issue_estimate(made, tmp_path, today=DAY)
    with pytest.raises(IssueError, match="says stop"):
        issue_estimate(made, tmp_path, stop_reason="  ", today=DAY)
    assert list(tmp_path.iterdir()) == []
    path = issue_estimate(made, tmp_path, stop_reason="sides are doubled first, agreed with the customer", today=DAY)
    assert open_issued(path).stop_reason == "sides are doubled first, agreed with the customer"


def test_a_changed_file_is_not_opened(tmp_path):
    """A price touched up by hand is noticed; so are other files."""
    path = issue_estimate(kit.estimate(JOB, LISTS), tmp_path, today=DAY)
    document = json.loads(path.read_text(encoding="utf-8"))
    document["result"]["price"] = "1.00"
    path.write_text(json.dumps(document), encoding="utf-8")
    with pytest.raises(IssueError, match="was changed after it was issued"):
        open_issued(path)
    path.write_text('{"kind": "something else"}', encoding="utf-8")
    with pytest.raises(IssueError, match="is not an issued estimate"):
        open_issued(path)
    path.write_bytes(b"\xff\xfe")
    with pytest.raises(IssueError, match="is not an issued estimate"):
        open_issued(path)
    with pytest.raises(IssueError, match="can't be read"):
        open_issued(tmp_path / "absent.json")


def test_job_numbers_with_signs_get_their_own_files(tmp_path):
    """A slash in a job number neither leaves the folder nor meets another number's files."""
    slashed = change_job(JOB, {"identity.job_number": "../A/1"})
    plain = change_job(JOB, {"identity.job_number": "A-1"})
    one = issue_estimate(kit.estimate(slashed, LISTS), tmp_path, today=DAY)
    other = issue_estimate(kit.estimate(plain, LISTS), tmp_path, today=DAY)
    assert one.parent == other.parent == tmp_path
    assert one != other
    assert open_issued(other).revision == 1


def test_an_unproven_plan_is_never_issued(tmp_path):
    """First plans of a drag don't leave the house."""
    from dataclasses import replace

    made = kit.estimate(JOB, LISTS)
    open_plan = replace(made, purchases=(replace(made.purchases[0], proven=False), *made.purchases[1:]))
    with pytest.raises(IssueError, match="not all proven"):
        issue_estimate(open_plan, tmp_path, today=DAY)


def test_a_revision_follows_the_last_one_that_is_there(tmp_path):
    """A lost first revision is no gap to fill; more than 99 are counted on."""
    first, second = (issue_estimate(kit.estimate(walked(feet), LISTS), tmp_path, today=DAY) for feet in (80, 90))
    first.unlink()
    third = issue_estimate(kit.estimate(walked(100), LISTS), tmp_path, today=DAY)
    assert open_issued(third).revision == 3
    third.rename(tmp_path / second.name.replace("-r02", "-r99"))
    hundredth = issue_estimate(kit.estimate(walked(110), LISTS), tmp_path, today=DAY)
    assert hundredth.name.endswith("-r100.json")
    assert list_issued(tmp_path, JOB.identity.job_number)[-1] == hundredth
    assert open_issued(issue_estimate(kit.estimate(walked(120), LISTS), tmp_path, today=DAY)).revision == 101


@pytest.mark.parametrize("files", [{}, {"a.txt": b"sent"}], ids=["alone", "with files"])
def test_a_file_that_can_not_be_written_whole_is_not_left_behind(tmp_path, monkeypatch, files):
    """A disk that is full leaves neither half a document nor a folder of what was to be sent."""

    def full(file):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("kit.whole_files.os.fsync", full)
    with pytest.raises(IssueError, match="can't be written: the disk is full"):
        issue_estimate(kit.estimate(JOB, LISTS), tmp_path, make_files=lambda *_: files, today=DAY)
    assert list(tmp_path.iterdir()) == []


def test_two_at_once_never_get_one_number(tmp_path):
    """The slower one is told to issue again; nothing of it is written, and the first stays as it is."""
    quick = []

    def overtaken(estimate, issued):
        quick.append(issue_estimate(kit.estimate(walked(80), LISTS), tmp_path, make_files=lambda *_: {"a.txt": b"first"}, today=DAY))
        return {"a.txt": b"second"}

    with pytest.raises(IssueError, match=r"DEMO-005-r01\.json was issued by somebody else in the meantime.*then issue again"):
        issue_estimate(kit.estimate(JOB, LISTS), tmp_path, make_files=overtaken, today=DAY)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["DEMO-005-r01", "DEMO-005-r01.json"]
    assert open_issued(quick[0]).files() == {"a.txt": b"first"}
    assert open_issued(issue_estimate(kit.estimate(JOB, LISTS), tmp_path, today=DAY)).revision == 2


def test_two_documents_at_once_never_get_one_number(tmp_path):
    """The same where no files go with it, and where only one of the two has some."""
    for slower in ({}, {"a.txt": b"second"}):
        folder = tmp_path / f"{len(slower)}"
        folder.mkdir()

        def overtaken(*_, folder=folder, slower=slower):
            issue_estimate(kit.estimate(walked(80), LISTS), folder, today=DAY)
            return slower

        with pytest.raises(IssueError, match="then issue again"):
            issue_estimate(kit.estimate(JOB, LISTS), folder, make_files=overtaken, today=DAY)
        assert [path.name for path in folder.iterdir()] == ["DEMO-005-r01.json"]


def test_nothing_changed_is_said_and_nothing_written(tmp_path):
    """The same job with the same lists on another day is no revision; with a reason it goes out once more."""
    made = kit.estimate(JOB, LISTS)
    issue_estimate(made, tmp_path, today=DAY)
    with pytest.raises(IssueError, match=r"DEMO-005: Nothing changed since DEMO-005-r01 of Tue, Apr 14, 2026, so nothing is written"):
        issue_estimate(made, tmp_path, today=DAY + dt.timedelta(days=1))
    assert len(list(tmp_path.iterdir())) == 1
    again = open_issued(issue_estimate(made, tmp_path, today=DAY, stop_reason="the first letter was lost"))
    assert (again.revision, again.changes) == (2, ("Reason: none -> the first letter was lost",))


def test_a_job_number_is_matched_whole(tmp_path):
    """Job 12 after 12-roof is its own first revision and tells nothing of the other customer."""
    roof = change_job(JOB, {"identity.job_number": "12-roof", "identity.address": "another house"})
    issue_estimate(kit.estimate(roof, LISTS), tmp_path, today=DAY, make_files=lambda *_: {"a.txt": b"roof"})
    plain = open_issued(issue_estimate(kit.estimate(change_job(JOB, {"identity.job_number": "12"}), LISTS), tmp_path, today=DAY))
    assert (plain.revision, plain.changes) == (1, ())
    other = change_job(JOB, {"identity.job_number": "12-r01"})
    assert open_issued(issue_estimate(kit.estimate(other, LISTS), tmp_path, today=DAY)).revision == 1


@pytest.mark.parametrize("content", [b"", b'{"kind": "sinkset issued', None], ids=["empty", "half", "changed"])
def test_a_damaged_revision_never_blocks_the_next(tmp_path, content):
    """Its number counts as taken; what changed is held against the last one that opens."""
    issue_estimate(kit.estimate(walked(80), LISTS), tmp_path, today=DAY)
    second = issue_estimate(kit.estimate(walked(90), LISTS), tmp_path, today=DAY)
    second.write_bytes(second.read_bytes().replace(b"90 ft", b"95 ft") if content is None else content)
    third = open_issued(issue_estimate(kit.estimate(walked(100), LISTS), tmp_path, today=DAY))
    assert third.revision == 3
    assert "Walk from truck to kitchen: 80 ft -> 100 ft" in third.changes


def test_what_was_sent_is_kept_byte_for_byte(tmp_path):
    """The files stand beside the document with their fingerprints; one that was touched up or is gone is named, and the promise still opens."""
    sent = {"one.pdf": b"paper", "two.csv": b"rows"}
    path = issue_estimate(kit.estimate(JOB, LISTS), tmp_path, make_files=lambda *_: sent, today=DAY)
    issued = open_issued(path)
    assert issued.files() == sent
    assert (tmp_path / "DEMO-005-r01" / "one.pdf").read_bytes() == b"paper"
    (tmp_path / "DEMO-005-r01" / "one.pdf").write_bytes(b"papers")
    (tmp_path / "DEMO-005-r01" / "two.csv").unlink()
    again = open_issued(path)
    with pytest.raises(IssueError, match=r"DEMO-005-r01/one\.pdf was changed after it was sent.*backup"):
        again.file("one.pdf")
    with pytest.raises(IssueError, match=r"two\.csv was sent with DEMO-005-r01 and can't be read"):
        again.file("two.csv")
    with pytest.raises(IssueError, match="was not sent with DEMO-005-r01"):
        again.file("three.pdf")
    assert again.price == issued.price


def test_a_revalued_estimate_opens_as_it_was_issued(tmp_path):
    """Prices, hours and terms entered by hand, twice over, are promised and worked out again."""
    made = kit.estimate(JOB, LISTS)
    bought, worked = made.purchases[0].id, next(line.item for line in made.lines if line.kind is Kind.DO)
    first = revalue(made, {bought: "99.50 USD"}, {worked: 0.5}, {"in:overhead": Decimal("0.3")})
    revalued = revalue(first, {made.purchases[1].id: "12.25 USD"}, {worked: 0.75}, {})
    issued = open_issued(issue_estimate(revalued, tmp_path, today=DAY))
    assert issued.price == revalued.price != made.price
    assert not issued.differences()
    assert issued.estimate == replace(revalued, lists=issued.estimate.lists)


def test_lists_of_ones_own_issue_and_open(tmp_path):
    """Also lists that were changed in the program, whose texts no longer say the same: the promise stands, and the difference is told."""
    company = replace(LISTS.company, wage=Decimal("61.00"))
    made = kit.estimate(JOB, replace(LISTS, company=company))
    issued = open_issued(issue_estimate(made, tmp_path, today=DAY))
    assert (issued.price, issued.draws.contract) == (made.price, made.price)
    assert issued.differences().amount == kit.estimate(JOB, LISTS).price - made.price


PROMISE = Path(__file__).parent / "promises" / "DEMO-006-r01" / "DEMO-006-r01.json.gz"


def test_a_later_format_is_refused(tmp_path):
    """It is for the version that wrote it; one that was touched up says so."""
    path = tmp_path / "DEMO-006-r01.json"
    path.write_bytes(gzip.decompress(PROMISE.read_bytes()).replace(b'"revision": 1', b'"revision": 2'))
    with pytest.raises(IssueError, match="was changed after it was issued"):
        open_issued(path)
    path.write_text(json.dumps({"kind": "sinkset issued estimate", "format": 5}), encoding="utf-8")
    with pytest.raises(IssueError, match=r'format: "5" is not known to this version of the kit'):
        open_issued(path)


def test_a_job_is_issued_again_after_one_of_the_first_format(tmp_path):
    """The next revision stands beside the old file, which stays as it was sent, and says what differs."""
    old = tmp_path / "DEMO-006-r01.json"
    old.write_bytes(gzip.decompress(PROMISE.read_bytes()))
    before = old.read_bytes()
    job = change_job(JOB, {"identity.job_number": "DEMO-006"})
    issued = open_issued(issue_estimate(kit.estimate(job, LISTS), tmp_path, today=DAY))
    assert old.read_bytes() == before
    assert issued.revision == 2
    assert f"Price: $14,195.07 -> {format_money(issued.price)}" in issued.changes


def test_what_a_killed_writer_left_goes_with_the_next_one(tmp_path):
    """A draft of hours ago is cleared away; one of just now may still be written to."""
    for name, age_s in (("old", 7200), ("new", 0)):
        draft = tmp_path / f"{DRAFT}{name}"
        draft.mkdir()
        (draft / "half.pdf").write_bytes(b"%PDF")
        os.utime(draft, (time.time() - age_s,) * 2)
    issue_estimate(kit.estimate(JOB, LISTS), tmp_path, today=DAY)
    assert [path.name for path in tmp_path.iterdir() if path.name.startswith(DRAFT)] == [f"{DRAFT}new"]


def test_a_job_file_in_the_place_of_a_promise_is_told_from_one():
    """Whoever takes the one for the other reads which file is meant."""
    with pytest.raises(IssueError, match=r"\.toml is not an issued estimate\. Give the file that issuing wrote, such as K-001-r01\.json\."):
        open_issued(kit.shipped("examples") / "stone_apron_single_bowl.toml")
