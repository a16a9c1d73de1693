"""What to buy and how to cut it: boundaries worked by hand, order of the aims, errors."""

import subprocess
import sys
import threading
from dataclasses import replace
from decimal import Context, Decimal, setcontext

import pytest
from plan_checks import certify_cuts, check_cuts

from kit.cutting import lengths
from kit.cutting.lengths import plan_cuts
from kit.cutting.plans import CutPlan, Stock
from kit.errors import CutError
from kit.records import Piece

EIGHT = Stock(96.0, Decimal("4.00"), "8 ft")


def checked(pieces: list[Piece], stock: list[Stock], kerf_in: float = 0.125, least_offcut_in: float = 0.0) -> CutPlan:
    """A plan that has been followed, and whose piece values prove its bound."""
    plan = plan_cuts(pieces, stock, kerf_in=kerf_in, least_offcut_in=least_offcut_in)
    check_cuts(plan, pieces, stock, kerf_in, least_offcut_in)
    if plan.proof in {"sizes", "values"} and plan.cut:
        assert certify_cuts(plan, pieces, stock, kerf_in) == plan.bound
    return plan


# --- boundaries ------------------------------------------------------------------------------------------


def test_four_quarters_do_not_fit_beside_their_blades():
    """4 x 24 in need 96 3/8 in of a 96 in stick: three cuts of 1/8 in."""
    plan = checked([Piece(24.0, 4, "cleat")], [EIGHT])
    hand_sticks = 2
    assert len(plan.cut) == hand_sticks
    assert plan.cost == Decimal("8.00")
    assert plan.proven


def test_four_quarters_fit_without_a_blade():
    """Sheared or split stock loses nothing: 4 x 24 in are 96 in."""
    assert len(checked([Piece(24.0, 4, "cleat")], [EIGHT], kerf_in=0.0).cut) == 1


def test_two_pieces_and_one_blade_fill_a_stick_exactly():
    """2 x 47 15/16 in and one cut of 1/8 in are 96 in; nothing is left."""
    plan = checked([Piece(47.9375, 2, "rail")], [EIGHT])
    assert len(plan.cut) == 1
    assert plan.cut[0].left_over_in == 0.0
    assert not plan.cut[0].usable


def test_a_sixty_fourth_too_much_needs_a_second_stick():
    """47 15/16 in and 47 61/64 in are 1/64 in too long together."""
    assert len(checked([Piece(47.9375, 1, "rail"), Piece(47.953125, 1, "stile")], [EIGHT]).cut) == 2


def test_a_rest_thinner_than_the_blade_is_sawn_away():
    """2 x 47.9 in leave 0.075 in after the cut between them: less than the last cut takes."""
    plan = checked([Piece(47.9, 2, "rail")], [EIGHT])
    assert len(plan.cut) == 1
    assert plan.cut[0].left_over_in == 0.0


def test_the_rest_is_what_stays_after_the_last_cut():
    """30 in off a 96 in stick leave 65 7/8 in."""
    plan = checked([Piece(30.0, 1, "cross piece")], [EIGHT], least_offcut_in=24.0)
    hand_left_in = 96 - 30 - 0.125
    assert plan.cut[0].left_over_in == hand_left_in
    assert plan.cut[0].usable


@pytest.mark.parametrize(("least_in", "usable"), [(65.875, True), (65.876, False)])
def test_a_rest_is_usable_from_the_least_offcut_on(least_in: float, usable: bool):
    """The least offcut itself is kept, a thousandth less is not."""
    assert checked([Piece(30.0, 1, "cross piece")], [EIGHT], least_offcut_in=least_in).cut[0].usable is usable


def test_millimetres_in_inches_stay_exact():
    """Two pieces of 419 mm are one stick of 838 mm when nothing is lost, whatever floats make of them."""
    stock = [Stock(838 / 25.4, Decimal("3.00"), "strip")]
    assert len(checked([Piece(419 / 25.4, 2, "half")], stock, kerf_in=0.0).cut) == 1
    assert len(checked([Piece(419.5 / 25.4, 2, "half")], stock, kerf_in=0.0).cut) == 2


def test_millimetres_beside_an_inch_blade_stay_exact():
    """A 1/8 in blade is 3.175 mm: 2 x 417.4 mm and one cut are 837.975 mm, 2 x 417.5 mm are 838.175 mm."""
    stock = [Stock(838 / 25.4, Decimal("3.00"), "strip")]
    assert len(checked([Piece(417.4 / 25.4, 2, "half")], stock).cut) == 1
    assert len(checked([Piece(417.5 / 25.4, 2, "half")], stock).cut) == 2


def test_a_piece_as_long_as_its_stock_fits_whatever_stands_beside_it():
    """Two tubes of 12 in and two of 169.86 mm, a blade of 1/16 in: the grid of all of them is far too fine for a table, and the tubes fit."""
    pieces = [Piece(6.687381889763778, 2, "tailpiece"), Piece(12.0, 2, "arm")]
    stock = [Stock(12.0, Decimal("4.90"), "12 in tube"), Stock(6.0, Decimal("3.40"), "6 in tube")]
    hand_cost = 4 * Decimal("4.90")  # two tailpieces and a blade are 13 7/16 in
    plan = plan_cuts(pieces, stock, kerf_in=0.0625)
    check_cuts(plan, pieces, stock, 0.0625)
    assert (plan.cost, plan.proven) == (hand_cost, True)


def test_measures_on_no_common_grid_are_proven():
    """Lengths that no inch fraction or decimal stands for still give a sound plan with a proven bound."""
    pieces = [Piece(10.1234567891, 3, "a"), Piece(7 / 127 + 20, 4, "b"), Piece(31.00713, 2, "c")]
    stock = [Stock(96.0, Decimal("4.00"), "8 ft"), Stock(143.99731, Decimal("6.20"), "12 ft")]
    plan = plan_cuts(pieces, stock, kerf_in=0.1137)
    check_cuts(plan, pieces, stock, 0.1137)
    hand_total_in = 3 * 10.1234567891 + 4 * (7 / 127 + 20) + 2 * 31.00713
    assert hand_total_in > 143.99731  # so one stick never does
    assert plan.proven
    assert plan.cost == Decimal("8.00")


def test_nothing_wanted_buys_nothing():
    """No pieces, or none of each, make a proven plan without sticks, whatever the stock."""
    for pieces in ([], [Piece(20.0, 0, "cleat")]):
        plan = checked(pieces, [])
        assert (plan.cut, plan.cost, plan.proven) == ((), Decimal("0.00"), True)


def test_pieces_carry_their_names_and_places():
    """Equal lengths with different names are cut from one stick, each named, a blade apart."""
    plan = checked([Piece(20.0, 1, "left cleat"), Piece(20.0, 1, "right cleat"), Piece(31.0, 1, "front")], [EIGHT])
    assert [(piece.name, piece.length_in, piece.at_in) for piece in plan.cut[0].pieces] == [
        ("front", 31.0, 0.0),
        ("left cleat", 20.0, 31.125),
        ("right cleat", 20.0, 51.25),
    ]


# --- order of the aims -----------------------------------------------------------------------------------


def test_cheapest_comes_before_fewest():
    """Two short sticks for 5.00 beat one long stick for 6.00."""
    plan = checked([Piece(40.0, 2, "a")], [Stock(48.0, Decimal("2.50"), "4 ft"), Stock(96.0, Decimal("6.00"), "8 ft")])
    assert plan.cost == Decimal("5.00")
    assert [stick.stock.name for stick in plan.cut] == ["4 ft", "4 ft"]


def test_of_equal_cost_the_fewest_sticks_are_bought():
    """One 96 in stick costs as much as two of 48 in that would do as well."""
    plan = checked([Piece(40.0, 2, "a")], [Stock(48.0, Decimal("2.50"), "4 ft"), Stock(96.0, Decimal("5.00"), "8 ft")])
    assert [stick.stock.name for stick in plan.cut] == ["8 ft"]


def test_of_as_many_sticks_the_longest_offcut_is_left():
    """2 x 40 and 3 x 10 in from two sticks: 40 + 40 + 10 and two cuts take 90 1/4 in of one, so the other is cut for 10 + 10 in only."""
    plan = checked([Piece(40.0, 2, "long"), Piece(10.0, 3, "short")], [EIGHT], least_offcut_in=12.0)
    hand_longest_in = 96 - 2 * (10 + 0.125)
    assert len(plan.cut) == 2
    assert max(stick.left_over_in for stick in plan.cut) == hand_longest_in


def test_an_offcut_on_hand_saves_a_stick():
    """A free 41 in offcut takes the second 40 in piece, so that two 8 ft sticks are not needed."""
    stock = [EIGHT, Stock(41.0, Decimal(0), "offcut", 1)]
    pieces = [Piece(60.0, 1, "long"), Piece(40.0, 1, "short")]
    assert checked(pieces, [EIGHT]).cost == Decimal("8.00")
    plan = checked(pieces, stock)
    assert plan.cost == Decimal("4.00")
    assert {stick.stock.name for stick in plan.cut} == {"8 ft", "offcut"}


def test_an_offcut_on_hand_saves_length_of_the_new_stick():
    """Where money is the same, the free offcut is cut first and the bought stick keeps a longer rest."""
    plan = checked([Piece(50.0, 1, "long"), Piece(30.0, 1, "short")], [EIGHT, Stock(31.0, Decimal(0), "offcut", 1)])
    hand_left_in = 96 - 50 - 0.125
    bought = next(stick for stick in plan.cut if stick.stock.name == "8 ft")
    assert bought.left_over_in == hand_left_in


def test_an_offcut_worth_more_than_it_saves_is_kept():
    """At a value of 0.50 the offcut stays on the rack while a bought stick has room."""
    plan = checked([Piece(50.0, 1, "long"), Piece(30.0, 1, "short")], [EIGHT, Stock(31.0, Decimal("0.50"), "offcut", 1)])
    assert [stick.stock.name for stick in plan.cut] == ["8 ft"]


def test_only_what_is_on_hand_is_used():
    """Two offcuts are two, though four pieces fit such offcuts."""
    plan = checked([Piece(30.0, 4, "a")], [EIGHT, Stock(31.0, Decimal(0), "offcut", 2)])
    assert sum(stick.stock.name == "offcut" for stick in plan.cut) == 2
    assert plan.cost == Decimal("4.00")


def test_a_purchase_worked_by_hand():
    """3 x 70 and 3 x 24 in: each 8 ft stick takes one of both, 15.00; a 12 ft one at 9.00 takes two long ones, but then two shorts need a third stick."""
    stock = [Stock(96.0, Decimal("5.00"), "8 ft"), Stock(144.0, Decimal("9.00"), "12 ft")]
    plan = checked([Piece(70.0, 3, "long"), Piece(24.0, 3, "short")], stock)
    hand_cost = min(3 * Decimal("5.00"), Decimal("9.00") + 2 * Decimal("5.00"))
    assert plan.cost == hand_cost


# --- prices ----------------------------------------------------------------------------------------------


def test_prices_below_a_cent_stay_exact():
    """Ten sticks at 0.345 cost 3.450."""
    plan = checked([Piece(20.0, 10, "peg")], [Stock(20.0, Decimal("0.345"), "blank")])
    assert plan.cost == Decimal("3.450")


def test_trailing_zeros_and_exponents_of_prices_do_not_matter():
    """4, 4.0000 and 4E+0 are the same price."""
    for price in (Decimal(4), Decimal("4.0000"), Decimal("4E+0")):
        assert checked([Piece(50.0, 2, "a")], [Stock(96.0, price, "8 ft")]).cost == Decimal("8.00")


def test_money_does_not_hang_on_the_decimal_context():
    """A thread whose context keeps two digits sees the same cost."""
    costs = []

    def ask() -> None:
        setcontext(Context(prec=2))
        costs.append(checked([Piece(50.0, 3, "a")], [Stock(96.0, Decimal("1234.56"), "8 ft")]).cost)

    thread = threading.Thread(target=ask)
    thread.start()
    thread.join()
    hand_cost = Decimal("3703.68")
    assert costs == [hand_cost]


def test_one_stock_twice_at_two_prices():
    """Of two stocks alike the cheaper is bought; a cheap one with a limit first."""
    cheap, dear = Stock(96.0, Decimal("3.00"), "rack", 1), Stock(96.0, Decimal("4.00"), "shop")
    plan = checked([Piece(90.0, 3, "a")], [dear, cheap, Stock(96.0, Decimal("4.50"), "other shop")])
    assert plan.cost == Decimal("11.00")
    assert sorted(stick.stock.name for stick in plan.cut) == ["rack", "shop", "shop"]


# --- errors ----------------------------------------------------------------------------------------------


def test_every_piece_that_is_too_long_is_named():
    """Two pieces that no stick holds are two faults in one error."""
    with pytest.raises(CutError, match=r"piece rail: 96\.125 in fits no stock\. Sizes available: 96 in\.") as caught:
        plan_cuts([Piece(96.125, 1, "rail"), Piece(20.0, 1, "cleat"), Piece(120.0, 2, "beam")], [EIGHT], kerf_in=0.125)
    assert [fault.place for fault in caught.value.faults] == ["piece rail", "piece beam"]


def test_no_stock_is_said():
    """Pieces without stock, or with stock that is used up, have nothing to be cut from."""
    for stock in ([], [Stock(96.0, Decimal("4.00"), "8 ft", 0)]):
        with pytest.raises(CutError, match="piece cleat: There is no stock to cut it from"):
            plan_cuts([Piece(20.0, 1, "cleat")], stock, kerf_in=0.125)


def test_too_few_sticks_are_said():
    """Two sticks of 96 in can't hold three pieces of 60 in."""
    stock = [Stock(96.0, Decimal("4.00"), "8 ft", 2)]
    with pytest.raises(CutError, match=r"can't hold all 3 pieces\. Add to it, or name a stock without a limit"):
        plan_cuts([Piece(60.0, 3, "rail")], stock, kerf_in=0.125)


def test_sticks_that_are_long_enough_in_sum_but_not_one_by_one_are_refused():
    """3 x 50 and 3 x 40 in are 270 in of 288 in, but no 96 in stick holds two long ones nor a long one with two short: five pieces fit."""
    stock = [Stock(96.0, Decimal("4.00"), "8 ft", 2), Stock(88.0, Decimal("4.00"), "short", 1)]
    with pytest.raises(CutError, match="can't hold all 6 pieces"):
        plan_cuts([Piece(50.0, 3, "a"), Piece(40.0, 3, "b")], stock, kerf_in=0.0)


def test_scarce_sticks_are_packed_when_they_can_be():
    """Three sticks that just hold six pieces, which the simple rules may miss, are found to."""
    pieces = [Piece(length, 1, f"{length}") for length in (44.0, 52.0, 36.0, 60.0, 30.0, 66.0)]
    assert len(checked(pieces, [Stock(96.0, Decimal("4.00"), "8 ft", 3)], kerf_in=0.0).cut) == 3


def test_all_bad_measures_come_in_one_report():
    """Blade, least offcut, piece and stock are checked together."""
    with pytest.raises(CutError) as caught:
        plan_cuts(
            [Piece(0.0, 1, "nil"), Piece(10.0, -1, "owed"), Piece(float("nan"), 1, "unknown")],
            [
                Stock(-96.0, Decimal("4.00"), "anti"),
                Stock(96.0, Decimal(-1), "gift"),
                Stock(96.0, Decimal("NaN"), "riddle"),
                Stock(96.0, Decimal(1), "debt", -1),
            ],
            kerf_in=-0.125,
            least_offcut_in=float("inf"),
        )
    assert [str(fault) for fault in caught.value.faults] == [
        "kerf_in: -0.125 in is no width or length. Give 0 or more inches.",
        "least_offcut_in: inf in is no width or length. Give 0 or more inches.",
        "piece nil: 0 in is no length. Give more than 0 inches.",
        "piece owed: -1 is no count. Give a whole number, 0 or more.",
        "piece unknown: nan in is no length. Give more than 0 inches.",
        "stock anti: -96 in is no length. Give more than 0 inches.",
        "stock gift: -1 is no price. Give a decimal amount, 0 or more.",
        "stock riddle: NaN is no price. Give a decimal amount, 0 or more.",
        "stock debt: -1 is no number of sticks or slabs. Give 0 or more, or None for as many as needed.",
    ]


def test_a_piece_too_short_to_be_told_from_nothing_is_planned():
    """Five chips of 0.0001 in from a stick of 192 in, no blade: below the grid that values are looked up on, and yet one stick holds them."""
    plan = checked([Piece(0.0001, 5, "chip")], [Stock(192.0, Decimal("1.00"), "16 ft")], kerf_in=0.0)
    assert (plan.cost, plan.proven) == (Decimal("1.00"), True)


def test_a_float_is_no_price():
    """Money is Decimal: a float in its place is refused, not rounded."""
    with pytest.raises(CutError, match=r"stock 8 ft: 4\.5 is no price\. Give a decimal amount"):
        plan_cuts([Piece(20.0, 1, "cleat")], [Stock(96.0, 4.5, "8 ft")], kerf_in=0.125)  # type: ignore[arg-type]


# --- limits --------------------------------------------------------------------------


def test_no_heavy_library_is_loaded_before_it_is_needed():
    """The room loads neither numpy nor the solver before a plan is asked for."""
    code = "import sys; import kit.cutting.lengths, kit.cutting.slabs\nprint(sorted({'numpy', 'highspy', 'pint', 'pandas'} & set(sys.modules)))"
    printed = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout
    assert printed.strip() == "[]"


def test_the_first_estimate_loads_no_heavy_library():
    """The cut plans of an ordinary kitchen need neither numpy nor the solver: loading them would take a third of the first estimate."""
    code = (
        "import sys, kit\nlists = kit.load_lists(kit.shipped('price_lists'))\n"
        "for path in sorted(kit.shipped('examples').glob('*.toml')):\n    kit.estimate(kit.read_job(path), lists)\n"
        "print(sorted({'numpy', 'highspy', 'pint', 'pandas'} & set(sys.modules)))"
    )
    printed = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout
    assert printed.strip() == "[]"


HARD = (
    [Piece(length, count, f"{length}") for length, count in ((37.0, 5), (29.5, 4), (23.125, 6), (17.375, 5))],
    [Stock(96.0, Decimal("5.03"), "8 ft"), Stock(120.0, Decimal("6.31"), "10 ft")],
)


def test_the_same_job_gives_the_same_plan():
    """Order of the pieces and of the stock changes no stick; nor does working it out again."""
    pieces, stock = HARD
    plan = checked(pieces, stock)
    again = checked(pieces[::-1], stock[::-1])
    assert (plan.cost, len(plan.cut)) == (again.cost, len(again.cut))
    assert [piece.length_in for stick in plan.cut for piece in stick.pieces] == [piece.length_in for stick in again.cut for piece in stick.pieces]


def test_names_change_no_cut():
    """The same demand under other names is the same job in whole numbers."""
    pieces, stock = HARD
    renamed = [Piece(piece.length_in, piece.count, f"other {piece.name}") for piece in pieces]
    assert [[piece.at_in for piece in stick.pieces] for stick in checked(pieces, stock).cut] == [
        [piece.at_in for piece in stick.pieces] for stick in checked(renamed, stock).cut
    ]


TIGHT = (
    [Piece(float(length), count, f"{length}") for length, count in ((56, 3), (49, 1), (41, 3), (40, 3), (25, 4), (7, 4))],
    [Stock(69.0, Decimal("6.90"), "short"), Stock(102.0, Decimal("9.18"), "middle"), Stock(120.0, Decimal("10.80"), "long")],
)
"""Invented: neither packing nor rounding finds the cheapest plan of these pieces, so that it takes the search."""


def test_a_plan_cut_short_by_its_node_limit_shows_its_gap(monkeypatch: pytest.MonkeyPatch):
    """With no search nodes a dearer plan comes with the bound that was reached; given nodes, the gap closes from above."""
    pieces, stock = TIGHT
    with monkeypatch.context() as patch:
        patch.setattr(lengths, "NODES", 0)
        plan = plan_cuts(pieces, stock, kerf_in=0.0)
    check_cuts(plan, pieces, stock, 0.0)
    assert (plan.proven, plan.proof) == (False, "open")
    hand_cost = 5 * Decimal("10.80")  # the pieces are 588 of the 600 in that five long sticks have
    assert plan.bound <= hand_cost < plan.cost
    searched = checked(pieces, stock, kerf_in=0.0)
    assert (searched.cost, searched.proven) == (hand_cost, True)


def test_very_many_priced_offcuts_leave_a_sound_plan():
    """Twelve kinds of offcuts at a price each, two of each: more sets than are listed; the plan is sound and says what it knows."""
    offcuts = [Stock(30.0 + 3.7 * place, Decimal("0.50") + Decimal(place) / 100, f"offcut {place}", 2) for place in range(12)]
    pieces = [Piece(17.0 + 2.3 * place, 3, f"{place}") for place in range(6)]
    plan = checked(pieces, [EIGHT, *offcuts])
    assert plan.bound <= plan.cost <= checked(pieces, [EIGHT]).cost


def test_a_wrong_certificate_proves_less_not_more():
    """Values of one kind of piece only prove only what these need."""
    pieces, stock = [Piece(60.0, 3, "long"), Piece(30.0, 3, "short")], [Stock(96.0, Decimal("4.00"), "8 ft")]
    plan = plan_cuts(pieces, stock, kerf_in=0.125)
    hand_long, hand_short = Decimal("12.00"), Decimal("4.00")  # one stick a long piece; three short ones in one stick
    assert certify_cuts(plan, pieces, stock, 0.125) == hand_long == plan.bound
    assert certify_cuts(replace(plan, values=((1, 0),)), pieces, stock, 0.125) == hand_long
    assert certify_cuts(replace(plan, values=((0, 1),)), pieces, stock, 0.125) == hand_short
    assert certify_cuts(replace(plan, values=((0, 0),)), pieces, stock, 0.125) == Decimal(0)


def test_the_checks_see_a_stick_too_short_and_a_forgotten_blade():
    """A plan made without a blade fails with one."""
    plan = plan_cuts([Piece(24.0, 4, "cleat")], [EIGHT], kerf_in=0.0)
    check_cuts(plan, [Piece(24.0, 4, "cleat")], [EIGHT], 0.0)
    with pytest.raises(AssertionError):
        check_cuts(plan, [Piece(24.0, 4, "cleat")], [EIGHT], 0.125)
