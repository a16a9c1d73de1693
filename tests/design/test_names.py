"""What a job names must be in the lists; all that is not is said at once."""

import datetime as dt
import re

import pytest

from kit import Lists, estimate, read_job, shipped
from kit.design.named_goods import counter_kind, require_names
from kit.errors import JobError, ListError
from kit.job import Job, change_job

EXAMPLE = shipped("examples") / "stone_apron_single_bowl.toml"


@pytest.fixture
def job() -> Job:
    """The first example."""
    return read_job(EXAMPLE)


def test_examples_name_only_what_the_lists_hold(example, lists):
    """Nothing to refuse."""
    require_names(read_job(example), lists)


def test_every_wrong_name_is_in_one_report(job: Job, lists: Lists) -> None:
    """Counter, sink and offcut at once."""
    wrong = change_job(
        job,
        {
            "counter.item": "moon-rock",
            "sink.item": "moon-sink",
            "offcuts": [{"item": "lumber-2x4", "length": "20 in", "count": 1}, {"item": "lumber", "length": "9 in", "count": 2}],
        },
    )
    with pytest.raises(JobError) as caught:
        estimate(wrong, lists)
    assert [fault.place for fault in caught.value.faults] == ["counter.item", "sink.item", "offcuts[2].item"]
    assert '"moon-sink" is not in items.csv. Sinks known: fired-clay-apron-33' in str(caught.value)


def test_a_pair_of_pipes_that_no_list_joins_is_refused(job: Job, lists: Lists) -> None:
    """Both systems."""
    fewer = {key: row for key, row in lists.transitions.items() if key not in {("drain", "pvc", "pvc"), ("supply", "copper", "pex")}}
    bare = object.__new__(Lists)
    for name in Lists.__dataclass_fields__:
        object.__setattr__(bare, name, fewer if name == "transitions" else getattr(lists, name))
    with pytest.raises(JobError, match=r"(?s)drain, pvc to pvc is not a pair in the list.*supply, copper to pex is not a pair in the list"):
        require_names(
            change_job(job, {"plumbing.drain_old": "pvc", "plumbing.drain_new": "pvc", "plumbing.supply_old": "copper", "plumbing.supply_new": "pex"}), bare
        )


def test_a_sink_that_we_do_not_buy_needs_no_row(job: Job, lists: Lists) -> None:
    """The customer's own sink."""
    require_names(change_job(job, {"sink.item": "their-own", "scope.sink.supplied_by": "customer"}), lists)


def test_the_counter_must_be_of_the_material_that_the_job_says(job: Job, lists: Lists) -> None:
    """Stone by its row, tile by the job."""
    assert counter_kind(job, lists).material == "stone"
    with pytest.raises(JobError, match=r'"stone-3cm" is stone, but counter\.material says tile'):
        counter_kind(change_job(job, {"counter.material": "tile"}), lists)


def test_every_item_without_a_price_is_in_one_report(job: Job, lists: Lists) -> None:
    """A visit before the first price: not one item alone is named."""
    with pytest.raises(ListError) as caught:
        estimate(change_job(job, {"identity.visit_date": dt.date(2025, 6, 1)}), lists)
    assert len(caught.value.faults) > 5
    assert all(re.search("has no price in force on Sun, Jun 1, 2025", str(fault)) for fault in caught.value.faults)
