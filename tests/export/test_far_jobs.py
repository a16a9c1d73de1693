"""Workbook, rows and papers of jobs far from the examples: seeded, so that a failure comes again."""

import re
from pathlib import Path
from typing import Any

import export_office as office
import pytest
from book_checks import CHANGES, change_inputs, faults_of_rows, faults_of_workbook, request_of, revalued
from export_demo import write_workbook
from long_run import one_in
from paper_text import text_of
from random_jobs import COMPANIES, random_estimate, random_job
from work_jobs import lists

import kit
from kit.draw.plan import draw_plan
from kit.errors import PriceError
from kit.export import drawings_sheet
from kit.export.crew_sheet import crew_sheet_bytes
from kit.export.papers import payments_of
from kit.export.proposal import proposal_bytes
from kit.export.purchase_list import list_purchases
from kit.job.terms import Terms
from kit.money import format_money
from kit.outlook import plan_schedule

SEEDS = range(60)
BATCHES = (SEEDS[:2], pytest.param(SEEDS[2:36], marks=pytest.mark.long))  # of workbooks, each of them one run of LibreOffice
PAPER_SEEDS = range(0, 60, 5)

Answers = dict[int, dict[str, Any]]


@pytest.fixture(scope="module", params=BATCHES, ids=str)
def recalculated(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Answers:
    """What one run of LibreOffice answers about many workbooks; they share one picture, since no formula reads a picture."""
    folder = tmp_path_factory.mktemp("far")
    (picture,) = drawings_sheet.render_pngs([drawings_sheet.on_paper(draw_plan(random_estimate(0)))])
    requests = []
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(drawings_sheet, "render_pngs", lambda svgs, **_: [picture] * len(svgs))
        for seed, found in ((seed, random_estimate(seed)) for seed in request.param):
            requests.append(request_of(found, write_workbook(found, folder / f"{seed}.xlsx"), change_inputs(found, seed)))
    return dict(zip(request.param, office.recalculate(requests, folder), strict=True))


def test_the_recalculated_workbook_is_the_kit_in_every_row(recalculated: Answers) -> None:
    """Opened without a word; each row of the build-up and each total as the kit has it, as written and after each change of many inputs."""
    faults = {}
    for seed, answer in recalculated.items():
        found = random_estimate(seed)
        assert len(answer["watched"]) == CHANGES
        assert len(answer["formulas"]) > 200
        faults[seed] = faults_of_workbook(found, change_inputs(found, seed), answer)
    assert {seed: fault for seed, fault in faults.items() if fault} == {}


def test_changed_inputs_reach_prices_and_refusals() -> None:
    """The changes above are worth their time: most of them move the price, and the kit refuses some, for either reason."""
    moved, refused = 0, ""
    for seed in SEEDS:
        for change in change_inputs(random_estimate(seed), seed):
            try:
                moved += revalued(random_estimate(seed), change).price != random_estimate(seed).price
            except PriceError as error:
                refused += str(error)
    assert moved > 100
    assert refused.count("what it is divided by is zero or less") > 0
    assert refused.count("more than the price of") > 0


def test_the_far_jobs_are_far_apart() -> None:
    """Each mount, each counter of the examples, each choice of terms and each company is among them, and the least charge is the price of some."""
    found = [random_estimate(seed) for seed in SEEDS]
    assert {one.job.sink.mount for one in found} == {"top", "flush", "under"}
    assert {one.job.counter.material for one in found} >= {"laminate", "stone", "wood", "solid-surface"}
    assert {one.job.counter.made_by for one in found} == {"us", "fabricator", "stays"}
    assert {who.supplied_by for one in found for who in (one.job.scope.sink, one.job.scope.faucet)} >= {"us", "customer", "stays"}
    for place in ("overhead_as", "profit_as", "hired_as", "tax_on", "tax_rounding", "packs_charged"):
        assert {getattr(one.job.terms, place) for one in found} == set(Terms.rules[place].options) | {None}, place
    for name, values in COMPANIES.items():
        assert {getattr(one.lists.company, name) for one in found} == set(values)
    assert {one.terms.has("in:round-to") for one in found} == {True, False}
    assert {one.amount("net") == one.terms.value("in:least") for one in found} == {True, False}
    assert {len(payments_of(one)) for one in found} >= {3, 4}
    assert {one.terms.preset is not None and one.terms.preset.draws_follow_work for one in found} == {True, False}


@pytest.mark.parametrize("seed", one_in(6, SEEDS))
def test_rows_payments_and_csv_come_to_the_same(tmp_path: Path, seed: int) -> None:
    """Rows sum to cost and price, payments to the price; pandas and the reference library read the control totals; all to the cent."""
    assert faults_of_rows(random_estimate(seed), tmp_path) == []


@pytest.mark.parametrize("seed", one_in(6, PAPER_SEEDS))
def test_papers_can_be_set_and_the_proposal_keeps_what_is_ours(seed: int) -> None:
    """Proposal and crew sheet of any job; no amount in the proposal but what the customer pays."""
    found = kit.estimate(random_job(seed), lists())
    assert crew_sheet_bytes(found, schedule=plan_schedule(found)).startswith(b"%PDF-")
    assert list_purchases(found, plan_schedule(found))
    if not found.buildable:
        with pytest.raises(kit.errors.IssueError, match="says stop"):
            proposal_bytes(found)
        return
    text = text_of(proposal_bytes(found))
    apart = re.findall(r"(?:With a temporary sink, for|We charge) (\$[\d,]+\.\d\d)", text)
    amounts = set(re.findall(r"\$[\d,]+\.\d\d", text)) - set(apart)
    asked = {format_money(amount) for amount in (found.price, *(payment.amount for payment in payments_of(found)))}
    agreed = {format_money(amount) for amount in (found.amount("tax-collected"), *(row.price for row in found.lists.unit_prices.values()))}
    assert asked <= amounts <= asked | agreed
