"""Where are the parts of the sink base: sides, floor, back, face frame, doors, toe board, before and after the cut?"""

from collections.abc import Iterator, Mapping, Sequence
from types import MappingProxyType

from kit.design.doors import DoorPlan
from kit.design.front import FrontCut
from kit.design.place_room import SUBFLOOR
from kit.design.plywood import sheet_item
from kit.design.shims import raised_in
from kit.job import FilledJob
from kit.shapes import Block, Shape, carve
from kit.solids import Body, Gap, Model, Stage
from kit.sources import value
from kit.spans import Span, about, length_of, lies_inside

__all__ = [
    "LEAN_PACKER",
    "NO_LEAN",
    "base_top_in",
    "base_width",
    "box_back_in",
    "cut_gaps",
    "cut_in_wood",
    "face_back_in",
    "face_in",
    "front_deep",
    "high_side",
    "place_boxes",
    "toe_board_back_in",
]

LEAN_PACKER = "packer of the leaning side"
NO_LEAN: Mapping[str, float] = MappingProxyType({})
_FRAMED = "face-frame"
_UNCUT = ", uncut"
_CUT_WIDE = ("sink.apron_width", "sink.body_width")


def face_back_in(job: FilledJob) -> float:
    """From the wall to the back of the face frame, or to the front edge of frameless sides [in]."""
    thick_in = value("practice", "frame/face-frame") if job.cabinet.construction == _FRAMED else 0.0
    return job.cabinet.depth_in - thick_in


def box_back_in(job: FilledJob) -> float:
    """From the wall to the front of back panel and nailer: where a member may begin [in]."""
    panel_in = 0.0 if job.cabinet.clear_back else job.cabinet.back_panel_in
    return panel_in + job.cabinet.nailer_in


def toe_board_back_in(job: FilledJob) -> float:
    """From the wall to the back of the toe board [in]."""
    return job.cabinet.depth_in - value("practice", "cabinet/toe-setback") - value("practice", "cabinet/toe-board")


def place_boxes(
    job: FilledJob,
    cut: FrontCut | None,
    doors: DoorPlan | None,
    pipes: Sequence[Body],
    opening: Block | None = None,
    lean: Mapping[str, float] = NO_LEAN,
    floor_pipe: Sequence[Body] = (),
) -> tuple[Body, ...]:
    """The bodies of the base; what the cut for the apron takes away is gone in the last stage, and pipes go through holes in its back.

    `opening` is what is cut out of its back for the drain, `lean` by how much a packer on a side is thick that stands low [in],
    `floor_pipe` what comes up through its floor.
    """
    fittings = _fittings(job, pipes, opening, floor_pipe)
    return (*_sides(job, cut, lean), *fittings, *_face_frame(job, cut), *_false_front(job, cut), *_doors(job, doors), *_toe_board(job))


def _hole(job: FilledJob, cut: FrontCut) -> Block:
    """The cut through the front, as deep as the wood it goes through."""
    middle_in, top_in = job.cabinet.width_in / 2.0, job.cabinet.height_in
    deep = (job.cabinet.depth_in - value("practice", "frame/face-frame"), job.cabinet.depth_in)
    return Block(about(middle_in, cut.width_in), deep, (top_in - cut.height_in, top_in))


def base_width(model: Model) -> Gap:
    """The sink base from outside to outside."""
    left, right = model["side left"], model["side right"]
    span = (left.span("x")[0], right.span("x")[1])
    return Gap(length_of(span), "x", span, left.fields)


def base_top_in(model: Model) -> float:
    """Top of the base above the floor [in]: of the side that stands higher, or of the packers that bring both level."""
    tops = [model[name].span("z")[1] for name in ("side left", "side right", f"{LEAN_PACKER} left", f"{LEAN_PACKER} right") if name in model]
    return max(tops)


def high_side(model: Model) -> str:
    """The side of the base that stands higher."""
    return max(("side left", "side right"), key=lambda name: model[name].span("z")[1])


def face_in(model: Model) -> float:
    """From the wall to the face of the base as it stands today, its face frame included [in]."""
    return max(body.span("y")[1] for body in model.of_part("cabinet", Stage.TODAY))


def cut_gaps(model: Model, cut: FrontCut) -> Mapping[str, Gap]:
    """What one marks the cut of the front by: "side" from the base's left outside, "wide", and "down" from the top of the base."""
    left_in, top_in = model["side left"].span("x")[0], base_top_in(model)
    start, low_in = left_in + cut.left_over_side_in, top_in - cut.height_in
    high = ("sink.apron_height", "cabinet.height")
    return {
        "side": Gap(cut.left_over_side_in, "x", (left_in, start), ("cabinet.width", *_CUT_WIDE)),
        "wide": Gap(cut.width_in, "x", (start, start + cut.width_in), _CUT_WIDE),
        "down": Gap(cut.height_in, "z", (low_in, top_in), high),
    }


def cut_in_wood(model: Model, cut: FrontCut) -> tuple[float, float]:
    """How much of the cut's outline goes through wood: across at its lower edge, and down at its sides [in]; the rest is air between rails and stiles."""
    gaps = cut_gaps(model, cut)
    (left_in, right_in), (low_in, top_in) = gaps["wide"].span, gaps["down"].span
    wood = [shape for body in model.at(Stage.TODAY) if body.name.endswith(_UNCUT) for shape in body.shapes if isinstance(shape, Block)]
    across_in = sum(_common_in(block.x, (left_in, right_in)) for block in wood if lies_inside(low_in, block.z))
    return across_in, sum(_common_in(block.z, (low_in, top_in)) for block in wood for side_in in (left_in, right_in) if lies_inside(side_in, block.x))


def is_sawn(model: Model, cut: FrontCut) -> bool:
    """Whether the cut goes through wood at all; an apron may fit between the rails and stiles that are there."""
    return any(cut_in_wood(model, cut))


def _common_in(one: Span, other: Span) -> float:
    return max(0.0, min(one[1], other[1]) - max(one[0], other[0]))


def _cut_body(job: FilledJob, body: Body, cut: FrontCut | None) -> Iterator[Body]:
    """The body before the cut and after it; one body where the cut leaves it alone."""
    if cut is None:
        yield body
        return
    blocks = [shape for shape in body.shapes if isinstance(shape, Block)]
    left: tuple[Shape, ...] = carve(blocks, _hole(job, cut))
    if left == body.shapes:
        yield body
        return
    yield Body(f"{body.name}{_UNCUT}", body.part, body.shapes, Stage.TODAY, stands_on=body.stands_on, fields=body.fields)
    if left:
        yield Body(body.name, body.part, left, Stage.OPENED | Stage.BUILT, stands_on=body.stands_on, fields=(*body.fields, "sink.apron_width"))


def _sides(job: FilledJob, cut: FrontCut | None, lean: Mapping[str, float]) -> Iterator[Body]:
    """The sides, each as high as it stands: one that leans ends where its packer begins."""
    cabinet = job.cabinet
    deep_in, toe_in, notch_in = face_back_in(job), cabinet.toe_height_in, toe_board_back_in(job)
    for name, x in (("left", (0.0, cabinet.side_thickness_in)), ("right", (cabinet.width_in - cabinet.side_thickness_in, cabinet.width_in))):
        blocks = [Block(x, (0.0, deep_in), (toe_in, cabinet.height_in - lean.get(name, 0.0))), Block(x, (0.0, notch_in), (raised_in(job), toe_in))]
        shapes = tuple(block for block in blocks if not block.empty)
        side = Body(f"side {name}", "cabinet", shapes, stands_on=(SUBFLOOR,), fields=("cabinet.width", "cabinet.side_thickness", "cabinet.height"))
        yield from _cut_body(job, side, cut)


def _fittings(job: FilledJob, pipes: Sequence[Body], opening: Block | None, floor_pipe: Sequence[Body]) -> Iterator[Body]:
    cabinet = job.cabinet
    across = (cabinet.side_thickness_in, cabinet.width_in - cabinet.side_thickness_in)
    panel_in = 0.0 if cabinet.clear_back else cabinet.back_panel_in
    yield from _floor(job, across, panel_in, floor_pipe)
    if panel_in:
        back: tuple[Block, ...] = (Block(across, (0.0, panel_in), (cabinet.toe_height_in, cabinet.height_in)),)
        for pipe in pipes:
            back = carve(back, Block(pipe.span("x"), pipe.span("y"), pipe.span("z")))
        yield from _back_panel(back, opening)
    if cabinet.nailer_in:
        high_in = value("practice", "cabinet/nailer-height")
        nailer = Block(across, (panel_in, panel_in + cabinet.nailer_in), (cabinet.height_in - high_in, cabinet.height_in))
        yield Body(
            "nailer",
            "cabinet",
            (nailer,),
            stands_on=("side left", "side right"),
            fields=("cabinet.nailer", "cabinet.back_panel", "cabinet.height", "cabinet.side_thickness"),
        )


def _floor(job: FilledJob, across: Span, panel_in: float, floor_pipe: Sequence[Body]) -> Iterator[Body]:
    """The cabinet floor, with a hole for a drain that leaves through it; one that is wet is cut out, and a new one goes into its place."""
    cabinet = job.cabinet
    z = (cabinet.floor_height_in - cabinet.floor_thickness_in, cabinet.floor_height_in)
    floor: tuple[Block, ...] = (Block(across, (panel_in, face_back_in(job)), z),)
    for pipe in floor_pipe:
        floor = carve(floor, Block(pipe.span("x"), pipe.span("y"), pipe.span("z"))) or floor
    sides = ("side left", "side right")
    fields = ("cabinet.floor_height", "cabinet.floor_thickness", "cabinet.side_thickness", "cabinet.depth")
    if not cabinet.wet_floor:
        yield Body("cabinet floor", "cabinet", floor, stands_on=sides, fields=fields)
        return
    yield Body("cabinet floor today", "cabinet", floor, Stage.TODAY, stands_on=sides, fields=fields)
    item = sheet_item(cabinet.floor_thickness_in)
    yield Body("cabinet floor", "cabinet", floor, Stage.OPENED | Stage.BUILT, stands_on=sides, item=item, along="x", fields=fields)


def _back_panel(back: tuple[Block, ...], opening: Block | None) -> Iterator[Body]:
    """Whole, or whole today and open where the drain comes down."""
    left, fields = back if opening is None else carve(back, opening), ("cabinet.back_panel",)
    if back and left != back:
        yield Body("back panel today", "cabinet", back, Stage.TODAY, stands_on=("side left", "side right"), fields=fields)
    if left:
        stages = Stage.ALL if left == back else Stage.OPENED | Stage.BUILT
        yield Body("back panel", "cabinet", left, stages, stands_on=("side left", "side right"), fields=fields)


def _face_frame(job: FilledJob, cut: FrontCut | None) -> Iterator[Body]:
    cabinet = job.cabinet
    if cabinet.construction != _FRAMED:
        return
    deep, width_in, stile_in = (face_back_in(job), cabinet.depth_in), cabinet.width_in, cabinet.stile_in
    fields = ("cabinet.stile", "cabinet.width", "cabinet.depth", "cabinet.height")
    for name, x in (("left", (0.0, stile_in)), ("right", (width_in - stile_in, width_in))):
        stile = Block(x, deep, (cabinet.toe_height_in, cabinet.height_in))
        yield from _cut_body(job, Body(f"stile {name}", "cabinet", (stile,), stands_on=(f"side {name}",), fields=fields), cut)
    rails: list[tuple[str, Span]] = [("bottom rail", (cabinet.toe_height_in, cabinet.floor_height_in))]
    if cabinet.top_rail_in:
        rails.append(("top rail", (cabinet.height_in - cabinet.top_rail_in, cabinet.height_in)))
    mid_top_in = cabinet.mid_rail_top_in
    if cabinet.mid_rail_in and mid_top_in is not None:
        rails.append(("mid rail", (cabinet.height_in - mid_top_in - cabinet.mid_rail_in, cabinet.height_in - mid_top_in)))
    for name, z in rails:
        rail = Block((stile_in, width_in - stile_in), deep, z)
        if not rail.empty:
            own = {"top rail": ("cabinet.top_rail",), "mid rail": ("cabinet.mid_rail", "cabinet.mid_rail_top")}.get(
                name, ("cabinet.toe_height", "cabinet.floor_height")
            )
            fixed_by = (*fields, *own)
            yield from _cut_body(job, Body(name, "cabinet", (rail,), stands_on=("stile left", "stile right"), fields=fixed_by), cut)


def front_deep(job: FilledJob) -> Span:
    """From the wall to back and face of doors and false front."""
    return job.cabinet.depth_in, job.cabinet.depth_in + value("checks", "corner/door-thickness")


def _false_front(job: FilledJob, cut: FrontCut | None) -> Iterator[Body]:
    cabinet = job.cabinet
    if cabinet.false_front_bottom_in:
        panel = Block((0.0, cabinet.width_in), front_deep(job), (cabinet.height_in - cabinet.false_front_bottom_in, cabinet.height_in))
        stages = Stage.TODAY if cut is not None and cut.false_front_removed else Stage.ALL
        yield Body(
            "false front",
            "false front",
            (panel,),
            stages,
            stands_on=("stile left", "stile right"),
            fields=("cabinet.false_front_bottom", "cabinet.height", "cabinet.depth"),
        )


def _doors(job: FilledJob, doors: DoorPlan | None) -> Iterator[Body]:
    """The doors, off while the base is open; where the apron reaches below their upper edge, as they are and as they will be."""
    if doors is None:
        return
    box_in, hung = job.cabinet.height_in, ("stile left", "stile right")
    low_in = box_in - doors.top_today_in - doors.height_today_in
    fields = ("cabinet.door_top", "cabinet.door_height", "cabinet.toe_height", "cabinet.height", "cabinet.depth")
    today = Block((0.0, job.cabinet.width_in), front_deep(job), (low_in, box_in - doors.top_today_in))
    if doors.work == "keep":
        yield Body("doors", "doors", (today,), Stage.TODAY | Stage.BUILT, stands_on=hung, fields=fields)
        return
    yield Body("doors today", "doors", (today,), Stage.TODAY, stands_on=hung, fields=fields)
    if doors.height_in:
        built = Block(today.x, today.y, (low_in, low_in + doors.height_in))
        yield Body("doors", "doors", (built,), Stage.BUILT, stands_on=hung, fields=(*fields, "cabinet.door_reveal", "sink.apron_height"))


def _toe_board(job: FilledJob) -> Iterator[Body]:
    cabinet = job.cabinet
    front_in = cabinet.depth_in - value("practice", "cabinet/toe-setback")
    high_in = min(cabinet.toe_height_in, cabinet.floor_height_in - cabinet.floor_thickness_in)
    board = Block((0.0, cabinet.width_in), (front_in - value("practice", "cabinet/toe-board"), front_in), (0.0, high_in))
    if not board.empty:
        yield Body("toe kick", "cabinet", (board,), Stage.TODAY | Stage.BUILT, stands_on=(SUBFLOOR,), fields=("cabinet.toe_height", "cabinet.depth"))
