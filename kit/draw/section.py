"""The side section through the outlet: the model cut there and seen from the left, with the drain down to the stub."""

from collections.abc import Sequence
from dataclasses import replace

from kit.design.place_counter import Opening, opening_gaps
from kit.draw.canvas import Canvas, Picture, write_sheet
from kit.draw.project import FROM_LEFT, project
from kit.draw.section_drain import draw_drain
from kit.draw.widths import canvas_for, fit_width
from kit.estimating import Estimate
from kit.job.boards import BOARDS
from kit.job.field_names import mount_words, say_choice
from kit.shapes import Block
from kit.solids import Body, Model, Stage
from kit.units import format_length

__all__ = ["draw_section"]

TITLE = "Side section through the outlet"
SCALE = 7.0
BEYOND_WALL_IN, ABOVE_IN, BEFORE_IN = 3.5, 7.0, 3.0
"""How far the drawing reaches into the wall, above the counter, and before the base [in]."""
_HATCHES = {"counter": "back", "splash": "back", "cabinet": "slash", "doors": "slash", "frame": "slash", "rim": "dense", "bowl": "dense", "apron": "dense"}
_COMES_OUT = {
    "false front": "false front, comes out",
    "top rail, uncut": "top rail, cut away",
    "mid rail, uncut": "mid rail, cut away",
    "doors today": "door's edge today",
}
_SHOWN_PARTS = {"frame", "cabinet", "counter", "splash", "doors", "false front", "rim", "bowl", "apron"}


def draw_section(estimate: Estimate, *, narrow: bool = False) -> str:
    """The side section through the outlet as SVG, to scale; the wall is on the right.

    What the cut goes through is hatched; what lies behind it is drawn where it is seen, members of the frame also where they are hidden. Every
    finding that is not ok and names a part shown here has its number there; the list of the job says what the numbers mean. A `narrow` one is whole on
    a telephone.
    """
    return write_sheet(TITLE, (fit_width(lambda scale: _draw(estimate, scale, narrow=narrow), SCALE, narrow=narrow),))


def _draw(estimate: Estimate, scale: float, *, narrow: bool) -> Picture:
    """The section at a scale [px/in]."""
    placed, sheet = estimate.design.placed, canvas_for(TITLE, scale=scale, narrow=narrow, flip=-1.0)
    cut_in = placed.sink.outlets[0][0]
    _draw_room(sheet, estimate)
    bodies = [body for body in placed.model.at(Stage.BUILT) if body.part in _SHOWN_PARTS]
    _draw_beyond(sheet, [clipped for body in bodies if (clipped := _beyond(body, cut_in))])
    _draw_cut(sheet, bodies, cut_in)
    _outline_strips(sheet, placed.model, placed.opening)
    _draw_gone(sheet, placed.model)
    draw_drain(sheet, estimate)
    _name_all(sheet, estimate)
    _size_all(sheet, estimate)
    if not estimate.job.sink.as_received:
        sheet.note("Sink sizes are nominal until the sink is measured on delivery.")
    first = "Disposer" if "disposer" in placed.model else "Strainer"
    sheet.note(f"Heights are to scale. {first} and trap are drawn in outline, in a usual shape; measure the parts.")
    return sheet.finish(estimate.findings)


def _beyond(body: Body, cut_in: float) -> Body | None:
    """What of a body lies behind the cut."""
    blocks = [shape for shape in body.shapes if isinstance(shape, Block) and shape.x[1] > cut_in]
    shapes = tuple(replace(block, x=(max(block.x[0], cut_in), block.x[1])) for block in blocks)
    return replace(body, shapes=shapes) if shapes else None


def _draw_room(sheet: Canvas, estimate: Estimate) -> None:
    counter = estimate.design.placed.model["counter"]
    top, deep = counter.span("z")[1] + ABOVE_IN, counter.span("y")[1]
    sheet.box("wall", 0.0, 0.0, BEYOND_WALL_IN, top, kind="none", hatch="wide")
    sheet.line("wall", (0.0, 0.0), (0.0, top), kind="cut")
    sheet.box("", -deep - BEFORE_IN, -1.2, BEYOND_WALL_IN, 0.0, kind="none", hatch="wide")
    sheet.line("floor", (-deep - BEFORE_IN, 0.0), (BEYOND_WALL_IN, 0.0), kind="cut")


def _draw_beyond(sheet: Canvas, bodies: Sequence[Body]) -> None:
    for stroke in project(bodies, FROM_LEFT):
        if not stroke.hidden:
            sheet.line(stroke.body.part, stroke.start, stroke.end, kind="thin", outline=False)
        elif stroke.body.part == "frame":
            sheet.line("frame", stroke.start, stroke.end, kind="hidden", outline=False)
    for body in bodies:
        (near, far), (low, high) = body.span("y"), body.span("z")
        sheet.outline("posts" if body.name.startswith(("post", "block")) else body.part, -far, low, -near, high)


def _draw_cut(sheet: Canvas, bodies: Sequence[Body], cut_in: float) -> None:
    for body in bodies:
        for shape in body.shapes:
            if isinstance(shape, Block) and shape.x[0] < cut_in < shape.x[1]:
                (near, far), (low, high) = shape.y, shape.z
                sheet.box(body.part, -far, low, -near, high, kind="cut", hatch=_HATCHES.get(body.part, ""), outline=False)


def _outline_strips(sheet: Canvas, model: Model, opening: Opening) -> None:
    """What stays of the countertop in front of its opening and behind it."""
    gaps, (low, high) = opening_gaps(model, opening), model["counter"].span("z")
    for name, part in (("front", "front strip"), ("strip", "rear strip")):
        near, far = gaps[name].span
        sheet.outline(part, -far, low, -near, high)


def _draw_gone(sheet: Canvas, model: Model) -> None:
    """What comes out: false front, cut rails and what the doors lose, as thin lines."""
    for body in model.at(Stage.TODAY):
        if not body.stages & Stage.BUILT and body.name in _COMES_OUT:
            (near, far), (low, high) = body.span("y"), body.span("z")
            if body.part == "doors" and "doors" in model:
                low = model["doors"].span("z")[1]
            sheet.box(body.part if body.name == "false front" else "", -far, low, -near, high, kind="today", outline=False)
            sheet.name("", _COMES_OUT[body.name], -far, low + 0.6, "left")


def _name_all(sheet: Canvas, estimate: Estimate) -> None:
    job, placed = estimate.job, estimate.design.placed
    model = placed.model
    counter = f"countertop, {say_choice('counter.material', job.counter.material)}, {format_length(model['counter'].size_in('z'))}"
    carrier = "platform under the bowl" if placed.frame is not None and not placed.frame.reach_in else "cleat under the rim"
    words = {
        "counter": (counter, "right"),
        "splash": ("backsplash", "right"),
        "sink rim": (f"rim, {mount_words(job.sink.mount)}", "right"),
        "apron": ("apron", "left"),
        "side right": ("cabinet side", "right"),
        "cabinet floor": (f"cabinet floor, {BOARDS[job.cabinet.floor_material].name}", "left"),
        "doors": ("door", "left"),
        "toe kick": ("toe kick, off and on again" if estimate.design.frame.toe_board_off else "toe kick", "left"),
        "nailer": ("nailer", "right"),
        "side cleat right": (carrier, "right"),
        "platform panel": (carrier, "left"),
        "rear cross piece": ("rear cross piece", "right"),
        "front tie": ("front tie", "left"),
        "platform joist front": ("joist", "left"),
        "post front right": ("post", "left"),
        "strip cleat 1": ("cleat below the strip", "right"),
        "sink rail right": ("rail under the rim", "right"),
        "cradle bar rear": ("cradle under the bowl", "right"),
        "shims below post front right": ("shims below the post", "left"),
        "box packer right": ("packer on the side", "right"),
    }
    for name, (said, side) in words.items():
        if name in placed.model and placed.model[name].stages & Stage.BUILT:
            body = placed.model[name]
            high_words = f" {format_length(body.size_in('z'))}" if name in {"splash", "apron"} else ""
            (near, far), (low, high) = body.span("y"), body.span("z")
            at = -far + 0.6 if side == "left" else -near - 0.6
            sheet.name(
                body.part,
                f"{said}{high_words}",
                at,
                (low + high) / 2.0 if high - low < 20.0 else low + (high - low) * 0.55,
                "left" if side == "left" else "right",
                fields=body.fields if high_words else (),
            )
    if "faucet nut" in model:
        nut = model["faucet nut"]
        sheet.name("holes", "faucet", -nut.middle[1], model["counter"].span("z")[1], "right")
    for one in placed.sink.bowls:
        sheet.keep_for_itself(-one.y[1], one.z[0], -one.y[0], one.z[1])
    bowl = max(placed.sink.bowls, key=lambda one: one.z[1] - one.z[0])
    deep_in = bowl.z[1] - bowl.z[0]
    sheet.name(
        "bowl",
        f"bowl {format_length(deep_in)} deep",
        -sum(bowl.y) / 2.0,
        bowl.z[0] + deep_in * 0.55,
        "left",
        room=(bowl.y[1] - bowl.y[0], deep_in),
        fields=("sink.bowls",),
    )


def _size_all(sheet: Canvas, estimate: Estimate) -> None:
    """The heights and depths that one sets out with."""
    placed = estimate.design.placed
    model = placed.model
    face = -max(body.span("y")[1] for body in model.of_part("cabinet", Stage.BUILT))
    front = -model["counter"].span("y")[1]
    top = model["counter"].span("z")[1]
    sheet.size(model.gap("subfloor", "counter", "z", to="far"), front, "left")
    sheet.size(model.gap("subfloor", "cabinet floor", "z", to="far"), face, "left", "cabinet.floor_height")
    if "apron" in model:
        sheet.size(model.gap("subfloor", "apron", "z"), -model["apron"].span("y")[1], "left")
    if placed.frame is not None:
        carrier = placed.frame.carrier
        sheet.size(model.gap("subfloor", carrier, "z", to="far"), -model[carrier].span("y")[0], "right")
        post = next((body.name for body in placed.frame.bodies if body.name.startswith("post front right")), None)
        if post is not None:
            sheet.size(model.gap("cabinet floor", post, "z", to="far"), -model[post].span("y")[1], "left")
        if "rear cross piece" in model:
            sheet.size(model.gap("wall", "rear cross piece", "y"), model["rear cross piece"].span("z")[0], "below")
    gaps = opening_gaps(model, placed.opening)
    for name in ("from wall", "deep", "front"):
        sheet.size(gaps[name], top, "above")
    for body in model.of_part("holes"):
        if body.name == "faucet nut":
            sheet.size(model.gap("wall", body.name, "y", to="middle"), top, "above")
