"""Workbook, rows and papers of jobs far from the examples: seeded, so that a failure comes again."""

import io
import random
import re
from pathlib import Path
from typing import Any

import export_office as office
import pypdf
import pytest
from book_checks import CHANGES, change_inputs, faults_of_rows, faults_of_workbook, request_of, revalued
from export_demo import write_workbook
from price_jobs import CHOICES, COMPANIES, far_job
from work_jobs import EXAMPLES, wander

import kit
from kit.errors import PriceError
from kit.export import drawings_sheet
from kit.export.crew_sheet import crew_sheet_bytes
from kit.export.papers import payments_of
from kit.export.proposal import proposal_bytes
from kit.export.purchase_list import list_purchases
from kit.money import format_money
from kit.outlook import schedule_of

SEEDS = range(60)
PAPER_SEEDS = range(0, 60, 5)


@pytest.fixture(scope="module")
def recalculated(tmp_path_factory: pytest.TempPathFactory) -> dict[int, dict[str, Any]]:
    """What one run of LibreOffice answers about all the workbooks; they share one picture, since no formula reads a picture."""
    folder = tmp_path_factory.mktemp("far")
    picture = drawings_sheet.render_png(drawings_sheet.on_paper(drawings_sheet.draw_plan(far_job(0))))
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(drawings_sheet, "render_png", lambda *_, **__: picture)
        requests = [request_of(far_job(seed), write_workbook(far_job(seed), folder / f"{seed}.xlsx"), change_inputs(far_job(seed), seed)) for seed in SEEDS]
    return dict(zip(SEEDS, office.recalculate(requests, folder), strict=True))


@pytest.mark.alone
@pytest.mark.parametrize("seed", SEEDS)
def test_the_recalculated_workbook_is_the_kit_in_every_row(recalculated: dict[int, dict[str, Any]], seed: int) -> None:
    """Opened without a word; each row of the build-up and each total as the kit has it, as written and after each change of many inputs."""
    found = far_job(seed)
    changes = change_inputs(found, seed)
    assert len(recalculated[seed]["watched"]) == CHANGES
    assert len(recalculated[seed]["formulas"]) > 200
    assert faults_of_workbook(found, changes, recalculated[seed]) == []


def test_changed_inputs_reach_prices_and_refusals() -> None:
    """The changes above are worth their time: most of them move the price, and the kit refuses some, for either reason."""
    moved, refused = 0, ""
    for seed in SEEDS:
        for change in change_inputs(far_job(seed), seed):
            try:
                moved += revalued(far_job(seed), change).price != far_job(seed).price
            except PriceError as error:
                refused += str(error)
    assert moved > 100
    assert refused.count("what it is divided by is zero or less") > 2
    assert refused.count("more than the price of") > 2


def test_the_far_jobs_are_far_apart() -> None:
    """Each mount, each counter of the examples, each choice of terms and each company is among them, and the least charge is the price of some."""
    found = [far_job(seed) for seed in SEEDS]
    assert {one.job.sink.mount for one in found} == {"top", "flush", "under"}
    assert {one.job.counter.material for one in found} >= {"laminate", "stone", "wood", "solid-surface"}
    assert {one.job.counter.made_by for one in found} == {"us", "fabricator", "stays"}
    assert {who.supplied_by for one in found for who in (one.job.scope.sink, one.job.scope.faucet)} >= {"us", "customer", "stays"}
    for place in ("overhead_as", "profit_as", "hired_as", "tax_on", "tax_rounding", "packs_charged"):
        assert {getattr(one.job.terms, place) for one in found} == set(CHOICES[f"terms.{place}"]), place
    for name, values in COMPANIES.items():
        assert {getattr(one.lists.company, name) for one in found} == set(values)
    assert {one.terms.has("in:round-to") for one in found} == {True, False}
    assert {one.amount("net") == one.terms.value("in:least") for one in found} == {True, False}
    assert {len(payments_of(one)) for one in found} >= {3, 4}
    assert {one.terms.preset is not None and one.terms.preset.draws_follow_work for one in found} == {True, False}


@pytest.mark.parametrize("seed", SEEDS)
def test_rows_payments_and_csv_come_to_the_same(tmp_path: Path, seed: int) -> None:
    """Rows sum to cost and price, payments to the price; pandas and the reference library read the control totals; all to the cent."""
    assert faults_of_rows(far_job(seed), tmp_path) == []


@pytest.mark.parametrize("seed", PAPER_SEEDS)
def test_papers_can_be_set_and_the_proposal_keeps_what_is_ours(seed: int) -> None:
    """Proposal and crew sheet of any job; no amount in the proposal but what the customer pays."""
    made = wander(random.Random(seed).choice(EXAMPLES), seed)
    found = kit.estimate(made.job_as_read, made.lists)
    assert crew_sheet_bytes(found, schedule=schedule_of(found)).startswith(b"%PDF-")
    assert list_purchases(found, schedule_of(found))
    if not found.buildable:
        with pytest.raises(kit.errors.IssueError, match="says stop"):
            proposal_bytes(found)
        return
    text = " ".join(" ".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(proposal_bytes(found))).pages).split())
    amounts = set(re.findall(r"\$[\d,]+\.\d\d", text)) - set(re.findall(r"temporary sink lent in between, for (\$[\d,.]+\d)", text))
    asked = {format_money(amount) for amount in (found.price, *(payment.amount for payment in payments_of(found)))}
    agreed = {format_money(row.price) for row in found.lists.unit_prices.values()}
    assert asked <= amounts <= asked | agreed
