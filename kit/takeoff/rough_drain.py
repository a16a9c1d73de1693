"""Lowering the drain in the wall where the new sink sits too deep for today's stub."""

from kit.records import Line, Piece
from kit.steps import Step
from kit.takeoff.drain import solvent_lines
from kit.takeoff.sheet import Sheet
from kit.takeoff.work import PLUMBER, hire_hours
from kit.takeoff.working import Amount, n, total

__all__ = ["count_drain_lowered"]

_SIZE_KEYS = {"1-1/2": "1-1-2", "2": "2"}
TEE_SOCKETS, COUPLING_SOCKETS, COUPLINGS = 3, 2, 2


def count_drain_lowered(sheet: Sheet) -> list[Line]:
    """A hired plumber's hours by the drop, unless the scope says us; pipe and fittings where we supply them.

    Nothing when the stub need not come down, was not measured (a check asks for it), or its move is no part of the job.
    """
    drain, scope = sheet.design.drain, sheet.job.scope.drain_move
    if not drain.moves or drain.lower_by_in is None or not scope.renewed:
        return []
    opening, drop = n(1, "opening"), n(drain.lower_by_in, "in lower") / n(12, "in a foot")
    lines = _parts(sheet) if scope.ours_to_supply else []
    if scope.ours_to_install:
        step = Step.ROUGH_DRAIN
        return [*lines, sheet.do(step, "open-wall", "open", opening), sheet.do(step, "lower-drain-foot", "lower", drop, parts=("stub",))]
    if scope.installed_by == "trade":
        lines.append(_plumber(sheet, opening, drop))
    return lines


def _plumber(sheet: Sheet, opening: Amount, drop: Amount) -> Line:
    hours = total([hire_hours(sheet, "open-wall", opening), hire_hours(sheet, "lower-drain-foot", drop)])
    return sheet.hire(Step.ROUGH_DRAIN, PLUMBER, "lower the stub", hours, source="demo", parts=("stub",))


def _parts(sheet: Sheet) -> list[Line]:
    step, drain = Step.ROUGH_DRAIN, sheet.design.drain
    lines = []
    for pipe in drain.riser:
        length = n(pipe.count) * n(pipe.length_in, "in centre to centre; measure the fittings") / n(12, "in a foot")
        lines.append(sheet.buy(step, pipe.item, pipe.name, length, pieces=(Piece(pipe.length_in, pipe.count, pipe.name),), parts=("stub",)))
    material, size = ("abs" if sheet.job.plumbing.drain_old == "abs" else "pvc"), _SIZE_KEYS[drain.size]
    lines.append(sheet.buy(step, f"sanitary-tee-{material}-{size}", "tee", n(1, "tee")))
    if sheet.job.plumbing.drain_old in {"pvc", "abs"}:
        lines.append(sheet.buy(step, f"coupling-{material}-{size}", "riser", n(COUPLINGS, "couplings")))
        joints = n(TEE_SOCKETS, "sockets of the tee") + n(COUPLINGS, "couplings") * n(COUPLING_SOCKETS, "sockets")
    else:
        lines.append(sheet.buy(step, "shielded-coupling", "riser", n(COUPLINGS, "couplings to the old pipe")))
        joints = n(TEE_SOCKETS, "sockets of the tee")
    return [*lines, *solvent_lines(sheet, step, material, joints)]
