"""The frame in the side section: cleats or platform, cross pieces cut through, posts and the blocks below the cabinet floor."""

from kit.draw.canvas import Canvas
from kit.estimate import Estimate
from kit.sources import value
from kit.units import format_length

__all__ = ["draw_frame"]

POST_SETBACK_IN = 3.0
"""Posts stand at least this far behind the face frame, clear of the hinges [in]."""
CLEAR_OF_OUTLET_IN = 4.0
"""A joist is drawn this far from the outlet's centre, clear of strainer and disposer [in]."""


def draw_frame(sheet: Canvas, estimate: Estimate, sink_middle_in: float, outlet_in: float) -> None:
    """Draw the members of the frame.

    Parameters
    ----------
    sheet
        The section; x runs from the cabinet's face to the wall.
    estimate
        The estimate.
    sink_middle_in
        Middle of the sink, front to back [in].
    outlet_in
        Place of the outlet [in]; joists are drawn clear of it.
    """
    frame, cabinet = estimate.design.frame, estimate.job.cabinet
    if not frame.members:
        return
    top = cabinet.height_in - frame.support_down_in
    front = value("practice", "frame/face-frame") if cabinet.construction == "face-frame" else 0.0
    platform = frame.carried_at == "bowl"
    under = _draw_platform(sheet, estimate, top, sink_middle_in, outlet_in) if platform else _draw_cleats(sheet, estimate, top, front)
    _draw_posts(sheet, estimate, under, front)


def _draw_cleats(sheet: Canvas, estimate: Estimate, top: float, front: float) -> float:
    frame, levels, cut = estimate.design.frame, estimate.design.levels, estimate.design.cut
    deep, thick = value("lumber", "2x4/width"), value("lumber", "2x4/thickness")
    cleat = frame.of("side cleat")
    end = front + (cleat.length_in if cleat is not None else 0.0)
    words = "cleat under the rim" if frame.carried_at == "rim" else "cleat: where the sink is carried is not known"
    if cleat is not None:
        sheet.box("frame", front, top - deep, end, top, kind="hidden")
        sheet.name("frame", words, end - 2.5, top - deep, "right")
        sheet.upright(0.0, top, end, side="right")
    if frame.of("rear cross piece") is not None:
        sheet.box("frame", end, top - deep, end + thick, top, kind="cut", hatch="slash")
        sheet.name("", "rear cross piece", end + thick * 0.6, top - deep * 0.8, "right")
    if frame.of("front tie") is not None:
        low = levels.bowl_bottom_in if cut is None else min(levels.bowl_bottom_in, levels.box_top_in - cut.height_in)
        sheet.box("frame", front, low - thick, front + deep, low, kind="cut", hatch="slash")
        sheet.name("", "front tie", front + 0.8, low - thick / 2.0, "left")
    return top - deep


def _draw_platform(sheet: Canvas, estimate: Estimate, top: float, middle: float, outlet: float) -> float:
    frame = estimate.design.frame
    panel, joist = frame.of("platform panel"), frame.of("platform joist")
    deep, thick = value("lumber", "2x4/width"), value("lumber", "2x4/thickness")
    board = value("practice", "frame/platform-panel")
    half = panel.width_in / 2.0 if panel is not None else 8.0
    sheet.box("frame", middle - half, top - board, middle + half, top, kind="cut", hatch="slash")
    sheet.name("frame", "platform under the bowl", middle - half + 1.0, top - board / 2.0, "left")
    sheet.upright(0.0, top, middle + half, side="right")
    places = [middle - half, middle - thick / 2.0, middle + half - thick]
    if abs(places[1] + thick / 2.0 - outlet) < CLEAR_OF_OUTLET_IN + thick / 2.0:
        places[1] = outlet - CLEAR_OF_OUTLET_IN - thick if outlet >= middle else outlet + CLEAR_OF_OUTLET_IN
    for x in places[: joist.count if joist is not None else 0]:
        sheet.box("frame", x, top - board - deep, x + thick, top - board, kind="cut", hatch="slash")
    return top - board - deep


def _draw_posts(sheet: Canvas, estimate: Estimate, under: float, front: float) -> None:
    frame, cabinet = estimate.design.frame, estimate.job.cabinet
    deep = value("lumber", "2x4/width")
    post, block = frame.of("post"), frame.of("block below the floor")
    if post is None:
        return
    floor = cabinet.floor_height_in
    near = front + POST_SETBACK_IN
    far = max(near + deep, cabinet.depth_in - 1.0 - deep)
    for x in (near, far):
        sheet.box("posts", x, floor, x + deep, min(floor + post.length_in, under), kind="hidden")
        if block is not None:
            sheet.box("posts", x, 0.0, x + deep, block.length_in, kind="edge", hatch="slash")
    low = min(4.6, post.length_in / 2.0)
    sheet.name("posts", f"post {format_length(post.length_in)}", near + deep / 2.0, floor + low, "left", room=(deep, 2.0 * low))
    if block is not None:
        sheet.name("", f"block {format_length(block.length_in)}", near + deep * 0.5, block.length_in * 0.45, "left")
