"""Keys of a job as older files have them: what took their place is read, and the file that is saved next has the new ones."""

from collections.abc import Mapping
from typing import Any

from kit.job.fields import UNKNOWN

__all__ = ["with_todays_keys"]


def with_todays_keys(document: Mapping[str, Any]) -> Mapping[str, Any]:
    """The document of a job with today's keys; what says neither one thing nor the other keeps its key, and the reader of the record refuses it."""
    cabinet = document.get("cabinet")
    if not isinstance(cabinet, Mapping) or "swollen_sides" not in cabinet:
        return document
    return {**document, "cabinet": _with_swollen_side(cabinet)}


def _with_swollen_side(cabinet: Mapping[str, Any]) -> Mapping[str, Any]:
    """A cabinet that said yes or no and, beside that, which side; yes alone meant both, so that none is forgotten."""
    rest = {key: value for key, value in cabinet.items() if key != "swollen_sides"}
    match cabinet["swollen_sides"]:
        case False:
            return rest | {"swollen_side": "none"}
        case True:
            which = rest.get("swollen_side", UNKNOWN)
            return rest | {"swollen_side": "both" if which == UNKNOWN else which}
        case "unknown":
            return rest | {"swollen_side": UNKNOWN}
    return cabinet
