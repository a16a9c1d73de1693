"""Job files: read, written, changed, and read back to the same job."""

import difflib
import re
import tomllib
from pathlib import Path
from typing import Any

import pytest
import tomlkit
from random_jobs import random_job

from kit import read_job, shipped
from kit.errors import JobError
from kit.job import Job, change_job, job_document, parse_job, write_job
from kit.job.file import change_field

EXAMPLE = shipped("examples") / "stone_apron_single_bowl.toml"


@pytest.fixture
def job() -> Job:
    """The first example."""
    return read_job(EXAMPLE)


def document() -> dict[str, Any]:
    return tomllib.loads(EXAMPLE.read_text(encoding="utf-8"))


# --- there and back ---


def test_a_job_becomes_a_document_and_the_same_job_again(example: Path) -> None:
    """As typed; a filled job has its own test."""
    typed = read_job(example)
    assert parse_job(job_document(typed)) == typed


def test_a_job_becomes_a_file_and_the_same_job_again(example: Path, tmp_path: Path) -> None:
    """Into a new file, and once more over it: the same bytes."""
    path = tmp_path / "new.toml"
    write_job(read_job(example), path)
    first = path.read_bytes()
    assert read_job(path) == read_job(example)
    write_job(read_job(path), path)
    assert path.read_bytes() == first
    assert [file.name for file in tmp_path.iterdir()] == ["new.toml"]


def test_writing_an_unchanged_job_leaves_its_file_as_it_is(example: Path, tmp_path: Path) -> None:
    """Byte for byte: layout, comments, what is left out, and a measure in the spelling that a person gave it."""
    path = tmp_path / "same.toml"
    path.write_bytes(example.read_bytes())
    write_job(read_job(path), path)
    assert path.read_bytes() == example.read_bytes()


@pytest.mark.parametrize(
    ("place", "was", "typed"),
    [
        ("cabinet.depth", 'depth = "24 in"', "23 in"),
        ("cabinet.floor_height", 'floor_height = "unknown"', "5 1/4 in"),
        ("counter.runs[1].depth", '{ length = "8 ft", depth = "25 1/2 in",', "26 in"),
    ],
)
def test_only_what_changed_is_written_anew(tmp_path: Path, place: str, was: str, typed: str) -> None:
    """Other measures stay as they were spelled, those of the same run among them; "unknown" and what is left out stay so, too."""
    path = tmp_path / "job.toml"
    text = EXAMPLE.read_text(encoding="utf-8")
    for canonical, spelled in (
        ('\nwidth = "36 in"', '\nwidth = "3 ft" # twice'),
        ('{ length = "96 in"', '{ length = "8 ft"'),
        ('floor_height = "5 in"', 'floor_height = "unknown"'),
        ("crew = 3", 'permit_fee = "185.00 USD"'),
    ):
        assert text.count(canonical) == 1, canonical
        text = text.replace(canonical, spelled)
    path.write_text(text, encoding="utf-8")
    job = change_job(read_job(path), {place: typed})
    write_job(job, path)
    assert read_job(path) == job
    assert text.count(was) == 1
    assert path.read_text(encoding="utf-8") == text.replace(was, re.sub(r'(.*= )"[^"]*"', rf'\1"{typed}"', was))


def test_any_job_can_be_written_over_any_other(tmp_path: Path) -> None:
    """What is read is the job that was written last, whatever stood there: 40 random jobs over each other, and over an example."""
    path = tmp_path / "job.toml"
    path.write_bytes(EXAMPLE.read_bytes())
    for seed in range(40):
        job = random_job(seed)
        write_job(job, path)
        assert read_job(path) == job, seed


def test_comments_stay_when_a_field_changes(job: Job, tmp_path: Path) -> None:
    """One line changes, its remark stays beside it; all other lines stay."""
    path = tmp_path / "job.toml"
    before = EXAMPLE.read_text(encoding="utf-8").replace('width = "36 in"\n', 'width = "36 in" # measured twice\n', 1)
    assert "measured twice" in before
    path.write_text(before, encoding="utf-8")
    write_job(change_job(read_job(path), {"cabinet.width": "37 in"}), path)
    after = path.read_text(encoding="utf-8")
    gone = [line[2:] for line in difflib.ndiff(before.splitlines(), after.splitlines()) if line.startswith("- ")]
    assert gone == ['width = "36 in" # measured twice']
    assert 'width = "37 in" # measured twice' in after.splitlines()


def test_a_part_that_comes_or_goes_is_written(job: Job, tmp_path: Path) -> None:
    """A corner added, then taken out; the folder of price lists stands before every part."""
    path = tmp_path / "job.toml"
    path.write_bytes(EXAMPLE.read_bytes())
    corner = {"side": "left", "distance": "15 in", "return_part": "drawer", "filler": "2 in"}
    more = change_job(job, {"cabinet.corner": corner, "prices": "../mine", "terms.permit_fee": "125.50 USD"})
    write_job(more, path)
    assert read_job(path) == more
    less = change_job(more, {"cabinet.corner": None, "prices": None, "terms.permit_fee": None})
    write_job(less, path)
    assert read_job(path) == less == job


def test_what_is_not_a_job_file_is_not_written_over(job: Job, tmp_path: Path) -> None:
    """Another kind of file stays whole."""
    path = tmp_path / "picture.toml"
    path.write_bytes(b"\xff\xd8\xff\xe0")
    with pytest.raises(JobError, match=r"picture\.toml is there already and is not a job file"):
        write_job(job, path)
    assert path.read_bytes() == b"\xff\xd8\xff\xe0"


def test_a_failure_leaves_the_old_file_whole_and_no_draft(job: Job, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The disk is full while writing."""
    path = tmp_path / "job.toml"
    write_job(job, path)
    before = path.read_bytes()

    def full(*_: object) -> str:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(tomlkit, "dumps", full)
    with pytest.raises(OSError, match="No space left"):
        write_job(change_job(job, {"cabinet.width": "39 in"}), path)
    assert path.read_bytes() == before
    assert [file.name for file in tmp_path.iterdir()] == ["job.toml"]


# --- a change ---


def test_a_change_goes_through_the_full_validation(job: Job) -> None:
    """A bowl wider than the body is refused, both faults of two changes in one report."""
    with pytest.raises(JobError, match=r"(?s)cabinet\.width: \"36\" has no unit.*sink: the bowl \(34 in\) is wider than the body"):
        change_job(job, {"sink.bowl_width": "34 in", "cabinet.width": "36"})


def test_a_change_leaves_the_old_job_alone(job: Job) -> None:
    """Records are frozen; a change is a new job."""
    new = change_job(job, {"cabinet.width": "39 in", "counter.runs[1].length": "100 in", "counter.holes[1].offset": "-3 1/2 in"})
    assert (new.cabinet.width_in, new.counter.runs[0].length_in, new.counter.holes[0].offset_in) == (39.0, 100.0, -3.5)
    assert job == read_job(EXAMPLE)
    with pytest.raises(ValueError, match="frozen"):
        job.cabinet.width_in = 39.0  # type: ignore[misc]


@pytest.mark.parametrize("place", ["counter.runs[9].length", "counter.runs[0].length", "counter.runs[x].length", "cabinet.width.more", "counter.runs[2]"])
def test_a_place_that_is_none_is_said(job: Job, place: str) -> None:
    """Beyond the list, before it, no number, inside a value."""
    with pytest.raises(JobError, match=re.escape(f"{place} is not a place in this job.")):
        change_job(job, {place: "1 in"})


def test_an_unknown_field_is_said_with_the_nearest(job: Job) -> None:
    """A typing slip."""
    with pytest.raises(JobError, match=r'cabinet\.widht is not a known key\. Did you mean "width"\?'):
        change_job(job, {"cabinet.widht": "36 in"})


# --- faults ---


def test_all_faults_come_in_one_report_with_the_name_of_the_file(tmp_path: Path) -> None:
    """Missing, unknown, without unit, and a part that is none."""
    broken = document()
    del broken["sink"]["weight"]
    broken["cabinet"]["width"] = 36
    broken["old"] = "all of it"
    broken["extra"] = {}
    with pytest.raises(JobError) as caught:
        parse_job(broken, "kitchen.toml")
    assert {fault.place for fault in caught.value.faults} == {"sink.weight", "cabinet.width", "old", "extra"}
    assert {fault.file for fault in caught.value.faults} == {"kitchen.toml"}
    assert "kitchen.toml, sink.weight is missing. Needed: Weight empty, unpacked." in str(caught.value)


@pytest.mark.parametrize(
    ("change", "wanted"),
    [
        ({"sink.bowls": [{"width": "40 in", "front_to_back": "15 in", "depth": "9 in"}]}, "sink: the bowls are 40 in wide inside, wider than"),
        ({"sink.bowls": [{"width": "20 in", "front_to_back": "19 in", "depth": "9 in"}]}, "sink: a bowl is 19 in front to back, more than the sink's 18 in"),
        ({"sink.outlet_setback": "18 1/3 in"}, "sink: the outlet is 18 1/3 in from the back, outside the sink's 18 in"),
        ({"sink.bowls": []}, r"^sink.bowls is too short a list\. Give at least 1\.$"),
        ({"sink.bowls": [{"width": "8 in", "front_to_back": "15 in", "depth": "9 in"}] * 4}, r"^sink.bowls has 4 entries\. Give at most 3\.$"),
        ({"sink.bowls[1].width": "999 in"}, r'^sink.bowls\[1\].width: "999 in" is outside the range 6 to 48 in\.$'),  # and not that there is no bowl
        ({"sink.outlet_setback": "18 in"}, "sink: the outlet is 18 in from the back, outside the sink's 18 in"),
        ({"sink.apron_height": None}, "sink: an apron-front sink needs the width and the height of its apron"),
        ({"sink.style": "standard"}, "sink: a standard sink has no apron: leave out its width and height"),
        ({"counter.sink_run": 2}, "counter: The sink is in run 2, but there is only 1"),
        ({"counter.sink_center": "96 in"}, r"counter: The sink's center \(96 in\) is beyond its run \(96 in\)"),
        ({"levelness.readings": [{"at": "0 in", "low": "0 in"}, {"at": "0 in", "low": "1/4 in"}]}, "levelness: Two readings are at the same place"),
        ({"levelness.readings": [{"at": "0 in", "low": "1/4 in"}]}, "levelness: No reading is 0 in"),
    ],
)
def test_a_part_that_contradicts_itself_is_refused(job: Job, change: dict[str, Any], wanted: str) -> None:
    """Sizes that can't be true together."""
    with pytest.raises(JobError, match=wanted):
        change_job(job, change)


def test_one_field_is_changed_and_nothing_else(tmp_path):
    """Comments, order and what was typed stay; a field that is there already is replaced."""
    path = tmp_path / "job.toml"
    before = EXAMPLE.read_text(encoding="utf-8")
    path.write_text(before, encoding="utf-8")
    for prices in ("../one", "../two"):
        change_field(path, "prices", prices)
        assert path.read_text(encoding="utf-8").replace(f'prices = "{prices}"\n', "") == before
        assert read_job(path).prices == prices


def test_a_change_that_is_refused_leaves_the_file_as_it_was(tmp_path):
    """An unknown key, and a file that is no job."""
    path = tmp_path / "job.toml"
    path.write_bytes(EXAMPLE.read_bytes())
    before = path.read_bytes()
    with pytest.raises(JobError, match="color is not a known key"):
        change_field(path, "color", "white")
    assert path.read_bytes() == before
    path.write_text("not = [toml", encoding="utf-8")
    with pytest.raises(JobError, match=r"can't be read as a job file"):
        change_field(path, "prices", "../one")
    assert [one.name for one in tmp_path.iterdir()] == ["job.toml"]
