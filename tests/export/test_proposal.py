"""The proposal: what stands in it, what must not, that no text is read as markup, the same bytes for the same input."""

import datetime as dt
import io
import re
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import export_demo as demo
import pypdf
import pytest
from paper_text import pages_of, text_of

import kit
from kit.compare.options import compare_alternates
from kit.errors import IssueError, KitError, PriceError
from kit.export.crew_sheet import crew_sheet_bytes
from kit.export.papers import Payment, payments_of
from kit.export.proposal import Offer, offers_from, proposal_bytes, proposal_document
from kit.export.proposal_terms import day_rows
from kit.export.proposal_words import allowance_rows, assumed_rows, scope_rows
from kit.export.purchase_list import purchase_list_bytes
from kit.export.typeset import typeset
from kit.issued import issue_estimate, list_issued, open_issued
from kit.job import change_job
from kit.money import format_money
from kit.records import Kind, Level, PackedPart

FOUND = demo.example("stone_apron_single_bowl")
DRAWS = (Payment(1, "at signing", Decimal("900.00"), "10%", deposit=True), Payment(2, "at the end", FOUND.price - 900))
FINDS = [row.price for row in FOUND.lists.unit_prices.values()]
HAND_HOUR = "$61.00"  # an hour of change work: 34.00 x 1.38 x 1.30
# Words of the trade's own reckoning that a customer's paper has no business with.
INNER_WORDS = r"\b(costs?|margin|markup|mark-up|wages?|burden|overhead|profit|contingency|gross|worker-hours?|net)\b"


def amounts_in(text: str) -> set[str]:
    return set(re.findall(r"[-+]?\$[\d,]+\.\d\d", text))


def shown(amount: Decimal) -> str:
    return format_money(amount)


@pytest.mark.parametrize("name", demo.SOME)
def test_no_cost_wage_or_margin_is_in_it(name: str) -> None:
    """The only amounts are the price, payments, options and agreed prices; no inner word, no hour."""
    found = demo.example(name)
    draws = (Payment(1, "at signing", Decimal("100.00"), deposit=True), Payment(2, "at the end", found.price - 100))
    offer = Offer("Other sink", "", found.price + Decimal("250.00"))
    text = text_of(proposal_bytes(found, draws=draws, options=[offer]))
    lent = re.findall(r"With a temporary sink, for (\$[\d,.]+\d)", text)
    allowed = {shown(amount) for amount in (found.price, *(draw.amount for draw in draws), offer.price, *FINDS)} | {"+$250.00", HAND_HOUR, *lent}
    assert shown(found.price) in text
    assert amounts_in(text) - allowed == set()
    assert re.findall(INNER_WORDS, text, re.IGNORECASE) == []
    assert f"{found.cost}" not in text.replace(",", "")


def test_the_search_for_inner_words_can_find_them() -> None:
    """The test above can fail."""
    assert re.findall(INNER_WORDS, "Direct cost and Wage, 38 % burden", re.IGNORECASE) == ["cost", "Wage", "burden"]


@pytest.mark.parametrize("name", demo.SOME)
def test_everything_that_a_customer_signs_is_in_it(name: str) -> None:
    """Scope, exclusions, choices, payments, days, finds, rights and care, in every example."""
    found = demo.example(name)
    text = text_of(proposal_bytes(found))
    for heading in ("What we do", "Supplied by", "Not included", "Your choices", "Payments", "Days", "What may come to light"):
        assert heading in text
    for heading in ("Cautions and your rights", "How we work together", "Handed over", "Care"):
        assert heading in text
    document = proposal_document(found)
    for says in (*document["steps"], *document["rights"], *document["terms"], *document["excluded"]):
        assert says in text
    for row in document["choices"]:
        assert row["choice"] in text
    assert found.job.identity.customer in text
    company = found.lists.company
    for says in (company.name, company.address, company.phone, company.licenses):
        assert says in text
    assert "invented demo data" in text


def test_each_payment_shows_what_share_is_earned_by_then() -> None:
    """draws.csv: 40 percent when the counter is templated, 80 when it is set, 100 at completion and with the punch list; none at signing."""
    hand_shares = ["", "40%", "80%", "100%", "100%"]
    assert [payment.share for payment in payments_of(FOUND)] == hand_shares
    assert [row["share"] for row in proposal_document(FOUND)["draws"]] == [*hand_shares[:-1], ""]  # said once
    assert "When the countertop work is done 80% " in text_of(proposal_bytes(FOUND))
    odd = replace(FOUND.lists, draws=tuple(replace(row, earned=0.37) if row.draw == "template" else row for row in FOUND.lists.draws))
    assert [payment.share for payment in payments_of(replace(FOUND, lists=odd))] == ["", "37%", *hand_shares[2:]]


def test_prices_as_floats_are_refused() -> None:
    """Alternates and payments come as Decimal."""
    wording = r': 25\.5 is a float; give a Decimal such as Decimal\("12\.50"\)'
    with pytest.raises(PriceError, match=f"top mount{wording}"):
        proposal_document(FOUND, options=[Offer("top mount", "says", 25.5)])
    with pytest.raises(PriceError, match=f"at signing{wording}"):
        proposal_document(FOUND, draws=[Payment(1, "at signing", 25.5)])


def test_a_company_without_address_shows_its_name_alone() -> None:
    """What the company file leaves out leaves no gap behind."""
    bare = replace(FOUND.lists.company, address="", phone="", licenses="")
    document = proposal_document(replace(FOUND, lists=replace(FOUND.lists, company=bare)))
    assert document["company-lines"] == []
    assert proposal_document(FOUND)["company-lines"] == [FOUND.lists.company.address, FOUND.lists.company.phone, FOUND.lists.company.licenses]


def test_allowances_are_told_without_an_amount() -> None:
    """What is in the price though nobody could measure it: a side that is swollen; never a cost of ours, nor the call-back for our own work."""
    # 34 1/2 - 5 in high, 24 - 3/4 - 3/4 in deep
    swollen = kit.estimate(change_job(demo.example("laminate_top_mount").job_as_read, {"cabinet.swollen_side": "right"}), FOUND.lists)
    assert allowance_rows(swollen) == [
        {"what": "Repair the cabinet: 1/2 in plywood", "taken": "4.6 sq ft"},
        {"what": "Repair the cabinet: Stiffen a cabinet side", "taken": "1"},
    ]
    assert "Allowances in the price" not in text_of(proposal_bytes(FOUND))


def test_choices_that_nobody_made_are_marked() -> None:
    """A reveal that was taken for granted stands as open until it is signed; one that was given does not."""
    given = {row["choice"]: row for row in proposal_document(FOUND)["choices"]}
    assert given["Reveal"] == {"choice": "Reveal", "taken": "1/8 in of the rim shows", "open": False}
    taken = kit.estimate(change_job(FOUND.job_as_read, {"counter.reveal": "unknown", "counter.edge": "unknown"}), FOUND.lists)
    opened = {row["choice"]: row for row in proposal_document(taken)["choices"]}
    assert opened["Reveal"] == {"choice": "Reveal", "taken": "none: the countertop ends where the bowl begins", "open": True}
    assert opened["Front edge"]["open"] is True
    hangs = kit.estimate(change_job(FOUND.job_as_read, {"counter.reveal": "-1/4 in"}), FOUND.lists)
    assert {row["taken"] for row in proposal_document(hangs)["choices"] if row["choice"] == "Reveal"} == {"the countertop hangs 1/4 in over the bowl"}


def test_what_was_assumed_of_several_holes_or_runs_stands_once_and_says_of_which() -> None:
    """Diameter and place of two holes and the depth of both runs were left open."""
    hole = {"use": "faucet", "diameter": "unknown", "offset": "0 in", "setback": "unknown"}
    holes = [hole, {**hole, "use": "dispenser", "offset": "6 in"}]
    changes = {"counter.holes": holes, "counter.runs[1].depth": "unknown", "counter.runs[2].depth": "unknown"}
    corner = kit.read_job(kit.shipped("examples") / "corner_dishwasher_drain_down.toml")
    found = kit.estimate(change_job(corner, changes), FOUND.lists)
    hand_rows = [
        ("Run 1 and run 2: depth of the countertop, wall to front edge", "25 1/2 in"),
        ("Faucet hole and dispenser hole: diameter of the hole", "1 3/8 in"),
        ("Faucet hole and dispenser hole: center of the hole, forward from the wall", "2 1/2 in"),
    ]
    assert [(row["what"], row["taken"]) for row in assumed_rows(found)][:3] == hand_rows


def test_what_is_bought_for_the_deck_stands_in_the_scope_with_the_faucet() -> None:
    """A customer who brings the faucet or keeps it reads what else goes with it: soap dispenser by its hole, air gap by the dishwasher's drain."""
    found = demo.example("corner_dishwasher_drain_down")
    rows = [line.item for line in found.lines if line.id.endswith("/accessory") and line.kind is Kind.BUY]
    assert rows == ["dispenser", "air-gap"]
    said = {row["part"]: row["what"] for row in scope_rows(found)}
    assert said["Faucet"] == "with its supply hoses, soap dispenser, dishwasher air gap"
    stays = {"scope.faucet.supplied_by": "stays", "scope.faucet.installed_by": "us"}
    kept = {row["part"]: row["what"] for row in scope_rows(kit.estimate(change_job(found.job_as_read, stays), found.lists))}
    assert kept["Faucet"] == "your present one, taken off and put back, a new dishwasher air gap"


def test_who_brings_what_is_the_scope_table() -> None:
    """Each row of the scope table stands as written; what is excluded stands under Not included."""
    scope = FOUND.job.scope
    rows = {row["part"]: row for row in proposal_document(FOUND)["scope"]}
    assert rows["Sink"]["brought"] == {"us": "us", "customer": "you"}[scope.sink.supplied_by]
    assert (scope.disposer.excluded, "Disposer" in rows) == (True, False)
    assert "Disposer: no new one" in proposal_document(FOUND)["excluded"]
    stays = proposal_document(demo.example("counter_stays_sink_only"))["excluded"]
    assert "Dishwasher: no new one" in stays  # the house has none to touch
    kept = kit.estimate(change_job(FOUND.job_as_read, {"plumbing.disposer": "keep"}), FOUND.lists)
    assert "Disposer: not touched" in proposal_document(kept)["excluded"]
    assert "Backsplash: tile by others; we take the old one off" in proposal_document(demo.example("corner_dishwasher_drain_down"))["excluded"]
    yours = kit.estimate(change_job(FOUND.job_as_read, {"scope.faucet": {"supplied_by": "customer", "installed_by": "us"}}), FOUND.lists)
    row = next(row for row in proposal_document(yours)["scope"] if row["part"] == "Faucet")
    assert (row["brought"], row["fitted"]) == ("you", "us")


def test_what_we_take_away_is_named_and_what_comes_is_no_old_machine() -> None:
    """The old dishwasher and the old disposer are in the load to the dump; the new dishwasher is connected, not pushed back."""
    laminate, corner = demo.example("laminate_top_mount"), demo.example("corner_dishwasher_drain_down")
    said = {row["part"]: row["what"] for row in scope_rows(laminate)}
    assert said["Debris"] == "old sink, old countertop, old backsplash, old dishwasher, wet cabinet floor, packing: taken away"
    assert "We connect the dishwasher. " in re.sub(r"\s+", " ", text_of(proposal_bytes(laminate)))
    old = kit.estimate(change_job(corner.job_as_read, {"old.disposer": True}), corner.lists)
    hauled = {row["part"]: row["what"] for row in scope_rows(old)}["Debris"]
    assert ("old disposer" in hauled) is any("lb of old disposer" in line.basis for line in old.lines)
    assert "old disposer" in hauled


def test_a_drain_is_lowered_so_that_the_sink_drains_whatever_asks_for_it() -> None:
    """In the old house the disposer does, and not a deeper sink: without it the stub stays where it is."""
    document = proposal_document(demo.example("corner_dishwasher_drain_down"))
    assert {row["part"]: row["what"] for row in document["scope"]}["Drain in the wall"] == "lowered so that the new sink drains"
    assert "The drain in the wall is lowered so that the new sink drains." in document["steps"]


def test_a_disposer_takes_the_place_of_a_strainer() -> None:
    """Of one bowl with a disposer; nobody reads that an old strainer comes off where an old disposer hung."""
    kept = proposal_document(demo.example("solid_surface_flush"))["excluded"]
    assert "Strainer: none, the disposer's flange takes its place" in kept


def test_the_wood_of_a_countertop_is_named() -> None:
    """Maple and walnut differ in price: the contract says which; other materials by their usual word. A care sentence says its material once."""
    said = {name: {row["part"]: row["what"] for row in scope_rows(demo.example(name))}["Countertop"] for name in ("wood_apron_two_bowl", "laminate_top_mount")}
    assert [what.partition(",")[0] for what in said.values()] == ["hard maple", "laminate"]
    for row in proposal_document(demo.example("wood_apron_two_bowl"))["care"]:
        material = row["what"].partition("(")[2].rstrip(")")
        assert not row["says"].lower().startswith(material)


def test_rights_follow_the_house() -> None:
    """An old house gets the sentence on lead-safe work, a moved drain that on permits; cooling-off always, and only as what may apply."""
    young = kit.estimate(change_job(FOUND.job_as_read, {"site.year_built": 2005}), FOUND.lists)
    old = kit.estimate(change_job(FOUND.job_as_read, {"site.year_built": 1962}), FOUND.lists)
    told, untold = (" ".join(proposal_document(one)["rights"]) for one in (old, young))
    assert "lead-safe" in told
    assert "lead-safe" not in untold
    for rights in (told, untold):
        assert "Ask us whether that rule applies here" in rights
        assert not re.search(r"\b(compl(y|ies|iant)|up to code|meets? (the )?code)\b", rights)


@pytest.mark.parametrize(("year", "hand_said"), [(1962, "The house was built before 1978 and"), ("unknown", "Nobody knows yet when the house was built")])
def test_an_old_house_is_told_by_what_is_known_of_its_year(year: int | str, hand_said: str) -> None:
    """One sentence on lead-safe work: for a year that was told, or for one that nobody knows."""
    made = kit.estimate(change_job(FOUND.job_as_read, {"site.year_built": year}), FOUND.lists)
    assert [says.startswith(hand_said) for says in proposal_document(made)["rights"] if "lead-safe" in says] == [True]


def test_days_are_those_of_the_calendar() -> None:
    """Start, old sink out, new one in use and days without a sink as the calendar has them."""
    from kit.outlook import plan_schedule

    days = {row["what"]: row["when"] for row in proposal_document(FOUND)["days"]}
    schedule = plan_schedule(FOUND)
    assert days["The old sink is out"] == "Thursday, March 26, 2026"
    assert schedule.sink_out is not None
    assert schedule.sink_out.date() == dt.date(2026, 3, 26)
    assert days["The new sink is in use"] == "Monday, April 13, 2026"
    assert days["Without a kitchen sink"] == "about 18 days"  # from one morning to the other


def test_work_that_ends_at_midnight_is_done_on_its_own_day() -> None:
    """A finish on Tuesday at 00:00 closes Monday's work."""
    from kit.outlook import plan_schedule

    found = plan_schedule(FOUND)
    late = replace(found, schedule=replace(found.schedule, finish=dt.datetime.fromisoformat("2026-04-14 00:00")))
    days = {row["what"]: row["when"] for row in day_rows(FOUND, late, FOUND.job.identity.visit_date)}
    assert days["Work complete"] == "Monday, April 13, 2026"


def test_options_show_difference_and_price() -> None:
    """The other mount that the same sink takes in the same counter becomes an option; what differs is worked out to the cent."""
    alternates = compare_alternates(FOUND.job_as_read, FOUND.lists)
    offers = offers_from(alternates)
    assert [offer.label for offer in offers] == ["Flush mount"]
    assert [offer.price for offer in offers] == [one.estimate.price for one in alternates if one.id == "flush_stone-3cm" and one.estimate]
    row = proposal_document(FOUND, options=[Offer("Dearer", "x", FOUND.price + 10), Offer("Less", "y", FOUND.price - Decimal("0.01"))])["options"]
    assert [(one["difference"], one["price"]) for one in row] == [
        ("+$10.00", shown(FOUND.price + 10)),
        ("-$0.01", shown(FOUND.price - Decimal("0.01"))),
    ]


def test_draws_that_do_not_sum_to_the_price_are_refused() -> None:
    """A cent off is a cent off."""
    with pytest.raises(PriceError, match=r"draws sum to \$.*, but the price is \$"):
        proposal_bytes(FOUND, draws=(Payment(1, "at signing", FOUND.price - Decimal("0.01")),))
    assert shown(DRAWS[1].amount) in text_of(proposal_bytes(FOUND, draws=DRAWS))


MARKUP = (
    "#panic()",
    "$x^2$",
    "*bold* _em_",
    "@label <label>",
    "\\ backslash \\",
    "`raw` ```code```",
    "= Heading",
    '#include "/etc/passwd"',
    "] #text(red)[",
    "http://example.invalid // comment",
    "\"quoted\" 'quoted' --- ...",
)


@pytest.mark.parametrize("text", MARKUP)
def test_no_text_is_read_as_markup(text: str) -> None:
    """Whatever a customer is called stands in the paper sign for sign."""
    content = proposal_bytes(demo.with_texts(text, "note"))
    assert "".join(text.split()) in "".join(text_of(content).split())


@pytest.mark.parametrize("text", ["\x00\x01\x07", "￾￿", "\u202eright to left", "a" * 3000, "名前 имя اسم"])
def test_odd_texts_do_not_break_it(text: str) -> None:
    """Control signs, non-characters, other scripts and endless words still give a paper."""
    assert proposal_bytes(demo.with_texts(text, "note")).startswith(b"%PDF-")


@pytest.mark.usefixtures("each_set_anew")
def test_the_same_input_gives_the_same_bytes() -> None:
    """Twice the same file, dated by the visit."""
    one, two = (proposal_bytes(FOUND, draws=DRAWS) for _ in range(2))
    assert one == two
    metadata = pypdf.PdfReader(io.BytesIO(one)).metadata
    assert metadata is not None
    assert metadata.creation_date is not None
    assert metadata.creation_date.date() == FOUND.job.identity.visit_date
    assert metadata.title == f"Proposal {FOUND.job.identity.job_number}"


def test_what_can_not_be_built_is_refused_until_it_is_issued_with_a_reason(tmp_path: Path) -> None:
    """A stop keeps the paper back; issued with a reason, finding and reason stand in it."""
    stop = kit.estimate(change_job(FOUND.job_as_read, {"cabinet.width": "30 in"}), FOUND.lists)
    assert not stop.buildable
    with pytest.raises(IssueError, match=r"says stop: .*Fix it, or issue the estimate with a reason first"):
        proposal_bytes(stop)
    path = issue_estimate(stop, tmp_path, stop_reason="The cabinet is rebuilt by others first.", today=dt.date(2026, 3, 3))
    issued = open_issued(path)
    text = text_of(proposal_bytes(issued.estimate, issued=issued))
    assert "Agreed all the same: The cabinet is rebuilt by others first." in text
    assert next(finding.check for finding in stop.findings if finding.level is Level.STOP) in text


def test_a_plan_that_is_not_proven_is_refused() -> None:
    """A price that may still fall is not put before a customer."""
    part = PackedPart("stock", 96.0, 0.0, ("side",), "none")
    first = replace(FOUND.purchases[0], plan=(part,), proven=False)
    with pytest.raises(IssueError, match="has a cut plan that is not proven"):
        proposal_bytes(replace(FOUND, purchases=(first, *FOUND.purchases[1:])))


def test_a_draft_says_so_and_an_issued_one_its_revision(tmp_path: Path) -> None:
    """Number, revision and day of issue; validity counts from it."""
    draft = text_of(proposal_bytes(FOUND))
    assert "DRAFT. Not an offer." in draft
    assert "Each of us keeps a signed copy" not in draft
    issue_estimate(FOUND, tmp_path, today=dt.date(2026, 3, 3))
    (path,) = list_issued(tmp_path, FOUND.job.identity.job_number)
    issued = open_issued(path)
    text = text_of(proposal_bytes(issued.estimate, issued=issued))
    assert "DRAFT" not in text
    assert "Each of us keeps a signed copy" in text
    assert "DEMO-001, revision 1" in text
    hand_until = dt.date(2026, 3, 3) + dt.timedelta(days=FOUND.lists.company.validity_days)
    assert hand_until == dt.date(2026, 4, 2)
    assert "This price holds until Thursday, April 2, 2026." in text


@pytest.mark.parametrize("name", demo.SOME)
def test_the_paper_has_a_few_pages(name: str) -> None:
    """At most three, a draft without the lines to sign."""
    assert 2 <= len(pages_of(proposal_bytes(demo.example(name)))) <= 3


def test_an_issued_one_has_a_few_pages_too(tmp_path: Path) -> None:
    """At most three with the lines to sign, for the example that says most."""
    issue_estimate(demo.example("corner_dishwasher_drain_down"), tmp_path, today=dt.date(2026, 5, 5))
    issued = open_issued(next(tmp_path.glob("*-r01.json")))
    assert len(pages_of(proposal_bytes(issued.estimate, issued=issued))) <= 3


@pytest.mark.parametrize("name", ["laminate_top_mount", "wood_apron_two_bowl"])
def test_a_few_lines_ask_for_no_page_of_their_own(name: str, tmp_path: Path) -> None:
    """The laminate and the wood job with their lines to sign stand on two pages, each of them full."""
    found = demo.example(name)
    issue_estimate(found, tmp_path, today=found.job.identity.visit_date)
    issued = open_issued(next(tmp_path.glob("*-r01.json")))
    pages = pages_of(proposal_bytes(issued.estimate, issued=issued))
    assert len(pages) == 2
    assert min(map(len, pages)) > 2500  # letters


@pytest.mark.parametrize("name", demo.EXAMPLES)
def test_the_lines_to_sign_stand_with_what_is_handed_over(name: str, tmp_path: Path) -> None:
    """On the last page, never by themselves."""
    found = demo.example(name)
    issue_estimate(found, tmp_path, today=found.job.identity.visit_date)
    issued = open_issued(next(tmp_path.glob("*-r01.json")))
    last = pages_of(proposal_bytes(issued.estimate, issued=issued))[-1]
    assert last.index("Handed over with this proposal") < last.index("Care ") < last.index("Each of us keeps a signed copy")


def test_data_that_a_template_misses_are_told() -> None:
    """A template without its data is an error in words, not a half-set paper."""
    with pytest.raises(KitError, match="The paper can't be set"):
        typeset("proposal.typ", {"title": "x"})


@pytest.mark.parametrize("name", demo.EXAMPLES)
def test_what_belongs_together_stands_on_one_page(name: str) -> None:
    """What is not included and how both work together, each with its heading; three pages in all."""
    pages = pages_of(proposal_bytes(demo.example(name)))
    assert len(pages) <= 3
    for first, last in (("How we work together", "ask for the certificates."), ("Not included", "Painting, unless named on these pages")):
        assert [first in page for page in pages] == [last in page for page in pages]
        assert sum(first in page for page in pages) == 1
    assert [page.count("If one of these turns up, this is its price:") for page in pages] == [page.count("Agreed price") for page in pages]
    for paper in (pages, pages_of(crew_sheet_bytes(demo.example(name))), pages_of(purchase_list_bytes(demo.example(name)))):
        assert min(map(len, paper)) > 450  # letters: no page for the three lines that did not fit
