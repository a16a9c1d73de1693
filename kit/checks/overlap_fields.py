"""Which measures decide how deep two bodies stand in each other? Those that act along the way out, and don't move both alike."""

from kit.shapes import AXES, Axis, Shape, overlap_depth
from kit.solids import Body, Overlap
from kit.units import exceeds

__all__ = ["deciding_fields"]

_ACTS: dict[Axis, frozenset[str]] = {
    "x": frozenset(
        [
            "cabinet.width",
            "cabinet.side_thickness",
            "cabinet.stile",
            "cabinet.left.gap",
            "cabinet.right.gap",
            "cabinet.boxes",
            "counter.runs",
            "counter.sink_center",
            "counter.reveal",
            "counter.holes",
            "sink.body_width",
            "sink.bowl_width",
            "sink.bowls",
            "sink.apron_width",
            "sink.outlet_offset",
            "sink.template_width",
            "plumbing.stub_offset",
            "plumbing.floor_pipe_from_left",
            "plumbing.stops_apart",
            "plumbing.stud_offset",
            "plumbing.disposer_diameter",
            "old.sink_width",
            "old.counter_length",
        ]
    ),
    "y": frozenset(
        [
            "cabinet.depth",
            "cabinet.back_panel",
            "cabinet.nailer",
            "counter.runs",
            "counter.wall_gap",
            "counter.reveal",
            "counter.holes",
            "counter.splash_thickness",
            "sink.depth",
            "sink.rear_rim",
            "sink.bowls",
            "sink.apron_projection",
            "sink.outlet_setback",
            "sink.template_depth",
            "plumbing.stud_depth",
            "plumbing.floor_pipe_from_wall",
            "plumbing.disposer_diameter",
            "old.sink_depth",
            "old.counter_depth",
        ]
    ),
    "z": frozenset(
        [
            "cabinet.height",
            "cabinet.floor_height",
            "cabinet.floor_thickness",
            "cabinet.toe_height",
            "cabinet.top_rail",
            "cabinet.mid_rail",
            "cabinet.mid_rail_top",
            "cabinet.false_front_bottom",
            "cabinet.door_top",
            "cabinet.door_height",
            "cabinet.door_reveal",
            "counter.thickness",
            "counter.sub_top_thickness",
            "counter.splash_height",
            "sink.rim_thickness",
            "sink.bowls",
            "sink.bottom_thickness",
            "sink.under_most",
            "sink.corners_apart",
            "sink.apron_height",
            "plumbing.stub_height",
            "plumbing.floor_pipe_top",
            "plumbing.floor_inlet",
            "plumbing.floor_vent",
            "plumbing.stop_height",
            "plumbing.disposer_height",
            "plumbing.disposer_drop",
            "plumbing.strainer_drop",
            "levelness.readings",
            "old.counter_thickness",
            "old.splash_height",
        ]
    ),
}
"""What a change of each measure moves; one that stands nowhere here may move anything."""
_KNOWN = frozenset().union(*_ACTS.values())
_MOVE_BOTH_ALIKE = {"cabinet.height", "cabinet.depth", "counter.sub_top_thickness"}
"""Heights count from the base's top and depths from its face: where both bodies do, neither comes nearer to the other."""


def deciding_fields(overlap: Overlap) -> tuple[str, ...]:
    """The measures of the two, without those that act across the way out and those that move both alike."""
    axes, both = _ways_out(overlap), set(overlap.first.fields) & set(overlap.second.fields) & _MOVE_BOTH_ALIKE
    acting = set[str]().union(*(_ACTS[axis] for axis in axes))
    deciding = tuple(field for field in overlap.fields if field not in both and (field in acting or field not in _KNOWN))
    return deciding or overlap.fields


def _ways_out(overlap: Overlap) -> tuple[Axis, ...]:
    """The axis along which the two are least deep in each other; all of those across a rod that reaches in with its round side."""
    one, other = _deepest(overlap.first, overlap.second)
    common = {axis: min(getattr(one, axis)[1], getattr(other, axis)[1]) - max(getattr(one, axis)[0], getattr(other, axis)[0]) for axis in AXES}
    least = min(common.values())
    if exceeds(least, overlap.depth_in):  # round sides: the distance runs across more than one axis
        return AXES
    return tuple(axis for axis in AXES if not exceeds(common[axis], least))


def _deepest(first: Body, second: Body) -> tuple[Shape, Shape]:
    return max(((one, other) for one in first.shapes for other in second.shapes), key=lambda pair: overlap_depth(*pair))
