"""Alternates: what is swapped, in which order they stand, and that every difference adds up."""

import re
from dataclasses import replace
from decimal import Decimal
from functools import cache
from itertools import pairwise
from types import MappingProxyType

import pytest

import kit
from kit.compare.differences import list_differences, list_facts
from kit.compare.figures import weigh_option, weigh_plan, weigh_terms
from kit.compare.longer import Stretch, explain_days, list_stretches, say_stretch
from kit.compare.options import Option, compare_alternates
from kit.compare.sink_out import why_sink_out
from kit.compare.swaps import changes_for_counter, changes_for_sink, nearest_sinks
from kit.job import Job, change_job
from kit.outlook import TRIALS, assess_risk
from kit.records import Level
from kit.units import round_up_days

SET_FIRST = "The shop measures over the new sink once it is set, so no sink works while it makes the countertop."
STONE = kit.read_job(kit.shipped("examples") / "stone_apron_single_bowl.toml")


@cache
def alternates(job: Job) -> tuple[Option, ...]:
    """The alternates of a job with the shipped lists, worked out once."""
    return compare_alternates(job, kit.load_lists(kit.shipped("price_lists")))


def test_usable_ones_come_first_each_by_price(some_example, lists):
    """What can be had by price; then what custom advises against; what can't be built stays, last, with a reason."""
    job = kit.read_job(some_example)
    options = alternates(job)
    hand_order = ["usable", "measure first", "not recommended", "can't be built"]
    ranks = [(hand_order.index(option.standing), option.estimate is None, option.estimate.price if option.estimate else 0) for option in options]
    assert ranks == sorted(ranks)
    assert options[0].usable
    assert all(option.reason for option in options)
    assert {option.mount for option in options} == {"top", "flush", "under"}
    assert [option.chosen for option in options].count(True) == 1
    assert len({option.id for option in options}) == len(options)


def test_each_is_the_estimate_of_its_job_and_the_job_itself_is_among_them(some_example, lists):
    """Nothing is priced beside the one road; what is not allowed has no price."""
    job = kit.read_job(some_example)
    options = alternates(job)
    assert next(option for option in options if option.chosen).job == job
    for option in options:
        assert option.source
        if option.estimate is not None:
            assert option.estimate == kit.estimate(option.job, lists)
            assert option.usable == option.estimate.buildable


def test_a_mount_that_leaves_one_way_to_carry_the_sink_takes_it_and_says_so():
    """Cleats on the base don't reach a rim that is flush with a 1 1/2 in top: the alternate stands on a platform, and the job keeps its cleats."""
    wood = kit.read_job(kit.shipped("examples") / "wood_apron_two_bowl.toml")
    flush = next(option for option in alternates(wood) if option.mount == "flush" and option.counter_kept)
    assert (wood.sink.carried_at, flush.job.sink.carried_at, flush.usable) == ("rim", "bowl", True)
    assert flush.swapped == ("Sink carried on a platform under its bowl in place of cleats under its rim",)
    assert not any("carried" in words for option in alternates(wood) if option.mount == "under" for words in option.swapped)


def test_a_sink_of_no_known_kind_is_ruled_by_the_material_alone(lists):
    """A sink that the customer brings and that the list does not have takes each mount that the counter's material takes."""
    job = change_job(STONE, {"sink.item": "their-own", "scope.sink.supplied_by": "customer"})
    kept = [option for option in alternates(job) if option.counter_kept and option.usable]
    assert {option.mount: option.reason for option in kept} == {option.mount: lists.mounts[option.mount, "stone"].reason for option in kept}
    assert "under" in {option.mount for option in kept}


def test_a_pair_that_the_list_does_not_have_is_unknown_and_priced(lists):
    """Nothing is ruled out that nobody ruled on, and it is said."""
    fewer = replace(lists, mounts=MappingProxyType({key: row for key, row in lists.mounts.items() if key != ("flush", "stone")}))
    flush = next(option for option in compare_alternates(STONE, fewer) if option.mount == "flush" and option.counter_kept)
    assert (flush.level, flush.source) == (Level.UNKNOWN, "mounts.csv")
    assert flush.reason == "mounts.csv has nothing on flush mount in stone"
    assert flush.estimate is not None


def test_a_swapped_sink_has_the_sizes_of_the_list(lists):
    """A top mount takes another kind: its nominal sizes, not measured; two bowls of (31 - 3 x 3/8) / 2 in inside."""
    option = next(option for option in alternates(STONE) if option.mount == "top" and option.counter_kept)
    kind = lists.sinks["cast-iron-top-33"]
    assert option.sink == kind.item
    assert (option.job.sink.weight_lb, option.job.sink.as_received) == (kind.weight_lb, False)
    hand_inside_in = (31 - 3 * 0.375) / 2
    assert [bowl.width_in for bowl in option.job.sink.bowls] == [hand_inside_in, hand_inside_in]
    assert "33 in two-bowl cast-iron drop-in sink in place of 33 in fireclay apron-front sink" in option.swapped[0]


def test_what_was_swapped_reads_as_one_phrase(lists):
    """The second name stands in the middle of it."""
    laminate = kit.read_job(kit.shipped("examples") / "laminate_top_mount.toml")
    option = next(option for option in alternates(laminate) if option.id == "top_stone-3cm")
    assert option.swapped == ("3 cm stone countertop in place of laminate countertop, cut on site",)


def test_the_nearest_sink_is_its_own_kind_where_that_takes_the_mount(lists):
    """No swap without need; an apron stays an apron where one takes the mount."""
    assert nearest_sinks(STONE, lists, "flush")[0].item == "fired-clay-apron-33"
    top = kit.read_job(kit.shipped("examples") / "laminate_top_mount.toml")
    assert nearest_sinks(top, lists, "under")[0].style == "standard"


def test_sizes_that_the_list_gives_make_a_sound_job(lists):
    """Every kind at every mount that it takes, and every counter, is a job that holds together and can be priced."""
    for kind in lists.sinks.values():
        for mount in kind.mounts:
            assert kit.estimate(change_job(STONE, changes_for_sink(kind, mount)), lists).price > 0
    for counter in lists.counters.values():
        changed = change_job(STONE, changes_for_counter(STONE, counter))
        assert changed.counter.made_by == counter.made_by
        assert kit.estimate(changed, lists).price > 0


def test_a_customers_sink_is_not_swapped(lists):
    """Its kind stays; the mount that it can't take says so."""
    job = change_job(STONE, {"scope.sink.supplied_by": "customer"})
    top = next(option for option in alternates(job) if option.mount == "top" and option.counter_kept)
    assert top.estimate is None
    assert "customer's sink is kept" in top.reason
    assert top.source == "price lists"


def test_what_can_not_be_built_says_what_it_would_need():
    """Two people for a sink of 112 lb say little to whoever does not know that 110 lb is the most for two."""
    corner = kit.read_job(kit.shipped("examples") / "corner_dishwasher_drain_down.toml")
    top = next(option for option in alternates(corner) if option.mount == "top" and option.counter_kept)
    assert top.reason == "People to lift the sink: 2 on hand for 112 lb, need 3 by the crew table"


def test_a_counter_that_stays_is_not_swapped(lists):
    """Sink only: three mounts, one counter; we cut the opening ourselves."""
    job = kit.read_job(kit.shipped("examples") / "counter_stays_sink_only.toml")
    options = alternates(job)
    assert {option.counter for option in options} == {job.counter.item}
    assert weigh_option(options[0].estimate).cut_out_by == "us, in the countertop that stays"
    assert {option.counter_name for option in options} == {"Laminate countertop, which stays"}


def test_a_smaller_sink_is_no_alternate_over_the_hole_of_a_countertop_that_stays(lists):
    """A sink of 33 in leaves a hole of 32 in: one of 30 in closes it at no mount, and the countertop can't be cut smaller."""
    others = [option for option in alternates(kit.read_job(kit.shipped("examples") / "counter_stays_sink_only.toml")) if not option.chosen]
    assert {option.sink_name.split()[0] for option in others} == {"30"}
    assert {option.standing for option in others} == {"can't be built"}
    assert all(option.reason.startswith("New rim reaches over the old sink's hole") for option in others)


def test_where_the_own_mount_is_not_recommended_another_counter_is_shown_with_one_that_is(lists):
    """Under mount in laminate is custom's advice, not a law: it stays, priced, with its reason; laminate with another mount stands first."""
    options = [option for option in alternates(STONE) if option.counter == "laminate-shop"]
    under = next(option for option in options if option.mount == "under")
    assert (under.level, under.standing) == (Level.STOP, "not recommended")
    assert under.estimate is not None
    assert "core and cut edge" in under.reason
    top = next(option for option in options if option.mount == "top")
    assert top.usable
    assert options.index(top) < options.index(under)


def test_what_overlaps_can_not_be_built_whatever_the_lists_advise(lists):
    """A sink base too narrow for the sink: its own alternate says so, by the finding and not by the custom of the lists."""
    narrow = change_job(STONE, {"cabinet.width": "30 in", "scope.sink.supplied_by": "customer"})
    own = next(option for option in alternates(narrow) if option.chosen)
    assert (own.standing, own.level) == ("can't be built", Level.OK)
    assert own.reason.startswith(next(finding.check for finding in own.estimate.findings if finding.level is Level.STOP))


def test_a_swapped_sink_is_the_nearest_with_which_the_alternate_can_be_built(lists):
    """In a narrow base the nearest kind doesn't fit: the next one that does is taken, and the alternate can be had."""
    narrow = change_job(STONE, {"cabinet.width": "33 in"})
    top = next(option for option in alternates(narrow) if option.mount == "top" and option.counter_kept)
    nearest = nearest_sinks(narrow, lists, "top")
    fitting = [kind.item for kind in nearest if kit.estimate(change_job(narrow, changes_for_sink(kind, "top")), lists).buildable]
    assert top.sink == (fitting or [nearest[0].item])[0]


def test_days_differ_by_the_steps_and_waits_that_are_said(some_example, lists):
    """Step for step the differences sum to that of the lead times; in words, to that of the days as they are shown."""
    options = [option for option in alternates(kit.read_job(some_example)) if option.estimate is not None]
    own = next(option for option in options if option.chosen)
    before = weigh_plan(own.estimate)
    for option in options:
        after = weigh_plan(option.estimate)
        rows = list_stretches(own.estimate, option.estimate, before, after)
        assert sum(row.days for row in rows) == pytest.approx(after.lead_days - before.lead_days, abs=1e-4)
        said = explain_days(own.estimate, option.estimate, before, after)
        assert bool(said) == any(abs(row.days) >= 0.25 for row in rows)
        if said:
            whole, rest = sum(_said_days(words) for words in said), said[-1].startswith("Everything else")
            named = len(said) - rest
            assert all(abs(row.days) < 2.0 for row in rows[named:])
            shown = round_up_days(after.lead_days) - round_up_days(before.lead_days)
            assert whole == pytest.approx(shown, abs=1e-6 if all(row.after < 100.0 and row.before < 100.0 for row in rows) else 0.3)


def _said_days(words: str) -> float:
    """The difference that a sentence says: "adds 3 days", "saves 2 days", "1.3 days, not 3.3"."""
    told = re.fullmatch(r".*: (?:(adds|(?:none, )?saves) ([\d.]+) days?|([\d.]+) days?, not ([\d.]+))", words)
    assert told, words
    verb, by, now, was = told.groups()
    return (float(by) if verb == "adds" else -float(by)) if verb else float(now) - float(was)


def test_a_wait_at_the_shop_is_said(lists):
    """A top that we cut ourselves waits for no shop: the wait that falls away is named with its days."""
    options = alternates(STONE)
    own, maple = (next(option for option in options if option.id == name).estimate for name in ("under_stone-3cm", "under_wood-maple-own"))
    said = explain_days(own, maple, weigh_plan(own), weigh_plan(maple))
    assert any(words.startswith("Fabrication of a stone countertop: none, saves ") for words in said)


def test_few_trials_rank_alternates_as_many_do():
    """The draws are shared: those whose P80 differs by a quarter of a percent stand in the same order after ten times as many trials."""
    priced = [option.estimate for option in alternates(STONE) if option.estimate is not None]
    few, many = ([float(assess_risk(one, trials=trials).cost_at(0.8)) for one in priced] for trials in (TRIALS, 10 * TRIALS))
    apart = [(one, other) for one in range(len(priced)) for other in range(one) if abs(many[one] / many[other] - 1) > 0.0025]
    assert len(apart) > 50
    assert [pair for pair in apart if (few[pair[0]] < few[pair[1]]) is not (many[pair[0]] < many[pair[1]])] == []


def test_the_trials_are_held_against_other_terms_without_trying_again(lists):
    """At half the profit more of the same trials lose money; cost and finish stay."""
    made = kit.estimate(STONE, lists)
    figures = weigh_option(made)
    poorer = kit.revalue(made, {}, {}, {"in:profit": Decimal(0), "in:overhead": Decimal(0)})
    again = weigh_terms(figures, poorer)
    assert again.risk.cost is figures.risk.cost
    assert again.risk.chance_to_lose > figures.risk.chance_to_lose


def test_margin_for_each_crew_day_by_hand(lists):
    """Price less direct cost, shared out over the days that the crew works."""
    made = kit.estimate(STONE, lists)
    found = weigh_option(made)
    hand_days = sum(task.duration_h for task in made.tasks) / 8
    assert found.crew_days == pytest.approx(hand_days)
    assert float(found.per_crew_day) == pytest.approx(float(found.gross) / hand_days, abs=0.01)
    assert found.cut_out_by == "the countertop shop"
    tile = {"counter.item": "tile-set", "counter.material": "tile"}
    assert weigh_option(kit.estimate(kit.change_job(STONE, tile), lists)).cut_out_by == "the tile setter"
    assert found.fronted >= 0
    assert found.p80 > found.cost * Decimal("0.9")


def test_differences_sum_to_the_difference_of_prices(some_example, lists):
    """To the cent, between every two neighbors in the comparison, and hours to hours."""
    priced = [option.estimate for option in alternates(kit.read_job(some_example)) if option.estimate is not None]
    for old, new in pairwise(priced):
        rows = list_differences(old, new)
        assert sum(row.amount for row in rows) == new.price - old.price
        assert sum(row.hours for row in rows) == pytest.approx(new.hours - old.hours, abs=0.01)


def test_nothing_changes_against_itself(lists):
    """The same estimate twice: no rows, no facts."""
    made = kit.estimate(STONE, lists)
    assert list_differences(made, made) == ()
    assert list_facts(made, made) == ()


def test_facts_tell_what_is_built_otherwise(lists):
    """Without an apron the cabinet stays whole and the frame goes; the findings that come and go are named."""
    old = kit.estimate(STONE, lists)
    new = kit.estimate(change_job(STONE, changes_for_sink(lists.sinks["steel-top-33"], "top")), lists)
    facts = {fact.what: (fact.before, fact.after) for fact in list_facts(old, new)}
    assert facts["Front of the cabinet"] == ("cut", "left whole")
    wood = kit.estimate(kit.read_job(kit.shipped("examples") / "wood_apron_two_bowl.toml"), lists)  # frameless: the apron stands where the false front was
    assert next(fact.before for fact in list_facts(wood, new) if fact.what == "Front of the cabinet") == "false front off, not cut"
    assert facts["Support frame"] == ("built", "none")
    assert facts["Mount"] == ("undermount", "top mount")
    assert facts["Apron height above the doors"] == ("caution", "fine")


def test_progress_is_told(lists):
    """Each design is counted once, up to the last: three mounts, and each other counter."""
    said = []
    compare_alternates(STONE, lists, progress=lambda done, of: said.append((done, of)))
    hand_designs = 3 + len(lists.counters) - 1
    assert said == [(done, hand_designs) for done in range(1, hand_designs + 1)]


def test_why_the_sink_is_out_is_said_of_each_alternate():
    """A countertop that is measured over the set sink takes weeks out of use; cast, or measured ahead, it doesn't; both in one sentence."""
    days = {one.name: (weigh_plan(one.estimate).days_without_sink, why_sink_out(one.estimate)) for one in alternates(STONE) if one.usable and one.estimate}
    set_first = [out for out, why in days.values() if why == SET_FIRST]
    ahead = [out for out, why in days.values() if "while the old kitchen stays in use" in why]
    assert len(set_first) > 4
    assert len(ahead) > 1
    assert max(ahead) < 7
    assert min(set_first) > 14
    assert all(why.count(".") == 1 for _, why in days.values())


@pytest.mark.parametrize(
    ("stem", "changes", "hand_why"),
    [
        ("counter_stays_sink_only", {}, "Clips hold the rim, so the sink can be used the same day."),
        ("counter_stays_sink_only", {"sink.rim_thickness": "1/2 in"}, "The sink's bead cures for a day before the drain hangs on it."),
        ("laminate_top_mount", {}, "The countertop is cut to fit and set in the house."),
        ("wood_apron_two_bowl", {}, "The countertop is cut to fit, coated and set in the house, each coat left to dry."),
        ("solid_surface_flush", {}, "The shop measures and makes the countertop while the old kitchen stays in use."),
        ("solid_surface_flush", {"old.sink_kind": "none"}, ""),
        (
            "corner_dishwasher_drain_down",
            {"old.counter_glue_tested": "asbestos"},
            f"{SET_FIRST} The asbestos firm works in between. The inspector comes before anything covers the new work.",
        ),
    ],
)
def test_why_the_sink_is_out_follows_the_job(stem, changes, hand_why):
    """By who makes the countertop, where, and whom the open kitchen waits for."""
    job = change_job(kit.read_job(kit.shipped("examples") / f"{stem}.toml"), changes)
    assert why_sink_out(kit.estimate(job, kit.load_lists(kit.shipped("price_lists")))) == hand_why


def test_one_day_is_one_day():
    """Not 1 days."""
    assert [say_stretch(Stretch("Tile dries", *days)) for days in ((0.0, 1.0), (3.0, 1.0), (1.0, 0.0), (0.0, 1.5))] == [
        "Tile dries: adds 1 day",
        "Tile dries: 1 day, not 3",
        "Tile dries: none, saves 1 day",
        "Tile dries: adds 1.5 days",
    ]


def test_a_step_of_the_price_between_two_sixteenths_says_what_is_built_for_it(lists):
    """A base 36 1/8 in wide leaves (36 1/8 - 33) / 2 less a stile of 1 1/2 in, 1/16 in beside the apron, a reveal; 1/16 in more wants two fillers (hand)."""
    assert (STONE.sink.apron_width_in, STONE.cabinet.stile_in) == (33.0, 1.5)
    narrow, wide = (kit.estimate(change_job(STONE, {"cabinet.width": width}), lists) for width in ("36 1/8 in", "36 3/16 in"))
    facts = {fact.what: (fact.before, fact.after) for fact in list_facts(narrow, wide)}
    assert facts == {"Fillers beside the apron": ("none", "2 strips, in a gap wide enough to see")}
    rows = {row.what: row.amount for row in list_differences(narrow, wide)}
    assert sum(rows.values()) == wide.price - narrow.price > 50
    assert rows["Filler strip 3/4 x 3 in primed"] > 0
