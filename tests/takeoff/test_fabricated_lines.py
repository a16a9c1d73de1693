"""What a fabricator bills."""

from dataclasses import replace
from types import MappingProxyType

import pytest
from takeoff_jobs import lists, sheet_of, step_lines, step_quantities

from kit.errors import JobError, ListError
from kit.records import Kind
from kit.takeoff.set_counter import count_counter
from kit.takeoff.sheet import Sheet

AREA, EDGE, HOLES, SEAMS = (
    "set-counter/stone-3cm-area/area",
    "set-counter/stone-edge/front edge",
    "set-counter/stone-hole/holes",
    "set-counter/stone-seam/seams",
)
SPLASH = "set-counter/stone-splash/splash"
STANDARD = {"sink.style": "standard", "sink.apron_width": None, "sink.apron_height": None}
MATERIALS = ("laminate", "wood", "solid-surface", "stone", "tile", "concrete", "steel", "porcelain")


def made_of(material):
    """The counter changed to a material, by its fabricator's row in the lists."""
    item = next(row.item for row in lists().counters.values() if row.material == material and row.made_by == "fabricator")
    return {"counter.material": material, "counter.item": item, **({"counter.species": "hard-maple"} if material == "wood" else {})}


def test_bill_of_the_plain_job_by_hand():
    """96 x 24 in: 16 sq ft; front and one open end, less 29 1/2 in open for the apron; one hole; splash 96 + 24 in; two trips; delivered by weight."""
    splash = 96 + 24
    assert step_quantities(count_counter) == pytest.approx(
        {
            AREA: 16,
            "set-counter/stone-cut-out-apron/sink cutout": 1,
            EDGE: (96 + 24 - 29.5) / 12,
            HOLES: 1,
            SPLASH: splash / 12,
            "template/stone-trip/template": 1,
            "set-counter/stone-trip/set": 1,
            "set-counter/stone-delivery/delivery": (16 + splash * 4 / 144) * 16.5,
        }
    )


def test_all_of_it_is_hired():
    """No hours and no goods of ours."""
    assert {line.kind for line in step_lines(count_counter).values()} == {Kind.HIRE}


def test_the_opening_is_not_deducted_and_pieces_are_rounded_up():
    """25 x 97 in is 16.84 sq ft, billed 17; 24 x 48 in is 8, billed 8: the shop's minimum is for the whole job."""
    assert step_quantities(count_counter, {"counter.runs[1].length": "97 in", "counter.runs[1].depth": "25 in"})[AREA] == 17
    assert step_quantities(count_counter, {"counter.runs[1].length": "48 in"})[AREA] == 8


@pytest.mark.parametrize(
    ("mount", "style", "item"),
    [("top", STANDARD, "top"), ("flush", STANDARD, "flush"), ("under", STANDARD, "under"), ("under", {}, "apron"), ("flush", {}, "apron")],
)
def test_the_opening_by_mount(mount, style, item):
    """An apron's is its own, whatever the mount."""
    assert f"set-counter/stone-cut-out-{item}/sink cutout" in step_quantities(count_counter, {**style, "sink.mount": mount})


@pytest.mark.parametrize("material", MATERIALS)
@pytest.mark.parametrize("mount", ["top", "flush", "under"])
def test_every_material_can_be_priced_with_every_mount(material, mount):
    """Even where a check says stop."""
    found = step_quantities(count_counter, {**made_of(material), **STANDARD, "sink.mount": mount})
    assert [name for name in found if f"cut-out-{mount}" in name]
    assert [name for name in found if name.endswith("/area")]


def test_seams_and_holes_by_number():
    """150 in is longer than a slab; three holes."""
    found = step_quantities(count_counter, {"counter.runs[1].length": "150 in", "counter.holes": [{"use": "faucet", "offset": f"{at} in"} for at in (0, 4, 8)]})
    assert (found[SEAMS], found[HOLES]) == (1, 3)
    assert SEAMS not in step_quantities(count_counter)
    assert step_quantities(count_counter, {"counter.runs[1].joints": 2})[SEAMS] == 2
    assert HOLES not in step_quantities(count_counter, {"counter.holes": []})


def test_a_built_up_edge_has_its_own_price():
    """In place of the plain one."""
    found = step_quantities(count_counter, {"counter.edge": "built-up"})
    assert found["set-counter/stone-edge-built/front edge"] == pytest.approx((96 + 24 - 29.5) / 12)
    assert EDGE not in found


@pytest.mark.parametrize(("high", "sqft"), [("4 in", None), ("6 in", (96 + 24) * 2 / 144), ("18 in", (96 + 24) * 14 / 144)])
def test_a_backsplash_higher_than_usual_is_charged_by_area_too(high, sqft):
    """A price for a foot covers 4 in (common practice, no source): what stands higher costs as much as the countertop does."""
    found = step_quantities(count_counter, {"counter.splash_height": high})
    assert found[SPLASH] == (96 + 24) / 12
    assert found.get("set-counter/stone-3cm-area/higher backsplash") == (pytest.approx(sqft) if sqft else None)


def test_a_list_that_names_no_usual_height_charges_a_backsplash_by_its_length():
    """As lists did before they could name one."""
    found = {line.id for line in count_counter(_without("splash_height_in", {"counter.splash_height": "18 in"}))}
    assert {AREA, SPLASH} <= found
    assert not [line for line in found if "higher" in line]


@pytest.mark.parametrize(
    "changes",
    [
        {"counter.splash": "none"},
        {"scope.splash": {"supplied_by": "excluded", "installed_by": "nobody"}},
        {"scope.splash": {"supplied_by": "customer", "installed_by": "customer"}},
    ],
)
def test_no_splash_on_the_bill(changes):
    """None wanted, or not ours."""
    assert SPLASH not in step_quantities(count_counter, changes)


@pytest.mark.parametrize("by", [("customer", "fabricator"), ("excluded", "nobody")])
def test_a_counter_that_is_not_ours(by):
    """The customer has it made, or it is no part of the job."""
    assert step_quantities(count_counter, {"scope.counter": {"supplied_by": by[0], "installed_by": by[1]}}) == {}


def test_a_row_of_another_maker_is_refused():
    """Its prices are not there; the rows that would do are named."""
    by_shop = r'"3 cm stone countertop" is made by the countertop shop in the list of countertops, but "Countertop made by" says us\. '
    with pytest.raises(JobError, match=by_shop + "The list has no other of that material"):
        step_quantities(count_counter, {"counter.made_by": "us"})
    with pytest.raises(JobError, match=r"says the countertop shop\. Choose one of: Wood countertop, made by the shop\.$"):
        step_quantities(count_counter, {"counter.item": "wood-maple-own", "counter.material": "wood", "counter.species": "hard-maple"})


def test_a_mount_without_a_price_is_refused():
    """Never silently nothing."""
    with pytest.raises(ListError, match=r'countertop "stone-3cm" has no cut_out_apron_item. Add one, or choose another mount\.'):
        count_counter(_without("cut_out_apron_item"))


def test_what_a_row_leaves_empty_is_in_the_area():
    """No line for the edge."""
    assert EDGE not in {line.id for line in count_counter(_without("edge_item"))}


def _without(column, changes=None):
    sheet, shipped = sheet_of(changes), lists()
    kind = shipped.counters["stone-3cm"]
    fields = {name: getattr(kind, name) for name in type(kind).__slots__} | {column: None}
    counters = MappingProxyType({**shipped.counters, "stone-3cm": type(kind)(**fields)})
    return Sheet(sheet.job, sheet.design, replace(shipped, counters=counters))
