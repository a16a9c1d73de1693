"""Who a finding names is who set its limit: the row's own source, with the status that it has."""

import html
import re
from collections.abc import Iterator
from functools import cache

import mutation
import pytest
from random_jobs import random_estimate
from work_jobs import STEMS, estimated

from kit.checks.check import check_job
from kit.design.design import design_job
from kit.draw.why import explain_number
from kit.estimating import Estimate
from kit.records import Finding
from kit.sources import row, source

JOBS = 200
SOME = 50  # of them stand for all in every run
of_jobs = pytest.mark.parametrize("jobs", [SOME, pytest.param(JOBS, marks=pytest.mark.long)])
# Published, and no number of a table is in them: what a text asks for, or that it gives no value here.
WORDS_ONLY = {"cfr-29-1926-1153", "tx-34-3-291", "ny-st-124", "ipc", "king-county-dishwasher"}
CHANGES = (1.3, 0.7)


@cache
def all_estimates(jobs: int) -> tuple[Estimate, ...]:
    return (*map(estimated, STEMS), *map(random_estimate, range(jobs)))


def all_findings(jobs: int) -> Iterator[tuple[Estimate, Finding]]:
    return ((found, finding) for found in all_estimates(jobs) for finding in found.findings)


@of_jobs
def test_a_finding_names_the_source_of_its_row(jobs):
    """Where a row set the limit the key is that row's; a published key without a row comes from the lists or says no number."""
    rows = 0
    for found, finding in all_findings(jobs):
        said_in_lists = {kind.limits_source for kind in found.lists.counters.values()} | {rule.source for rule in found.lists.mounts.values()}
        if finding.row:
            table, _, name = finding.row.partition("/")
            assert row(table, name).key == finding.source, finding
            rows += 1
        elif source(finding.source).status == "published":
            assert finding.source in WORDS_ONLY | said_in_lists, f"{finding.id} names {finding.source} and no row of it"
    assert rows > 10 * jobs


@of_jobs
def test_the_words_say_no_more_than_the_status(jobs):
    """What is shown as published is published; no other finding says that it is, in its own words or beside "why?"."""
    for _, finding in all_findings(jobs):
        status = source(finding.source).status
        words = f"{finding.check} {finding.measured} {finding.limit} {finding.basis} {finding.remedy}"
        assert status == "published" or not re.search(r"\bpublished\b|\bcode requires\b", words), finding
        if finding.row:
            table, _, name = finding.row.partition("/")
            assert row(table, name).kind != "published" or status == "published"
            assert row(table, name).kind != "from memory" or status == "from memory"
    found = all_estimates(jobs)[0]
    for finding in found.findings:
        shown = explain_number(found, f"finding:{finding.id}")
        cited = source(finding.source)
        status, told = cited.status, cited.title.startswith(cited.status)
        assert (f"({status})" in shown) == (status != "own" and not told)  # our own is no status to tell; none is told twice
        assert cited.title in html.unescape(shown)
        assert ("(published)" in shown) == (status == "published")


@of_jobs
def test_drain_limits_are_those_of_the_job_s_own_family(jobs):
    """A row of another family never sets a limit."""
    families = set()
    for found, finding in all_findings(jobs):
        if finding.row.startswith("trap_arms/"):
            assert finding.row.startswith(f"trap_arms/{found.job.site.code_family}/")
            families.add(found.job.site.code_family)
    assert families == {"irc", "ipc", "upc"}


@of_jobs
def test_our_own_geometry_is_no_code_s(jobs):
    """Heights and what wants the same place are worked out from the job's measures."""
    for _, finding in all_findings(jobs):
        if finding.id in {"drain/stub-height", "drain/trap-above-floor", "drain/stub-wanted"} or finding.id.startswith("place/"):
            assert finding.source == "geometry"


@of_jobs
def test_the_row_that_is_named_is_the_row_that_was_used(jobs):
    """Each row, made a third larger or smaller, changes the finding that names it."""
    first: dict[tuple[str, str], Estimate] = {}
    for found, finding in all_findings(jobs):
        if finding.row:
            first.setdefault((re.sub(r"\d+", "#", finding.id), finding.row), found)
    assert len(first) > 50
    unused = [name for name, found in first.items() if not any(_moves(name, found, change) for change in CHANGES)]
    assert not unused
    assert not any(_moves(name, found, 1.0) for name, found in list(first.items())[:10]), "nothing changed, so nothing may move"


def _moves(name: tuple[str, str], found: Estimate, change: float) -> bool:
    """Whether the findings of a kind differ with the row changed."""
    table, _, entry = name[1].partition("/")
    number = row(table, entry)
    with mutation.tables_read_by(mutation.changed(number, change)):
        return _found(name[0], found) != _found_before(name[0], found)


def _found_before(kind: str, found: Estimate) -> list[Finding]:
    return [finding for finding in found.findings if re.sub(r"\d+", "#", finding.id) == kind]


def _found(kind: str, found: Estimate) -> list[Finding]:
    checked = check_job(found.job, design_job(found.job, found.lists), found.lists)
    return [finding for finding in checked if re.sub(r"\d+", "#", finding.id) == kind]


@pytest.mark.parametrize(("family", "hand_source"), [("irc", "irc-memory"), ("ipc", "ipc-memory"), ("upc", "mn-4715-2014")])
def test_longest_arm(family, hand_source):
    """The tables of two families are from memory; the third's figures were read in a state's rules, and they are named."""
    findings = estimated(STEMS[0], {"site.code_family": family, "plumbing.arm_to_vent": "30 in"}).findings
    assert next(finding for finding in findings if finding.id == "drain/arm-longest").source == hand_source
