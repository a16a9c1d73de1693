"""What is bought: packs, price breaks, shops, plans and what the van holds."""

import datetime as dt
from dataclasses import replace
from decimal import ROUND_HALF_UP, Decimal
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import kit
from kit.buying.buy import SHOP_TRIP, choose_shops, plan_purchases
from kit.buying.minimums import is_idle, top_up, with_idle_minimums, without_idle_minimums
from kit.buying.packs import buy_by_use, buy_packs
from kit.buying.pieces_to_cut import VAN, plan_pieces, share_bound
from kit.errors import CutError
from kit.job import change_job
from kit.lists.goods_rows import Price
from kit.records import Kind, Line, Piece
from kit.steps import Step

LISTS = kit.load_lists(kit.shipped("price_lists"))
JOB = kit.read_job(kit.shipped("examples") / "stone_apron_single_bowl.toml")
SHIM = LISTS.item("shim")


def line(quantity, *, waste=0.0, kind=Kind.BUY, item="shim", pieces=(), parts=()):
    """A line of some item."""
    return Line(f"level/{item}/x", Step.LEVEL, kind, item, quantity, "each", waste, pieces, "", "job", parts)


def price(pack, amount, *, shop="A", least=None, item="shim", sold_as=None, length=None):
    """A price row."""
    return Price(item, shop, dt.date(2026, 1, 1), None, sold_as or f"pack of {pack:g}", pack, length, None, Decimal(amount), "USD", least)


def test_packs_round_up_once_the_waste_is_in():
    """12 and 15 % waste are 13.8: one bundle of 14; 12.2 and 15 % are 14.03: two."""
    (one,) = buy_packs(SHIM, [line(12.0, waste=0.15)], [price(14, "3.80")])
    assert (one.packs, one.amount, one.need) == (1, Decimal("3.80"), pytest.approx(13.8))
    (two,) = buy_packs(SHIM, [line(12.2, waste=0.15)], [price(14, "3.80")])
    assert (two.packs, two.amount) == (2, Decimal("7.60"))


def test_what_reads_like_the_packs_leaves_nothing():
    """1.98 ft of 2 reads "2", so 0.02 left over would be one too many; 1.9 leaves a tenth. 19.64 of 20 reads 19.6 and leaves 0.4, 181.7 of 200 leaves 18."""
    felt = LISTS.item("stair-runner")
    assert felt.unit == "ft"
    assert [buy_packs(felt, [line(need)], [price(1, "13.20")])[0].left_over for need in (1.98, 1.9)] == ["nothing", "0.1 ft"]
    assert [buy_packs(felt, [line(need)], [price(pack, "13.20")])[0].left_over for need, pack in ((19.64, 5), (181.7, 100))] == ["0.4 ft", "18 ft"]


def test_what_is_left_of_pieces_is_whole():
    """18.4 shims take 19 of 28; of a blade that is half used nothing is left for the shelf; 5 screws that float noise makes 5.0000000001 stay 5."""
    needs = ((18.4, 14), (0.51, 1), (4.4, 100), (5.0000000001, 10))
    assert [buy_packs(SHIM, [line(need)], [price(pack, "3.80")])[0].left_over for need, pack in needs] == ["9", "nothing", "95", "5"]


def test_doors_made_to_size_and_billed_by_the_foot_leave_nothing():
    """4.6 sq ft of doors are billed as 5; nobody brings 0.4 sq ft of door home. A sheet of 8 leaves what it leaves."""
    doors = replace(SHIM, item="new-door", name="Cabinet door", unit="sq ft")
    assert [buy_packs(doors, [line(4.6)], [price(pack, "38.00")])[0].left_over for pack in (1, 8)] == ["nothing", "3.4 sq ft"]


def test_a_need_of_exactly_one_pack_is_one_pack():
    """A hair of float noise does not buy a pack: 0.1 x 3 x 10 of a pack of 3."""
    (bought,) = buy_packs(SHIM, [line(0.1 * 3 * 10)], [price(3, "1.00")])
    assert bought.packs == 1


def test_two_pack_sizes_are_mixed_where_that_is_cheaper():
    """66 of packs of 32 (39.80) and 16 (24.50): two large and one small, 104.10, beat three large, 119.40."""
    bought = buy_packs(SHIM, [line(66.0)], [price(32, "39.80"), price(16, "24.50")])
    assert [(purchase.packs, purchase.pack) for purchase in bought] == [(2, 32), (1, 16)]
    assert sum(purchase.amount for purchase in bought) == Decimal("104.10")
    assert sum(purchase.need for purchase in bought) == 66
    assert len({purchase.id for purchase in bought}) == 2


def test_packs_are_the_cheapest_set_for_the_need():
    """24 from packs of 10 (10.00) and of 7 (6.50): one and two, 23.00; neither three of 10 (30.00) nor two and one (26.50)."""
    bought = buy_packs(SHIM, [line(24.0)], [price(10, "10.00"), price(7, "6.50")])
    hand_cost = Decimal("10.00") + 2 * Decimal("6.50")
    assert [(purchase.packs, purchase.pack) for purchase in bought] == [(1, 10), (2, 7)]
    assert sum(purchase.amount for purchase in bought) == hand_cost
    assert [purchase.left_over for purchase in bought] == ["nothing", "nothing"]


def test_three_pack_sizes_are_mixed_and_equal_cost_buys_the_fewest():
    """16 of 10, 5 and 1 at a price by what they hold: three packs, not sixteen."""
    rows = [price(1, "1.00"), price(5, "5.00"), price(10, "10.00")]
    bought = buy_packs(SHIM, [line(16.0)], rows)
    assert [(purchase.packs, purchase.pack) for purchase in bought] == [(1, 10), (1, 5), (1, 1)]
    assert sum(purchase.packs for purchase in buy_packs(SHIM, [line(9999.0)], rows)) == 999 + 1 + 4  # quick, though many sets cost as much
    (one,) = buy_packs(SHIM, [line(7.0)], [price(3, "0.30"), price(9, "0.90")])  # a tenth of a cent in floats would say otherwise
    assert (one.packs, one.pack) == (1, 9)


def test_the_last_of_a_need_in_floats_fits_the_most_packs_worth_buying():
    """8.9 from packs of 1 (10.00) and a tenth (1.00): eight and nine, 89.00, not nine, 90.00; in floats 8.9 - 8 is more than nine tenths."""
    bought = buy_packs(SHIM, [line(8.9)], [price(1, "10.00"), price(0.1, "1.00")])
    assert [(purchase.packs, purchase.pack) for purchase in bought] == [(8, 1), (9, 0.1)]


def test_amounts_that_each_round_down_are_found():
    """9 in one pack at 0.0989 come to 0.10; one pack each of 4 (0.0449), 3 (0.0349) and 2 (0.0249) to 0.04 + 0.03 + 0.02, though dearer by the unit."""
    rows = [price(9, "0.0989"), price(4, "0.0449"), price(3, "0.0349"), price(2, "0.0249")]
    bought = buy_packs(SHIM, [line(9.0)], rows)
    assert [(purchase.packs, purchase.pack, purchase.amount) for purchase in bought] == [
        (1, 4, Decimal("0.04")),
        (1, 3, Decimal("0.03")),
        (1, 2, Decimal("0.02")),
    ]


def test_a_price_break_is_taken_when_it_pays():
    """From 4 on a roll is 13.20 and not 15.60: for 3 rolls it does not pay (46.80 against 52.80), for 35 bags it does."""
    rows = [price(10, "15.60"), price(10, "13.20", least=4)]
    (three,) = buy_packs(SHIM, [line(30.0)], rows)
    assert (three.packs, three.amount) == (3, Decimal("46.80"))
    (four,) = buy_packs(SHIM, [line(35.0)], rows)
    assert (four.packs, four.amount) == (4, Decimal("52.80"))
    steep = [price(10, "15.60"), price(10, "10.00", least=4)]
    (more,) = buy_packs(SHIM, [line(30.0)], steep)
    assert (more.packs, more.amount, more.left_over) == (4, Decimal("40.00"), "10")


def test_hired_work_is_charged_by_use():
    """Three and a third hours are three and a third hours, to four places."""
    bought = buy_by_use(SHIM, [line(10 / 3, kind=Kind.HIRE)], [price(1, "60.00")])
    assert (bought.packs, bought.charged, bought.amount) == (0, 3.3333, Decimal("200.00"))


def test_the_cheapest_by_what_a_row_holds_is_charged_by_use():
    """500.00 for ten hours are 50.00 an hour, less than 60.00; at the same rate the first by its name."""
    rows = [price(1, "60.00", sold_as="hour"), price(10, "500.00", sold_as="ten hours"), price(2, "100.00", sold_as="two hours")]
    (bought,) = [buy_by_use(SHIM, [line(5.0, kind=Kind.HIRE)], rows[:2])]
    assert (bought.price_row, bought.charged, bought.amount) == (rows[1].id, 0.5, Decimal("250.00"))
    assert buy_by_use(SHIM, [line(5.0, kind=Kind.HIRE)], rows).price_row == min(rows[1].id, rows[2].id)


def test_nothing_needed_buys_no_pack_and_dust_uses_no_more_than_all():
    (none,) = buy_packs(SHIM, [line(0.0)], [price(14, "3.80")])
    assert (none.packs, none.amount) == (0, 0)
    (all_of_it,) = buy_packs(SHIM, [line(3.0000003)], [price(1, "2.00")])
    assert (all_of_it.packs, all_of_it.used) == (3, 1.0)


def cheapest_counted_out(need, rows):
    """Least cost and then fewest packs over every count of every size; a size is bought from its least count on."""
    best = None
    for counts in product(*({0, *range(row.least_packs or 1, max(int(need / row.pack) + 1, row.least_packs or 1) + 1)} for row in rows)):
        if sum(count * row.pack for count, row in zip(counts, rows, strict=True)) >= need:
            cost = sum(((row.price * count).quantize(Decimal("0.01"), ROUND_HALF_UP) for count, row in zip(counts, rows, strict=True)), Decimal(0))
            best = min(best or (cost, sum(counts)), (cost, sum(counts)))
    return best


PRICE_ROWS = st.lists(st.tuples(st.integers(1, 30), st.integers(1, 90_000), st.sampled_from([None, None, 2, 4])), min_size=1, max_size=3)


@settings(deadline=None, max_examples=200)
@given(st.integers(1, 25), PRICE_ROWS, st.sampled_from([2, 3]), st.booleans())
def test_packs_cost_what_is_counted_out(need, sizes, places, by_size):
    """Any sizes, price breaks and prices below a cent, and prices in proportion: cost and number of packs are those of the best of all choices."""
    rows = [
        price(float(pack), Decimal(pack * 100 if by_size else units).scaleb(-places), least=least, sold_as=f"pack {place}")
        for place, (pack, units, least) in enumerate(sizes)
    ]
    bought = buy_packs(SHIM, [line(float(need))], rows)
    assert (sum(purchase.amount for purchase in bought), sum(purchase.packs for purchase in bought)) == cheapest_counted_out(need, rows)
    assert sum(purchase.need for purchase in bought) == pytest.approx(need)


@settings(deadline=None)
@given(st.floats(0.01, 500), PRICE_ROWS)
def test_whatever_is_bought_holds_the_need(need, sizes):
    """Packs hold a need that is no whole number, and the order of the rows makes no difference."""
    rows = [price(pack / 4, f"{cents / 100:.2f}", least=least, sold_as=f"pack {place}") for place, (pack, cents, least) in enumerate(sizes)]
    bought = buy_packs(SHIM, [line(need)], rows)
    assert sum(purchase.packs * purchase.pack for purchase in bought) >= need - 1e-5
    assert bought == buy_packs(SHIM, [line(need)], rows[::-1])


def offers(item, rows):
    """Buy one pack from the cheapest of the rows."""
    best = min(rows, key=lambda row: (row.price, row.supplier))
    return buy_packs(SHIM, [line(1.0)], [best])


def test_one_shop_less_beats_a_small_saving():
    """B sells one thing 5 cheaper; a trip costs 18: all is bought at A."""
    prices = {"x": [price(1, "20.00"), price(1, "15.00", shop="B")], "y": [price(1, "9.00")]}
    shops, bought = choose_shops(prices, offers, Decimal("18.00"))
    assert shops == ("A",)
    assert bought["x"][0].supplier == "A"
    shops, bought = choose_shops(prices, offers, Decimal("4.00"))
    assert shops == ("A", "B")
    assert bought["x"][0].supplier == "B"


def test_four_shops_at_most_and_no_more_than_those_that_alone_sell_something():
    """A and B alone sell something; of C, D and E, which save 9, 9 and 8, two are left. Of five that alone sell something no sixth is gone to."""
    two = {"a": [price(1, "5.00")], "b": [price(1, "5.00", shop="B")]}
    cheaper = {item: [price(1, "10.00"), price(1, cost, shop=shop)] for item, shop, cost in (("c", "C", "1.00"), ("d", "D", "1.00"), ("e", "E", "2.00"))}
    shops, bought = choose_shops(two | cheaper, offers, Decimal("0.00"))
    assert (shops, bought["e"][0].supplier) == (("A", "B", "C", "D"), "A")
    five = {shop: [price(1, "5.00", shop=shop)] for shop in "ABCDE"}
    shops, _ = choose_shops({**five, "f": [price(1, "10.00"), price(1, "1.00", shop="F")]}, offers, Decimal("0.00"))
    assert shops == tuple("ABCDE")


def test_equal_cost_goes_to_fewer_shops():
    """At the same sum with and without the second trip, there is no second trip."""
    prices = {"x": [price(1, "20.00"), price(1, "15.00", shop="B")], "y": [price(1, "9.00")]}
    shops, _ = choose_shops(prices, offers, Decimal("5.00"))
    assert shops == ("A",)


@given(
    st.lists(st.lists(st.tuples(st.sampled_from("ABCDE"), st.integers(1, 60)), min_size=1, max_size=5, unique_by=lambda row: row[0]), min_size=1, max_size=5),
    st.integers(0, 30),
)
def test_no_set_of_at_most_four_shops_is_cheaper(table, trip):
    """Every choice of a shop for each item, worked by brute force, costs as much or more."""
    prices = {f"i{number}": [price(1, f"{cost}.00", shop=shop) for shop, cost in rows] for number, rows in enumerate(table)}
    shops, bought = choose_shops(prices, offers, Decimal(trip))
    paid = sum(purchase.amount for purchases in bought.values() for purchase in purchases) + Decimal(trip) * len(shops)
    ways = [way for way in product(*table) if len({shop for shop, _ in way}) <= 4]
    if ways:
        assert paid == min(sum(cost for _, cost in way) + trip * len({shop for shop, _ in way}) for way in ways)


def test_trips_to_the_shops_are_bought():
    """The estimate pays a trip for each shop that sells goods."""
    made = kit.estimate(JOB, LISTS)
    goods = {line.item for line in made.lines if line.kind is Kind.BUY}
    shops = {purchase.supplier for purchase in made.purchases if purchase.item in goods}
    (trips,) = [purchase for purchase in made.purchases if purchase.item == SHOP_TRIP]
    assert trips.charged == len(shops)


def test_work_and_fees_alone_need_no_shop_and_are_billed_a_minimum():
    """A plumber at 118.00 an hour bills 236.00 at least (invented): of half an hour 59.00 and 177.00; beyond two hours the minimum waits at nothing."""
    filled, _ = kit.job.fill_assumptions(JOB)
    work, minimum = plan_purchases(filled, [line(0.5, kind=Kind.HIRE, item="hire-plumber")], LISTS)
    assert (work.amount, minimum.amount, is_idle(minimum)) == (Decimal("59.00"), Decimal("177.00"), False)
    (enough,) = plan_purchases(filled, [line(2.5, kind=Kind.HIRE, item="hire-plumber")], LISTS)
    assert enough.amount == Decimal("295.00")
    waiting = with_idle_minimums([enough], LISTS, JOB.identity.visit_date)
    assert [(one.item, one.amount, is_idle(one)) for one in waiting] == [("hire-plumber", enough.amount, False), ("minimum-plumber", Decimal(0), True)]
    assert without_idle_minimums(waiting) == (enough,)
    assert top_up(waiting[1], [replace(enough, amount=Decimal("229.00"))]).amount == 7
    assert top_up(enough, []) == enough  # what is no minimum stays as it is
    assert choose_shops({}, offers, Decimal("18.00")) == ((), {})


def test_offcuts_in_the_van_are_used_before_lumber_is_bought():
    """Enough offcuts: no stick is bought, the plan names the van, and the job costs less."""
    plain = kit.estimate(JOB, LISTS)
    with_van = kit.estimate(change_job(JOB, {"offcuts": [{"item": "lumber-2x4", "length": "96 in", "count": 6}]}), LISTS)
    lumber = [purchase for purchase in with_van.purchases if purchase.item == "lumber-2x4"]
    assert {purchase.supplier for purchase in lumber} == {VAN}
    assert sum(purchase.amount for purchase in lumber) == 0
    assert with_van.cost < plain.cost
    wanted = sorted(piece.name for line in with_van.lines if line.item == "lumber-2x4" for piece in line.pieces for _ in range(piece.count))
    assert sorted(name for purchase in lumber for stick in purchase.plan for name in stick.pieces) == wanted


def test_a_piece_that_no_stock_holds_is_named():
    """The line, the piece, its length, the longest stock and the measures of the job to look at all stand in the error."""
    filled, _ = kit.job.fill_assumptions(JOB)
    giant = line(20.0, item="lumber-2x4", pieces=(Piece(240.0, 1, "giant cleat"),), parts=("frame",))
    sound = replace(line(2.0, item="lumber-2x4", pieces=(Piece(24.0, 1, "block"),), parts=("counter",)), id="level/lumber-2x4/sound")
    with pytest.raises(CutError, match=r"^level/lumber-2x4/x: piece giant cleat of .*: 240 in fits no stock\. Sizes available: .*, 120 in\.") as caught:
        plan_purchases(filled, [sound, giant], LISTS)
    assert str(caught.value).endswith("Check cabinet.width, cabinet.depth, cabinet.height, or add a larger size of lumber-2x4 to prices.csv.")
    panel = line(40.0, item="plywood-1-2", pieces=(Piece(120.0, 1, "giant panel", 60.0),))
    with pytest.raises(
        CutError, match=r"piece giant panel of .*: 120 x 60 in, grain along the length, fits no stock\. Sizes available: .* Add a larger size of plywood-1-2"
    ):
        plan_purchases(filled, [panel], LISTS)


def test_slip_joint_tubes_as_long_as_their_stock_are_bought():
    """An arm of 12 in, as long as a tube, beside tailpieces that come from millimetres: a 12 in tube holds it."""
    job = kit.read_job(kit.shipped("examples") / "wood_apron_two_bowl.toml")
    # the sink's back lies 4 3/4 in from the wall; the stub below an outlet, 5 in of bend and 2 in of stub off the way
    hand_setback = 12 + 5 + 2 - 4.75
    changes = {"plumbing.stub_offset": "7 in", "sink.outlet_setback": f"{hand_setback} in", "sink.bowls[1].depth": "230 mm"}
    found = kit.estimate(change_job(job, changes), LISTS)
    tubes = [purchase for purchase in found.purchases if purchase.item == "tube-slip-joint"]
    arms = [piece for purchase in tubes for tube in purchase.plan for piece in tube.placed if piece.name == "arm"]
    assert [arm.length_in for arm in arms] == [12.0]
    assert all(purchase.proven for purchase in tubes)


def test_the_bounds_of_a_plans_purchases_sum_to_the_plans():
    """Four sizes of blank of one plan: each proven purchase has its own amount as its bound; an unproven plan's gap is taken off them to the cent."""
    found = kit.estimate(kit.read_job(kit.shipped("examples") / "laminate_top_mount.toml"), LISTS)
    blanks = [purchase for purchase in found.purchases if purchase.item == "laminate-blank"]
    assert len(blanks) > 1
    assert all(purchase.proven and purchase.bound == purchase.amount for purchase in blanks)
    shares = share_bound(blanks, sum(purchase.amount for purchase in blanks) - Decimal("10.01"))
    assert sum(purchase.bound for purchase in shares) == sum(purchase.amount for purchase in blanks) - Decimal("10.01")
    assert all(purchase.bound <= purchase.amount for purchase in shares)


def test_a_sheet_says_what_area_is_left():
    """A 20 x 30 in panel out of 24 x 48 in: 1152 less 600 sq in are 3.8 sq ft; of what is bought 600 of 1152 are used."""
    rows = [replace(price(8, "9.40", item="plywood-1-2", sold_as="2 x 4 ft panel", length=48.0), stock_width_in=24.0)]
    (bought,) = plan_pieces(LISTS.item("plywood-1-2"), [line(5.0, item="plywood-1-2", pieces=(Piece(30.0, 1, "panel", 20.0),))], rows, [])
    hand_left = (48 * 24 - 30 * 20) / 144
    assert [sheet.left_over for sheet in bought.plan] == [f"{hand_left:.1f} sq ft"] == ["3.8 sq ft"]
    assert bought.left_over == f"{hand_left:.1f} sq ft"
    assert (bought.need, bought.used) == (pytest.approx(600 / 144), pytest.approx(600 / 1152))


def test_blanks_are_planned_as_sheets():
    """A wood top's blanks carry the place of every part, and every part is placed once."""
    made = kit.estimate(kit.read_job(kit.shipped("examples") / "wood_apron_two_bowl.toml"), LISTS)
    blanks = [purchase for purchase in made.purchases if purchase.item.startswith("wood-blank")]
    wanted = sorted(piece.name for line in made.lines if line.item.startswith("wood-blank") for piece in line.pieces for _ in range(piece.count))
    placed = [part for purchase in blanks for sheet in purchase.plan for part in sheet.placed]
    assert sorted(part.name for part in placed) == wanted
    assert all(part.width_in > 0 for part in placed)
