"""Sales tax: who is taxed on what, and how it is rounded."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from price_parts import amounts, bought, priced, task, terms

from kit import Lists, estimate, read_job, shipped
from kit.errors import JobError, PriceError
from kit.job import change_job
from kit.money import round_cents, times
from kit.outlook import cash_of
from kit.pricing.build_up import price_job
from kit.pricing.job_terms import find_preset, resolve_terms
from kit.records import CostType
from kit.sources import source, value
from kit.steps import Step

EXAMPLE = shipped("examples") / "stone_apron_single_bowl.toml"


@pytest.mark.parametrize(
    ("tax_on", "more", "hand_paid", "hand_collected", "hand_price"),
    [
        ("material-cost", {}, "82.50", "0.00", "1882.50"),  # 8.25 % of what the material costs is a cost of ours
        ("material-price", {"material_markup": "0.20"}, "0.00", "99.00", "1899.00"),  # of 1,200.00
        ("material-price", {"material_markup": "0"}, "0.00", "82.50", "1882.50"),  # a charge on the whole contract is not tied to the material
        ("everything", {}, "0.00", "148.50", "1948.50"),  # of 1,800.00
        ("exempt", {}, "0.00", "0.00", "1800.00"),
    ],
)
def test_each_mode_by_hand(tax_on: Any, more: dict[str, str], hand_paid: str, hand_collected: str, hand_price: str) -> None:
    """Material 1,000.00 and labor 800.00 at 8.25 percent, nothing else on top."""
    found = amounts(priced(terms(tax_on=tax_on, tax="0.0825", **more), material="1000.00", labor="800.00"))
    assert (found["tax-paid"], found["tax-collected"], found["price"]) == (Decimal(hand_paid), Decimal(hand_collected), Decimal(hand_price))


def test_tax_that_we_pay_is_marked_up_with_the_cost() -> None:
    """(1,000.00 + 82.50) x 1.20 = 1,299.00: it is direct cost like any other."""
    found = amounts(priced(terms(tax_on="material-cost", tax="0.0825", profit="0.20"), material="1000.00"))
    assert (found["cost"], found["price"]) == (Decimal("1082.50"), Decimal("1299.00"))


def test_a_tax_that_is_passed_on_earns_nothing() -> None:
    """The margin is that of the price before tax collected; the tax itself is no profit."""
    plain, taxed = (amounts(priced(terms(tax_on=tax_on, tax="0.07", profit="0.25"), labor="2400.00")) for tax_on in ("exempt", "everything"))
    assert (plain["margin"], plain["profit"]) == (taxed["margin"], taxed["profit"]) == (Decimal("0.2000"), Decimal(600))
    assert taxed["price"] == Decimal("3210.00")  # hand: 3,000 x 1.07


def test_a_lump_sum_with_tax_as_the_state_prints_it() -> None:
    """2,400 at 7 percent is 2,568, of which 168 is tax (nycrr-534-8, example 1)."""
    printed_price, printed_tax = Decimal("2568.00"), Decimal("168.00")
    found = amounts(priced(terms(tax_on="everything", tax="0.07"), labor="2400.00"))
    assert (found["price"], found["tax-collected"]) == (printed_price, printed_tax)


def test_tax_paid_on_material_as_the_state_prints_it() -> None:
    """Materials 1,100, tax 77, together 1,177 (nycrr-534-8, example 2)."""
    printed_tax, printed_cost = Decimal("77.00"), Decimal("1177.00")
    found = amounts(priced(terms(tax_on="material-cost", tax="0.07"), material="1100.00"))
    assert (found["tax-paid"], found["cost"]) == (printed_tax, printed_cost)


@pytest.mark.parametrize(("amount", "hand_tax"), [("1.41", "0.08"), ("1.42", "0.09"), ("0.75", "0.05")])
def test_tax_is_rounded_once(amount: str, hand_tax: str) -> None:
    """6 percent of 1.41 is 0.0846, so 0.08 and not 0.09: to three places first would be wrong (ssuta-324)."""
    for tax_on in ("material-cost", "everything"):
        found = amounts(priced(terms(tax_on=tax_on, tax="0.06"), material=amount))
        assert found["tax-paid"] + found["tax-collected"] == Decimal(hand_tax)


@pytest.mark.parametrize("tax_on", ["material-cost", "material-price"])
def test_by_the_item_or_on_the_invoice(tax_on: Any) -> None:
    """Three things at 0.15 and 6 percent: 0.009 is 0.01 each, 0.03 in all; 6 percent of 0.45 is 0.027, also 0.03; of four at 0.11: 0.04 and 0.03."""
    goods = [bought(name, "0.11") for name in "abcd"]
    types = dict.fromkeys("abcd", CostType.MATERIAL)
    totals = []
    for rounding in ("item", "invoice"):
        asked = terms(tax_on=tax_on, tax="0.06", tax_rounding=rounding, least="100.00", **({"material_markup": "0"} if tax_on == "material-price" else {}))
        found = amounts(price_job(goods, types, (task(Step.SEAL, "10.00"),), asked))
        totals.append(found["tax-paid"] + found["tax-collected"])
    assert totals == [Decimal("0.04"), Decimal("0.03")]  # hand: 4 x round(0.0066), round(0.0264)


def test_what_is_not_taxable_is_never_taxed() -> None:
    """Hired work stays out of the tax on material, however it is counted."""
    for tax_on, more in (("material-cost", {}), ("material-price", {"material_markup": "0"})):
        for rounding in ("item", "invoice"):
            found = amounts(priced(terms(tax_on=tax_on, tax="0.10", tax_rounding=rounding, **more), material="10.00", hired="900.00"))
            assert found["tax-paid"] + found["tax-collected"] == Decimal("1.00")


# --- what the work uses up, and what comes back as a credit ---


USED_UP = (bought("board", "1000.00"), bought("blade", "50.00", consumable=True))
KINDS = {"board": CostType.MATERIAL, "blade": CostType.MATERIAL}


def taxed(tax_on: Any, rounding: str = "invoice", bought_with: str = "resale") -> dict[str, Decimal]:
    """Material 1,000.00 that stays, a blade of 50.00, labor 800.00; 8.25 percent, a markup of 20 percent in the stated price."""
    more = {"material_markup": "0.20"} if tax_on == "material-price" else {}
    asked = terms(tax_on=tax_on, tax="0.0825", tax_rounding=rounding, tax_when_bought=bought_with, **more)
    return amounts(price_job(USED_UP, KINDS, (task(Step.SET_SINK, "800.00"),), asked))


@pytest.mark.parametrize(
    ("tax_on", "hand_paid", "hand_collected"),
    [
        ("material-cost", "86.63", "0.00"),  # 8.25 % of 1,050.00 is 86.625
        ("material-price", "4.13", "99.00"),  # of the blade's 50.00: 4.125; of 1,200.00
        ("everything", "4.13", "152.97"),  # of 50.00; of 1,850.00 and the 4.13 that is a cost: 152.9657
        ("exempt", "0.00", "0.00"),
    ],
)
@pytest.mark.parametrize("rounding", ["invoice", "item"])
def test_what_the_work_uses_up_is_taxed_at_its_cost(tax_on: Any, hand_paid: str, hand_collected: str, rounding: str) -> None:
    """Only what becomes part of the house is sold with tax (tx-34-3-291: tax on incorporated materials); a blade is ours."""
    found = taxed(tax_on, rounding)
    assert (found["tax-paid"], found["tax-collected"]) == (Decimal(hand_paid), Decimal(hand_collected))
    assert found["cost"] == Decimal("1850.00") + Decimal(hand_paid)


@pytest.mark.parametrize("tax_on", ["material-price", "everything"])
@pytest.mark.parametrize("rounding", ["invoice", "item"])
def test_tax_paid_on_what_is_sold_on_comes_back_as_a_credit(tax_on: Any, rounding: str) -> None:
    """82.50 paid on the 1,000.00 that go to the customer and credited (ny-st-124); nothing on the blade's 4.13; the price is the same."""
    free, credited = (taxed(tax_on, rounding, way) for way in ("resale", "credit"))
    assert (credited["tax-bought"], credited["tax-credit"], credited["tax-used-up"]) == (Decimal("82.50"), Decimal("82.50"), Decimal("4.13"))
    assert credited["tax-paid"] == free["tax-paid"]
    assert credited["price"] == free["price"]
    assert "tax-credit" not in free


@pytest.mark.parametrize("tax_on", ["material-cost", "exempt"])
def test_where_nothing_is_collected_nothing_is_credited(tax_on: Any) -> None:
    """The final buyer of the material pays its tax: that is us."""
    assert taxed(tax_on, bought_with="credit") == taxed(tax_on)


def test_the_preset_says_how_material_is_bought_and_the_company_where_it_does_not(lists: Lists) -> None:
    """New York repairs are credited (ny-st-124); Texas leaves it to the company."""
    job = read_job(EXAMPLE)
    ways = {}
    for preset in ("ny-repair", "tx-separated"):
        for own in ("resale", "credit"):
            named = change_job(job, {"terms.state_preset": preset, "site.state": preset[:2]})
            ways[preset, own] = resolve_terms(named, replace(lists, company=replace(lists.company, tax_when_bought=own))).tax_when_bought
    assert ways == {
        ("ny-repair", "resale"): "credit",
        ("ny-repair", "credit"): "credit",
        ("tx-separated", "resale"): "resale",
        ("tx-separated", "credit"): "credit",
    }


def test_a_credit_is_fronted_until_it_comes_back(lists: Lists) -> None:
    """Tax on the material goes out with it and comes back at the end: more of our money in the job, the same at its end."""
    job = change_job(read_job(EXAMPLE), {"terms.tax_on": "everything"})
    free, credited = (estimate(job, replace(lists, company=replace(lists.company, tax_when_bought=way))) for way in ("resale", "credit"))
    plans = [cash_of(made) for made in (free, credited)]
    back = credited.amount("tax-credit")
    assert back > 0
    assert [flow.amount for flow in plans[1].flows if flow.says == "Credit for sales tax paid on material"] == [back]
    assert plans[0].days[-1].fronted == plans[1].days[-1].fronted
    assert sum(day.paid_by_us for day in plans[1].days) - sum(day.paid_by_us for day in plans[0].days) == back
    assert free.price == credited.price


def test_material_marked_as_used_up_is_not_what_stays(lists: Lists) -> None:
    """Dust sheets, blades and what is lent go again; sink, counter, pipes and their cement stay."""
    used_up = {name for name, item in lists.items.items() if item.consumable}
    assert {"dust-sheet", "glue-blade", "masking-tape", "template-sheet", "temporary-sink"} <= used_up
    assert used_up.isdisjoint({*lists.sinks, "lumber-2x4", "sealant", "cement-pvc", "faucet", "shim", "stop-cap"})
    assert all(lists.items[name].cost_type in {CostType.MATERIAL, CostType.OTHER} for name in used_up)


def test_material_can_not_be_stated_above_the_price() -> None:
    """A markup in its stated price that no price holds."""
    with pytest.raises(PriceError, match=r"Stated price of material comes to 200\.00, more than the price of 110\.00\. Lower the markup in it\."):
        priced(terms(tax_on="material-price", material_markup="1.00", profit="0.10", tax="0.05"), material="100.00")
    whole = amounts(priced(terms(tax_on="material-price", material_markup="0.10", profit="0.10", tax="0.05"), material="100.00"))
    assert (whole["stated-material"], whole["net"]) == (Decimal("110.00"), Decimal("110.00"))  # all of the price may be material


# --- presets ---


def test_presets_cite_their_source_are_dated_and_hold_no_rate(lists: Lists) -> None:
    """Only states whose rules the sources cite; every one says whom to ask."""
    for preset in lists.state_presets.values():
        assert source(preset.source).status == "published"
        assert preset.says.endswith("ask your tax adviser") or "ask your tax adviser" in preset.says
        assert preset.dated.year >= 2026
        assert preset.preset.startswith(f"{preset.state}-")
    assert {preset.state for preset in lists.state_presets.values()} == {"ca", "tx", "ny"}


def test_deposit_caps_are_those_of_the_table(lists: Lists) -> None:
    """The preset says what the check of the state's rules says (ca-bpc-7159)."""
    for name in ("ca-lump-sum", "ca-time-and-material"):
        preset = lists.state_presets[name]
        assert (preset.deposit_share, float(preset.deposit_amount or 0)) == (value("checks", "ca/deposit-share"), value("checks", "ca/deposit-most"))


@pytest.mark.parametrize(
    ("preset", "paid", "collected"),
    [
        ("ca-lump-sum", "all", False),
        ("tx-lump-sum", "all", False),
        ("tx-separated", "used up", True),
        ("ny-capital-improvement", "all", False),
        ("ny-repair", "used up", True),
    ],
)
def test_a_preset_says_what_tax_falls_on(lists: Lists, preset: str, paid: str, collected: bool) -> None:
    """Named in the job, it takes the place of the company's way; the rate stays the user's."""
    found = estimate(change_job(read_job(EXAMPLE), {"terms.state_preset": preset, "site.state": preset[:2]}), lists)
    taxed = sum(one.amount for one in found.purchases if one.taxable and (paid == "all" or lists.items[one.item].consumable))
    assert taxed > 0
    assert found.amount("tax-paid") == round_cents(times(taxed, lists.company.tax))
    assert (found.amount("tax-collected") > 0) is collected
    assert found.terms.value("in:tax") == Decimal(str(lists.company.tax))


def test_the_jobs_own_word_beats_the_preset(lists: Lists) -> None:
    """A certificate on file: exempt, and the deposit is still capped by the preset."""
    job = change_job(read_job(EXAMPLE), {"terms.state_preset": "ca-lump-sum", "terms.tax_on": "exempt"})
    found = resolve_terms(job, lists)
    assert found.tax_on == "exempt"
    assert found.preset is lists.state_presets["ca-lump-sum"]
    assert find_preset(change_job(job, {"terms.state_preset": "none"}), lists) is None


def test_presets_that_do_not_fit_are_refused(lists: Lists) -> None:
    """An unknown one, and one of another state."""
    job = read_job(EXAMPLE)
    with pytest.raises(JobError, match=r'terms\.state_preset: "moon" is not in state_presets\.csv\. Known: ca-lump-sum, .*, or none\.'):
        resolve_terms(change_job(job, {"terms.state_preset": "moon"}), lists)
    with pytest.raises(JobError, match=r'terms\.state_preset: "tx-lump-sum" is a preset of tx, but site\.state is "ca"\.'):
        resolve_terms(change_job(job, {"terms.state_preset": "tx-lump-sum", "site.state": "ca"}), lists)
