"""Suspect glue, backer and flooring: named, tested before anything is torn out, and what a test may find is excluded in words."""

import pytest
from work_jobs import STONE, estimated

from kit.export.papers import sentences
from kit.labor.conditions import holding_conditions
from kit.outlook import plan_schedule, site_risks_of
from kit.records import Level
from kit.steps import Step

OLD = {"site.year_built": 1980}


@pytest.mark.parametrize(
    ("changes", "hand_words"),
    [
        ({"old.counter_fixing": "glued"}, ("glue of the old countertop",)),
        ({"old.counter_material": "tile"}, ("backer and glue of the tile countertop",)),
        ({"old.splash": "tile"}, ("backer and glue of the tile backsplash",)),
        ({"old.splash": "glued", "old.counter_fixing": "glued"}, ("glue of the old countertop", "glue of the old backsplash")),
    ],
)
def test_what_is_torn_out_is_named_and_tested_first(changes, hand_words):
    """A hired test, its answer before the old counter comes off, an exclusion for what it may find."""
    plain = {"old.counter_fixing": "screwed", "old.counter_material": "laminate", "old.splash": "loose"}
    found = estimated(STONE, {**OLD, **plain, **changes})
    said = next(finding for finding in found.findings if finding.id == "duties/glue")
    assert all(words in said.measured for words in hand_words)
    assert "If the laboratory finds no asbestos, the quote holds" in said.limit
    assert "certified firm removes it" in said.remedy
    assert "a signed change order first" in said.basis
    assert [line.kind.value for line in found.lines if line.id == "order/floor-test/suspect glue or backer"] == ["hire"]
    plan = plan_schedule(found).schedule
    answered = plan.find(Step.ORDER).wait_until
    assert answered <= min(plan.find(step).start for step in (Step.SHUT_OFF, Step.REMOVE_SINK, Step.REMOVE_COUNTER))
    (risk,) = (row for row in site_risks_of(found) if row.risk.startswith("asbestos"))
    assert (risk.cost_high, risk.step, risk.borne_by) == (0, Step.REMOVE_COUNTER, "customer")
    assert risk.delay_days > 0
    holds = holding_conditions(found.job, found.design, found.lists)
    excluded = [row.says for row in found.lists.wording if row.use == "exclusion" and row.applies_when in holds]
    assert any("glue or backer" in text and "certified firm" in text for text in excluded)


def test_a_later_house_has_no_suspects():
    """Built in 1981."""
    found = estimated(STONE, {"site.year_built": 1981, "old.counter_fixing": "glued", "old.splash": "tile"})
    assert not [finding for finding in found.findings if finding.id == "duties/glue"]
    assert not [line for line in found.lines if line.item == "floor-test"]


def test_a_year_that_nobody_knows_is_not_told_as_if_it_were_known():
    """The glue of such a house is suspect all the same."""
    said = {found.id: found.measured for found in estimated(STONE, {"site.year_built": "unknown", "old.counter_fixing": "glued"}).findings}
    assert said["duties/lead-safe"] == "a house whose year nobody knows, taken as 1960, paint is disturbed"
    assert said["duties/glue"].endswith("in a house whose year nobody knows, taken as 1960")


def test_a_suspect_floor_has_its_exclusion():
    """The finding says that removal is not in the price."""
    found = estimated(STONE, {**OLD, "site.floor_covering": "sheet", "cabinet.wet_floor": True})
    said = next(finding for finding in found.findings if finding.id == "duties/flooring")
    assert "That work is not included" in said.remedy
    assert [row.step for row in site_risks_of(found) if row.risk.startswith("asbestos-floor")] == [Step.REPAIR_CABINET]


def test_a_customer_who_tears_out_is_warned():
    """The test is his: a finding, a sentence in the proposal, no priced test; a later house has neither."""
    theirs = {"supplied_by": "customer", "installed_by": "customer"}
    change = {"scope.counter": theirs, "scope.splash": theirs, "old.counter_fixing": "glued", "old.splash": "none"}
    old, later = estimated(STONE, {**OLD, **change}), estimated(STONE, {**change, "site.year_built": 1981})
    assert [found.level for found in old.findings if found.id == "duties/glue-yours"] == [Level.CAUTION]
    assert not [line for line in old.lines if line.item == "floor-test"]
    assert any("asbestos" in says for says in sentences(old, "yours"))
    assert not [found for found in later.findings if found.id == "duties/glue-yours"]
    assert not any("asbestos" in says for says in sentences(later, "yours"))
