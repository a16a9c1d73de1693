"""What is a packer put together from: the strip it is cut from is as thick as a 1x2, so a thinner one is ripped, and a thicker one lies in layers."""

from kit.sources import value
from kit.units import count_parts, exceeds, format_length

__all__ = ["layer_name", "strip_layers", "strip_words", "strips_in"]


def strip_layers(thick_in: float) -> tuple[float, ...]:
    """How thick each layer of a packer is [in]: whole strips, and on them the one that is ripped to what is left; shims fill what is too thin to rip."""
    strip_in = value("lumber", "1x2/thickness")
    whole = max(count_parts(thick_in, strip_in) - 1, 0)
    left_in = thick_in - whole * strip_in
    return (*(strip_in for _ in range(whole)), *([left_in] if not exceeds(value("practice", "packer/ripped-least"), left_in) else []))


def strips_in(thick_in: float) -> float:
    """How thick the strips of a packer are together [in]; shims fill the rest.

    Examples
    --------
    >>> strips_in(0.8125), strips_in(0.0625), strips_in(0.5)
    (0.75, 0, 0.5)
    """
    return sum(strip_layers(thick_in))


def layer_name(layer_in: float) -> str:
    """What a layer is called in the cut list, after the name of its packer: nothing for a whole strip.

    Examples
    --------
    >>> layer_name(0.25), layer_name(0.75)
    (', ripped to 1/4 in thick', '')
    """
    return f", ripped to {format_length(layer_in)} thick" if exceeds(value("lumber", "1x2/thickness"), layer_in) else ""


def strip_words(thick_in: float) -> str:
    """A packer in words: how thick, and what of.

    Examples
    --------
    >>> strip_words(0.25)
    '1/4 in thick, ripped from a 3/4 in strip'
    >>> strip_words(1.0)
    '1 in thick: 1 strip of 3/4 in, and one ripped to 1/4 in'
    >>> strip_words(0.8125)
    '13/16 in thick: 1 strip of 3/4 in as bought, and shims for the last 1/16 in'
    """
    layers = strip_layers(thick_in)
    strip, thick, left_in = format_length(value("lumber", "1x2/thickness")), format_length(thick_in), thick_in - sum(layers)
    ripped = layer_name(layers[-1])
    whole = len(layers) - bool(ripped)
    strips = f"{thick} thick: {whole} {'strip' if whole == 1 else 'strips'} of {strip}"
    if not ripped:
        return f"{strips} as bought" + (f", and shims for the last {format_length(left_in)}" if exceeds(left_in, 0.0) else "")
    return f"{strips}, and one ripped to {format_length(layers[-1])}" if whole else f"{thick} thick, ripped from a {strip} strip"
