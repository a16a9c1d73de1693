"""A step is called by what is done in it in this job."""

import re

import pytest
from random_jobs import random_estimate
from work_jobs import STEMS, STONE, estimated, lists

from kit.estimating import Estimate, estimate
from kit.export.papers import sentences
from kit.lists import parse_lists
from kit.records import Kind
from kit.steps import Step

S = Step

# which work a word in a step's name promises: some of it must be there (rates.csv)
PROMISED = {
    (S.FRONTS_OFF, "doors"): {"door-off"},
    (S.FRONTS_OFF, "false front"): {"false-front"},
    (S.FRONTS_OFF, "sink base"): {"base-emptied"},
    (S.REFIT_FRONTS, "doors"): {"door", "new-door"},
    (S.REFIT_FRONTS, "trim"): {"trim-door"},
    (S.REFIT_FRONTS, "new"): {"new-door"},
    (S.REFIT_FRONTS, "fillers"): {"filler"},
    (S.REFIT_FRONTS, "sink base"): {"below-deck-part"},
    (S.REMOVE_COUNTER, "countertop"): {"old-counter-pound"},
    (S.REMOVE_COUNTER, "backsplash"): {"splash-loose", "splash-glued", "splash-tile"},
    (S.KEEP_WATER, "stubs"): {"cap-stub"},
    (S.KEEP_WATER, "plug"): {"plug-drain"},
    (S.KEEP_WATER, "temporary sink"): {"lend-sink"},
    (S.CUT_FRONT, "cut"): {"front-cut-foot"},
    (S.SEAL, "rim"): {"wipe-rim-foot"},
    (S.SEAL, "joints"): {"seal-foot"},
    (S.FIT_FAUCET, "accessories"): {"fit-accessory"},
    (S.FIT_FAUCET, "reinstall"): {"refit-faucet"},
}


@pytest.mark.parametrize(
    ("stem", "hand_names"),
    [
        ("counter_stays_sink_only", {S.SHUT_OFF: "Shut off and test the water", S.PROTECT: "Protect the floor", S.SEAL: "Seal the rim of the sink"}),
        ("counter_stays_sink_only", {S.FIT_FAUCET: "Reinstall the faucet"}),
        ("solid_surface_flush", {S.FRONTS_OFF: "Empty the sink base", S.REFIT_FRONTS: "Refill the sink base"}),
        ("solid_surface_flush", {S.FIT_FAUCET: "Install faucet and accessories", S.KEEP_WATER: "Plug the drain: water back on"}),
        ("laminate_top_mount", {S.FRONTS_OFF: "Take off the doors", S.REFIT_FRONTS: "Rehang the doors"}),
        ("laminate_top_mount", {S.FIT_FAUCET: "Install the faucet", S.KEEP_WATER: "Cap stubs and plug the drain: water back on"}),
        (STONE, {S.FRONTS_OFF: "Take off doors and false front", S.REFIT_FRONTS: "Trim and rehang the doors", S.CUT_FRONT: "Cut the cabinet front"}),
        ("wood_apron_two_bowl", {S.REFIT_FRONTS: "Hang doors and install fillers", S.CUT_FRONT: "Fit the apron to the cabinet front"}),
        ("corner_dishwasher_drain_down", {S.REFIT_FRONTS: "Hang the new doors", S.SHUT_OFF: "Shut off and test water and power"}),
    ],
)
def test_a_step_is_named_for_what_the_job_has(stem: str, hand_names: dict[Step, str]) -> None:
    """Where only water filters come out of the base nobody takes off doors."""
    names = estimated(stem).step_names
    assert {step: names[step] for step in hand_names} == hand_names


def _untrue(found: Estimate) -> list[str]:
    """Names of steps, and what in them our people don't do in this job."""
    done: dict[Step, set[str]] = {}
    for line in found.lines:
        if line.kind is Kind.DO:
            done.setdefault(line.step, set()).add(line.item)
    return [
        f"{found.step_names[step]}: {word}"
        for (step, word), works in PROMISED.items()
        if step in done and re.search(rf"\b{word}\b", found.step_names[step].lower()) and not works & done[step]
    ]


def test_no_name_promises_what_is_not_done() -> None:
    """In any job; each row of the names occurs in one of them, or is tried below."""
    made = [*(estimated(stem) for stem in STEMS), *(random_estimate(seed) for seed in range(60))]
    assert {found.job.identity.job_number: _untrue(found) for found in made if _untrue(found)} == {}
    seen = {name for found in made for name in found.step_names.values()}
    unseen = {row.says for row in lists().wording if row.use == "name"} - seen
    assert unseen <= {"Connect the temporary sink"}, unseen


def test_the_customer_reads_what_is_done_in_a_step() -> None:
    """The base that is emptied, the doors that stay on; power only where it is shut off."""
    said = {stem: [*sentences(estimated(stem), "step", S.FRONTS_OFF), *sentences(estimated(stem), "step", S.SHUT_OFF)] for stem in STEMS}
    assert said["solid_surface_flush"] == [
        "We take out what is kept in the sink cabinet and store it.",
        "We shut off water and power where we work and test that both are off.",
    ]
    assert said["counter_stays_sink_only"] == ["We shut off the water where we work and test that it is off."]
    faucets = {
        stem: list(sentences(estimated(stem), "step", S.FIT_FAUCET)) for stem in ("counter_stays_sink_only", "wood_apron_two_bowl", "solid_surface_flush")
    }
    assert faucets == {
        "counter_stays_sink_only": ["We put your faucet back."],
        "wood_apron_two_bowl": ["We install the faucet."],
        "solid_surface_flush": ["We install the faucet.", "We install the accessories."],
    }
    assert list(sentences(estimated("wood_apron_two_bowl"), "step", S.CUT_FRONT)) == [
        "We hold a template of the apron to the front of the cabinet; nothing there has to be cut."
    ]


def test_lists_without_names_call_steps_as_steps_csv_does() -> None:
    """A firm's own older wording.csv has neither the column nor the rows."""
    texts = dict(lists().texts)
    rows = [line for line in texts["wording.csv"].splitlines() if not line.startswith("name-")]
    texts["wording.csv"] = "\n".join(line.rpartition(",")[0] for line in rows) + "\n"
    older = parse_lists(texts, "older")
    assert all(row.with_work is None for row in older.wording)
    found = estimated("solid_surface_flush")
    assert estimate(found.job_as_read, older).step_names[S.FRONTS_OFF] == lists().steps[S.FRONTS_OFF].name
