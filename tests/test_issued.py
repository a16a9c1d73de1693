"""Issued estimates: never overwritten, opened again with the same totals, refused where a finding says stop."""

import datetime as dt
import gzip
import json
import shutil
from pathlib import Path

import pytest

import kit
from kit.errors import IssueError
from kit.issued import issue_estimate, list_issued, open_issued
from kit.job import change_job

LISTS = kit.load_lists(kit.shipped("price_lists"))
JOB = kit.read_job(kit.shipped("examples") / "counter_stays_sink_only.toml")
DAY = dt.date(2026, 4, 1)


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
    assert any(change.startswith("site.carry: ") and change.endswith(" -> 190 ft") for change in changes)
    assert any(change.startswith("price: ") for change in changes)


def test_a_stop_is_refused_unless_the_reason_is_stated(tmp_path):
    """Issuing against a stop needs a reason, which becomes part of the document."""
    made = kit.estimate(change_job(JOB, {"cabinet.swollen_sides": True}), LISTS)
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
    with pytest.raises(IssueError, match="not JSON in UTF-8"):
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
    made = kit.estimate(JOB, LISTS)
    first, second = (issue_estimate(made, tmp_path, today=DAY) for _ in range(2))
    first.unlink()
    third = issue_estimate(made, tmp_path, today=DAY)
    assert open_issued(third).revision == 3
    third.rename(tmp_path / second.name.replace("-r02", "-r99"))
    hundredth = issue_estimate(made, tmp_path, today=DAY)
    assert hundredth.name.endswith("-r100.json")
    assert list_issued(tmp_path, JOB.identity.job_number)[-1] == hundredth
    assert open_issued(issue_estimate(made, tmp_path, today=DAY)).revision == 101


def test_a_file_that_can_not_be_written_whole_is_not_left_behind(tmp_path, monkeypatch):
    """A disk that is full leaves no half document."""
    import kit.issued as room

    class Full:
        def __init__(self, path):
            self.path = path

        def __enter__(self):
            self.path.touch()
            return self

        def __exit__(self, *ended):
            return False

        def write(self, content):
            raise OSError(28, "No space left on device")

    class Disk(type(tmp_path)):
        def open(self, *words, **more):
            return Full(self) if words == ("xb",) else super().open(*words, **more)

    folder = Disk(tmp_path)
    with pytest.raises(IssueError, match="can't be written: No space left on device"):
        room.issue_estimate(kit.estimate(JOB, LISTS), folder, today=DAY)
    assert list(tmp_path.iterdir()) == []


PROMISE = Path(__file__).parent / "promises" / "DEMO-006-r01" / "DEMO-006-r01.json.gz"


def test_the_first_format_is_refused_with_how_to_go_on(tmp_path):
    """An estimate that the first version issued holds lists of other columns; one that was touched up still says so."""
    path = tmp_path / "DEMO-006-r01.json"
    path.write_bytes(gzip.decompress(PROMISE.read_bytes()))
    wording = r"^DEMO-006-r01\.json, format: is 1, of an earlier version .* What was sent then stays valid as it stands\. .*issue it again from its job file\.$"
    with pytest.raises(IssueError, match=wording):
        open_issued(path)
    path.write_bytes(path.read_bytes().replace(b'"revision": 1', b'"revision": 2'))
    with pytest.raises(IssueError, match="was changed after it was issued"):
        open_issued(path)
    path.write_text(json.dumps({"kind": "sinkset issued estimate", "format": 3}), encoding="utf-8")
    with pytest.raises(IssueError, match=r'format: "3" is not known to this version of the kit'):
        open_issued(path)


def test_a_job_is_issued_again_after_one_of_the_first_format(tmp_path):
    """The next revision stands beside the old file, which stays as it was sent, and says that the two can't be compared."""
    old = tmp_path / "DEMO-006-r01.json"
    old.write_bytes(gzip.decompress(PROMISE.read_bytes()))
    before = old.read_bytes()
    job = change_job(JOB, {"identity.job_number": "DEMO-006"})
    issued = open_issued(issue_estimate(kit.estimate(job, LISTS), tmp_path, today=DAY))
    assert old.read_bytes() == before
    assert (issued.revision, issued.changes) == (2, ("issued again with a later version of the kit; what differs from the revision before can't be listed",))
