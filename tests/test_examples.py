"""The shipped examples: invented, sound, and between them everything that the kit is for."""

import pytest

from kit import Estimate, estimate, load_lists, read_job, shipped
from kit.labor.conditions import holding_conditions
from kit.records import Kind, Level

PATHS = sorted(shipped("examples").glob("*.toml"))


def test_example_can_be_built(example_estimate: Estimate):
    """No finding says stop, and there is a price above cost."""
    assert [finding.id for finding in example_estimate.findings if finding.level is Level.STOP] == []
    assert example_estimate.price > example_estimate.cost > 0


def test_example_says_that_it_is_invented(example):
    """In the first line after the one for editors, its customer and its note."""
    job = read_job(example)
    assert example.read_text(encoding="utf-8").splitlines()[1].startswith("# An invented job.")
    assert "Invented" in job.identity.customer
    assert "Invented scenario" in (job.identity.note or "")


def test_nothing_is_unknown_in_an_example(example_estimate: Estimate):
    """What no table gives is bought with its allowance; everything else was measured."""
    assert {finding.id for finding in example_estimate.findings if finding.level is Level.UNKNOWN} == set()


def test_example_assumes_little(example_estimate: Estimate):
    """At most a dozen fields were left to assumptions."""
    assert len(example_estimate.assumptions) <= 12


@pytest.mark.parametrize(
    ("what", "holds"),
    [
        (
            "an apron sink under stone by a fabricator",
            lambda job: job.sink.is_apron and job.counter.material == "stone" and job.counter.made_by == "fabricator",
        ),
        (
            "a two-bowl apron sink in a 33 in frameless base with a wood top by the own crew, second floor, occupied",
            lambda job: (
                job.sink.is_apron
                and len(job.sink.bowls) == 2
                and job.cabinet.width_in == 33
                and job.cabinet.construction == "frameless"
                and (job.counter.material, job.counter.made_by) == ("wood", "us")
                and job.site.floor == 2
                and job.site.occupied
                and not job.old.drain_photographed
            ),
        ),
        ("a top mount in laminate", lambda job: job.sink.mount == "top" and job.counter.material == "laminate" and job.counter.made_by == "us"),
        ("a flush mount in solid surface", lambda job: job.sink.mount == "flush" and job.counter.material == "solid-surface"),
        ("a countertop that stays", lambda job: job.counter.made_by == "stays" and job.scope.counter.stays),
        ("a corner and a dishwasher", lambda job: job.cabinet.corner is not None and job.plumbing.dishwasher),
        ("a glued-down old countertop", lambda job: job.old.counter_fixing == "glued"),
        ("goods that the customer bought", lambda job: job.scope.sink.supplied_by == "customer"),
    ],
)
def test_there_is_an_example_of(what, holds):
    """Each kind of job that the kit promises."""
    assert any(holds(read_job(path)) for path in PATHS), what


def test_in_one_example_the_drain_comes_down(example, example_estimate: Estimate):
    """By a hired plumber under a permit, and only there."""
    lowered = {line.item for line in example_estimate.lines if line.step == "rough-drain" and line.kind is Kind.HIRE}
    assert (lowered == {"hire-plumber"}) is (example.stem == "corner_dishwasher_drain_down")
    assert example_estimate.design.duties.permit is bool(lowered)


@pytest.mark.parametrize(
    ("example", "condition", "sentence"),
    [
        ("stone_apron_single_bowl", "trimmed-doors", "doors down to fit below the apron"),
        ("corner_dishwasher_drain_down", "new-doors", "hang new doors that fit below the apron"),
    ],
)
def test_two_examples_have_ordinary_doors(example: str, condition: str, sentence: str):
    """They start 7 1/4 in below the box top under a 10 in apron: slab doors are trimmed, five-piece doors replaced, and the proposal says so."""
    lists = load_lists(shipped("price_lists"))
    made = estimate(read_job(shipped("examples") / f"{example}.toml"), lists)
    assert made.job.cabinet.door_top_in == 7.25
    assert condition in holding_conditions(made.job, made.design, made.lists)
    words = [row.says for row in lists.wording if row.about == "refit-fronts" and row.applies_when == condition and row.use == "step"]
    assert sentence in " ".join(words)
