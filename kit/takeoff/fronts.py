"""Doors, fillers and what lives below the deck go back when the sink has been tested."""

import math

from kit.records import Line, Piece
from kit.sources import value
from kit.steps import Step
from kit.takeoff.sheet import Sheet
from kit.takeoff.working import counted, n, total

__all__ = ["count_fronts_back", "door_count"]


def door_count(width_in: float) -> int:
    """Doors of a sink base of that width [in]."""
    return 1 if width_in <= value("site_work", "doors/one-up-to") else 2


def count_fronts_back(sheet: Sheet) -> list[Line]:
    """Doors off and on where there is work inside the box; strips where the apron leaves a gap beside or below it."""
    design, step, lines = sheet.design, Step.REFIT_FRONTS, []
    if design.cut is not None or design.frame.members:
        doors = door_count(sheet.job.cabinet.width_in)
        lines.append(sheet.do(step, "door", "off and on", counted(doors, "door", "doors"), parts=("doors",)))
    if design.cut is not None and design.cut.false_front_removed:
        lines.append(sheet.do(step, "false-front", "take off for good", n(1, "false front"), parts=("false front",)))
    parts = [n(1, name) for name, there in _below_deck(sheet) if there]
    if parts:
        lines.append(sheet.do(step, "below-deck-part", "out and back", total(parts)))
    strips = _strips(sheet)
    if strips:
        length = total([n(piece.count, piece.name) * n(piece.length_in, "in") for piece in strips]) / n(12, "in a foot")
        lines.append(sheet.buy(step, "filler-strip", "fillers", length, pieces=strips, parts=("fillers",)))
        lines.append(sheet.do(step, "filler", "rip and fit", total([counted(piece.count, "strip", "strips") for piece in strips])))
    return lines


def _below_deck(sheet: Sheet) -> list[tuple[str, bool]]:
    """What lives in the sink base and is in the way."""
    plumbing = sheet.job.plumbing
    return [("water filter", plumbing.filter), ("hot-water tank", plumbing.hot_tap), ("pull-out bin", plumbing.bin)]


def _strips(sheet: Sheet) -> tuple[Piece, ...]:
    """Beside the apron inside of stile or side, and below it above the doors."""
    cut, cabinet, sink = sheet.design.cut, sheet.job.cabinet, sheet.job.sink
    down_in = sheet.design.levels.apron_bottom_down_in
    if cut is None or sink.apron_width_in is None or down_in is None or not cut.false_front_removed:
        return ()
    edge_in = cabinet.stile_in if cabinet.construction == "face-frame" else cabinet.side_thickness_in
    found = [Piece(down_in, 2 * wide, "side filler") for wide in [_strips_wide((cabinet.width_in - sink.apron_width_in) / 2.0 - edge_in)] if wide]
    if cabinet.door_top_in is not None:
        wide = _strips_wide(cabinet.door_top_in - cabinet.door_reveal_in - down_in)
        if wide:
            found.append(Piece(cabinet.opening_width_in, wide, "filler above the doors"))
    return tuple(found)


def _strips_wide(gap_in: float) -> int:
    """Strips side by side that fill a gap."""
    if gap_in <= value("site_work", "filler/gap-least"):
        return 0
    return math.ceil(gap_in / value("site_work", "filler/strip-width"))
