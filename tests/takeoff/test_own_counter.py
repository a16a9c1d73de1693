"""A counter made by us, and one that stays."""

from dataclasses import replace
from types import MappingProxyType

import pytest
from hypothesis import given
from hypothesis import strategies as st
from takeoff_jobs import lists, sheet_of, step_lines, step_quantities

from kit.errors import ListError
from kit.takeoff.set_counter import count_counter
from kit.takeoff.sheet import Sheet

US = {"supplied_by": "us", "installed_by": "us"}
STANDARD = {"sink.style": "standard", "sink.apron_width": None, "sink.apron_height": None, "sink.mount": "top", "sink.bowl_width": "30 in"}
WOOD = {
    "counter.made_by": "us",
    "counter.item": "wood-maple-own",
    "counter.material": "wood",
    "counter.species": "hard-maple",
    "counter.thickness": "1 1/2 in",
    "counter.finish_coats": 4,
    "scope.counter": US,
    "scope.splash": US,
}
LAMINATE = {
    **STANDARD,
    "counter.made_by": "us",
    "counter.item": "laminate-own",
    "counter.material": "laminate",
    "counter.thickness": "1 1/2 in",
    "scope.counter": US,
    "scope.splash": US,
}
STAYS = {**STANDARD, "counter.made_by": "stays", "scope.counter": {"supplied_by": "stays", "installed_by": "nobody"}, "counter.splash": "none"}
EDGE = 29.5 + 2 * (24 - (24 + 0.75 - 18 + 1.875))  # apron opening: the bowl inside, from its rear, 1 7/8 in before the sink's back, to the counter's front
TOP_EDGE = 2 * (30.25 + 16.25)  # drop-in, body 30 x 16 in below its flange (bowl and walls of 1/4 in), 1/8 in of air all around
FINISH, BLANKS, STRIPS = "coat-blank/wood-finish/all faces", "rest-blank/wood-blank-maple/blanks", "fit-top/laminate-strip/edges and ends"


def test_wood_top_by_hand():
    """Top 96 x 24 in, 1 1/2 in thick, splash 96 x 4 and 24 x 4 in, 3/4 in thick: four coats on six faces, two on the opening, the rear and both ends."""
    area = 96 * 24 + 96 * 4 + 24 * 4
    faces = 2 * area + 2 * (1.5 * (96 + 24) + 0.75 * (96 + 4 + 24 + 4))
    fresh = EDGE + 96 + 2 * 24
    assert step_quantities(count_counter, WOOD) == pytest.approx(
        {
            BLANKS: area / 144,
            "rest-blank/rest-blank/lay out": 3,
            FINISH: (faces * 4 + fresh * 1.5 * 2) / 144 / 3,
            "coat-blank/abrasive-sheet/between coats": faces / 144 / 10 * 4,
            "coat-blank/own-finish-foot/coat": faces / 144 * 4,
            "coat-blank/masking-tape/bond line": EDGE / 12,
            "coat-blank/mask-bond-foot/bond line": EDGE / 12,
            "fit-top/own-counter-foot/scribe and cut": 8,
            "fit-top/fine-blade/cut-out": EDGE / 60,
            "fit-top/cut-out-foot/sink cutout": EDGE / 12,
            "fit-top/own-slot/slot": 5,
            "fit-top/edge-coat-first/fresh edges": fresh / 12,
            "coat-edges/edge-coat-again/fresh edges": fresh / 12,
            "set-counter/lay-counter-foot/carry over and lay": 8,
            "set-counter/adhesive/splash": 10,
            "set-counter/own-splash-foot/scribe and set": 10,
            "set-counter/top-screw/fasteners": 10,
            "set-counter/own-fastener/fasten": 10,
        }
    )


def test_blanks_keep_their_grain():
    """Along the run, in one cut plan with the splash."""
    pieces = step_lines(count_counter, WOOD)[BLANKS].pieces
    assert [(piece.length_in, piece.width_in, piece.grain) for piece in pieces] == [(96, 24, "length"), (96, 4, "length"), (24, 4, "length")]


def test_a_splash_that_is_not_ours_is_not_cut():
    """Nor finished, nor set."""
    found = step_quantities(count_counter, {**WOOD, "scope.splash": {"supplied_by": "excluded", "installed_by": "nobody"}})
    assert found[BLANKS] == 16
    assert "set-counter/own-splash-foot/scribe and set" not in found


def test_laminate_by_hand():
    """Strips on the front and one open end; the cut edge sealed twice; no finish and no slots."""
    strips = 96 + 24
    assert step_quantities(count_counter, LAMINATE) == pytest.approx(
        {
            "fit-top/laminate-blank/blanks": (96 * 24 + 96 * 4 + 24 * 4) / 144,
            STRIPS: strips / 12,
            "fit-top/contact-cement/edges and ends": strips * 1.5 / 144 / 0.9,
            "fit-top/edge-strip-foot/glue and file": strips / 12,
            "fit-top/own-counter-foot/scribe and cut": 8,
            "set-counter/lay-counter-foot/carry over and lay": 8,
            "set-counter/adhesive/splash": 10,
            "set-counter/own-splash-foot/scribe and set": 10,
            "fit-top/fine-blade/cut-out": TOP_EDGE / 60,
            "fit-top/cut-out-foot/sink cutout": TOP_EDGE / 12,
            "fit-top/edge-seal/cut-out": TOP_EDGE * 1.5 / 144 * 2 / 3,
            "fit-top/seal-edge-foot/seal the cut edge": 2 * TOP_EDGE / 12,
            "set-counter/top-screw/fasteners": 10,
            "set-counter/own-fastener/fasten": 10,
        }
    )


def test_a_corner_is_bolted():
    """24 in: three bolts, one seam."""
    two = [
        {"length": "96 in", "depth": "24 in", "left_end": "wall", "right_end": "corner"},
        {"length": "50 in", "depth": "24 in", "left_end": "corner", "right_end": "open"},
    ]
    found = step_quantities(count_counter, {**LAMINATE, "counter.runs": two})
    assert (found["set-counter/counter-bolt/seams"], found["set-counter/own-seam/align and draw up"]) == (3, 1)
    assert "set-counter/counter-bolt/seams" not in step_quantities(count_counter, LAMINATE)


def test_a_customer_s_blank_is_only_fitted():
    """No goods of ours but what fastens and finishes."""
    found = step_quantities(count_counter, {**WOOD, "scope.counter": {"supplied_by": "customer", "installed_by": "us"}})
    assert BLANKS not in found
    assert FINISH in found


def test_a_blank_that_the_customer_fits_is_only_bought():
    """No hours of ours."""
    found = step_quantities(count_counter, {**WOOD, "scope.counter": {"supplied_by": "us", "installed_by": "customer"}})
    assert set(found) == {"set-counter/wood-blank-maple/blanks"}


def test_no_blank_in_the_list_is_refused():
    """A counter made by us is made of something."""
    sheet, shipped = sheet_of(WOOD), lists()
    kind = shipped.counters["wood-maple-own"]
    fields = {name: getattr(kind, name) for name in type(kind).__slots__} | {"blank_item": None}
    changed = replace(shipped, counters=MappingProxyType({**shipped.counters, "wood-maple-own": type(kind)(**fields)}))
    with pytest.raises(ListError, match=r'countertop "wood-maple-own" has no blank_item, but is made by us\. Add one\.'):
        count_counter(Sheet(sheet.job, sheet.design, changed))


@given(st.integers(min_value=1, max_value=8), st.integers(min_value=1, max_value=8))
def test_more_coats_never_take_less_finish(one, other):
    """In proportion, but for the two coats on what is cut on site."""
    fresh = (EDGE + 96 + 2 * 24) * 1.5 * 2 / 144 / 3
    few, many = (step_quantities(count_counter, {**WOOD, "counter.finish_coats": coats})[FINISH] - fresh for coats in sorted((one, other)))
    assert many / max(one, other) == pytest.approx(few / min(one, other))


def test_a_laminate_that_stays_has_its_edge_sealed():
    """Old opening 32 x 21 in takes the new sink, 30 1/4 x 16 1/4 in: nothing is cut, nobody bills; one coat more on the old edge."""
    assert step_quantities(
        count_counter, {**STAYS, "counter.item": "laminate-own", "counter.material": "laminate", "counter.thickness": "1 1/2 in"}
    ) == pytest.approx({"set-sink/edge-seal/cut-out": TOP_EDGE * 1.5 / 144 / 3, "set-sink/seal-old-edge-foot/seal the cut edge": TOP_EDGE / 12})


def test_a_small_opening_in_laminate_is_cut_by_us():
    """Old sink of 31 in: an opening of 30 in, 1/4 in too narrow."""
    found = step_quantities(count_counter, {**STAYS, "counter.item": "laminate-own", "counter.material": "laminate", "old.sink_width": "31 in"})
    assert found["fit-top/cut-out-foot/enlarge the opening"] == pytest.approx(TOP_EDGE / 12)


def test_stone_that_stays_costs_nothing_until_it_must_be_cut():
    """Then the shop comes once, for the opening of this mount."""
    assert step_quantities(count_counter, STAYS) == {}
    assert step_quantities(count_counter, {**STAYS, "old.sink_width": "31 in"}) == {
        "set-counter/stone-cut-out-top/enlarge the opening": 1,
        "set-counter/stone-trip/enlarge the opening": 1,
    }


def test_no_sink_no_edge():
    """Counter and sink both stay."""
    stays = {"supplied_by": "stays", "installed_by": "nobody"}
    assert step_quantities(count_counter, {**STAYS, "scope.sink": stays, "counter.item": "laminate-own", "counter.material": "laminate"}) == {}
