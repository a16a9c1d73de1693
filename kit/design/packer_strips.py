"""What is a packer put together from: the strip it is cut from is as thick as a 1x2, so a thinner one is ripped, and a thicker one lies in layers."""

import math

from kit.sources import value
from kit.units import format_length

__all__ = ["layer_name", "strip_layers", "strip_words"]


def strip_layers(thick_in: float) -> tuple[float, ...]:
    """How thick each layer of a packer is [in]: whole strips, and on them the one that is ripped to what is left."""
    strip_in = value("lumber", "1x2/thickness")
    whole = math.ceil(round(thick_in / strip_in, 6)) - 1
    return (*(strip_in for _ in range(whole)), thick_in - whole * strip_in)


def layer_name(layer_in: float) -> str:
    """What a layer is called in the cut list, after the name of its packer: nothing for a whole strip.

    Examples
    --------
    >>> layer_name(0.25), layer_name(0.75)
    (', ripped to 1/4 in thick', '')
    """
    return f", ripped to {format_length(layer_in)} thick" if layer_in < value("lumber", "1x2/thickness") - 1e-6 else ""


def strip_words(thick_in: float) -> str:
    """A packer in words: how thick, and what of.

    Examples
    --------
    >>> strip_words(0.25)
    '1/4 in thick, ripped from a 3/4 in strip'
    >>> strip_words(1.0)
    '1 in thick: 1 strip of 3/4 in, and one ripped to 1/4 in'
    """
    *whole, last_in = strip_layers(thick_in)
    strip, thick = format_length(value("lumber", "1x2/thickness")), format_length(thick_in)
    if not layer_name(last_in):
        return f"{thick} thick: {len(whole) + 1} {'strips' if whole else 'strip'} of {strip} as bought"
    if not whole:
        return f"{thick} thick, ripped from a {strip} strip"
    return f"{thick} thick: {len(whole)} {'strips' if len(whole) > 1 else 'strip'} of {strip}, and one ripped to {format_length(last_in)}"
