"""What must hold for every job: no heavier sink needs less, no deeper bowl a higher stub, no wider tolerance makes a stop good."""

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import kit
from kit.checks.check import check_job
from kit.checks.finding import chance_of_fit, fit_finding
from kit.design.design import design_job
from kit.job import change_job, fill_assumptions
from kit.records import Level
from kit.takeoff.takeoff import take_off

LISTS = kit.load_lists(kit.shipped("price_lists"))
JOBS = [kit.read_job(path) for path in sorted(kit.shipped("examples").glob("*.toml"))]
APRONS = [job for job in JOBS if job.sink.is_apron]
quick = settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def designed(job, **changes):
    """The filled job with changes, and its design."""
    filled, _ = fill_assumptions(change_job(job, {place.replace("__", "."): typed for place, typed in changes.items()}))
    return filled, design_job(filled, LISTS)


@quick
@given(st.sampled_from(APRONS), st.integers(20, 380), st.integers(0, 20))
def test_a_heavier_sink_never_needs_less(job, weight_lb, more_lb):
    """More weight: no smaller load, no fewer people, no smaller use of a member, no better level."""
    light = designed(job, sink__weight=f"{weight_lb} lb")
    heavy = designed(job, sink__weight=f"{weight_lb + more_lb} lb")
    assert heavy[1].load.design_lb >= light[1].load.design_lb
    assert heavy[1].lift.lifters >= light[1].lift.lifters
    before = {found.id: found for found in check_job(*light, LISTS)}
    for found in check_job(*heavy, LISTS):
        if found.id.startswith(("support/", "lift/")) and found.id in before:
            assert found.level >= before[found.id].level
            if found.margin is not None:
                assert found.margin <= before[found.id].margin + 1e-9


@quick
@given(st.sampled_from(JOBS), st.integers(64, 176), st.integers(0, 40))
def test_a_deeper_bowl_never_raises_the_needed_stub(job, sixteenths, more):
    """The highest stub that still drains comes down with the bowl."""
    shallow = designed(job, **{"sink__bowls[1]__depth": f"{sixteenths / 16} in"})[1]
    deep = designed(job, **{"sink__bowls[1]__depth": f"{min(sixteenths + more, 224) / 16} in"})[1]
    assert deep.drain.stub_max_in <= shallow.drain.stub_max_in + 1e-9


@given(
    st.floats(-5, 5, allow_nan=False),
    st.floats(-5, 5, allow_nan=False),
    st.floats(0, 2),
    st.floats(0, 2),
    st.booleans(),
)
def test_more_tolerance_never_makes_a_level_better(measured, limit, tolerance, more, most):
    """Adding tolerance leaves a level as it is or makes it worse; a stop stays a stop."""

    def level(tolerance_in):
        return fit_finding("a", "b", measured, limit, basis="", source="", remedy="", tolerance_in=tolerance_in, most=most).level

    assert level(tolerance + more) >= level(tolerance)
    assert (level(tolerance) is Level.STOP) == (level(tolerance + more) is Level.STOP)


@given(st.floats(-3, 3), st.floats(0.01, 2))
def test_chance_of_fit_is_even_at_the_limit_and_rises(margin, tolerance):
    """Half at the limit, more inside, less outside; certain without tolerance."""
    assert chance_of_fit(0.0, tolerance) == pytest.approx(0.5)
    assert chance_of_fit(margin + 0.1, tolerance) >= chance_of_fit(margin, tolerance)
    assert chance_of_fit(margin, 0.0) == (1.0 if margin >= 0 else 0.0)


@quick
@given(
    st.sampled_from(APRONS),
    st.sampled_from(["top", "flush", "under"]),
    st.sampled_from(["rim", "bowl", "unknown"]),
    st.integers(300, 480),
    st.integers(24, 40),
)
def test_design_never_raises_and_takeoff_agrees_with_the_checks(job, mount, carried_at, width, stub):
    """Any sound job is designed, checked and counted; lines and findings speak of the same frame, cut and drain."""
    filled, design = designed(
        job,
        sink__mount=mount,
        sink__carried_at=carried_at,
        cabinet__width=f"{max(width / 10, 24)} in",
        plumbing__stub_height=f"{stub / 2} in",
    )
    findings = {found.id: found for found in check_job(filled, design, LISTS)}
    lines = {line.id: line for line in take_off(filled, design, LISTS)}
    members = sum(member.count for member in design.frame.members)
    framed = [line for line in lines.values() if line.item == "frame-member"]
    assert sum(line.quantity for line in framed) == members
    assert ("support/cleat-screws" in findings or "support/platform-opening" in findings) == bool(framed)
    assert ("cabinet/removed" in findings) == any(line.step == "cut-front" for line in lines.values())
    assert (findings["drain/stub-height"].level is not Level.OK) or not design.drain.moves
    lowered = any(line.step == "rough-drain" for line in lines.values())
    assert lowered == (design.drain.moves and filled.scope.drain_move.renewed and filled.plumbing.vent_seen)
    for found in findings.values():
        assert found.basis
        assert found.remedy or found.level is Level.OK


@pytest.mark.parametrize("mount", ["top", "flush", "under"])
@pytest.mark.parametrize("job", APRONS, ids=lambda job: job.identity.job_number)
def test_a_frame_that_carries_is_not_built_before_the_sheet_says_where(job, mount):
    """Rim or bowl: a stop where the frame alone carries. A frame that only touches below a sink hung in the counter stands under its bowl in any case."""
    _, design = filled = designed(job, sink__mount=mount, sink__carried_at="unknown")
    levels = [found.level for found in check_job(*filled, LISTS) if found.id == "mounts/carried-at"]
    assert levels == ([Level.STOP] if mount != "top" else [])
    assert design.placed.carrying.on_frame or mount == "top"


def test_a_missing_input_is_unknown_and_never_ok():
    """Every measure that may be unknown and has no assumption turns its check to unknown or worse."""
    job, design = designed(
        APRONS[0],
        sink__apron_projection="2 in",
        plumbing__stub_height="unknown",
        plumbing__arm_to_vent="unknown",
        cabinet__door_top="unknown",
        cabinet__false_front_bottom="unknown",
        cabinet__aisle="unknown",
        sink__carried_at="unknown",
        plumbing__vent_seen="unknown",
    )
    levels = {found.id: found.level for found in check_job(job, design, LISTS)}
    for finding in (
        "drain/stub-height",
        "drain/arm-longest",
        "drain/arm-shortest",
        "cabinet/apron-above-doors",
        "cabinet/apron-covers-false-front",
        "neighbors/aisle",
        "drain/vent",
        "mounts/carried-at",
    ):
        assert levels[finding] >= Level.UNKNOWN
