"""What other lists do to the jobs on hand: prices before and after, findings that come up, and the order in which they are told."""

from decimal import Decimal

import pytest

import kit
from kit.errors import KitError
from kit.lists import parse_lists
from kit.records import Level
from kit.repricing import Repriced, largest_first, reprice_jobs

LISTS = kit.load_lists(kit.shipped("price_lists"))
EXAMPLES = kit.shipped("examples")


def other_lists(file, old, new):
    text = LISTS.texts[file]
    assert old in text
    return parse_lists({**LISTS.texts, file: text.replace(old, new, 1)}, "other")


@pytest.fixture(scope="module")
def jobs():
    """Two jobs on hand."""
    return {name: kit.read_job(EXAMPLES / f"{name}.toml") for name in ("stone_apron_single_bowl", "counter_stays_sink_only")}


def test_each_job_has_its_own_lists_in_use(jobs):
    """Before is the price at what the job uses now; progress is told job by job."""
    dearer = other_lists("company.csv", "wage,34.00 USD", "wage,36.00 USD")
    seen = []
    found = reprice_jobs(
        jobs, lambda job: dearer if job is jobs["counter_stays_sink_only"] else LISTS, dearer, advance=lambda done, of: seen.append((done, of))
    )
    assert [one.name for one in found] == list(jobs)
    assert found[0].before == kit.estimate(jobs["stone_apron_single_bowl"], LISTS).price
    assert found[0].after == kit.estimate(jobs["stone_apron_single_bowl"], dearer).price
    assert found[0].difference > 0
    assert found[1].difference == 0
    assert seen == [(1, 2), (2, 2)]


def test_a_finding_that_comes_up_is_told(jobs):
    """A mount that the new list no longer allows is a stop that was not there."""
    wanted = next(row for row in LISTS.texts["mounts.csv"].splitlines() if row.startswith("under,stone,"))
    new = other_lists("mounts.csv", wanted, wanted.replace(f"under,stone,{wanted.split(',')[2]}", "under,stone,stop"))
    job = {"stone": kit.read_job(EXAMPLES / "stone_apron_single_bowl.toml")}
    (found,) = reprice_jobs(job, LISTS, new)
    assert [finding.level for finding in found.news] == [Level.STOP]
    assert reprice_jobs(job, new, LISTS)[0].news == ()


def test_why_there_is_no_price_names_the_lists(jobs):
    """Lists that can't be opened now, and lists that will not serve the job."""

    def missing(job):
        raise KitError("no such folder")

    one = {"stone": jobs["stone_apron_single_bowl"]}
    (found,) = reprice_jobs(one, missing, LISTS)
    assert (found.before, found.problem) == (None, "with its lists in use: no such folder")
    assert found.after == kit.estimate(one["stone"], LISTS).price
    (found,) = reprice_jobs(one, LISTS, other_lists("prices.csv", "shim,Invented Lumber Yard,2026-01-01", "shim,Invented Lumber Yard,2027-01-01"))
    assert found.after is None
    assert found.problem.startswith("with the new lists: prices.csv")


def test_the_largest_difference_stands_first():
    """No price any more, then by size whatever the sign, then those that don't move."""
    rows = [("a", 100, 101), ("b", 100, 100), ("c", 100, None), ("d", 100, 90), ("e", 100, 105)]
    found = tuple(Repriced(name, Decimal(before), None if after is None else Decimal(after)) for name, before, after in rows)
    assert "".join(one.name for one in largest_first(found)) == "cdeab"
