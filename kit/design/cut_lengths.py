"""How long is the pipe between two fittings.

The take-out of a fitting runs from its centre to the bottom of its socket: what the pipe does not fill. It differs by
pattern and maker, so an unknown one is never guessed: measure it and enter it. The saw kerf is no part of a length.
Method: U.S. Army plumbing course; take-out = centre to face less engagement.
"""

import math
from collections.abc import Mapping
from functools import lru_cache
from types import MappingProxyType

from kit.design.require import require
from kit.errors import CutError, Fault, JobError
from kit.sources import table

__all__ = [
    "arm_fall",
    "cut_between_centres",
    "cut_between_faces",
    "cut_from_end_to_centre",
    "find_socket",
    "find_takeout",
    "offset_travel",
    "shipped_sockets",
    "shipped_takeouts",
    "takeout_from_face",
]


@lru_cache(maxsize=1)
def shipped_takeouts() -> Mapping[str, float]:
    """Give the take-outs [in] that come with the kit, by "pattern/fitting/size"; a user's own table has the same keys."""
    return MappingProxyType({name: row.value for name, row in table("fitting_takeouts").items()})


@lru_cache(maxsize=1)
def shipped_sockets() -> Mapping[str, float]:
    """Give the engagements [in] that come with the kit, by "pattern/size": how deep the pipe sits in the fitting."""
    return MappingProxyType({name: row.value for name, row in table("socket_depths").items()})


def find_takeout(takeouts: Mapping[str, float], pattern: str, fitting: str, size: str) -> float:
    """Look up the take-out of a fitting [in].

    Parameters
    ----------
    takeouts
        Take-outs [in] by "pattern/fitting/size": the user's own first, else `shipped_takeouts`.
    pattern, fitting, size
        Such as "pressure", "90-ell", "1.5".

    Raises
    ------
    JobError
        If the table doesn't know the fitting.
    """
    return _find(takeouts, f"{pattern}/{fitting}/{size}", "take-out (centre to socket bottom)")


def find_socket(sockets: Mapping[str, float], pattern: str, size: str) -> float:
    """Look up the depth to which the pipe sits in a fitting [in]; otherwise as `find_takeout`."""
    return _find(sockets, f"{pattern}/{size}", "engagement (depth of the socket)")


def _find(known: Mapping[str, float], name: str, what: str) -> float:
    try:
        found = known[name]
    except KeyError:
        raise JobError(Fault(name, f"its {what} is not known. Measure it on the part and enter it.")) from None
    require(not_negative={name: found})
    return found


def takeout_from_face(centre_to_face_in: float, engagement_in: float) -> float:
    """Work the take-out [in] of a fitting measured from its centre to its face, less the engagement of the pipe."""
    require(not_negative={"centre_to_face_in": centre_to_face_in, "engagement_in": engagement_in})
    if engagement_in > centre_to_face_in:
        raise JobError(Fault("engagement_in", f"{engagement_in:g} was given; wanted is no more than the {centre_to_face_in:g} in from centre to face."))
    return centre_to_face_in - engagement_in


def cut_between_centres(centres_in: float, takeout_1_in: float, takeout_2_in: float) -> float:
    """Work the pipe between the centres of two fittings [in]: the distance less both take-outs.

    Raises
    ------
    CutError
        If no pipe is left between the two.
    JobError
        If a measure can't be one.
    """
    require(positive={"centres_in": centres_in}, not_negative={"takeout_1_in": takeout_1_in, "takeout_2_in": takeout_2_in})
    return _left(centres_in - takeout_1_in - takeout_2_in, centres_in)


def cut_from_end_to_centre(distance_in: float, takeout_in: float, engagement_in: float = 0.0) -> float:
    """Work the pipe from a fitting's centre to its own far end [in].

    `distance_in` runs from the centre to the pipe's end, or to the face of the part it enters by `engagement_in`.
    """
    require(positive={"distance_in": distance_in}, not_negative={"takeout_in": takeout_in, "engagement_in": engagement_in})
    return _left(distance_in - takeout_in + engagement_in, distance_in)


def cut_between_faces(faces_in: float, engagement_1_in: float, engagement_2_in: float) -> float:
    """Work the pipe between the faces of two fittings [in]: the distance and both engagements."""
    require(not_negative={"faces_in": faces_in, "engagement_1_in": engagement_1_in, "engagement_2_in": engagement_2_in})
    return _left(faces_in + engagement_1_in + engagement_2_in, faces_in)


def offset_travel(offset_in: float, angle_deg: float = 45.0) -> float:
    """Work the distance centre to centre along the slanted pipe of an offset [in], for fittings that turn by `angle_deg`."""
    require(positive={"offset_in": offset_in})
    if not 0.0 < angle_deg <= 90.0:
        raise JobError(Fault("angle_deg", f"{angle_deg:g} was given; wanted is a number, more than 0 and up to 90."))
    return offset_in / math.sin(math.radians(angle_deg))


def arm_fall(run_in: float, slope_in_per_ft: float) -> float:
    """Work the fall of a drain [in] over a run [in] at a slope [in/ft]."""
    require(not_negative={"run_in": run_in, "slope_in_per_ft": slope_in_per_ft})
    return slope_in_per_ft * run_in / 12.0


def _left(length_in: float, distance_in: float) -> float:
    if length_in <= 0.0:
        raise CutError(f"no pipe is left between the fittings: {distance_in:g} in, their take-outs fill it. Set them farther apart or take a street fitting.")
    return length_in
