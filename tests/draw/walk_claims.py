"""What the notebook says of each walked example, sentence by sentence, as a question to its estimate; None where a sentence says how the trade does it."""

from collections.abc import Callable
from itertools import pairwise

from work_jobs import STONE, estimated

from kit.design.front import FrontCut
from kit.estimating import Estimate
from kit.labor.trips import Trip
from kit.outlook import plan_schedule
from kit.steps import Step

__all__ = ["CLAIMS"]

S = Step

Claim = Callable[[Estimate], bool] | None


def _in_order(found: Estimate, *steps: S) -> bool:
    """Whether the job has these steps, each ended before the next begins."""
    rows = [plan_schedule(found).schedule.find(step) for step in steps]
    return all(rows) and all(first.finish <= then.start for first, then in pairwise(rows))


def _has(found: Estimate, *items: str) -> bool:
    return {*items} <= {line.item for line in found.lines}


def _lacks(found: Estimate, *items: str) -> bool:
    return {*items}.isdisjoint({line.item for line in found.lines})


def _trip(found: Estimate, step: S) -> Trip | None:
    return next((trip for trip in found.trips if step in trip.steps), None)


def _waits(found: Estimate, first: S, for_step: S, lead: str = "") -> bool:
    """Whether a trip begins with a step, after what was waited for."""
    trip = _trip(found, first)
    return trip is not None and (trip.first, trip.waits_for, trip.lead) == (first, for_step, lead)


def _done(found: Estimate) -> set[S]:
    return {task.step for task in (*found.tasks, *found.hired)}


def _warns(found: Estimate, *names: str) -> bool:
    return {*names} <= {one.id for one in found.findings}


def _same_day(found: Estimate) -> bool:
    schedule = plan_schedule(found)
    return schedule.sink_out.date() == schedule.sink_back.date()


def _sink_trip(found: Estimate) -> Trip:
    trip = _trip(found, S.SET_SINK)
    assert trip is not None
    return trip


_PLAIN: dict[str, Claim] = {
    "One visit of one person.": lambda e: [trip.people for trip in e.trips] == [1],
    "Nobody comes to measure ahead": lambda e: S.VISIT not in _done(e) and _in_order(e, S.RECEIVE, S.REMOVE_SINK),
    "Water goes off once": lambda e: (
        {S.STOPS, S.REMOVE_SINK, S.SHUT_OFF} <= {*e.trips[0].steps} and _warns(e, "supply/steel-threads") and _lacks(e, "hire-plumber")
    ),
    "The old edge of the opening": lambda e: _has(e, "seal-old-edge-foot", "edge-seal"),
    "The faucet has its hole in the sink": lambda e: e.design.placed.faucet_in_sink and _in_order(e, S.FIT_FAUCET, S.SET_SINK),
    "Clips pull the rim down": lambda e: e.design.setting.clipped and _has(e, "wipe-rim-foot") and _same_day(e),
    "A rim held by its weight alone": lambda e: len(estimated("counter_stays_sink_only", {"sink.rim_thickness": "1/2 in"}).trips) == 2,
    "Debris is little enough": lambda e: _has(e, "haul-pound") and _lacks(e, "dump-run", "disposal") and _in_order(e, S.SET_SINK, S.HAUL),
}
_LAMINATE: dict[str, Claim] = {
    "No fabricator": lambda e: S.TEMPLATE not in _done(e) and not e.hired,
    "The blank is on hand": lambda e: _has(e, "laminate-blank") and _in_order(e, S.RECEIVE, S.REMOVE_COUNTER),
    "The opening is cut on sawhorses": lambda e: _has(e, "cut-out-foot", "seal-edge-foot") and _in_order(e, S.FIT_TOP, S.SET_COUNTER, S.CONNECT_SUPPLY),
    "Only then does the sink go in": lambda e: _in_order(e, S.SET_COUNTER, S.FIT_FAUCET, S.SET_SINK),
    "Nothing hangs on the rim": lambda e: _waits(e, S.CONNECT_DRAIN, S.SEAL),
    "The old wet cabinet floor": lambda e: (
        _in_order(e, S.REMOVE_COUNTER, S.REPAIR_CABINET, S.SET_COUNTER) and sum(line.quantity for line in e.lines if line.item == "old-dishwasher") == 1
    ),
}
_SOLID: dict[str, Claim] = {
    "The shop measures while": lambda e: e.job.sink.mount == "flush" and _in_order(e, S.TEMPLATE, S.REMOVE_SINK),
    "So there are few days without a sink": lambda e: 0 < (plan_schedule(e).days_without_sink or 0) < 7,
    "The sub-top carries": lambda e: _has(e, "sub-top-foot"),
    "The sink goes in after": lambda e: _in_order(e, S.SET_COUNTER, S.SET_SINK),
    "The disposer that stays in use": lambda e: _has(e, "old-disposer", "rehang-disposer") and _waits(e, S.CONNECT_DISPOSER, S.SEAL) and _lacks(e, "strainer"),
    "The drain is plugged the night": lambda e: _has(e, "plug-drain") and _waits(e, S.CONNECT_DISPOSER, S.SEAL),
    "Stairs on the way in": lambda e: (
        _has(e, "carry-in-step", "haul-step") and not [name for task in e.tasks for name, _ in task.factors if name in {"stairs", "upper-floor"}]
    ),
}
_STONE: dict[str, Claim] = {
    "People live here": lambda e: (
        {task.step for task in e.tasks if "occupied" in dict(task.factors)} == {S.RECEIVE, S.PROTECT, S.HAUL, S.CLEAN}
        and e.lists.factors["occupied"].times == 1.2
    ),
    "Stone is cut to the sink": lambda e: _in_order(e, S.BUILD_FRAME, S.SET_SINK, S.TEMPLATE, S.SET_COUNTER),
    "That order makes the rest.": None,
    "Everything that": lambda e: _in_order(e, S.LEVEL, S.PATCH_WALL, S.CUT_FRONT, S.BUILD_FRAME, S.SET_SINK) and isinstance(e.design.cut, FrontCut),
    "As many people come": lambda e: _sink_trip(e).people == e.design.lift.lifters and {S.RECEIVE, S.TEMPLATE} <= {*_sink_trip(e).steps},
    "Then the kitchen is open": lambda e: _has(e, "plug-drain") and _lacks(e, "stop-cap") and e.design.supply.stops >= 2,
    "The template is the last thing": lambda e: _sink_trip(e).steps[-1] is S.TEMPLATE and _in_order(e, S.HAUL, S.TEMPLATE),
    "After the countertop one person": lambda e: (
        _waits(e, S.SEAL, S.TEMPLATE, "stone") and _waits(e, S.CONNECT_DRAIN, S.SEAL) and {_trip(e, S.SEAL).people, _trip(e, S.CONNECT_DRAIN).people} == {1}
    ),
    "Last of all the doors": lambda e: _has(e, "trim-door") and _in_order(e, S.FILL_TEST, S.REFIT_FRONTS),
}
_WOOD: dict[str, Claim] = {
    "Wood moves, and water finds every cut.": None,
    "So the blank rests": lambda e: (
        _has(e, "rest-blank", "mask-bond-foot") and _in_order(e, S.REST_BLANK, S.COAT_BLANK, S.SHUT_OFF) and _in_order(e, S.SET_SINK, S.FIT_TOP)
    ),
    "Each cut edge": lambda e: _waits(e, S.COAT_EDGES, S.FIT_TOP, "coat-dry") and _waits(e, S.SET_COUNTER, S.COAT_EDGES, "coat-dry"),
    "Cut later": None,
    "The top is fastened": lambda e: _has(e, "own-slot", "own-fastener"),
    "Oily rags": None,
    "Nobody photographed": lambda e: _has(e, "unseen-drain"),
    "Two bowls share one trap": lambda e: len(e.job.sink.bowls) == 2 and _has(e, "continuous-waste"),
}
_CORNER: dict[str, Claim] = {
    "The house sets the order here.": None,
    "Glue, backer and floor": lambda e: (
        sum(line.quantity for line in e.lines if line.item == "floor-test") == 3
        and plan_schedule(e).schedule.find(S.ORDER).wait_until <= plan_schedule(e).schedule.find(S.REMOVE_SINK).start
    ),
    "If it finds asbestos": lambda e: _in_order(
        estimated("corner_dishwasher_drain_down", {"old.counter_glue_tested": "asbestos", "old.splash_glue_tested": "none-found"}),
        S.KEEP_WATER,
        S.ABATE,
        S.HAUL,
    ),
    "Paint is disturbed": lambda e: e.design.duties.lead_safe and _has(e, "lead-floor", "lead-clean", "hepa-vacuum", "dust-sheet"),
    "The tile countertop": lambda e: _has(e, "old-counter-tile", "respirator"),
    "While wall and cabinet floor are open": lambda e: (
        _in_order(e, S.ROUGH_DRAIN, S.INSPECT) and _in_order(e, S.ROUGH_ELECTRIC, S.INSPECT, S.REPAIR_CABINET, S.PATCH_WALL, S.BUILD_FRAME, S.SET_SINK)
    ),
    "Debris is gone": lambda e: _in_order(e, S.HAUL, S.INSPECT),
    "Device and cover": lambda e: _in_order(e, S.SET_COUNTER, S.ELECTRIC_DEVICE, S.CONNECT_DISPOSER, S.FILL_TEST, S.INSPECT_FINAL),
    "Permit, licenses": lambda e: _warns(e, "duties/permit", "duties/plumber", "duties/electrician"),
}
CLAIMS: dict[str, dict[str, Claim]] = {
    "counter_stays_sink_only": _PLAIN,
    "laminate_top_mount": _LAMINATE,
    "solid_surface_flush": _SOLID,
    STONE: _STONE,
    "wood_apron_two_bowl": _WOOD,
    "corner_dishwasher_drain_down": _CORNER,
}
