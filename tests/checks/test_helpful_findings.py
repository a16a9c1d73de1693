"""Findings that help: none cries wolf, the costly ones come first, remedies fit the job."""

import re
import textwrap
from collections import Counter
from functools import cache

import pytest
from random_jobs import is_far, random_estimate
from work_jobs import STEMS, estimated

from kit.checks.check import worst_first
from kit.checks.finding import fit_finding, plain_finding
from kit.estimating import Estimate, with_earlier_stages
from kit.export.proposal_terms import surprise_names
from kit.records import Finding, Kind, Level
from kit.sources import table

NEAR_JOBS = 60
MOST_SHARE = 0.45
DRAWN_AS_OFTEN = {"mounts/material": 0.7}  # the generator draws every counter with every mount: half of the pairs in mounts.csv are a caution
STONE = "stone_apron_single_bowl"


@cache
def near_jobs() -> tuple[Estimate, ...]:
    seeds = [seed for seed in range(2 * NEAR_JOBS) if not is_far(seed)]
    return tuple(with_earlier_stages(random_estimate(seed)) for seed in seeds)


def finding(name: str, changes: dict[str, object], stem: str = STONE) -> Finding | None:
    return next((found for found in estimated(stem, changes).findings if found.id == name), None)


def test_no_warning_appears_in_most_jobs():
    """What warns in nearly every job is not read. Near jobs are near real ones: a mount that sink and list allow, fields moved a little."""
    seen: Counter[str] = Counter()
    for job in near_jobs():
        seen.update({re.sub(r"\d+", "N", found.id) for found in job.findings if found.level in {Level.CAUTION, Level.UNKNOWN}})
    too_often = {name: number for name, number in seen.items() if number > DRAWN_AS_OFTEN.get(name, MOST_SHARE) * NEAR_JOBS}
    assert not too_often
    assert len(seen) > 30, "jobs without warnings would show nothing"


def test_what_a_rim_above_the_box_is_told_to_do_helps():
    """A flush rim on cleats: under the bowl or undermount ends it. A sub-top raises counter, rim and box top alike, and is not among the remedies."""
    flush = {"sink.mount": "flush", "sink.carried_at": "rim"}
    stop = finding("mounts/rim-above-box", flush)
    assert (stop.level, stop.remedy) == (Level.STOP, "Carry it under the bowl where the maker's sheet allows it, or choose the undermount.")
    assert finding("mounts/rim-above-box", {**flush, "counter.sub_top": "new"}).margin == pytest.approx(stop.margin)
    assert finding("mounts/rim-above-box", {**flush, "sink.carried_at": "bowl"}) is None
    assert finding("mounts/rim-above-box", {**flush, "sink.mount": "under"}) is None


CORNER = "corner_dishwasher_drain_down"
NO_DISPOSER = {"plumbing.disposer": "none", "plumbing.stub_height": "20 in"}


@pytest.mark.parametrize(
    ("before", "says", "changes"),
    [
        ({}, "no disposer", {"plumbing.disposer": "none"}),
        ({}, "a disposer 2 9/16 in shorter", {"plumbing.disposer_drop": "6 15/16 in"}),
        ({}, "a bowl 2 9/16 in shallower", {"sink.bowls[1].depth": "6 7/16 in"}),
        ({}, "the wall opened and the stub 2 9/16 in lower", {"plumbing.stub_height": "15 7/16 in"}),
        (NO_DISPOSER, "a tailpiece 1 1/8 in shorter", {"plumbing.strainer_drop": "4 7/8 in"}),
        (NO_DISPOSER, "a low-profile outlet saving 1 1/8 in", {"plumbing.strainer_drop": "4 7/8 in"}),
    ],
)
def test_each_way_told_for_a_high_stub_is_enough_by_itself(before, says, changes):
    """The job with that one change drains into its stub as it stands, and not too close to call. With a disposer there is no tailpiece to cut: none is told."""
    told = finding("drain/stub-height", before, CORNER)
    ways = told.basis.partition("least work first: ")[2].split("; ")
    assert says in ways
    assert (any("tailpiece" in way for way in ways), any("disposer" in way for way in ways)) == (bool(before), not before)
    assert "no disposer or a disposer 2" in told.remedy or before
    assert told.level is Level.CAUTION
    after = finding("drain/stub-height", {**before, **changes}, CORNER)
    assert (after.level, after.remedy) == (Level.OK, "")
    assert finding("drain/riser", {**before, **changes}, CORNER) is None  # the wall stays closed


@pytest.mark.parametrize("stem", STEMS)
def test_an_example_has_a_handful_of_warnings(stem):
    """Sound jobs: no more than a person reads; the old house with a moved drain, its suspect glue and a long slab at a narrow turn the most.

    The flush sink beside a disposer has one more than a handful: its arm has too little room for two elbows.
    """
    warned = [found for found in estimated(stem).findings if found.level is not Level.OK]
    assert len(warned) <= {"corner_dishwasher_drain_down": 14, "solid_surface_flush": 6}.get(stem, 5)


def test_people_come_before_the_house_before_a_fitting():
    """Of one level: lead, then a wet floor, the drain, the permit, the counter, a door, a fitting; a stop before them all."""
    hand_order = [
        "mounts/sink-kind",
        "duties/lead-safe",
        "cabinet/wet-floor",
        "drain/vent",
        "duties/permit",
        "surface/overhang",
        "neighbors/left",
        "mounts/outlet-flange",
    ]
    levels = {"mounts/sink-kind": Level.STOP}
    drawn = [
        plain_finding(name, "", levels.get(name, Level.CAUTION), "", "", basis="", source="judgement") for name in sorted(hand_order, key=lambda name: name[-1])
    ]
    assert [found.id for found in worst_first(drawn)] == hand_order


def test_asbestos_and_lead_lead_the_old_house():
    """What harms people stands before doors, permits and fittings."""
    ids = [found.id for found in estimated("corner_dishwasher_drain_down").findings if found.level is Level.CAUTION]
    last = max(ids.index(name) for name in ("duties/lead-safe", "duties/flooring", "duties/silica"))
    assert last < ids.index("cabinet/wet-floor") < ids.index("drain/stub-height") < ids.index("duties/permit") < ids.index("cabinet/apron-above-doors")


def test_each_family_has_its_rank():
    """No finding without a row; no row of a family that gives no finding."""
    far_jobs = (with_earlier_stages(random_estimate(seed)) for seed in (1, 3, 5, 7))  # where things want the same place
    ids = {found.id for job in (*near_jobs(), *far_jobs, *map(estimated, STEMS)) for found in job.findings}
    families = {name.partition("/")[0] for name in ids}
    rows = {name for name in table("stakes") if "/" not in name}
    assert families <= rows
    assert rows - families <= {"scope"}


@pytest.mark.parametrize(("margin_in", "level"), [(0.124, "caution"), (0.125, "caution"), (0.126, "ok"), (0.0, "caution"), (-0.001, "stop")])
def test_a_margin_of_the_tapes_tolerance_is_a_caution(margin_in, level):
    """Two standard deviations: a chance of 97.7 %, by the normal table."""
    found = fit_finding("a", "b", 10.0 + margin_in, 10.0, basis="", source="", remedy="", tolerance_in=0.125)
    assert found.level.word == level
    if margin_in == 0.125:
        hand_normal_two = 0.97725
        assert found.chance == pytest.approx(hand_normal_two, abs=1e-5)


def test_hinges_only_for_doors():
    """A drawer or a dishwasher has none."""
    tight = {"sink.apron_width": "36 in", "cabinet.width": "36 in", "cabinet.left.gap": "1/32 in"}
    said = {kind: finding("neighbors/left", {**tight, "cabinet.left.kind": kind}).remedy for kind in ("door", "drawer", "dishwasher", "range")}
    assert [kind for kind, remedy in said.items() if "hinge" in remedy] == ["door"]
    assert len(said) == 4


@pytest.mark.parametrize(
    ("changes", "hand_words", "hand_not"),
    [
        ({"counter.made_by": "us", "counter.item": "wood-maple-own", "counter.material": "wood", "counter.species": "hard-maple"}, "ourselves", "shop"),
        ({"sink.mount": "flush"}, "shop agree in writing", "ourselves"),
        ({"sink.mount": "flush", "counter.made_by": "stays"}, "countertop that stays", "shop"),
    ],
)
def test_who_is_asked_about_a_mount(changes, hand_words, hand_not):
    """Our own top has no maker, a counter that stays no shop."""
    remedy = finding("mounts/material", changes).remedy
    assert hand_words in remedy
    assert hand_not not in remedy


@pytest.mark.parametrize(("reveal", "advised"), [("1/8 in", False), ("0 in", True), ("-1/8 in", True)])
def test_a_positive_reveal_is_advised_where_there_is_none(reveal, advised):
    """Who has one is not told to have one."""
    assert ("positive reveal" in finding("wood-top/reveal", {"counter.reveal": reveal}, "wood_apron_two_bowl").remedy) == advised


def test_every_warning_says_what_to_do():
    """Level and remedy of every finding of the near jobs, in two lines of a terminal; no maker where nobody made it for us."""
    for job in near_jobs():
        for found in job.findings:
            assert found.remedy or found.level is Level.OK, found
            assert is_short(found), found
            assert not (found.id.startswith(("mounts/material", "surface/")) and re.search(r"\bmaker\b", found.remedy)), found


@pytest.mark.parametrize("seeds", [range(5300, 5312), pytest.param(range(5312, 5500), marks=pytest.mark.long)])
def test_no_room_is_less_than_nothing(seeds):
    """Where a length must be at least so much: what overlaps is short of it; a hole as large as a plate still clears the backsplash by 0 in or more."""
    said = [(found.measured, found.limit) for seed in seeds for found in random_estimate(seed).findings]
    least = [(measured, limit) for measured, limit in said if limit.startswith("at least ")]
    assert [pair for pair in least if pair[0].startswith("-") or pair[1].startswith("at least -")] == []
    assert any(measured.startswith("none, ") for measured, _ in said)


@pytest.mark.parametrize("seeds", [range(5300, 5324), pytest.param(range(5324, 5500), marks=pytest.mark.long)])
def test_no_place_has_a_minus(seeds):
    """Nobody reads a minus off a tape: what lies below the floor, into the wall or past an end is said so. The sum of the stub's height alone has one."""
    found = [finding for seed in seeds for finding in random_estimate(seed).findings]
    said = [(one.id, text) for one in found for text in (one.check, one.measured, one.limit, one.remedy, "" if one.id == "drain/stub-height" else one.basis)]
    assert [one for one in said if re.search(r"(^|[ (])-\d", one[1])] == []
    for words in ("below the floor", "to the left", "outside its bowl"):
        assert any(words in text for _, text in said), words


@pytest.mark.parametrize(
    ("measured_in", "limit_in", "most", "hand_words"),
    [
        (18.0, -2.5, True, ("18 in", "at least 2 1/2 in below the floor")),
        (-1.0, -2.5, True, ("1 in below the floor", "at least 2 1/2 in below the floor")),
        (-1.0, 2.5, False, ("1 in below the floor", "at least 2 1/2 in")),
        (None, -2.5, True, ("not measured", "at least 2 1/2 in below the floor")),
        (18.0, 20.0, True, ("18 in", "at most 20 in")),
    ],
)
def test_a_height_past_zero_says_where_that_is(measured_in, limit_in, most, hand_words):
    """At most 2 1/2 in under zero is at least 2 1/2 in below the floor."""
    one = fit_finding("a", "b", measured_in, limit_in, basis="", source="", remedy="", tolerance_in=0.0, most=most, past_zero="below the floor")
    assert (one.measured, one.limit) == hand_words


def test_full_height_doors_have_no_room_for_an_apron():
    """Doors from the box top down, reveal 1/8 in: the apron would end 1/8 in above the box."""
    assert finding("cabinet/apron-above-doors", {"cabinet.door_top": "0 in"}).limit == "at least 1/8 in above the box top"


def test_an_unknown_says_which_measure_is_missing():
    """The doors' top sets the limit: "Measure it" would send nobody to the doors."""
    assert finding("cabinet/apron-above-doors", {"cabinet.door_top": "unknown"}).remedy == "Measure from the cabinet top down to the top of the doors."


def test_the_scope_names_things_as_people_do():
    """No field names: a backsplash, not a splash; and a sink is named by its kind, its mounts in words."""
    conflict = finding("scope/splash", {"scope.splash": {"supplied_by": "customer", "installed_by": "us"}})
    assert conflict.check == "Scope: backsplash"
    assert finding("mounts/sink-kind", {"sink.mount": "top"}).measured == "33 in fireclay apron-front sink is made for: flush mount, undermount"


def is_short(found):
    """Two lines of a terminal at most."""
    return len(textwrap.wrap(found.remedy, 66, break_on_hyphens=False)) <= 2


@pytest.mark.parametrize("seeds", [range(5300, 5312), pytest.param(range(5312, 5500), marks=pytest.mark.long)])
def test_remedies_of_far_jobs_are_short(seeds):
    """Whatever chance puts together."""
    assert [found for seed in seeds for found in random_estimate(seed).findings if not is_short(found)] == []


def test_a_trade_that_is_advised_is_priced_or_said_not_to_be():
    """A plumber or an electrician in a remedy is hired in the takeoff, or the remedy says that he is not included."""
    advised = 0
    for job in (*near_jobs(), *map(estimated, STEMS)):
        hired = {line.item for line in job.lines if line.kind is Kind.HIRE}
        for found in job.findings:
            for trade in ("plumber", "electrician"):
                if trade in f"{found.remedy} {found.check}".lower():
                    advised += 1
                    assert f"hire-{trade}" in hired or "not included" in found.remedy, found
    assert advised > 10


@pytest.mark.parametrize(("measured_in", "hand_words"), [(10.0 - 1 / 32, "9 31/32 in"), (10.0, "10 in"), (10.0 - 1 / 16, "9 15/16 in")])
def test_what_is_short_by_a_hair_does_not_read_like_its_limit(measured_in, hand_words):
    """Finer than a sixteenth only where both would read alike."""
    found = fit_finding("a", "b", measured_in, 10.0, basis="", source="", remedy="", tolerance_in=0.125)
    assert (found.measured, found.limit) == (hand_words, "at least 10 in")


@pytest.mark.parametrize(("floor", "steps", "hand_said"), [(1, 0, False), (2, 0, True), (2, 14, False)])
def test_an_upper_floor_without_steps_is_asked_about(floor, steps, hand_said):
    """Steps are paid one by one: a forgotten stair would be a gift."""
    assert (finding("lift/steps", {"site.floor": floor, "site.stair_steps": steps}) is not None) == hand_said


def test_a_disposer_that_goes_leaves_a_cable():
    """Said to the crew, and to the customer as what may turn up; with a new or kept one there is no open end."""
    gone, kept = (estimated(STONE, {"old.disposer": True, "plumbing.disposer": after}) for after in ("none", "keep"))
    said = [[finding.id for finding in found.findings if finding.id == "duties/cable-left"] for found in (gone, kept)]
    assert said == [["duties/cable-left"], []]
    assert set(surprise_names(gone)) - set(surprise_names(kept)) == {"The old disposer was wired in, not plugged in"}


@pytest.mark.parametrize("stem", [STONE, "wood_apron_two_bowl", "corner_dishwasher_drain_down"])
def test_the_load_is_followed_down_and_ends_at_the_floor(stem):
    """Shims stand on the subfloor, so it comes last whichever post it was reached by first."""
    found = finding("support/load-path", {}, stem)
    assert found.measured.startswith("sink rim, ")
    assert found.measured.endswith(", subfloor")


def test_a_length_between_centers_is_said_without_a_second_colon():
    """The name of the check has the colon before it."""
    assert finding("drain/take-outs", {}).measured == "arm, center to center"
