"""Which conditions hold for a job? Factors, order rules and site risks of the lists ask for them by name."""

from kit.design.design import Design
from kit.design.named_goods import counter_kind
from kit.design.place_boxes import is_sawn
from kit.design.place_holes import count_open_holes
from kit.design.supply import FAUCET_LINES, Supply
from kit.job import FilledJob
from kit.lists import Lists
from kit.lists.condition_names import CONDITIONS
from kit.sources import value
from kit.takeoff.protection import wants_dust_wall
from kit.takeoff.receiving import is_tight
from kit.takeoff.shut_off import tests_power
from kit.takeoff.tear_out import waits_for_counter

__all__ = ["holding_conditions"]

_GOODS = ("sink", "faucet", "strainer", "disposer", "dishwasher", "counter", "splash")


def holding_conditions(job: FilledJob, design: Design, lists: Lists) -> tuple[str, ...]:
    """The conditions of this job, in the order in which the lists know them."""
    holds = {
        "always": True,
        **_place(job, design),
        **_old(job, design, lists),
        **_plumbing(job, design.supply),
        **_front(job, design),
        **_floor_drain(design),
        **_new(job, design, lists),
        **_duties(job, design),
    }
    return tuple(name for name in CONDITIONS if holds[name])


def _place(job: FilledJob, design: Design) -> dict[str, bool]:
    site = job.site
    return {
        "occupied": site.occupied,
        "upper-floor": site.floor > 1,
        "stairs": design.lift.stair_steps > value("practice", "access/few-steps"),
        "tight-access": is_tight(job),
    }


def _old(job: FilledJob, design: Design, lists: Lists) -> dict[str, bool]:
    """What is taken out by us is our work and our risk; what the customer takes out is his."""
    removal = design.removal
    ours = removal.counter_by == "us"
    return {
        "wet-floor": job.cabinet.wet_floor,
        "dry-floor": not job.cabinet.wet_floor,
        "sound-sides": not job.cabinet.sides_to_stiffen,
        "swollen-sides": bool(job.cabinet.sides_to_stiffen),
        "old-counter-off": ours,
        "counter-stays": not removal.counter_comes_off,
        "new-counter": removal.counter_comes_off,
        "customer-tears-out": "customer" in {removal.counter_by, removal.splash_by, removal.sink_by},
        "dusty-counter": counter_kind(job, lists).brittle or lists.removed_is_brittle(job.old.counter_material),
        "glued-counter": design.torn_out_by_us("counter") and job.old.counter_fixing == "glued",
        "screwed-counter": design.torn_out_by_us("counter") and job.old.counter_fixing == "screwed",
        "brittle-tear-out": (design.torn_out_by_us("counter") and lists.removed_is_brittle(job.old.counter_material))
        or (design.torn_out_by_us("splash") and job.old.splash == "tile"),
        "glued-splash": design.torn_out_by_us("splash") and job.old.splash in {"glued", "tile"},
    }


def _plumbing(job: FilledJob, supply: Supply) -> dict[str, bool]:
    """What the pipes are; copper can be soldered, whatever joint is planned."""
    plumbing = job.plumbing
    return {
        "main-valve-open": not job.site.main_shutoff_closes,
        "old-stops": plumbing.stop_age == "old" and plumbing.stops_to_renew < FAUCET_LINES,
        "steel-stubs": plumbing.supply_old == "galvanized" and plumbing.stops_to_renew > 0,
        "copper-joints": "copper" in {plumbing.supply_old, plumbing.supply_new if supply.short_stubs else ""} and supply.stops > 0,
        "drain-not-photographed": not job.old.drain_photographed,
        "stub-not-measured": plumbing.stub_height_in is None and plumbing.drain_leaves == "wall",
        "vent-not-seen": not plumbing.vent_seen and plumbing.drain_leaves == "wall",
    }


def _front(job: FilledJob, design: Design) -> dict[str, bool]:
    """Power is off where hands come near a cable; an apron that stands free between the rails and stiles that are there asks for no cut."""
    power, cut = tests_power(job, design), design.cut
    sawn = cut is not None and is_sawn(design.placed.model, cut)
    return {"power-off": power, "power-stays": not power, "front-cut": sawn, "front-fits": cut is not None and not sawn}


def _floor_drain(design: Design) -> dict[str, bool]:
    """A drain through the floor that is not designed is looked at and connected by a plumber: ours, who is called, or the customer's."""
    left, hired = bool(design.drain.not_designed), design.duties.floor_plumber
    return {
        "drain-through-floor": left and not hired,
        "drain-floor-plumber": hired,
        "drain-floor-called": left and hired,
        "drain-designed": not left,
    }


def _new(job: FilledJob, design: Design, lists: Lists) -> dict[str, bool]:
    comes, scope = design.removal.counter_comes_off, job.scope.counter
    setting = design.setting
    placed = design.placed
    ledge = placed.faucet_in_sink and not placed.counter_holes and (job.scope.faucet.ours_to_install or job.scope.faucet.stays)
    open_holes = job.scope.sink.renewed and count_open_holes(job, lists, placed.holes) > 0
    whole = comes and not setting.laid_in_place
    fabricated, ours = whole and job.counter.made_by == "fabricator", whole and job.counter.made_by == "us" and scope.ours_to_install
    return {
        "new-sink": job.scope.sink.renewed,
        "customer-goods": any(item.renewed and item.supplied_by == "customer" for item in (getattr(job.scope, name) for name in _GOODS)),
        "trimmed-doors": design.doors is not None and design.doors.work == "trim",
        "new-doors": design.doors is not None and design.doors.work == "new",
        # a counter that the customer sets, or orders from the shop himself, is his risk
        "own-counter": ours,
        "wood-top": ours and counter_kind(job, lists).moves,
        "fabricated-counter": fabricated and scope.supplied_by != "customer",
        "laid-counter": setting.laid_in_place,
        # an apron that the counter joins at its sides is set before the template; the others are templated while the old kitchen works
        "sink-first": fabricated and setting.cradled,
        "template-first": fabricated and not setting.cradled,
        # on the counter, in its rabbet, or through the opened front; an opening that stays is enlarged before its sink is set
        "counter-first": setting.after_counter,
        "clipped-rim": setting.clipped,
        # our people put it on the sink on the bench, before or after the countertop
        "ledge-faucet": ledge and not setting.after_counter,
        "ledge-faucet-last": ledge and setting.after_counter,
        "open-holes": open_holes and job.scope.faucet.installed_by in {"us", "trade"},
        "open-holes-yours": open_holes and job.scope.faucet.installed_by == "customer",
        "plain-swap": setting.plain_swap,
        "call-back": not setting.plain_swap,
        "two-stays": waits_for_counter(job, design),
        "dust-wall": wants_dust_wall(job, design),
    }


def _duties(job: FilledJob, design: Design) -> dict[str, bool]:
    duties, abatement, year_known = design.duties, design.abatement, "site.year_built" not in job.assumed
    return {
        "lead-safe": duties.lead_safe,
        "lead-safe-year-known": duties.lead_safe and year_known,
        "lead-safe-year-unknown": duties.lead_safe and not year_known,
        "cable-left": duties.cable_left,
        "suspect-floor": duties.test_floor,
        "suspect-glue": bool(duties.test_glue),
        "suspect-glue-yours": bool(duties.glue_untested_by_customer),
        "asbestos-glue-yours": bool(duties.glue_found_by_customer),
        "asbestos": bool(abatement.parts),
        "asbestos-hired": bool(abatement.parts) and abatement.hired,
        "asbestos-yours": bool(abatement.parts) and not abatement.hired,
        "permit": duties.permit,
        # floor and leveling of the base come after the trades that work in it
        "rough-first": design.drain.is_lowered or duties.electrician,
        "plumber": duties.plumber,
        "electrician": duties.electrician,
    }
