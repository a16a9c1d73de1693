"""Where is the platform that a sink stands on, or that is brought up to touch below one that hangs in the counter: panel, joists, posts?"""

from collections.abc import Iterator, Sequence

from kit.design.frame_parts import BOX, DRAIN, PANEL, SIDES, FramePlace, edge_in, inside, member, mirrored, play_in, post, post_front_in, thick_in
from kit.design.levels import rim_fields
from kit.design.place_boxes import box_back_in, face_back_in
from kit.design.place_sink import SinkPlace, back_fields
from kit.job import FilledJob
from kit.shapes import Block, carve
from kit.solids import Body, Stage
from kit.sources import value
from kit.spans import Span, free_spans, grown, length_of, spans_cross

__all__ = ["CORNER_SHIMS", "place_platform"]

CORNER_SHIMS = "shims below the corner"


def place_platform(job: FilledJob, at: SinkPlace, others: Sequence[Body], *, slim: bool = False) -> FramePlace:
    """A panel under the bowls on joists across the base, each on a post at both ends; outlets go through the panel.

    `slim` posts stand with their narrow side to the front, so that more room is left between them; the joist lies on them all the same.
    """
    board_in, between = value("practice", "frame/platform-panel"), inside(job)
    rear_in = max(at.outside_y[0], box_back_in(job))
    y = (rear_in, max(min(at.outside_y[1], face_back_in(job)), rear_in + 2.0 * thick_in()))  # room for two joists, whatever it meets then
    z = (at.under_in - board_in - edge_in(), at.under_in - board_in)
    below = [body for body in others if spans_cross(body.span("z"), z)]
    joists = _choose_joists(job, y, below)
    y = (min(y[0], joists["rear"][0]), y[1])  # where the drain pushes the rear joist behind the bowl, the panel follows
    fields = (
        *BOX,
        "cabinet.nailer",
        "sink.bowl_width",
        *back_fields(job),
        "sink.rear_rim",
        *rim_fields(job),
        "sink.bottom_thickness",
        "sink.bowls",
        "sink.under_most",
    )
    x = (between[0] + play_in() / 2.0, between[1] - play_in() / 2.0)
    bodies = [Body("platform panel", "frame", _panel(at, y, others), Stage.BUILT, stands_on=tuple(map(_named, joists)), item=PANEL, fields=fields)]
    wide_in, around_in = (thick_in(), (edge_in() - thick_in()) / 2.0) if slim else (edge_in(), 0.0)
    for where, deep in joists.items():
        bodies.append(member(_named(where), Block(x, deep, z), [f"post {where} {side}" for side in SIDES], "x", fields))
        for side in SIDES:
            foot = _within(grown(deep, around_in), (box_back_in(job), max(post_front_in(job), deep[1] - value("practice", "frame/joist-forward"))))
            bodies += post(job, f"{where} {side}", mirrored(job, (between[0], between[0] + wide_in), side), foot, z[0])
    return FramePlace((*bodies, *_corner_shims(job, at, y)), ("platform panel",), at.under_in)


def _within(span: Span, limits: Span) -> Span:
    """A span moved, no further than it must, between two limits."""
    by_in = max(limits[0] - span[0], 0.0) or min(limits[1] - span[1], 0.0)
    return span[0] + by_in, span[1] + by_in


def _corner_shims(job: FilledJob, at: SinkPlace, y: Span) -> Iterator[Body]:
    """A pair below each corner of the delivered sink but the deepest, on which it stands; nobody wrote down which that is: here the left one at the rear."""
    apart_in, wide_in = job.sink.corners_apart_in or 0.0, value("practice", "shim/wide")
    if apart_in <= value("practice", "level/gap-least"):
        return
    sides, ends = (
        {"left": (at.outside_x[0], at.outside_x[0] + wide_in), "right": (at.outside_x[1] - wide_in, at.outside_x[1])},
        {"rear": y[0], "front": y[1] - wide_in},
    )
    for where, side in (("front", "left"), ("rear", "right"), ("front", "right")):
        block = Block(sides[side], (ends[where], ends[where] + wide_in), (at.under_in, at.under_in + apart_in))
        fields = ("sink.under_most", "sink.corners_apart")
        yield Body(f"{CORNER_SHIMS} {where} {side}", "shims", (block,), Stage.BUILT, stands_on=("platform panel",), fields=fields)


def _named(where: str) -> str:
    return f"platform joist {where}"


def _panel(at: SinkPlace, y: Span, others: Sequence[Body]) -> tuple[Block, ...]:
    """The panel, open around what hangs from the outlets."""
    air_in, z = value("practice", "frame/outlet-air"), (at.under_in - value("practice", "frame/platform-panel"), at.under_in)
    panels: tuple[Block, ...] = (Block(at.outside_x, y, z),)
    for body in others:
        if body.part in {"strainer", "disposer"}:
            hole = Block(grown(body.span("x"), air_in), grown(body.span("y"), air_in), z)
            panels = carve(panels, hole) or panels  # a panel no larger than what hangs through it stays whole: the overlap says so
    return panels


def _choose_joists(job: FilledJob, bowl_y: Span, below: Sequence[Body]) -> dict[str, Span]:
    """Front to back, on posts behind the toe board; the front one a little past its posts where the drain leaves no other place.

    Where drain, valves and room for their wrench leave no room for two, the drain alone is kept clear, and then without air; where it leaves
    none either, they lie at the edges and what they meet is a finding.
    """
    rear_in, front_in = box_back_in(job), min(bowl_y[1], post_front_in(job))
    past_in = min(bowl_y[1], post_front_in(job) + value("practice", "frame/joist-forward"))
    air_in = value("practice", "frame/outlet-air")
    for parts, wanted_in in (((*DRAIN, "supply", "wrench", "hand"), air_in), (DRAIN, air_in), (DRAIN, 0.0)):
        taken = [grown(body.span("y"), wanted_in) for body in below if body.part in parts]
        for last_in in (front_in, past_in):
            places = _joist_places((rear_in, last_in), bowl_y, taken)
            if places:
                return places
    return {"rear": (bowl_y[0], bowl_y[0] + thick_in()), "front": (front_in - thick_in(), front_in)}


def _joist_places(y: Span, bowl_y: Span, taken: Sequence[Span]) -> dict[str, Span]:
    """As near to both long edges of the bowl as what is taken leaves room, and a third between them; empty where no two lie on both sides of its middle.

    Behind the bowl's rear edge the rear joist lies only where the drain leaves no room below the bowl.
    """
    free, middle_in = [span for span in free_spans(y, taken) if length_of(span) >= thick_in()], sum(bowl_y) / 2.0
    starts = [max(min(max(bowl_y[0], low), high - thick_in()), low) for low, high in free]
    starts = [start for start in starts if start + thick_in() <= middle_in <= free[-1][1] - thick_in()]
    if not starts:
        return {}
    start_in = min(starts, key=lambda start: (abs(start - bowl_y[0]), -start))
    rear, front = (start_in, start_in + thick_in()), (free[-1][1] - thick_in(), free[-1][1])
    middle = _nearest_middle(rear, front, free)
    return {"rear": rear, **({} if middle is None else {"middle": middle}), "front": front}


def _nearest_middle(rear: Span, front: Span, free: Sequence[Span]) -> Span | None:
    """Between two joists, the place of a third that leaves the shortest span on its longer side; None where none has room."""
    ideal_in = (rear[1] + front[0] - thick_in()) / 2.0
    between = [(max(low, rear[1]), min(high, front[0]) - thick_in()) for low, high in free]
    starts = [min(max(ideal_in, low), high) for low, high in between if high >= low]
    if not starts:
        return None
    start_in = min(starts, key=lambda start: abs(start - ideal_in))
    return start_in, start_in + thick_in()
