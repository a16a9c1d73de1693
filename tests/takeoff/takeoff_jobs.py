"""Jobs for the tests of the takeoff: one plain invented job, changed field by field, and its lines by their ids."""

from collections.abc import Callable, Mapping
from functools import cache
from typing import Any

from kit.design.design import Design, design_job
from kit.job import Job, change_job, fill_assumptions, parse_job
from kit.lists import Lists, load_lists
from kit.records import Line
from kit.shipped_files import shipped
from kit.takeoff.sheet import Sheet
from kit.takeoff.takeoff import take_off

__all__ = ["PLAIN", "changed", "lines_of", "lists", "other_jobs", "plain_job", "quantities", "sheet_of", "step_lines", "step_quantities"]


def _scope(supplied_by: str, installed_by: str) -> dict[str, str]:
    return {"supplied_by": supplied_by, "installed_by": installed_by}


# an invented job: a fired-clay apron sink under stone in a 36 in base; every number is chosen to be easy to work with by hand
PLAIN: dict[str, Any] = {
    "identity": {
        "job_number": "TEST-1",
        "customer": "Invented Customer",
        "address": "1 Example Lane",
        "tax_place": "Example County",
        "visit_date": "2026-03-02",
        "measured_by": "Tester",
    },
    "scope": {
        "sink": _scope("us", "us"),
        "faucet": _scope("us", "us"),
        "strainer": _scope("us", "us"),
        "disposer": _scope("excluded", "nobody"),
        "dishwasher": _scope("stays", "us"),
        "counter": _scope("fabricator", "fabricator"),
        "splash": _scope("fabricator", "fabricator"),
        "drain_move": _scope("trade", "trade"),
        "wall_repair": _scope("us", "us"),
        "haul_away": _scope("us", "us"),
    },
    "site": {
        "year_built": 1994,
        "floor": 1,
        "stair_steps": 3,
        "carry": "40 ft",
        "narrowest_door": "36 in",
        "narrowest_turn": "48 in",
        "occupied": True,
        "main_shutoff_closes": True,
        "floor_covering": "tile",
    },
    "cabinet": {
        "width": "36 in",
        "depth": "24 in",
        "height": "34 1/2 in",
        "construction": "face-frame",
        "stile": "1 1/2 in",
        "side_thickness": "1/2 in",
        "side_material": "plywood",
        "floor_thickness": "1/2 in",
        "floor_material": "plywood",
        "floor_height": "5 in",
        "toe_height": "4 1/2 in",
        "top_rail": "1 1/2 in",
        "false_front_bottom": "7 in",
        "door_top": "10 1/8 in",
        "door_reveal": "1/8 in",
        "wet_floor": False,
        "swollen_side": "none",
        "aisle": "42 in",
        "left": {"kind": "drawer", "gap": "1/8 in"},
        "right": {"kind": "dishwasher", "gap": "1/8 in"},
    },
    "old": {
        "sink_kind": "top",
        "sink_width": "33 in",
        "sink_depth": "22 in",
        "sink_weight": "28 lb",
        "counter_material": "laminate",
        "counter_thickness": "1 1/2 in",
        "counter_fixing": "screwed",
        "splash": "glued",
        "splash_height": "4 in",
        "disposer": False,
        "dishwasher_fixing": "counter",
        "drain_photographed": True,
    },
    "sink": {
        "item": "fired-clay-apron-33",
        "style": "apron-overlay",
        "mount": "under",
        "carried_at": "rim",
        "apron_width": "33 in",
        "body_width": "32 1/2 in",
        "bowl_width": "32 in",
        "depth": "18 in",
        "apron_height": "10 in",
        "apron_projection": "3/4 in",
        "rim_thickness": "5/8 in",
        "bottom_thickness": "5/8 in",
        "bowls": [{"width": "29 1/2 in", "front_to_back": "15 1/2 in", "depth": "9 in"}],
        "outlet_setback": "8 in",
        "weight": "118 lb",
        "as_received": False,
    },
    "counter": {
        "item": "stone-3cm",
        "material": "stone",
        "thickness": "1 3/16 in",
        "runs": [{"length": "96 in", "depth": "24 in", "left_end": "wall", "right_end": "open"}],
        "sink_center": "42 in",
        "splash": "same",
        "splash_height": "4 in",
        "made_by": "fabricator",
        "holes": [{"use": "faucet", "offset": "0 in"}],
    },
    "plumbing": {
        "stub_height": "15 in",
        "arm_to_wall": "16 in",
        "arm_to_vent": "28 in",
        "vent_seen": True,
        "drain_size": "1-1/2",
        "drain_old": "pvc",
        "drain_new": "pvc",
        "supply_old": "copper",
        "clean_stub": "2 in",
        "stops_to_renew": 2,
        "disposer": "none",
        "dishwasher": True,
    },
    "levelness": {"readings": [{"at": "0 in", "low": "0 in"}, {"at": "96 in", "low": "1/4 in"}]},
}


@cache
def lists() -> Lists:
    """The shipped lists."""
    return load_lists(shipped("price_lists"))


@cache
def plain_job() -> Job:
    """The plain job as typed."""
    return parse_job(PLAIN)


def other_jobs() -> dict[str, Job]:
    """Jobs far from the plain one, so that between them every field has something to do."""
    by_us = {"supplied_by": "us", "installed_by": "us"}
    bowl = {"front_to_back": "16 in", "depth": "9 in"}
    standard = {"sink.style": "standard", "sink.apron_width": None, "sink.apron_height": None, "sink.mount": "top"}
    old_house = {
        "site.year_built": 1965,
        "site.floor_covering": "sheet",
        "site.floor": 2,
        "site.stair_steps": 16,
        "cabinet.wet_floor": True,
        "cabinet.swollen_side": "both",
        "cabinet.clear_back": False,
        "plumbing.stub_height": "24 in",
        "plumbing.disposer": "new",
        "plumbing.clean_stub": "0 in",
        "plumbing.filter": True,
        "cabinet.corner": {"side": "left", "distance": "15 in", "return_part": "drawer", "filler": "2 in"},
        "scope.disposer": by_us,
        "scope.drain_move": by_us,
        "levelness.readings": [],
    }
    own_top = {
        **standard,
        "sink.body_width": "33 in",
        "sink.bowls": [{"width": "15 in", **bowl}, {"width": "14 in", **bowl}],
        "counter.item": "wood-maple-own",
        "counter.material": "wood",
        "counter.species": "hard-maple",
        "counter.made_by": "us",
        "counter.thickness": "1 1/2 in",
        "counter.runs": [
            {"length": "96 in", "depth": "25 in", "left_end": "wall", "right_end": "corner"},
            {"length": "50 in", "depth": "25 in", "left_end": "corner", "right_end": "open"},
        ],
        "scope.counter": by_us,
        "scope.splash": by_us,
    }
    return {"old house": change_job(plain_job(), old_house), "own top": change_job(plain_job(), own_top)}


def changed(changes: Mapping[str, Any] | None = None) -> Job:
    """The plain job with some fields changed and every assumption filled in."""
    return fill_assumptions(change_job(plain_job(), changes or {}))[0]


def sheet_of(changes: Mapping[str, Any] | None = None) -> Sheet:
    """The changed job with its design, for one step's function."""
    job = changed(changes)
    return Sheet(job, _design(job), lists())


def _design(job: Job) -> Design:
    return design_job(job, lists())


def lines_of(changes: Mapping[str, Any] | None = None) -> dict[str, Line]:
    """Every line of the changed job by its id."""
    sheet = sheet_of(changes)
    return {line.id: line for line in take_off(sheet.job, sheet.design, sheet.lists)}


def quantities(changes: Mapping[str, Any] | None = None) -> dict[str, float]:
    """Every line's quantity by its id."""
    return {name: line.quantity for name, line in lines_of(changes).items()}


def step_lines(count: Callable[[Sheet], list[Line]], changes: Mapping[str, Any] | None = None) -> dict[str, Line]:
    """The lines of one step by their ids, lines of nothing left out."""
    return {line.id: line for line in count(sheet_of(changes)) if line.quantity > 0.0}


def step_quantities(count: Callable[[Sheet], list[Line]], changes: Mapping[str, Any] | None = None) -> dict[str, float]:
    """The quantities of one step by the ids of its lines."""
    return {name: line.quantity for name, line in step_lines(count, changes).items()}
