"""The order of the trade, as names.

Only the ids live here. Label, crew, order, waiting time and cost code of each step are data in
`price_lists/steps.csv`, which holds exactly one row for each id.
"""

from enum import StrEnum

__all__ = ["Step"]


class Step(StrEnum):
    """One step of a sink-and-counter job, in the order in which it is usually done; `TRIPS` stands for the ways between."""

    VISIT = "visit"
    ORDER = "order"
    RECEIVE = "receive"
    PROTECT = "protect"
    REMOVE_SINK = "remove-sink"
    FREE_DISHWASHER = "free-dishwasher"
    REMOVE_COUNTER = "remove-counter"
    KEEP_WATER = "keep-water"
    REPAIR_CABINET = "repair-cabinet"
    LEVEL = "level"
    ROUGH_DRAIN = "rough-drain"
    STOPS = "stops"
    INSPECT = "inspect"
    CUT_FRONT = "cut-front"
    BUILD_FRAME = "build-frame"
    SET_SINK = "set-sink"
    TEMPLATE = "template"
    SET_COUNTER = "set-counter"
    SEAL = "seal"
    FIT_FAUCET = "fit-faucet"
    CONNECT_SUPPLY = "connect-supply"
    CONNECT_DISPOSER = "connect-disposer"
    CONNECT_DRAIN = "connect-drain"
    CONNECT_DISHWASHER = "connect-dishwasher"
    FILL_TEST = "fill-test"
    REFIT_FRONTS = "refit-fronts"
    PATCH_WALL = "patch-wall"
    HAUL = "haul"
    CLEAN = "clean"
    PUNCH_LIST = "punch-list"
    TRIPS = "trips"
