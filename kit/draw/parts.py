"""Which parts do the drawings know by name? The one list; findings and lines name them, drawings mark them."""

from collections.abc import Mapping
from types import MappingProxyType

__all__ = ["PARTS", "UNDRAWN", "find_part"]

PARTS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "sink": ("body",),
        "apron": (),
        "bowl": ("bowls", "outlet"),
        "rim": ("flange",),
        "cabinet": ("sides", "side", "box", "base", "stile", "stiles", "rail", "rails", "top rail"),
        "cabinet floor": (),
        "toe board": ("toe space",),
        "doors": ("door",),
        "false front": (),
        "cut-out": ("cutout", "opening"),
        "front cut": ("front cut-out",),
        "frame": ("cleat", "cleats", "side cleat", "rear cross piece", "front tie", "platform", "platform joist", "platform panel", "screws"),
        "posts": ("post", "blocking", "block", "blocks", "block below the floor"),
        "counter": ("top", "run", "runs", "overhang", "edge"),
        "strip": ("strips", "front strip", "rear strip"),
        "splash": (),
        "seam": ("seams",),
        "holes": ("hole", "faucet", "air gap", "air-gap"),
        "strainer": ("tailpiece",),
        "disposer": (),
        "trap": (),
        "arm": ("trap arm", "vent"),
        "stub": ("drain", "drain stub", "wall stub"),
        "wall": ("walls", "stud", "studs"),
        "floor": ("aisle",),
        "left neighbour": ("left", "neighbour left"),
        "right neighbour": ("right", "neighbour right"),
        "corner": (),
        "shims": ("shim", "levels", "level", "levelness"),
    }
)
"""Part names, each with the other words by which it may be named."""

UNDRAWN = ("supply", "stops", "sealant", "old sink", "old counter", "fillers", "dishwasher")
"""Parts that findings and lines may name but no drawing shows: their places are not measured, or they go. The dishwasher is a neighbour."""

_KNOWN = {word: part for part, others in PARTS.items() for word in (part, *others)}


def find_part(name: str) -> str | None:
    """The part that a name means; None when no drawing knows it."""
    return _KNOWN.get(name.strip().lower().replace("_", " "))
