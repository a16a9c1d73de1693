"""Cut plans drawn: every piece at its place and length, what is left hatched, names as text, proof told."""

import re
from decimal import Decimal

import pytest
from drawn import box, boxes, foot, root, texts, touching, words
from hypothesis import given
from hypothesis import strategies as st

import kit
from kit.draw.cuts import draw_cut_plan, draw_sheet_plan
from kit.records import PackedPart, PlacedPiece, Purchase


def bought(*parts: PackedPart, proven: bool = True, stock: str = "96 in stick") -> Purchase:
    count = len(parts)
    return Purchase(
        id=f"lumber/{stock}",
        line_ids=(),
        item="lumber",
        supplier="Invented Lumber Yard",
        price_row="row",
        need=1.0,
        unit="ft",
        pack=8.0,
        packs=count,
        charged=float(count),
        unit_price=Decimal(4),
        amount=Decimal(4),
        taxable=True,
        used=0.5,
        left_over="",
        plan=parts,
        bound=Decimal(4),
        proven=proven,
    )


def stick(*pieces: tuple[str, float], length: float = 96.0, kerf: float = 0.125) -> PackedPart:
    at, placed = 0.0, []
    for name, size in pieces:
        placed.append(PlacedPiece(name, at, size))
        at += size + kerf
    return PackedPart("96 in stick", length, 0.0, tuple(name for name, _ in pieces), f"{max(0.0, length - at):g} in", tuple(placed))


STICK = stick(("post", 25.0), ("cleat", 21.5), ("cleat", 21.5), ("block", 4.5))


def test_pieces_lie_to_scale_at_their_places():
    """25 + 1/8 + 21 1/2 + 1/8 ...: each piece begins a cut behind the one before; the stick is 96 in."""
    svg = draw_cut_plan(bought(STICK))
    scale = foot(svg) / 12
    hand_starts_in = [0.0, 25.125, 46.75, 68.375]
    start = box(svg, "stick")[0]
    pieces = boxes(svg, "piece")
    assert [(edges[0] - start) / scale for edges in pieces] == pytest.approx(hand_starts_in, abs=0.02)
    assert [(edges[2] - edges[0]) / scale for edges in pieces] == pytest.approx([25.0, 21.5, 21.5, 4.5], abs=0.02)
    assert (box(svg, "stick")[2] - start) / scale == pytest.approx(96.0, abs=0.02)


def test_the_list_counts_pieces_by_name_and_length():
    """Two sticks alike and one other: 2 x 2 + 1 cleats, one drawing for the two."""
    svg = draw_cut_plan(bought(STICK, STICK, stick(("cleat", 21.5))))
    assert "A: 2 x post, 25 in" in texts(svg)
    assert "B: 5 x cleat, 21 1/2 in" in texts(svg)
    assert "Cut 2 like this: 96 in stick, Invented Lumber Yard" in texts(svg)
    assert len(boxes(svg, "stick")) == 2


def test_names_stand_on_their_pieces_where_there_is_room():
    """A long piece carries letter, name and length; a short one its letter."""
    found = texts(draw_cut_plan(bought(STICK)))
    assert "A: post 25 in" in found
    assert "C" in found


def test_what_is_left_is_hatched_and_told():
    """96 - 72 1/2 - 4 x 1/8 = 23 in left, beside or on the hatch."""
    svg = draw_cut_plan(bought(STICK))
    assert "left 23 in" in texts(svg)
    assert 'fill-rule="evenodd"' in svg


@pytest.mark.parametrize(("proven", "wanted"), [(True, "Proven: no cheaper purchase exists."), (False, "Not proven cheapest")])
def test_it_says_whether_the_plan_is_proven(proven, wanted):
    """A plan that is not proven must not pass for a proven one."""
    assert wanted in " ".join(texts(draw_cut_plan(bought(STICK, proven=proven))))


def test_sheets_show_their_pieces_where_they_lie():
    """A 24 x 12 and a 10 x 12 piece in a 48 x 24 sheet: sizes, places, names."""
    part = PackedPart(
        "sheet", 48.0, 24.0, ("run", "splash"), "5 sq ft", (PlacedPiece("run", 0.0, 24.0, 0.0, 12.0), PlacedPiece("splash", 24.125, 10.0, 0.0, 12.0))
    )
    svg = draw_sheet_plan(bought(part, stock="2 x 4 ft sheet"))
    scale = foot(svg) / 12
    sheet, (run, splash) = box(svg, "stick"), boxes(svg, "piece")
    assert ((sheet[2] - sheet[0]) / scale, (sheet[3] - sheet[1]) / scale) == pytest.approx((48, 24), abs=0.05)
    assert ((run[2] - run[0]) / scale, (run[3] - run[1]) / scale) == pytest.approx((24, 12), abs=0.05)
    assert (splash[0] - sheet[0]) / scale == pytest.approx(24.125, abs=0.05)
    told = " ".join(texts(svg))
    assert "run, 24 in x 12 in" in told
    assert "no cheaper purchase exists with cuts from edge to edge" in told


@pytest.mark.parametrize(("stock", "wide_in", "hand"), [("96 x 25 1/2 in blank", 25.5, ""), ("4 x 8 ft sheet", 48.0, ": 96 in x 48 in")])
def test_a_size_is_said_once(stock, wide_in, hand):
    """A blank is called by its inches; a sheet that is called by its feet has them added."""
    part = PackedPart("sheet", 96.0, wide_in, ("run",), "1 sq ft", (PlacedPiece("run", 0.0, 24.0, 0.0, 12.0),))
    heading = next(text for text in texts(draw_sheet_plan(bought(part, stock=stock))) if "like this" in text)
    assert heading.startswith(f"Cut 1 like this: {stock}, ")
    assert heading.partition(", ")[2].partition(":")[1:] == ((":", hand[1:]) if hand else ("", ""))


def test_no_stock_of_the_lists_has_a_dash_in_its_fraction():
    """25 1/2 in, as in every other sentence."""
    prices = [price for rows in kit.load_lists(kit.shipped("price_lists")).prices.values() for price in rows]
    assert len(prices) > 100
    assert [price.sold_as for price in prices if re.search(r"\d-\d/", price.sold_as)] == []


def test_a_hostile_piece_name_is_only_text():
    """Markup in a piece name stays words."""
    name = "<b>&\"'\x00</b>"
    for svg in (
        draw_cut_plan(bought(stick((name, 40.0)))),
        draw_sheet_plan(bought(PackedPart("s", 40.0, 20.0, (name,), "0", (PlacedPiece(name, 0.0, 30.0, 0.0, 10.0),)))),
    ):
        assert root(svg) is not None
        assert "<b>" not in svg
        assert any("<b>&\"'" in text for text in texts(svg))


def test_nothing_to_cut_is_an_empty_sheet():
    """No purchases, or purchases without places: a drawing without sticks."""
    assert boxes(draw_cut_plan(), "stick") == []
    assert boxes(draw_sheet_plan(bought()), "stick") == []


@given(
    st.lists(st.lists(st.tuples(st.sampled_from(["a", "post", "block below the floor", "x" * 60]), st.floats(0.25, 30.0)), min_size=1, max_size=14), max_size=4)
)
def test_every_letter_is_written_and_none_lies_on_another(sticks):
    """However many short pieces a stick yields: each has its letter, and each kind its line in the list."""
    parts = [stick(*pieces, length=max(96.0, sum(size + 0.125 for _, size in pieces))) for pieces in sticks]
    svg = draw_cut_plan(bought(*parts))
    assert touching(words(svg)) == []
    lettered = [text for text in texts(svg) if re.match(r"[A-Z]{1,2}(:| |$)", text)]
    alike, kinds = {tuple(pieces) for pieces in sticks}, {piece for pieces in sticks for piece in pieces}
    assert len(lettered) == sum(len(pieces) for pieces in alike) + len(kinds)


def test_members_carry_the_number_of_the_frame_and_the_item_its_name():
    """The cleats are number 2 in the picture of the frame; what is no member keeps its letter."""
    found = texts(draw_cut_plan(bought(STICK), name="Stud lumber 2 x 4", numbers={("cleat", 21.5): 2}))
    assert "Cut plan: Stud lumber 2 x 4" in found
    assert {"2: 2 x cleat, 21 1/2 in", "A: 1 x post, 25 in", "B: 1 x block, 4 1/2 in"} <= set(found)


def test_a_length_between_centers_is_bought_and_never_called_a_cut():
    """The plan shows how much pipe it takes, and says what must be measured first."""
    found = " ".join(texts(draw_cut_plan(bought(stick(("arm, center to center", 9.75))), name="drain pipe")))
    assert "Lengths to buy: drain pipe" in found
    assert "don't cut to these lengths" in found
    assert not re.search(r"Cut \d+ like this|Cut plan", found)
