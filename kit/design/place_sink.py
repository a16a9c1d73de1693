"""Where is the new sink: rim, bowls as plates, apron, outlets?"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from kit.design.levels import Levels, rim_fields
from kit.design.place_boxes import face_back_in
from kit.job import FilledJob
from kit.shapes import Block, carve
from kit.solids import Body, Stage
from kit.sources import value
from kit.spans import Span, about

__all__ = ["SinkPlace", "back_fields", "locate_sink", "outlet_fields", "place_sink"]

_APRON_FIXED = ("sink.apron_width", "sink.apron_height")
_BELOW = ("sink.bowls", "sink.bottom_thickness", "sink.under_most")


@dataclass(frozen=True, slots=True)
class SinkPlace:
    """Spans of the sink in the axes of the model [in].

    `rim_x` and `rim_y` are the body at the rim, outside, without what stands out in front of the cabinet's face for an apron that
    covers the cut; `outside_x`, `outside_y` the bowls below the rim, outside; `bowls` the inside of each, from the left.
    """

    rim_x: Span
    rim_y: Span
    outside_x: Span
    outside_y: Span
    bowls: tuple[Block, ...]
    rim_z: Span
    under_in: float
    apron: Block | None
    outlets: tuple[tuple[float, float], ...]

    @property
    def inside_x(self) -> Span:
        """Inside of the bowls, dividers included [in]."""
        return self.bowls[0].x[0], self.bowls[-1].x[1]

    @property
    def inside_y(self) -> Span:
        """Inside of the longest bowl, rear to front [in]."""
        return min(bowl.y[0] for bowl in self.bowls), max(bowl.y[1] for bowl in self.bowls)


def locate_sink(job: FilledJob, levels: Levels) -> SinkPlace:
    """The sink centered on its base; an apron stands out from the face as measured, any other sink lies in the middle of the counter's depth.

    Where the middle would put it into the front of the base, it moves back until it is clear.
    """
    sink, middle_in = job.sink, job.cabinet.width_in / 2.0
    front_in = _front_in(job)
    back_in = front_in - sink.depth_in
    rear_in, wall_in = back_in + sink.rear_rim_in, _wall_in(job)
    bowls = _bowls(job, levels, rear_in)
    bowl_front_in = max(bowl.y[1] for bowl in bowls)
    apron = _apron(job, levels, front_in, bowl_front_in)
    rim_front_in = front_in if apron is None else apron.y[0]
    return SinkPlace(
        rim_x=about(middle_in, sink.body_width_in),
        rim_y=(back_in, rim_front_in),
        outside_x=about(middle_in, sink.bowl_width_in),
        outside_y=(max(back_in, rear_in - wall_in), min(rim_front_in, bowl_front_in + wall_in)),
        bowls=bowls,
        rim_z=(levels.rim_in - sink.rim_thickness_in, levels.rim_in),
        under_in=levels.bowl_bottom_in,
        apron=apron,
        outlets=tuple((x, back_in + sink.outlet_setback_in) for x in _outlets(job, bowls)),
    )


def _outlets(job: FilledJob, bowls: Sequence[Block]) -> tuple[float, ...]:
    """Each outlet along the wall: that of one bowl as far from the sink's center line as measured; of several, the outer two as far apart as measured."""
    middles, off_in = [sum(bowl.x) / 2.0 for bowl in bowls], job.sink.outlet_offset_in
    if len(middles) == 1:
        return (job.cabinet.width_in / 2.0 + off_in,)
    if not off_in:
        return tuple(middles)
    between_in = (middles[0] + middles[-1]) / 2.0
    return (between_in - abs(off_in), *middles[1:-1], between_in + abs(off_in))


def _wall_in(job: FilledJob) -> float:
    """Thickness of walls and dividers of the bowls, all alike [in]."""
    return (job.sink.bowl_width_in - sum(bowl.width_in for bowl in job.sink.bowls)) / (len(job.sink.bowls) + 1)


def _front_in(job: FilledJob) -> float:
    """Front of the sink from the wall [in]."""
    sink = job.sink
    if sink.is_apron:
        return job.cabinet.depth_in + sink.apron_projection_in
    front_in = (job.counter.run_of_sink.depth_in + sink.depth_in) / 2.0
    bowl_front_in = front_in - sink.depth_in + sink.rear_rim_in + max(bowl.front_to_back_in for bowl in sink.bowls) + _wall_in(job)
    in_the_box_in = front_in if sink.mount == "under" else min(front_in, bowl_front_in)
    most_in = face_back_in(job) - value("practice", "sink/behind-face")
    return front_in - max(0.0, in_the_box_in - most_in)


def _bowls(job: FilledJob, levels: Levels, rear_in: float) -> tuple[Block, ...]:
    """Inside of the bowls, walls and dividers of one width between them."""
    sink, wall_in = job.sink, _wall_in(job)
    at_in, bowls = (job.cabinet.width_in - sink.bowl_width_in) / 2.0 + wall_in, []
    for bowl in sink.bowls:
        bowls.append(Block((at_in, at_in + bowl.width_in), (rear_in, rear_in + bowl.front_to_back_in), (levels.rim_in - bowl.depth_in, levels.rim_in)))
        at_in += bowl.width_in + wall_in
    return tuple(bowls)


def _apron(job: FilledJob, levels: Levels, front_in: float, bowl_front_in: float) -> Block | None:
    """An apron that covers the cut hangs before the cabinet's face; one that is set into it reaches back to the bowl."""
    sink, face_in = job.sink, job.cabinet.depth_in
    if sink.apron_width_in is None or levels.apron_bottom_in is None:
        return None
    back_in = max(face_in, bowl_front_in) if sink.style == "apron-overlay" else bowl_front_in
    return Block(about(job.cabinet.width_in / 2.0, sink.apron_width_in), (min(back_in, front_in), front_in), (levels.apron_bottom_in, levels.rim_in))


def back_fields(job: FilledJob) -> tuple[str, ...]:
    """The measures that fix where the back of the sink stands."""
    front = ("cabinet.depth", "sink.apron_projection") if job.sink.is_apron else ("cabinet.depth", "counter.runs")
    return (*front, "sink.depth")


def outlet_fields(job: FilledJob) -> tuple[str, ...]:
    """The measures that fix where an outlet is, and how high the bowl's underside."""
    fields = ("sink.outlet_setback", "sink.outlet_offset", "sink.bowl_width", "cabinet.width", *back_fields(job), *rim_fields(job), *_BELOW)
    return tuple(dict.fromkeys(fields))


def place_sink(
    job: FilledJob, at: SinkPlace, stands_on: tuple[str, ...], ledge_holes: Sequence[tuple[Span, Span]] = (), corner_shims: Sequence[Body] = ()
) -> Iterator[Body]:
    """Rim, bowls and apron as plates: what is inside of a bowl is a gap, and so are a hole in the faucet deck and a corner that stands on shims."""
    fixed = (*back_fields(job), "sink.rear_rim", "sink.body_width", "cabinet.width", *rim_fields(job))
    rim: tuple[Block, ...] = (Block(at.rim_x, at.rim_y, at.rim_z),)
    plates: tuple[Block, ...] = (Block(at.outside_x, at.outside_y, (at.under_in, at.rim_z[0])),)
    deepest_in = min(bowl.z[0] for bowl in at.bowls)
    for bowl in at.bowls:
        rim, plates = carve(rim, bowl) or rim, carve(plates, bowl) or plates  # measures that leave no bottom: it stays whole, never without a place
        if bowl.z[0] > deepest_in:  # a shallower one ends higher
            plates = carve(plates, Block(bowl.x, bowl.y, (at.under_in, at.under_in + bowl.z[0] - deepest_in))) or plates
    for shim in corner_shims:
        plates = carve(plates, Block(shim.span("x"), shim.span("y"), shim.span("z"))) or plates
    for hole in ledge_holes:
        rim = carve(rim, Block(*hole, at.rim_z)) or rim
    yield Body("sink rim", "rim", rim, Stage.BUILT, stands_on=stands_on, fields=tuple(dict.fromkeys((*fixed, "sink.rim_thickness"))))
    yield Body("sink bowl", "bowl", plates, Stage.BUILT, stands_on=("sink rim",), fields=tuple(dict.fromkeys((*fixed, "sink.bowl_width", *_BELOW))))
    if at.apron is not None and not at.apron.empty:
        yield Body(
            "apron", "apron", (at.apron,), Stage.BUILT, stands_on=("sink rim",), fields=(*_APRON_FIXED, *back_fields(job), "cabinet.width", *rim_fields(job))
        )
