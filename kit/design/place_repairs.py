"""Where are the panels that make the base sound again: a new floor, a doubler at each swollen side, a patch in the back where the drain came down?"""

from collections.abc import Iterator, Sequence

from kit.design.arm_way import stub_x_in
from kit.design.drain import DrainRoute
from kit.design.frame_parts import mirrored
from kit.design.place_boxes import box_back_in, face_back_in
from kit.design.place_sink import SinkPlace
from kit.design.plywood import sheet_item
from kit.job import FilledJob
from kit.shapes import Axis, Block, carve
from kit.solids import Body, Stage
from kit.sources import value
from kit.spans import Span, length_of, spans_cross

__all__ = ["BACK_PATCH", "SIDE_DOUBLER", "locate_back_opening", "place_back_patch", "place_side_doublers"]

SIDE_DOUBLER, BACK_PATCH = "side doubler", "patch of the back"


def locate_back_opening(job: FilledJob, drain: DrainRoute) -> Block | None:
    """What is cut out of the back panel where the stub comes down, from stud to stud as far as the base is wide; None without either."""
    cabinet, beyond_in = job.cabinet, value("site_work", "wall-board/opening-beyond")
    if cabinet.clear_back or not drain.is_lowered or drain.stub_in is None:
        return None
    half_in, middle_in = value("site_work", "wall-board/bay") / 2.0, stub_x_in(job)
    x = (max(middle_in - half_in, cabinet.side_thickness_in), min(middle_in + half_in, cabinet.width_in - cabinet.side_thickness_in))
    z = (max(drain.stub_built_in - beyond_in, cabinet.toe_height_in), min(drain.stub_in + beyond_in, cabinet.height_in))
    return Block(x, (0.0, cabinet.back_panel_in), z) if x[0] < x[1] and z[0] < z[1] else None


def place_back_patch(opening: Block | None, pipes: Sequence[Body]) -> Iterator[Body]:
    """As large as the opening and as thick as the back, the pipes through it."""
    if opening is None:
        return
    patch: tuple[Block, ...] = (opening,)
    for pipe in pipes:
        patch = carve(patch, Block(pipe.span("x"), pipe.span("y"), pipe.span("z"))) or patch
    item, along = sheet_item(length_of(opening.y)), _longer(opening.x, opening.z)
    fields = ("cabinet.back_panel", "plumbing.stub_height", "plumbing.stub_offset")
    yield Body(BACK_PATCH, "cabinet", patch, Stage.BUILT, stands_on=("side left", "side right"), item=item, along=along, fields=fields)


def _longer(x: Span, z: Span) -> Axis:
    return "x" if length_of(x) >= length_of(z) else "z"


def place_side_doublers(job: FilledJob, at: SinkPlace, others: Sequence[Body]) -> Iterator[Body]:
    """On the cabinet floor against each swollen side, up to what hangs at it, cut around posts and pipes."""
    for side in job.cabinet.sides_to_stiffen:
        yield from _doubler(job, at, others, side)


def _doubler(job: FilledJob, at: SinkPlace, others: Sequence[Body], side: str) -> Iterator[Body]:
    cabinet, thick_in = job.cabinet, value("practice", "cabinet/doubler")
    x = mirrored(job, (cabinet.side_thickness_in, cabinet.side_thickness_in + thick_in), side)
    y = (box_back_in(job), face_back_in(job))
    near = [body for body in others if body.is_at(Stage.BUILT) and not body.room and spans_cross(body.span("x"), x) and spans_cross(body.span("y"), y)]
    tops = [body.span("z")[0] for body in near if body.part in {"frame", "clips"} and not body.name.startswith(("post", "block"))]
    tops += [high_in for high_in, span in ((at.under_in, at.outside_x), (at.rim_z[0], at.rim_x)) if spans_cross(span, x)]
    z = (cabinet.floor_height_in, min([cabinet.height_in, *tops]))
    panel: tuple[Block, ...] = (Block(x, y, z),) if z[1] > z[0] and y[1] > y[0] else ()
    for body in near:
        panel = carve(panel, Block(body.span("x"), body.span("y"), body.span("z"))) or panel
    if panel:
        fields = ("cabinet.side_thickness", "cabinet.depth", "cabinet.floor_height", "cabinet.swollen_side")
        yield Body(f"{SIDE_DOUBLER} {side}", "cabinet", panel, Stage.BUILT, stands_on=("cabinet floor",), item=sheet_item(thick_in), along="z", fields=fields)
