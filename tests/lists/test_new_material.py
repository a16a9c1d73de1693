"""A material that nobody thought of is a row of the lists: every check answers or says unknown; a mount that the kit can't build is refused at the door."""

from pathlib import Path
from typing import Any

import pytest
from list_changes import add_row, change, copy_lists, faults_of

import kit
from kit.compare.swaps import changes_for_counter
from kit.design.named_goods import counter_kind
from kit.errors import JobError, ListError
from kit.export.proposal_words import care_rows, scope_rows, summary_of
from kit.job import change_job, fill_assumptions
from kit.labor.conditions import holding_conditions
from kit.lists import Lists
from kit.records import Level

STONE = kit.read_job(kit.shipped("examples") / "stone_apron_single_bowl.toml")
# invented: a glass slab made by a shop, with the stone shop's items; its limits are nobody's yet
GLASS = (
    "glass-19mm,3/4 in glass countertop,glass,fabricator,3/4 in,yes,yes,no,no,no,stands,no,,,,,densities/glass,no,"
    "stone-2cm-area,stone-cut-out-top,,stone-cut-out-under,stone-cut-out-apron,stone-edge,,stone-hole,stone-seam,stone-splash,stone-trip,stone-delivery,,,,"
    "1,110 in,60 in,10,,,,,4 in"
)
CHANGES: dict[str, Any] = {"counter.item": "glass-19mm", "counter.material": "glass", "counter.thickness": "3/4 in"}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    copied = copy_lists(tmp_path)
    add_row(copied, "counters.csv", GLASS)
    return copied


def findings(job: Any, lists: Lists) -> dict[str, Any]:
    return {finding.id: finding for finding in kit.estimate(job, lists).findings}


def test_glass_is_one_row_and_every_check_answers(folder):
    """Limits that nobody gave and a mount that no row speaks of are unknown; the estimate is priced all the same."""
    glass = change_job(STONE, CHANGES)
    before, found = findings(STONE, kit.load_lists(folder)), findings(glass, kit.load_lists(folder))
    assert set(before) <= set(found)
    unknown = {name for name in found if found[name].level is Level.UNKNOWN} - {name for name in before if before[name].level is Level.UNKNOWN}
    assert unknown == {"surface/span", "surface/overhang", "mounts/material"}
    assert "the list of countertops gives no limit for 3/4 in glass countertop" in found["surface/span"].basis
    assert found["mounts/material"].measured == "mounts.csv has nothing on under mount in glass"
    assert kit.estimate(glass, kit.load_lists(folder)).price > 0


def test_a_limit_and_a_mount_that_are_given_answer(folder):
    """The maker's limit typed into the row, with who says so; a row in the table of mounts."""
    change(folder, "counters.csv", "stands,no,,,,,densities/glass", "stands,no,,20 in,4 in,judgement,densities/glass")
    add_row(folder, "mounts.csv", "under,glass,caution,ask the maker for the cutout (invented),judgement")
    found = findings(change_job(STONE, CHANGES), kit.load_lists(folder))
    width_in = fill_assumptions(STONE)[0].cabinet.inside_width_in
    hand_margin = 20.0 - width_in  # glass is brittle: cross pieces don't halve its span
    assert found["surface/span"].margin == pytest.approx(hand_margin)
    assert found["surface/span"].source == "judgement"
    assert found["mounts/material"].level is Level.CAUTION


def test_traits_rule_out_a_mount_that_no_row_speaks_of(folder):
    """No rabbet, no flush rim; an edge that swells, no rim below it."""
    lists = kit.load_lists(folder)
    kind = lists.counters["glass-19mm"]
    assert lists.mount_rule("flush", kind)[:2] == (Level.STOP, "no rabbet for a flush rim can be cut in it")
    change(folder, "counters.csv", "no,no,no,stands,no,,,,,densities/glass", "no,no,no,swells,no,,,,,densities/glass")
    swelling = kit.load_lists(folder)
    assert swelling.mount_rule("under", swelling.counters["glass-19mm"])[:2] == (Level.STOP, "its cut edge swells where it meets water")


def test_papers_speak_of_a_new_material(folder):
    """By its short name, or as wording.csv calls it; how to care for it is a row, and what breaks asks for wet cutting."""
    glass = change_job(STONE, CHANGES)
    plain = kit.estimate(glass, kit.load_lists(folder))
    assert summary_of(plain).endswith("and a new glass countertop.")
    assert "dusty-counter" in holding_conditions(plain.job, plain.design, plain.lists)
    add_row(folder, "wording.csv", "material-glass,material,glass,always,toughened glass,common-practice,")
    add_row(folder, "wording.csv", "care-glass,care,glass,always,No hot pans (invented).,common-practice,")
    worded = kit.estimate(glass, kit.load_lists(folder))
    assert summary_of(worded).endswith("and a new toughened glass countertop.")
    assert {"what": "Countertop (toughened glass)", "says": "No hot pans (invented)."} in list(care_rows(worded))
    assert next(row["what"] for row in scope_rows(worded) if row["part"] == "Countertop").startswith("toughened glass, 3/4 in thick")


def test_steel_is_called_stainless():
    """The shop's short name is not what a customer reads; a laminate top is no dusty one."""
    job = change_job(
        STONE, {"counter.item": "steel-16-gauge", "counter.material": "steel", "counter.thickness": "1 1/2 in", "old.counter_material": "laminate"}
    )
    steel = kit.estimate(job, kit.load_lists(kit.shipped("price_lists")))
    assert summary_of(steel).endswith("and a new stainless steel countertop.")
    solid = kit.estimate(kit.read_job(kit.shipped("examples") / "solid_surface_flush.toml"), steel.lists)
    assert summary_of(solid).endswith("and a new solid-surface countertop.")
    assert "dusty-counter" not in holding_conditions(steel.job, steel.design, steel.lists)


def test_alternates_show_the_new_counter(folder):
    """It stands among the others, by its price."""
    from kit.compare.options import compare_alternates

    assert "glass-19mm" in {option.counter for option in compare_alternates(STONE, kit.load_lists(folder))}


def test_a_thinner_counter_than_the_list_says_has_no_known_limit():
    """The limit of 3 cm stone is not that of a thinner slab."""
    found = findings(change_job(STONE, {"counter.thickness": "3/4 in"}), kit.load_lists(kit.shipped("price_lists")))
    assert found["surface/span"].level is Level.UNKNOWN
    assert "the limit in the list of countertops is for 1 3/16 in" in found["surface/span"].basis


def test_an_old_counter_on_a_backer_is_a_trait_of_its_row(folder):
    """Glass of 1970 that is screwed down holds no suspect glue, until its row says that it lies on a backer; tile does so, listed or not."""
    tile = next(line for line in (folder / "rates.csv").read_text(encoding="utf-8").splitlines() if line.startswith("old-counter-tile,"))
    add_row(folder, "rates.csv", tile.replace("old-counter-tile", "old-counter-glass"))
    old = change_job(STONE, {"old.counter_material": "glass", "old.counter_fixing": "screwed", "old.splash": "none", "site.year_built": 1970})
    assert "duties/glue" not in findings(old, kit.load_lists(folder))
    change(folder, "counters.csv", "densities/glass,no", "densities/glass,yes")
    assert findings(old, kit.load_lists(folder))["duties/glue"].measured == "backer and glue of the glass countertop in a house built in 1970"
    for row in ("tile-set", "tile-own"):
        change(folder, "counters.csv", f"^{row},.*\n", "")
    lists = kit.load_lists(folder)
    assert (lists.removed_with_backer("tile"), lists.removed_with_backer("moonstone")) == (True, False)


def test_an_old_counter_weighs_as_the_heaviest_of_its_material(folder):
    """Glass 160 lb/cu ft; what is no longer listed weighs as usual; what nobody knows is said."""
    lists = kit.load_lists(folder)
    assert lists.removed_density("glass") == 160.0
    change(folder, "counters.csv", "^tile-set,.*\n", "")
    assert kit.load_lists(folder).removed_density("tile") == lists.removed_density("tile") == 100.0
    with pytest.raises(ListError, match=r'counters.csv, old.counter_material: No countertop is of "moonstone", so its weight is not known'):
        lists.removed_density("moonstone")


def test_a_material_that_the_lists_do_not_hold_is_refused():
    """With what its counter is made of."""
    lists = kit.load_lists(kit.shipped("price_lists"))
    with pytest.raises(JobError, match=r'counter.item: "stone-3cm" is stone, but counter.material says glass'):
        counter_kind(fill_assumptions(change_job(STONE, {"counter.material": "glass"}))[0], lists)


def test_a_top_that_moves_needs_its_species():
    """By the trait of its row, whatever its material is called."""
    wood = {"counter.item": "wood-shop", "counter.material": "wood", "counter.thickness": "1 1/2 in"}
    with pytest.raises(JobError, match=r"counter.species: Wood moves with the seasons: give its species"):
        kit.estimate(change_job(STONE, wood), kit.load_lists(kit.shipped("price_lists")))


def test_an_alternate_of_wood_takes_the_species_that_its_row_says(folder):
    """Where neither the countertop nor the job is of one; what the job says stands before what is usual."""
    walnut = change_job(STONE, {"counter.species": "black-walnut"})
    before = kit.load_lists(folder).counters["wood-shop"]
    assert [changes_for_counter(job, before)["counter.species"] for job in (STONE, walnut)] == ["hard-maple", "black-walnut"]
    change(folder, "counters.csv", "(^wood-shop,.*),hard-maple,", r"\1,white-oak,")
    assert changes_for_counter(STONE, kit.load_lists(folder).counters["wood-shop"])["counter.species"] == "white-oak"


def test_a_mount_that_the_kit_does_not_know_is_refused_at_the_door(folder):
    """In the lists and in the job, with the mounts that there are; nothing behind these doors meets it."""
    add_row(folder, "mounts.csv", "rail,stone,ok,hung on a rail (invented),judgement")
    assert faults_of(folder) == ['mounts.csv, row 26, mount: "rail" is not one of: top, flush, under.']
    with pytest.raises(JobError, match=r'sink.mount: "rail" is not one of: top, flush, under.'):
        change_job(STONE, {"sink.mount": "rail"})


FAULTS = {
    "limit of nobody": (",36 in,10 in,nsi-dimension-stone,", ",36 in,10 in,,", "limits_source is empty; a limit has to say who set it."),
    "limit of a stranger": (",36 in,10 in,nsi-dimension-stone,", ",36 in,10 in,moon,", 'limits_source: "moon" is not a key of the sources.'),
    "density of nothing": ("densities/granite", "densities/moon", 'removed_density: "densities/moon" is not a row of the sources, such as densities/granite.'),
    "density nowhere": ("densities/granite", "heavy", 'removed_density: "heavy" is not a row of the sources'),
    "bare limit": (",36 in,10 in", ",36,10 in", 'span_most: "36" has no unit'),
    "edge of luck": (",stands,", ",luck,", 'wet_edge: "luck" is not one of: stands, sealed, swells.'),
}


@pytest.mark.parametrize("name", list(FAULTS))
def test_each_fault_of_a_trait_is_said(tmp_path, name):
    """Row and column, what was given, what is wanted."""
    pattern, new, wanted = FAULTS[name]
    folder = copy_lists(tmp_path)
    change(folder, "counters.csv", pattern, new)
    assert any(fault.startswith("counters.csv, row 2, ") and wanted in fault for fault in faults_of(folder)), faults_of(folder)


@pytest.mark.parametrize(("item", "printed_span_in", "printed_overhang_in"), [("stone-2cm", 24.0, 6.0), ("stone-3cm", 36.0, 10.0)])
def test_limits_of_slabs_are_the_published_ones(item, printed_span_in, printed_overhang_in):
    """nsi-dimension-stone, clear span and cantilever, restated in an expert column: 2 cm 24 and 6 in, 3 cm 36 and 10 in."""
    kind = kit.load_lists(kit.shipped("price_lists")).counters[item]
    assert (kind.span_most_in, kind.overhang_most_in, kind.limits_source) == (printed_span_in, printed_overhang_in, "nsi-dimension-stone")


def test_limits_of_stone_are_taken_over_for_other_slabs_by_judgment():
    """The manual speaks of stone: for concrete and porcelain its figures are our own judgment, and no finding may call them published."""
    counters = kit.load_lists(kit.shipped("price_lists")).counters.values()
    said = {kind.material: kind.limits_source for kind in counters if kind.material in {"stone", "concrete", "porcelain"}}
    assert said == {"stone": "nsi-dimension-stone", "concrete": "judgement", "porcelain": "judgement"}
