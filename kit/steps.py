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
    REST_BLANK = "rest-blank"
    COAT_BLANK = "coat-blank"
    RECEIVE = "receive"
    PROTECT = "protect"
    SHUT_OFF = "shut-off"
    FRONTS_OFF = "fronts-off"
    REMOVE_SINK = "remove-sink"
    STOPS = "stops"
    FREE_DISHWASHER = "free-dishwasher"
    ABATE = "abate"
    REMOVE_COUNTER = "remove-counter"
    KEEP_WATER = "keep-water"
    REPAIR_CABINET = "repair-cabinet"
    LEVEL = "level"
    ROUGH_DRAIN = "rough-drain"
    ROUGH_ELECTRIC = "rough-electric"
    INSPECT = "inspect"
    PATCH_WALL = "patch-wall"
    CUT_FRONT = "cut-front"
    BUILD_FRAME = "build-frame"
    SET_SINK = "set-sink"
    HAUL = "haul"
    TEMPLATE = "template"
    CAST = "cast"
    LAY_BACKER = "lay-backer"
    FIT_TOP = "fit-top"
    COAT_EDGES = "coat-edges"
    SET_COUNTER = "set-counter"
    GROUT = "grout"
    HANG_SINK = "hang-sink"
    SEAL = "seal"
    FIT_FAUCET = "fit-faucet"
    CONNECT_SUPPLY = "connect-supply"
    FINISH_WALL = "finish-wall"
    ELECTRIC_DEVICE = "electric-device"
    PAINT_WALL = "paint-wall"
    CONNECT_DISPOSER = "connect-disposer"
    CONNECT_DRAIN = "connect-drain"
    CONNECT_DISHWASHER = "connect-dishwasher"
    FILL_TEST = "fill-test"
    REFIT_FRONTS = "refit-fronts"
    CLEAN = "clean"
    INSPECT_FINAL = "inspect-final"
    PUNCH_LIST = "punch-list"
    TRIPS = "trips"
