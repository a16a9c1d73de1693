"""Two types: the job as read, with holes, and the filled job; the type checker tells them apart, and so does Python."""

import pickle
from pathlib import Path
from types import NoneType
from typing import get_args

import pytest
from job_records import parts
from mypy import api

from kit import read_job, shipped
from kit.job import FilledJob, Job, change_job, fill_assumptions, job_document, parse_job
from kit.job.cabinet import Cabinet
from kit.job.fields import Blank, Record

EXAMPLE = shipped("examples") / "stone_apron_single_bowl.toml"
CONFIG = Path(__file__).parents[2] / "pyproject.toml"
USE = """
from kit.design.design import design_job
from kit.job import FilledJob, Job, fill_assumptions, job_document
from kit.lists import Lists

def use(job: {job}, lists: Lists) -> object:
    return {use}
"""
NOT_IN_A_JOB_AS_READ = {
    "design_job(job, lists)": 'incompatible type "Job"; expected "FilledJob"',
    "job.cabinet.depth_in + 1.0": 'Unsupported operand types for + ("None" and "float")',
    "job.counter.run_of_sink.depth_in + 1.0": 'Unsupported operand types for + ("None" and "float")',
    "job.cabinet.left.gap_in + 1.0": 'Unsupported operand types for + ("None" and "float")',
    "job.site.year_built < 1978": 'Unsupported operand types for > ("int" and "None")',
    "job.cabinet.inside_width_in": 'Invalid self argument "Cabinet[None]"',
}
OPEN_IN_A_FILLED_JOB = {
    f"job.cabinet.{name} + 1.0": 'Unsupported operand types for + ("None" and "float")'
    for name in ("false_front_bottom_in", "false_front_screw_in", "door_top_in", "aisle_in")
}


def mypy_says(folder: Path, *uses: tuple[str, str]) -> list[str]:
    """What mypy finds, with the project's own settings, in one file that has each use in a function."""
    program = folder / "uses.py"
    program.write_text("".join(USE.format(job=job, use=use).replace("def use", f"def use_{number}") for number, (job, use) in enumerate(uses)))
    said, trouble, _ = api.run(["--config-file", str(CONFIG), "--no-error-summary", str(program)])
    assert not trouble
    return [line for line in said.splitlines() if ": error: " in line]


@pytest.mark.long  # a run of mypy over all that the job reaches
def test_mypy_rejects_a_job_as_read_where_a_filled_one_is_needed_and_a_hole_in_arithmetic(tmp_path: Path) -> None:
    """One error for each use, in their order."""
    uses = [("Job", use) for use in NOT_IN_A_JOB_AS_READ] + [("FilledJob", use) for use in OPEN_IN_A_FILLED_JOB]
    errors = mypy_says(tmp_path, *uses)
    assert len(errors) == len(uses), errors
    for error, wanted in zip(errors, [*NOT_IN_A_JOB_AS_READ.values(), *OPEN_IN_A_FILLED_JOB.values()], strict=True):
        assert wanted in error


@pytest.mark.long
def test_mypy_takes_a_filled_job_everywhere(tmp_path: Path) -> None:
    """In design, in arithmetic, and where a job as read would do."""
    uses = [("FilledJob", use) for use in (*NOT_IN_A_JOB_AS_READ, "job_document(job)", "fill_assumptions(job)")]
    assert mypy_says(tmp_path, *uses, ("Job", "job.cabinet.depth_in is None"), ("Job", "fill_assumptions(job)[0].cabinet.depth_in + 1.0")) == []


@pytest.mark.parametrize("record", list(parts(Job, set())), ids=lambda record: record.__name__)
def test_the_type_of_a_field_says_what_its_rule_says(record: type[Record]) -> None:
    """Blank where something is assumed, None where it stays unknown or is optional, neither where it must be given."""
    for name, rule in record.rules.items():
        kinds = get_args(record.model_fields[name].annotation)
        like_unknown = rule.like in record.rules and record.rules[rule.like].may_be_unknown  # what a record works out is always there
        assert (Blank in kinds) == (rule.assume is not None or (rule.like is not None and not like_unknown)), name
        assert (NoneType in kinds) == (rule.unknown_ok or rule.optional or like_unknown), name


def test_a_filled_job_is_a_job_and_not_the_other_way_round() -> None:
    """Python tells them apart: by class, by what is printed, and when compared."""
    job = change_job(read_job(EXAMPLE), {"cabinet.height": "unknown"})
    filled, _ = fill_assumptions(job)
    assert isinstance(filled, FilledJob)
    assert isinstance(filled, Job)
    assert not isinstance(job, FilledJob)
    assert (repr(job)[:5], repr(filled)[:11]) == ("<Job ", "<FilledJob ")
    assert job.cabinet.height_in is None
    assert filled.cabinet.height_in == 34.5
    assert (type(job.cabinet), type(filled.cabinet)) == (Cabinet, Cabinet)


def test_both_kinds_of_job_keep_their_kind_when_pickled() -> None:
    """So that jobs may be sent to other processes."""
    job = change_job(read_job(EXAMPLE), {"cabinet.height": "unknown"})
    for one in (job, fill_assumptions(job)[0]):
        again = pickle.loads(pickle.dumps(one))
        assert type(again) is type(one)
        assert again == one
        assert hash(again) == hash(one)


@pytest.mark.parametrize("example", sorted(shipped("examples").glob("*.toml")), ids=lambda path: path.stem)
def test_a_filled_job_is_written_and_read_back(example: Path) -> None:
    """A file holds no kind: what is read is a job as read, without holes, and filling it assumes nothing; only the filled one knows what was assumed."""
    filled, assumed = fill_assumptions(read_job(example))
    assert filled.assumed == {one.field for one in assumed}
    read = parse_job(job_document(filled))
    assert type(read) is Job
    again, more = fill_assumptions(read)
    assert (job_document(again), again.assumed, more) == (job_document(filled), set(), ())
