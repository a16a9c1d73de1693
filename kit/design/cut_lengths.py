"""How long is the pipe between two fittings.

The take-out of a fitting runs from its center to the bottom of its socket: what the pipe does not fill. It differs by
pattern and maker, so an unknown one is never guessed: measure it and enter it. The saw kerf is no part of a length.
Method: U.S. Army plumbing course; take-out = center to face less engagement.
"""

from collections.abc import Mapping

from kit.design.require import require
from kit.errors import CutError, Fault, JobError
from kit.units import format_length

__all__ = ["cut_between_centers", "find_takeout"]


def find_takeout(takeouts: Mapping[str, float], pattern: str, fitting: str, size: str) -> float:
    """Look up the take-out of a fitting [in].

    Parameters
    ----------
    takeouts
        Take-outs [in] by "pattern/fitting/size", as measured.
    pattern, fitting, size
        Such as "dwv", "90-ell", "1-1/2".

    Raises
    ------
    JobError
        If the table doesn't know the fitting.
    """
    name = f"{pattern}/{fitting}/{size}"
    if name not in takeouts:
        raise JobError(Fault(name, "Its take-out (center to socket bottom) is not known. Measure the part and enter it."))
    require(not_negative={name: takeouts[name]})
    return takeouts[name]


def cut_between_centers(centers_in: float, takeout_1_in: float, takeout_2_in: float) -> float:
    """Work the pipe between the centers of two fittings [in]: the distance less both take-outs.

    Raises CutError if no pipe is left between the two. Raises JobError if a measure can't be one.
    """
    require(positive={"centers_in": centers_in}, not_negative={"takeout_1_in": takeout_1_in, "takeout_2_in": takeout_2_in})
    length_in = centers_in - takeout_1_in - takeout_2_in
    if length_in <= 0.0:
        raise CutError(
            f"no pipe is left between the fittings: their take-outs fill the {format_length(centers_in)}. Set them farther apart or use a street fitting."
        )
    return length_in
