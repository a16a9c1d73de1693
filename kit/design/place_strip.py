"""What holds the narrow strip of counter behind a flush apron sink: a cleat along the rear of the base, in pieces where a nut hangs in its way."""

from collections.abc import Iterator, Sequence

from kit.design.frame_parts import edge_in, inside, member, play_in, thick_in
from kit.design.levels import Levels
from kit.design.place_boxes import box_back_in
from kit.design.place_counter import STRIP_CLEAT
from kit.design.place_sink import SinkPlace
from kit.job import FilledJob
from kit.shapes import Block
from kit.solids import Body, Stage
from kit.sources import value
from kit.spans import free_spans, grown, length_of, spans_cross

__all__ = ["place_strip_cleat"]

_FIELDS = ("cabinet.width", "cabinet.side_thickness", "cabinet.height", "cabinet.nailer")


def place_strip_cleat(job: FilledJob, levels: Levels, at: SinkPlace, others: Sequence[Body]) -> Iterator[Body]:
    """On edge against back panel and nailer, level with the top of the base, from side to side; left out where the sink leaves no room behind it.

    Notes
    -----
    An apron that is flush with the counter opens its front, so nothing holds the strip behind it but the base's sides, and the sink carries
    none of it. Up to `counter/strip-span` it holds itself; common practice, no source.
    """
    between = inside(job)
    if job.sink.mount != "flush" or not job.sink.is_apron or length_of(between) <= value("practice", "counter/strip-span"):
        return
    y, z = (box_back_in(job), box_back_in(job) + thick_in()), (levels.packed_top_in - edge_in(), levels.packed_top_in)
    sink_back_in = at.rim_y[0] if at.rim_z[0] < z[1] else at.outside_y[0]
    if y[1] > sink_back_in - value("practice", "frame/bowl-clearance"):
        return
    solid = [body for body in others if body.is_at(Stage.BUILT) and not body.room]
    in_the_way = [shape.x for body in solid for shape in body.shapes if spans_cross(shape.y, y) and spans_cross(shape.z, z)]
    free = free_spans(grown(between, -play_in() / 2.0), in_the_way)
    least_in = value("practice", "frame/screw-spacing")
    for number, x in enumerate((span for span in free if length_of(span) >= least_in), 1):  # each long enough for two screws
        yield member(f"{STRIP_CLEAT} {number}", Block(x, y, z), ("side left", "side right"), "x", _FIELDS)
