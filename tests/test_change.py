"""Change orders: published markups, agreed unit prices, tax, and what must always hold."""

from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from price_parts import bought, task, terms

from kit import Estimate, Lists, estimate, read_job, shipped
from kit.change.effect import change_draws
from kit.change.priced_change import price_change
from kit.errors import PriceError
from kit.job import change_job
from kit.lists.money_rows import ChangeRule
from kit.records import CostType
from kit.steps import Step

EXAMPLE = shipped("examples") / "stone_apron_single_bowl.toml"
MOVES: dict[str, dict[str, Any]] = {
    "a wet floor": {"cabinet.wet_floor": True},
    "the customer brings the faucet": {"scope.faucet": {"supplied_by": "customer", "installed_by": "us"}},
    "another mount": {"sink.mount": "top"},
    "one more hole": {"counter.holes": [{"use": "faucet", "offset": "0 in"}, {"use": "dispenser", "offset": "6 in"}]},
    "no haul": {"scope.haul_away": {"supplied_by": "excluded", "installed_by": "nobody"}},
    "a temporary sink": {"terms.temporary_sink": True},
    "all at once": {"cabinet.wet_floor": True, "cabinet.swollen_side": "both", "scope.splash": {"supplied_by": "excluded", "installed_by": "nobody"}},
}


def clause(own: tuple[float, float], hired: tuple[float, float], material: tuple[float, float] | None = None) -> dict[tuple[str, CostType], ChangeRule]:
    """A rule named "clause": markups on adds and on credits."""
    shares = dict.fromkeys(CostType, own) | {CostType.HIRED: hired, CostType.MATERIAL: material or own}
    return {("clause", kind): ChangeRule("clause", kind, *pair, "demo", "") for kind, pair in shares.items()}


def made(lists: Lists, rules: Any, *, tasks: Any = (), purchases: Any = (), asked: Any = None) -> Any:
    """Just as much of an estimate as a change order reads."""
    kinds = {one.item: CostType.HIRED if not one.taxable else CostType.MATERIAL for one in purchases}

    def item(name: str) -> Any:
        return replace(lists.item("shim"), item=name, name=name, cost_type=kinds[name])

    only = SimpleNamespace(change_rules=rules, unit_prices=lists.unit_prices, steps=lists.steps, item=item, company=lists.company)
    job = SimpleNamespace(identity=SimpleNamespace(job_number="T-1"))
    hours = sum(one.hours_likely for one in tasks)
    return SimpleNamespace(
        lists=only,
        job=job,
        step_names={step: row.name for step, row in lists.steps.items()},
        lines=(),
        tasks=tuple(tasks),
        purchases=tuple(purchases),
        terms=asked or terms(),
        hours=hours,
        price=Decimal("5000.00"),
    )


def test_a_clause_that_gives_less_on_credits_than_on_adds(lists: Lists) -> None:
    """Own forces 15 percent on adds and 5 on credits, subcontractors 5 and 0 (change-clause-a): 690 + 420 - 210 is 900.00."""
    rules = clause((0.15, 0.05), (0.05, 0.0))
    old = made(lists, rules, tasks=[task(Step.SEAL, "200.00")])
    new = made(lists, rules, tasks=[task(Step.SET_SINK, "600.00")], purchases=[bought("shop", "400.00", taxable=False)])
    found = price_change(old, new, rule="clause")
    hand = {"buy:shop": Decimal("420.00"), "task:set-sink": Decimal("690.00"), "task:seal": Decimal("-210.00")}
    assert {row.id: row.amount for row in found.rows} == hand
    assert (found.amount, found.contract_after) == (Decimal("900.00"), Decimal("5900.00"))
    assert [row.kind for row in found.rows] == ["add", "add", "credit"]


def test_a_letter_that_takes_the_same_on_credits(lists: Lists) -> None:
    """Labor 15 percent, materials 10, subcontracts 5; deductive changes at the same rates (change-clause-b)."""
    rules = clause((0.15, 0.15), (0.05, 0.05), (0.10, 0.10))
    parts = {"tasks": [task(Step.SET_SINK, "100.00")], "purchases": [bought("board", "200.00"), bought("shop", "300.00", taxable=False)]}
    nothing, everything = made(lists, rules), made(lists, rules, **parts)
    hand = Decimal("115.00") + Decimal("220.00") + Decimal("315.00")
    assert price_change(nothing, everything, rule="clause").amount == hand
    assert price_change(everything, nothing, rule="clause").amount == -hand


def test_credit_at_cost_is_a_rule_of_its_own(lists: Lists) -> None:
    """What falls away is credited at its cost, what comes carries its markup."""
    made_jobs = [estimate(read_job(EXAMPLE), lists), estimate(change_job(read_job(EXAMPLE), MOVES["the customer brings the faucet"]), lists)]
    both, at_cost = (price_change(*made_jobs, rule=rule) for rule in ("markup-both-ways", "credit-at-cost"))
    faucet = {order.rule: next(row for row in order.rows if row.id == "buy:faucet") for order in (both, at_cost)}
    assert faucet["credit-at-cost"].amount == faucet["credit-at-cost"].cost == Decimal("-265.00")
    assert faucet["markup-both-ways"].amount == Decimal("-304.75")  # hand: 265.00 x 1.15
    assert at_cost.cost == both.cost


def test_tax_paid_follows_what_is_added_and_what_falls_away(lists: Lists) -> None:
    """6 percent on 100.00 that comes, on 50.00 that goes; each as material of the rule."""
    rules, asked = clause((0.10, 0.0), (0.0, 0.0)), terms("markup", "material-cost", tax="0.06")
    old, new = (made(lists, rules, purchases=[bought(name, amount)], asked=asked) for name, amount in (("a", "50.00"), ("b", "100.00")))
    rows = {row.id: row for row in price_change(old, new, rule="clause").rows}
    assert (rows["tax-paid/adds"].cost, rows["tax-paid/adds"].amount) == (Decimal("6.00"), Decimal("6.60"))
    assert (rows["tax-paid/credits"].cost, rows["tax-paid/credits"].amount) == (Decimal("-3.00"), Decimal("-3.00"))


@pytest.mark.parametrize(
    ("tax_on", "more", "hand_tax"),
    [("everything", {}, "10.00"), ("material-price", {"material_markup": "0.50"}, "15.00"), ("exempt", {}, None)],
)
def test_tax_collected_follows_the_contract(lists: Lists, tax_on: Any, more: Any, hand_tax: str | None) -> None:
    """10 percent of the change, or of the stated price of its material: 100.00 x 1.50."""
    rules, asked = clause((0.0, 0.0), (0.0, 0.0)), terms("markup", tax_on, tax="0.10", **more)
    old, new = made(lists, rules, asked=asked), made(lists, rules, purchases=[bought("a", "100.00")], asked=asked)
    taxes = [row.amount for row in price_change(old, new, rule="clause").rows if row.kind == "tax"]
    assert taxes == ([] if hand_tax is None else [Decimal(hand_tax)])


def test_what_the_work_uses_up_is_taxed_at_its_cost_in_a_change(lists: Lists) -> None:
    """10 percent collected on the stated price of 100.00 x 1.50; 10 percent of a blade's 20.00 is ours, and a cost of the change."""
    rules, asked = clause((0.0, 0.0), (0.0, 0.0)), terms("markup", "material-price", tax="0.10", material_markup="0.50")
    more = [bought("a", "100.00"), bought("blade", "20.00", consumable=True)]
    old, new = made(lists, rules, asked=asked), made(lists, rules, purchases=more, asked=asked)
    rows = {row.id: row.amount for row in price_change(old, new, rule="clause").rows}
    assert (rows["tax-paid/adds"], rows["tax-collected"]) == (Decimal("2.00"), Decimal("15.00"))


def test_agreed_unit_prices_carry_no_markup(lists: Lists) -> None:
    """Two stubs at 46.00 and a floor at 185.00, nothing else changed: 277.00."""
    job = estimate(read_job(EXAMPLE), lists)
    found = price_change(job, job, finds={"short-stub": 2, "cabinet-floor": 1})
    assert found.amount == Decimal("277.00")
    assert {row.kind for row in found.rows} == {"find"}
    assert found.contract_after == job.price + Decimal("277.00")


def test_a_find_is_never_charged_twice(lists: Lists) -> None:
    """Its work must not be in the new estimate as well."""
    old, new = (estimate(job, lists) for job in (read_job(EXAMPLE), change_job(read_job(EXAMPLE), MOVES["a wet floor"])))
    with pytest.raises(PriceError, match=r'find "cabinet-floor" is charged at its agreed price: take its work \(cabinet-floor\) out of the new estimate'):
        price_change(old, new, finds={"cabinet-floor": 1})
    assert price_change(old, new, finds={"short-stub": 1}).amount > 0


def test_only_what_the_proposal_states_a_price_for_is_charged_as_found(lists: Lists) -> None:
    """Both valves are replaced in the price of this job: none is left to find, and the proposal states no price for one."""
    job = estimate(read_job(EXAMPLE), lists)
    assert {line.item: line.quantity for line in job.lines if line.item == "fit-stop"} == {"fit-stop": 2}
    with pytest.raises(
        PriceError, match=r'find "stop-valve" is not among the prices agreed in this contract: .* Agreed: cabinet-floor, cabinet-side, short-stub'
    ):
        price_change(job, job, finds={"stop-valve": 1})


def test_what_can_not_be_a_change_order_is_refused_all_at_once(lists: Lists) -> None:
    """Another job, an unknown find, a find below nothing; and an unknown rule."""
    job = read_job(EXAMPLE)
    old, other = estimate(job, lists), estimate(change_job(job, {"identity.job_number": "OTHER-9"}), lists)
    with pytest.raises(
        PriceError, match=r'(?s)goes from job "DEMO-001" to job "OTHER-9".*find "moon" is not in unit_prices\.csv\. Known: .*short-stub": -1 is below 0'
    ):
        price_change(old, other, finds={"moon": 1, "short-stub": -1})
    with pytest.raises(PriceError, match=r'change rule: "moon" is not in change_rules\.csv'):
        price_change(old, old, rule="moon")


def test_contract_prices_hold_for_what_does_not_change(lists: Lists) -> None:
    """A price that moved since counts for what is added only: ten boards instead of eight, 5.00 then and 7.00 now, are 14.00 more."""
    rules = clause((0.0, 0.0), (0.0, 0.0))
    old = made(lists, rules, purchases=[bought("a", "5.00", packs=8), bought("b", "1.00")], tasks=[task(Step.SEAL, "40.00")])
    dearer = replace(task(Step.SEAL, "40.00"), rate=Decimal("50.00"), amount=Decimal("50.00"))
    for packs, hand in ((10, "14.00"), (8, "0.00"), (6, "-10.00")):
        new = made(lists, rules, purchases=[bought("a", "7.00", packs=packs), bought("b", "9.00")], tasks=[dearer])
        assert price_change(old, new, rule="clause").amount == Decimal(hand)


def test_other_packs_of_one_item_are_one_change(lists: Lists) -> None:
    """Two panels for 35.00 become one sheet for 44.00: 9.00 more, not 44.00 added and 35.00 credited."""
    rules = clause((0.30, 0.0), (0.0, 0.0))
    panels, sheet = replace(bought("ply", "17.50", packs=2), id="ply/panel"), replace(bought("ply", "44.00"), id="ply/sheet")
    old, new = (made(lists, rules, purchases=[one]) for one in (panels, sheet))
    (row,) = price_change(old, new, rule="clause").rows
    assert (row.cost, row.amount) == (Decimal("9.00"), Decimal("11.70"))


# --- on the examples ---


def changed(example: Path, lists: Lists, move: str) -> tuple[Estimate, Estimate]:
    job = read_job(example)
    return estimate(job, lists), estimate(change_job(job, MOVES[move]), lists)


@pytest.mark.parametrize("move", list(MOVES))
def test_costs_of_the_rows_are_the_difference_of_the_estimates(lists: Lists, move: str) -> None:
    """Line by line they sum to what the direct cost changes, tax aside of a cent of rounding; hours and lines tell the same."""
    old, new = changed(EXAMPLE, lists, move)
    found = price_change(old, new)
    assert abs(found.cost - (new.cost - old.cost)) <= Decimal("0.01")
    assert found.hours == pytest.approx(new.hours - old.hours, abs=1e-3)
    assert found.amount == sum(row.amount for row in found.rows)
    assert all(row.amount == round(row.amount, 2) for row in found.rows)
    assert all((row.kind == "add") == (row.cost > 0) for row in found.rows)
    before, after = ({line.id: line.quantity for line in one.lines} for one in (old, new))
    assert {line.id for line in found.lines} == {name for name in before.keys() | after.keys() if before.get(name) != after.get(name)}
    assert abs(price_change(new, old).cost + found.cost) <= Decimal("0.01")


def test_nothing_changed_changes_nothing(example_estimate: Estimate) -> None:
    """No rows, and the contract stays."""
    found = price_change(example_estimate, example_estimate)
    assert (found.rows, found.lines, found.amount, found.hours) == ((), (), 0, 0.0)
    assert found.contract_after == example_estimate.price


def test_the_contract_sum_carries_forward(lists: Lists) -> None:
    """Each change starts where the one before it ended."""
    job = read_job(EXAMPLE)
    first, second, third = (
        estimate(change_job(job, changes), lists) for changes in ({"site.floor": job.site.floor}, MOVES["a wet floor"], MOVES["all at once"])
    )
    one = price_change(first, second)
    two = price_change(second, third, number=2, contract=one.contract_after, finds={"wall-patch": 1})
    assert first.price + one.amount + two.amount == two.contract_after


@pytest.mark.parametrize(
    "wrong", [lambda old, new: price_change(old, new, contract=7000.0), lambda old, new: change_draws(price_change(old, new), old, new, paid=[700.0])]
)
def test_money_as_a_float_is_refused(lists: Lists, wrong: Any) -> None:
    """A contract sum, and what was paid."""
    job = read_job(EXAMPLE)
    old, new = (estimate(change_job(job, changes), lists) for changes in ({}, MOVES["a wet floor"]))
    with pytest.raises(PriceError, match=r'(contract sum|payments made): 7000?\.0 is a float; give a Decimal or text such as "12\.50 USD"'):
        wrong(old, new)
    assert price_change(old, new, contract="7000.00 USD").contract_before == Decimal("7000.00")


def test_payments_that_leave_nothing_to_change_are_refused(lists: Lists) -> None:
    """A contract of a cent left may change, one of nothing may not; a payment may be 0, not below; the last payment must still be open."""
    job = estimate(read_job(EXAMPLE), lists)
    same = price_change(job, job)
    planned = len(change_draws(same, job, job))
    most = [Decimal("0.00")] * (planned - 1)
    draws = change_draws(same, job, job, paid=most)
    assert sum(draw.after for draw in draws) == job.price  # all of it falls on the last one
    assert (draws[-1].after, draws[-1].paid) == (job.price, False)
    for paid, words in (
        ([Decimal("-0.01")], r"payments made: One is below 0\."),
        ([*most, Decimal("0.00")], rf"payments made are {planned} of the {planned} that the contract has: after the last one there is nothing to change\."),
    ):
        with pytest.raises(PriceError, match=words):
            change_draws(same, job, job, paid=paid)
    assert sum(draw.after for draw in change_draws(replace(same, contract_before=Decimal("0.01")), job, job)) == Decimal("0.01")
    with pytest.raises(PriceError, match=r"change order 1 leaves a contract sum of 0\.00\."):
        change_draws(replace(same, contract_before=Decimal("0.00")), job, job)


def test_nothing_found_makes_no_row(lists: Lists) -> None:
    """None of a thing is no row of the change order; one is."""
    job = estimate(read_job(EXAMPLE), lists)
    assert [row.id for row in price_change(job, job, finds={"short-stub": 0, "cabinet-floor": 1}).rows] == ["find:cabinet-floor"]
