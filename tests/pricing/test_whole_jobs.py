"""The price of whole jobs: seeded random ones, the fabricator's bill, hours nobody sees, goods of the customer, packs by use."""

from decimal import Decimal

import pytest
from price_parts import bought
from random_jobs import random_estimate

from kit import Lists, estimate, read_job, revalue, shipped
from kit.job import change_job
from kit.labor.job_schedule import JobSchedule
from kit.money import to_decimal
from kit.outlook import plan_schedule
from kit.pricing.allowances import list_allowances
from kit.pricing.build_up import charge_by_use
from kit.pricing.cash import plan_cash
from kit.pricing.draws import plan_draws
from kit.pricing.planned_costs import cost_by_code
from kit.pricing.taxed import split_paid_tax, taxed_purchases
from kit.pricing.work_back import find_price
from kit.records import Kind
from kit.steps import Step

STONE = shipped("examples") / "stone_apron_single_bowl.toml"
SEEDS = range(60)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_build_up_of_any_job_sums_exactly(seed: int) -> None:
    """Direct cost from purchases, tasks and tax; net from its parts; price with the tax on top; margin of what is ours."""
    found = random_estimate(seed)
    rows = {row.id: row.amount for row in found.build_up}
    bought_for, worked = (sum((one.amount for one in some), Decimal(0)) for some in (found.purchases, found.tasks))
    assert found.cost == bought_for + worked + rows["tax-paid"]
    parts = ("cost", "handling", "contingency", "warranty", "overhead", "profit")
    assert rows["net"] == sum((rows.get(name, Decimal(0)) for name in parts), Decimal(0))
    assert found.price == rows["net"] + rows["tax-collected"]
    assert found.margin == to_decimal((found.price - rows["tax-collected"] - found.cost) / (found.price - rows["tax-collected"]), 4)
    assert all(rows[name] == round(rows[name], 2) for name in ("cost", "net", "price", "profit", "tax-paid", "tax-collected"))
    if found.terms.has("in:round-to") and rows["net"] != found.terms.value("in:least"):
        assert rows["net"] % found.terms.value("in:round-to") == 0
    own = {purchase.id: purchase.unit_price for purchase in found.purchases}
    assert revalue(found, own, {}, {term.id: term.value for term in found.terms.inputs}) == found


@pytest.mark.parametrize("seed", SEEDS)
def test_the_direct_cost_is_planned_by_code_to_the_cent(seed: int) -> None:
    """Purchases and work under their own codes; the tax we pay is shared by what was taxed, each part within a cent of its share."""
    found = random_estimate(seed)
    own: dict[str, Decimal] = {}
    for code, amount in (
        *((found.lists.item(one.item).cost_code, one.amount) for one in found.purchases),
        *((found.lists.steps[one.step].cost_code, one.amount) for one in found.tasks),
    ):
        own[code] = own.get(code, Decimal(0)) + amount
    codes, tax = cost_by_code(found), split_paid_tax(found)
    assert sum(codes.values()) == found.cost
    assert {code for code, amount in codes.items() if amount} == {code for code, amount in own.items() if amount}
    assert sum(tax.values(), Decimal(0)) == found.amount("tax-paid")
    mode = found.terms.tax_on  # we pay on all material, or on what the work uses up where the customer pays on the rest
    taxed = {one.id for one in found.purchases if one.taxable and (mode == "material-cost" or (mode in {"material-price", "everything"} and one.consumable))}
    assert taxed_purchases(found) == taxed
    whole = sum((one.amount for one in found.purchases if one.id in taxed), Decimal(0))
    for (kind, code), part in tax.items():
        items = [(found.lists.item(one.item), one.amount) for one in found.purchases if one.id in taxed]
        hand_part = sum(amount for item, amount in items if (item.cost_type, item.cost_code) == (kind, code)) / whole * found.amount("tax-paid")
        assert abs(part - hand_part) < Decimal("0.01")


@pytest.mark.parametrize("seed", SEEDS)
def test_the_draws_of_any_job_sum_to_its_contract(seed: int) -> None:
    """To the cent, none below 0; the deposit under its cap; and the cash that moves is the price and the cost."""
    found = random_estimate(seed)
    plan = plan_draws(found)
    assert sum(draw.due for draw in plan.draws) == found.price
    assert all(draw.due > 0 for draw in plan.draws)
    if plan.deposit_limit is not None:
        assert plan.deposit <= min(Decimal(1000), found.price / 10)
        assert all(sum(draw.due for draw in plan.draws[: place + 1]) <= draw.worth for place, draw in enumerate(plan.draws[:-1]) if draw.step)
    schedule: JobSchedule = plan_schedule(found)
    cash = plan_cash(found, plan, found.job.identity.visit_date, {row.step: row.finish.date() for row in schedule.schedule.steps})
    assert cash.days[-1].fronted == found.cost + found.amount("tax-collected") - found.price


@pytest.mark.parametrize("seed", range(0, 60, 6))
def test_working_back_from_any_job(seed: int) -> None:
    """A price above its own is met, or lifted to the next that rounding and tax allow; `revalue` gives the same."""
    found = random_estimate(seed)
    wanted = found.price + Decimal("321.07")
    answer = find_price(found, wanted)
    assert answer.price >= wanted
    assert revalue(found, {}, {}, answer.terms).price == answer.price
    step = found.terms.value("in:round-to") if found.terms.has("in:round-to") else Decimal("0.01")
    assert answer.price - wanted <= step * (1 + found.terms.value("in:tax")) + Decimal("0.01")


# --- the fabricator's bill ---


def test_the_fabricators_bill_by_hand(lists: Lists) -> None:
    """Stone of 121 1/2 x 25 1/2 in: the rectangle as it is, rounded up, without a deduction for the sink; opening, edges, hole, splash, trips."""
    job = change_job(
        read_job(STONE),
        {
            "counter.runs": [{"length": "121 1/2 in", "depth": "25 1/2 in", "left_end": "wall", "right_end": "wall"}],
            "counter.sink_center": "60 in",
            "counter.holes": [{"use": "faucet", "offset": "0 in"}, {"use": "dispenser", "offset": "6 in"}],
            "cabinet.left.kind": "drawer",
        },
    )
    found = estimate(job, lists)
    bill = {purchase.id: purchase.amount for purchase in found.purchases if purchase.supplier == "Invented Stone Shop"}
    prices = {name: lists.prices_on(name, job.identity.visit_date)[0].price for name in bill if name != "stone-delivery"}
    # a seam at the right end of the sink base: 77 7/8 x 25 1/2 in = 13.79 sq ft and 43 5/8 x 25 1/2 in = 7.73 sq ft; nothing is deducted for the opening
    assert [(piece.length_in, piece.width_in) for piece in found.design.top.pieces] == [(77.875, 25.5), (43.625, 25.5)]
    hand_area = 14 + 8  # each piece up to a whole square foot; what the shop bills at least counts for the whole job, which is far above it
    assert bill["stone-3cm-area"] == hand_area * prices["stone-3cm-area"]
    assert not [purchase for purchase in found.purchases if purchase.item == "minimum-stone-shop"]
    assert bill["stone-cut-out-apron"] == prices["stone-cut-out-apron"]
    assert bill["stone-hole"] == 2 * prices["stone-hole"]
    assert bill["stone-trip"] == 2 * prices["stone-trip"]
    hand_edge = (Decimal("121.5") - Decimal("29.75")) / 12 * prices["stone-edge"]  # walls at both ends; the apron opening holds its own edge
    assert abs(bill["stone-edge"] - hand_edge) <= Decimal("0.01")
    assert found.amount("hired") >= sum(bill.values())


# --- hours that nobody sees ---


@pytest.mark.parametrize("seed", SEEDS)
def test_unseen_hours_never_vanish(seed: int) -> None:
    """Visit, ordering and punch list in every job; the template meeting and the inspector where there are some; all with hours that cost."""
    found = random_estimate(seed)
    steps = {task.step: task for task in found.tasks}
    wanted = {Step.VISIT, Step.ORDER, Step.PUNCH_LIST}
    if found.job.counter.made_by == "fabricator" and found.job.scope.counter.renewed and not found.design.setting.laid_in_place:
        wanted.add(Step.TEMPLATE)  # nobody takes a template of tile
    if found.design.duties.permit:
        wanted.add(Step.INSPECT)
    assert wanted <= set(steps)
    for step in wanted:
        assert steps[step].hours_likely > 0
        assert steps[step].amount > 0


# --- whose goods ---


def test_what_the_customer_supplies_is_not_bought_marked_up_or_warranted(lists: Lists) -> None:
    """The sink itself is in no purchase, in no tax and in no warranty reserve; setting it still is."""
    ours = estimate(change_job(read_job(STONE), {"terms.warranty": "2 %"}), lists)
    theirs = estimate(change_job(read_job(STONE), {"terms.warranty": "2 %", "scope.sink": {"supplied_by": "customer", "installed_by": "us"}}), lists)
    sink = next(purchase for purchase in ours.purchases if purchase.id == "fired-clay-apron-33")
    assert sink.id not in {purchase.id for purchase in theirs.purchases}
    assert ours.amount("taxable") - theirs.amount("taxable") == sink.amount
    labor_more = theirs.amount("labor") - ours.amount("labor")  # the customer's goods are looked over when they come
    assert ours.amount("warranted") - theirs.amount("warranted") == sink.amount - labor_more
    assert any(task.step is Step.SET_SINK for task in theirs.tasks)


# --- packs ---


def test_packs_charged_by_use_by_hand() -> None:
    """Two packs at 10.00 of which 0.75 is used: 1.5 packs, 15.00; hired work as it is."""
    goods, hired = bought("board", "10.00", packs=2, used=0.75), bought("shop", "300.00", packs=0)
    used = charge_by_use((goods, hired))
    assert (used[0].charged, used[0].amount, used[0].packs) == (1.5, Decimal("15.00"), 2)
    assert used[1] == hired


def test_by_use_is_never_dearer_and_keeps_packs_and_plans(lists: Lists) -> None:
    """The same to buy, less to charge."""
    whole, used = (estimate(change_job(read_job(STONE), {"terms.packs_charged": word}), lists) for word in ("whole", "by-use"))
    assert [(one.id, one.packs, one.plan, one.supplier) for one in whole.purchases] == [(one.id, one.packs, one.plan, one.supplier) for one in used.purchases]
    assert all(left.amount <= right.amount for left, right in zip(used.purchases, whole.purchases, strict=True))
    assert used.price < whole.price


# --- allowances and exclusions ---


@pytest.mark.parametrize("seed", range(0, 60, 5))
def test_allowances_are_the_lines_that_nobody_measured(seed: int) -> None:
    """Each with its part of the cost, above nothing and never more than its purchase or task."""
    found = random_estimate(seed)
    listed = list_allowances(found.lines, found.purchases, found.tasks, found.lists)
    lines = {line.id: line for line in found.lines}
    assert {one.line_id for one in listed} == {name for name, line in lines.items() if line.source == "allowance"}
    for one in listed:
        of = found.tasks if lines[one.line_id].kind is Kind.DO else found.purchases
        assert 0 <= one.cost <= sum(each.amount for each in of if one.line_id in each.line_ids)


def test_an_allowance_takes_its_share_by_hand(lists: Lists) -> None:
    """A floor and a swollen side from the same panels: the side takes its part of their need."""
    made = estimate(change_job(read_job(STONE), {"cabinet.swollen_side": "both", "cabinet.wet_floor": True}), lists)
    side = next(
        one for one in list_allowances(made.lines, made.purchases, made.tasks, lists) if one.step is Step.REPAIR_CABINET and one.item.startswith("plywood")
    )
    panels = [purchase for purchase in made.purchases if purchase.item == side.item]
    needs = {line.id: line.quantity for line in made.lines if line.item == side.item and line.step is Step.REPAIR_CABINET}
    hand = sum(panel.amount for panel in panels) * Decimal(repr(side.quantity)) / Decimal(repr(sum(needs.values())))
    assert abs(side.cost - hand) <= Decimal("0.01")
