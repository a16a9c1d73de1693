"""Support frame: lumber, panel, adhesive, screws, toe board off and on."""

from kit.records import Line, Piece
from kit.steps import Step
from kit.takeoff.sheet import Sheet
from kit.takeoff.working import n, total

__all__ = ["count_frame"]


def count_frame(sheet: Sheet) -> list[Line]:
    """Members of the frame as pieces to cut, and what fastens them."""
    frame = sheet.design.frame
    if not frame.members:
        return []
    step, lines = Step.BUILD_FRAME, []
    sticks = [member for member in frame.members if member.width_in == 0.0]
    panels = [member for member in frame.members if member.width_in > 0.0]
    lumber = total([n(member.count, member.name) * n(member.length_in, "in") for member in sticks]) / n(12, "in a foot")
    pieces = tuple(Piece(member.length_in, member.count, member.name) for member in sticks)
    lines.append(sheet.buy(step, "lumber-2x4", "members", lumber, pieces=pieces, parts=("frame",)))
    for panel in panels:
        area = n(panel.count, panel.name) * n(panel.length_in, "in") * n(panel.width_in, "in") / n(144, "sq in a sq ft")
        lines.append(sheet.buy(step, panel.item, "panel", area, pieces=(Piece(panel.length_in, panel.count, panel.name, panel.width_in),), parts=("frame",)))
    members = total([n(member.count, member.name) for member in frame.members])
    lines += [
        sheet.buy(step, "screw-structural", "frame", n(frame.screws, "screws"), source="common-practice"),
        sheet.buy(step, "adhesive", "frame", n(frame.glue_in, "in of glue line") / n(12, "in a foot"), source="common-practice"),
        sheet.do(step, "frame-member", "cut and fix", members, parts=("frame",)),
    ]
    if frame.toe_board_off:
        lines.append(sheet.do(step, "toe-board", "off and on", n(sheet.job.cabinet.width_in, "in of toe board") / n(12, "in a foot")))
    return lines
