"""What everything weighs that hangs or stands above the floor, and what of it arrives there: by volumes where a density is known."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from kit.design.frame_load import Load
from kit.design.frame_parts import LUMBER, PANEL
from kit.lists.goods_rows import CounterKind
from kit.shapes import Block
from kit.solids import Body, Model
from kit.sources import value

__all__ = ["LoadPath", "follow_loads"]

_DENSITY = {LUMBER: "southern-pine", PANEL: "plywood"}  # the heaviest framing lumber of the table: it will be carried
_CUBIC_IN_A_FOOT = 1728.0


@dataclass(frozen=True, slots=True)
class LoadPath:
    """What is placed, and how much of it arrives at the floor [lb]; `hung_lb` on the sink, `frame_lb` of its members, `counter_lb` with a sub-top."""

    hung_lb: float
    frame_lb: float
    counter_lb: float
    arrives_lb: float

    @property
    def placed_lb(self) -> float:
        """Weight of everything that was placed [lb]."""
        return self.hung_lb + self.frame_lb + self.counter_lb

    @property
    def holds(self) -> bool:
        """Whether all that is placed arrives."""
        return math.isclose(self.placed_lb, self.arrives_lb)


def follow_loads(model: Model, load: Load, kind: CounterKind, ground: Sequence[str]) -> LoadPath:
    """Every weight on its way down, shared in equal parts by what a body stands on or hangs from.

    The sink's own weight is that of the job, the counter's that of its kind in the lists; members weigh their volume at the density of the tables.
    """
    members = {
        body.name: _volume(body) * value("densities", _DENSITY[body.item]) / _CUBIC_IN_A_FOOT for body in model.of_part("frame") if body.item in _DENSITY
    }
    counter_lb = _volume(model["counter"]) * kind.weight_psf / (144.0 * kind.thickness_in)
    sub_top = {"sub-top": _volume(model["sub-top"]) * value("densities", "plywood") / _CUBIC_IN_A_FOOT} if "sub-top" in model else {}
    hung = {"sink rim": load.sink_lb + load.person_lb, "sink bowl": load.water_lb + load.disposer_lb}
    placed = {**members, "counter": counter_lb, **sub_top, **hung}
    return LoadPath(sum(hung.values()), sum(members.values()), counter_lb + sum(sub_top.values()), _arrives(model, placed, ground))


def _volume(body: Body) -> float:
    """Cubic inches of its blocks."""
    blocks = (shape for shape in body.shapes if isinstance(shape, Block))
    return sum((block.x[1] - block.x[0]) * (block.y[1] - block.y[0]) * (block.z[1] - block.z[0]) for block in blocks)


def _arrives(model: Model, placed: Mapping[str, float], ground: Sequence[str]) -> float:
    """Handed on from body to body; what stands on nothing that is there arrives nowhere."""
    arrived, open_loads = 0.0, list(placed.items())
    while open_loads:
        name, pounds = open_loads.pop()
        if name in ground:
            arrived += pounds
            continue
        on = [below for below in model[name].stands_on if below in model]
        open_loads.extend((below, pounds / len(on)) for below in on)
    return arrived
