"""The change order to sign: everything in it, nothing that is only ours, the same sums as the order."""

import datetime as dt
import re
from dataclasses import replace
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path

import pytest
from change_jobs import CHANGES, changed, first
from paper_text import pages_of, text_of

from kit import Estimate, estimate, read_job, shipped
from kit.change.effect import change_days, change_draws
from kit.change.priced_change import price_change
from kit.errors import IssueError, PriceError
from kit.export.change_order import ChangeOrderSource, change_order_bytes, change_order_document
from kit.export.change_words import _who, changed_sentences, changed_words
from kit.issued import issue_estimate, open_issued
from kit.job import change_job
from kit.money import format_money
from kit.records import CostType

DAY = dt.date(2026, 3, 20)
INNER = r"(?i)\b(markup|margin|overhead|profit|contingency|burden|wage|direct cost|our cost|worker-hours?)\b"


DISPOSER = {"scope.disposer": {"supplied_by": "us", "installed_by": "us"}, "plumbing.disposer": "new"}


def changing(name: str, *, taxed: bool = False, new: Estimate | None = None, **more: object) -> ChangeOrderSource:
    old, after = first(taxed=taxed), new or changed(name, taxed=taxed)
    finds = {"short-stub": 2.0} if name == "a longer way" else {}
    order = price_change(old, after, finds=finds)
    draws = change_draws(order, old, after, paid=more.pop("paid", None))
    return replace(ChangeOrderSource(order, old, after, DAY, draws), **more)


def amounts_in(text: str) -> set[str]:
    return set(re.findall(r"\$[\d,]+\.\d\d", text))


def test_a_taller_backsplash_is_said() -> None:
    """The height that a customer asked for stands on the paper, once, and that no new price for the whole job is meant."""
    taller = estimate(change_job(first().job_as_read, {"counter.splash_height": "6 in"}), first().lists)
    found = changing("taller", new=taller)
    rows = [row for row in change_order_document(found)["words"] if "acksplash" in row["what"]]
    assert rows == [{"what": "Height of the backsplash", "before": "4 in high", "after": "6 in high"}]
    assert "A new proposal for the whole job could come to a different total." in " ".join(text_of(change_order_bytes(found)).split())


def test_a_backsplash_of_no_height_is_none() -> None:
    """Typed as 0 in it is left out: no part of the work any more, and nobody reads of one 0 in high."""
    without = estimate(change_job(first().job_as_read, {"counter.splash_height": "0 in"}), first().lists)
    rows = {row["what"]: row["after"] for row in change_order_document(changing("without", new=without))["words"] if "acksplash" in row["what"]}
    assert rows == {"Backsplash": "not part of the work"}


@pytest.mark.parametrize("name", CHANGES)
def test_no_cost_markup_wage_or_hour_is_in_it(name: str) -> None:
    """Neither the words nor the figures: no row's own cost, no hours of ours."""
    found = changing(name)
    text = text_of(change_order_bytes(found))
    assert not re.search(INNER, text)
    shown = amounts_in(text)
    document = change_order_document(found)
    allowed = {row["amount"].lstrip("-+") for group in document["groups"] for row in group["rows"]}
    allowed |= {document[key].lstrip("-+") for key in ("contract-before", "amount", "contract-after")}
    allowed |= {payment[key].lstrip("-+") for payment in document["payments"] for key in ("before", "after", "difference")}
    assert shown <= allowed
    assert {format_money(abs(row.cost)) for row in found.order.rows if row.cost and row.markup}.isdisjoint(shown - allowed)
    for row in found.order.rows:
        if row.cost_type is CostType.LABOR and row.after >= 0.1:
            assert f"{row.after:.4g} h" not in text


def test_the_search_for_inner_words_can_find_them() -> None:
    """Else the test above would hold for anything."""
    assert re.search(INNER, "with a Markup of 30 %")
    assert re.search(INNER, "3 worker-hours")


@pytest.mark.parametrize("taxed", [False, True])
@pytest.mark.parametrize("name", CHANGES)
def test_its_rows_sum_to_the_change_and_its_payments_to_the_contract(name: str, *, taxed: bool) -> None:
    """To the cent, credits below nothing, with the tax that we pay on goods in the goods."""
    found = changing(name, taxed=taxed)
    document, order = change_order_document(found), found.order
    rows = [(group["name"], Decimal(re.sub(r"[$,]", "", row["amount"]))) for group in document["groups"] for row in group["rows"]]
    assert sum(amount for _, amount in rows) == order.amount
    assert all((amount < 0) == (name == "Taken away") for name, amount in rows if name != "Sales tax")
    for key, contract in (("before", order.contract_before), ("after", order.contract_after)):
        assert sum(Decimal(re.sub(r"[$,]", "", row[key])) for row in document["payments"]) == contract
    assert sum(Decimal(re.sub(r"[$,]", "", row["difference"]) or 0) for row in document["payments"]) == order.amount
    text = text_of(change_order_bytes(found))
    assert "Sales tax paid" not in text
    assert ("Sales tax of" in text) == taxed


def test_tax_that_we_pay_is_in_the_goods_that_bear_it() -> None:
    """Floor boards for 38.00 at 30 percent are 49.40; the tax of 2.28 on them at 30 percent, 2.96, is in their amount."""
    found = changing("a longer way")
    hand = {"Floor protection board": format_money(Decimal("49.40") + Decimal("2.96"))}
    document = change_order_document(found)
    added = {row["what"]: row["amount"] for group in document["groups"] if group["name"] == "Added" for row in group["rows"]}
    assert {name: added[name] for name in hand} == hand
    labor = [row for row in found.order.rows if row.cost_type is CostType.LABOR]
    assert labor
    assert all(added[row.label] == format_money(row.amount) for row in labor)


def test_everything_that_is_signed_is_in_it(tmp_path: Path) -> None:
    """Number, reason, what was and what becomes, sums, payments, days, what stays, both names; company, address, license."""
    issue_estimate(first(), tmp_path, today=dt.date(2026, 3, 3))
    issued = open_issued(tmp_path / "DEMO-001-r01.json")
    found = changing("a longer way", old_issued=issued, reason="The street is dug up: #panic() *x* $1$ [y]")
    text = text_of(change_order_bytes(found))
    company, order = found.old.lists.company, found.order
    for wanted in (
        "Change order 1",
        "Proposal DEMO-001, revision 1, of Tuesday, March 3, 2026",
        "Friday, March 20, 2026",
        "The street is dug up: #panic() *x* $1$ [y]",
        "Walk from the truck to the kitchen 70 ft 190 ft",
        "Lengthen a short supply stub 2 $92.00",
        f"New contract sum {format_money(order.contract_after)}",
        "Deposit at signing (paid)",
        "Work complete",
        "Work on what was found is not in these days.",
        "Everything else of the contract stays as it was signed.",
        f"We agree to this change for {format_money(order.amount)}",
        "Each of us keeps a signed copy.",
        company.name,
        company.address,
        company.phone,
        company.licenses,
        "invented demo data",
    ):
        assert wanted in text, wanted
    assert "Draft." not in text
    assert "Draft." in text_of(change_order_bytes(replace(found, old_issued=None)))


def test_a_credit_is_told_as_one() -> None:
    """Below nothing in the sums, in words where both sign."""
    found = changing("the customer brings the faucet")
    assert found.order.amount < 0
    text = text_of(change_order_bytes(found))
    assert f"This change {format_money(found.order.amount)}" in text
    assert f"We agree to this change for a credit of {format_money(-found.order.amount)}" in text
    assert "Faucet with its supply hoses; supplied by us, installed by us without its supply hoses, which we bring; supplied by you, installed by us" in text


def test_who_does_a_part_is_said_as_in_the_proposal() -> None:
    """Nobody supplies debris, what stays is not supplied by "stays", and nothing to do is nobody's."""
    assert _who("–", "us") == "done by us"
    assert _who("stays", "us") == "stays, installed by us"
    assert _who("us", "hired trade") == "supplied by us, installed by a hired trade"
    assert _who("countertop shop", "countertop shop") == "supplied by the countertop shop, installed by the countertop shop"
    assert _who("–", "–") == ""
    words = {row["what"]: row["before"] for row in changed_words(first(), changed("no haul"))}
    assert words["Debris"].endswith("taken away; done by us")


def test_what_turned_out_otherwise_is_said_in_words() -> None:
    """Names of the lists, choices in their words, the question without its explanation: no code on a customer's paper."""
    changes = {"counter.item": "stone-2cm", "site.below": "slab", "site.floor_covering": "sheet", "plumbing.stop_joint": "threaded", "cabinet.wet_floor": True}
    for place, hand_row in zip(
        changes,
        (
            ("Countertop from the list", "3 cm stone countertop", "2 cm stone countertop"),
            ("What is below the kitchen floor", "crawl space", "slab on the ground"),
            ("Floor in front of and under the sink base", "tile", "sheet flooring"),
            ("How the new shutoff valves connect to the pipes", "assumed push-fit", "threaded"),
            ("The cabinet floor is wet, soft or stained", "no", "yes"),
        ),
        strict=True,
    ):
        rows = changed_words(first(), estimate(change_job(first().job_as_read, {place: changes[place]}), first().lists))
        assert hand_row in {(row["what"], row["before"], row["after"]) for row in rows}, place


def test_a_part_that_comes_or_goes_is_said_once() -> None:
    """No height of a backsplash that is no part of the work, no exclusion of a strainer that is one now; where the level was held is no change."""
    none = {"supplied_by": "excluded", "installed_by": "nobody"}
    bare = estimate(change_job(first().job_as_read, {"scope.splash": none, "counter.splash": "none"}), first().lists)
    assert [row["what"] for row in changed_words(first(), bare) if "acksplash" in row["what"]] == ["Backsplash"]
    lower = estimate(change_job(first().job_as_read, {"counter.splash_height": "3 in"}), first().lists)
    assert [row["what"] for row in changed_words(first(), lower) if "acksplash" in row["what"]] == ["Height of the backsplash"]
    corner = estimate(read_job(shipped("examples") / "corner_dishwasher_drain_down.toml"), first().lists)
    ours = {"supplied_by": "us", "installed_by": "us"}
    strained = estimate(
        change_job(corner.job_as_read, {"scope.disposer": none, "plumbing.disposer": "none", "scope.drain_move": none, "scope.strainer": ours}), first().lists
    )
    assert "Strainer" in {row["what"] for row in changed_words(corner, strained)}
    assert not [says for group in changed_sentences(corner, strained).values() for says in group if "Strainer" in says]
    assert "Not included: Disposer: no new one" in changed_sentences(corner, strained)["says"]
    read = estimate(change_job(first().job_as_read, {"levelness.readings[2].at": "95 in"}), first().lists)
    assert changed_words(first(), read) == []
    low = estimate(change_job(first().job_as_read, {"levelness.readings[2].low": "1/2 in"}), first().lists)
    assert len(changed_words(first(), low)) == 1


def test_quantities_are_those_a_customer_counts() -> None:
    """A roll is whole, though 1.7 of its bags are filled; money that tops up a minimum has no quantity beside its amount."""
    rows = {row["what"]: row["quantity"] for group in change_order_document(changing("no haul"))["groups"] for row in group["rows"]}
    assert rows["Heavy debris bag"] == "2 → 0"
    assert rows["Dump: added to reach the minimum"] == ""
    assert rows["Disposal at the dump"].endswith(" → 0 lb")


def test_work_that_comes_and_falls_away_is_said_in_sentences() -> None:
    """As the proposal says it."""
    assert "What we no longer do: – We haul the debris away." in text_of(change_order_bytes(changing("no haul")))
    assert "Work we add: – We replace the wet floor of the sink cabinet." in text_of(change_order_bytes(changing("a wet floor")))
    assert "Temporary sink not part of the work lent while the kitchen waits" in text_of(change_order_bytes(changing("a temporary sink")))


def test_hired_hours_are_those_that_are_charged_and_a_part_is_told_once() -> None:
    """3.25 h at 118.00 with 15 % on it; the disposer's row says what becomes of it, and no second one."""
    found = changing("", new=estimate(change_job(first().job_as_read, DISPOSER), first().lists))
    document = change_order_document(found)
    rows = {row["what"]: row for group in document["groups"] for row in group["rows"]}
    hand_amount = (Decimal("3.25") * 118 * Decimal("1.15")).quantize(Decimal("0.01"), ROUND_HALF_UP)
    assert (rows["Plumber hired by the hour"]["quantity"], rows["Plumber hired by the hour"]["amount"]) == ("0 → 3.25 h", f"${hand_amount:.2f}")
    assert [row["what"] for row in changed_words(found.old, found.new) if "isposer" in row["what"]] == ["Disposer"]


def test_the_name_of_a_group_stands_above_its_first_two_rows_on_one_page(tmp_path: Path) -> None:
    """Neither alone nor with one of several rows at the foot of the page before; wherever the table begins."""
    old = estimate(read_job(shipped("examples") / "corner_dishwasher_drain_down.toml"), first().lists)
    none = {"supplied_by": "excluded", "installed_by": "nobody"}
    new = estimate(change_job(old.job_as_read, {"scope.disposer": none, "plumbing.disposer": "none"}), old.lists)
    order = price_change(old, new)
    issue_estimate(old, tmp_path, today=dt.date(2026, 5, 5))
    made = ChangeOrderSource(order, old, new, dt.date(2026, 5, 20), change_draws(order, old, new), open_issued(tmp_path / "DEMO-006-r01.json"))
    for words in range(0, 100, 10):
        found = replace(made, reason=" ".join(["dust"] * words))
        pages = pages_of(change_order_bytes(found))
        for group in change_order_document(found)["groups"]:
            top, below = f"{group['name']} {group['rows'][0]['what']}", group["rows"][1]["what"] if len(group["rows"]) > 1 else ""
            assert any(top in page and below in page.partition(top)[2][: len(below) + 60] for page in pages), (words, group["name"])


def test_what_new_dates_come_to_stands_below_them_on_one_page(tmp_path: Path) -> None:
    """Maple to walnut, with reasons of no line to six."""
    old = estimate(read_job(shipped("examples") / "wood_apron_two_bowl.toml"), first().lists)
    changes = {"counter.item": "wood-walnut-own", "counter.species": "black-walnut", "counter.edge": "eased"}
    new = estimate(change_job(old.job_as_read, changes), old.lists)
    order = price_change(old, new)
    issue_estimate(old, tmp_path, today=dt.date(2026, 3, 9))
    made = ChangeOrderSource(order, old, new, dt.date(2026, 3, 20), change_draws(order, old, new), open_issued(tmp_path / "DEMO-002-r01.json"))
    for words in range(0, 121, 24):
        pages = pages_of(change_order_bytes(replace(made, reason=" ".join(["dust"] * words))))
        assert any("Work complete" in page and "The job is done on the same day as before." in page for page in pages), words


def test_the_lines_to_sign_do_not_stand_alone() -> None:
    """Wherever the page before them ends: what stays the same is on theirs."""
    made = changing("one more hole")
    for words in range(400, 521, 20):
        pages = pages_of(change_order_bytes(replace(made, reason=" ".join(["dust"] * words))))
        assert "What stays the same" in next(page for page in pages if "Sign here" in page), words


def test_the_day_that_both_columns_count_from_is_said_once_the_customer_signed() -> None:
    """The proposal counted from an expected day: days without a sink that differ from it have their reason."""
    note = change_order_document(changing("a temporary sink", signed_on=dt.date(2026, 3, 6)))["days-note"]
    assert "Both columns count from the day you signed, Friday, March 6, 2026." in note
    assert "you signed" not in change_order_document(changing("a temporary sink"))["days-note"]


def test_days_are_those_of_both_calendars() -> None:
    """Done and without a sink, before and after."""
    found = changing("a temporary sink")
    days, document = change_days(found.old, found.new), change_order_document(found)
    assert days.without_sink_before is not None
    assert days.without_sink_after is not None
    assert days.without_sink_after < days.without_sink_before
    assert [row["what"] for row in document["days"]] == ["Work complete", "Without a kitchen sink"]
    assert days.later == (days.done_after - days.done_before).days


@pytest.mark.parametrize("paid", [None, (), ("908.54",), ("1000.00", "2000.00", "3000.00"), ("0.01", "0.01", "0.01", "0.01")])
def test_payments_that_were_made_stay(paid: tuple[str, ...] | None) -> None:
    """The rest carries the change; together they are the contract sum; without a word the deposit was paid."""
    found = changing("one more hole")
    given = None if paid is None else tuple(Decimal(amount) for amount in paid)
    draws = change_draws(found.order, found.old, found.new, paid=given)
    made = [draw for draw in draws if draw.paid]
    hand_made = ((found.old.price / 10).quantize(Decimal("0.01"), "ROUND_HALF_UP"),)  # a deposit of 10 percent stands in company.csv
    assert [draw.after for draw in made] == [draw.before for draw in made] == list(hand_made if given is None else given)
    assert sum(draw.after for draw in draws) == found.order.contract_after
    assert sum(draw.before for draw in draws) == found.order.contract_before


def test_payments_that_can_not_have_been_made_are_refused() -> None:
    """All of them, one below nothing; a change that eats the contract."""
    found = changing("one more hole")
    with pytest.raises(PriceError, match=r"payments made are 5 of the 5 that the contract has"):
        change_draws(found.order, found.old, found.new, paid=[Decimal(1)] * 5)
    with pytest.raises(PriceError, match=r"payments made: One is below 0"):
        change_draws(found.order, found.old, found.new, paid=[Decimal(-1)])
    with pytest.raises(PriceError, match=r"change order 1 leaves a contract sum of -1\.00"):
        change_draws(replace(found.order, contract_before=-found.order.amount - 1), found.old, found.new)


def test_what_can_not_be_signed_is_refused() -> None:
    """Nothing changed; a stop that nobody gave a reason for."""
    with pytest.raises(PriceError, match="change order 1 changes nothing: there is nothing to sign"):
        change_order_bytes(changing("", new=first()))
    made = first()
    stop = estimate(change_job(made.job_as_read, {"cabinet.swollen_side": "both"}), made.lists)
    with pytest.raises(IssueError, match=r'"Cabinet sides" says stop'):
        change_order_bytes(changing("", new=stop))


@pytest.mark.usefixtures("each_set_anew")
def test_the_same_change_gives_the_same_bytes() -> None:
    """Twice the same."""
    found = changing("no haul")
    assert change_order_bytes(found) == change_order_bytes(found)
