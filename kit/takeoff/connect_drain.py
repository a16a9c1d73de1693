"""The drain: lowered in the wall where the new sink sits too deep, then connected by pipes, fittings, cement and washers."""

import re

from kit.design.drain_parts import Pipe
from kit.design.drain_riser import Riser
from kit.job.field_names import lower_first, say_choice
from kit.records import Kind, Line, Piece
from kit.sources import value
from kit.sources.sizes import table_size
from kit.steps import Step
from kit.takeoff.set_sink import drain_is_opened
from kit.takeoff.sheet import ALLOWANCE, PLUMBER, Sheet
from kit.takeoff.working import Amount, counted, named, number, total

__all__ = ["CENTERS", "count_drain", "count_drain_lowered"]

CENTERS = "center to center"
"""In the name of a piece: its length runs between the centers of fittings, and it is no cut."""

OUNCES_A_QUART = 32
ENDS = 2
_SIZE = re.compile(r" \d[\d /]*(to \d[\d /]*)?in\b")
_HEAVY = {"cast-iron", "galvanized"}


def count_drain_lowered(sheet: Sheet) -> list[Line]:
    """A hired plumber's hours, unless the scope says us: opening, cutting out by the old pipe's material, then by joint.

    Pipe, fittings and cement in whole sticks and packs, ours or billed by the plumber as bought; none where the customer brings them.
    Nothing when the stub need not come down, was not measured or its riser not found (a check asks for them), or its move is no part of the job.
    """
    drain, scope = sheet.design.drain, sheet.job.scope.drain_move
    if drain.riser is None or drain.lower_by_in is None:
        return []
    work = _lowering(sheet, drain.riser)
    lines = _riser_parts(sheet, drain.riser) if scope.supplied_by in {"us", "trade"} else []
    if scope.ours_to_install:
        step = Step.ROUGH_DRAIN
        return [*lines, *(sheet.do(step, driver, part, amount, parts=("stub",)) for driver, part, amount in work)]
    if scope.installed_by == "trade":
        hours = total([sheet.hire_hours(driver, amount) for driver, _, amount in work])
        lines.append(sheet.hire(Step.ROUGH_DRAIN, PLUMBER, "lower the stub", hours, source="demo", parts=("stub",)))
    return lines


def _lowering(sheet: Sheet, riser: Riser) -> list[tuple[str, str, Amount]]:
    """Work by rate: how far the stub comes down changes the pipe, not the cutting out and hardly a joint; iron takes longer than plastic."""
    joints = [counted(riser.cemented_joints, "cemented joint", "cemented joints")]
    if riser.transition is not None:
        couplings = sum(fitting.count for fitting in riser.fittings if fitting.item == riser.transition)
        joints.append(number(couplings, "couplings to the old pipe") * number(ENDS, "ends"))
    return [
        ("open-wall", "open", number(1, "opening")),
        (f"cut-drain-{sheet.job.plumbing.drain_old}", "cut out", number(1, "old fitting cut out")),
        ("wall-joint", "join", total(joints)),
    ]


def _riser_parts(sheet: Sheet, riser: Riser) -> list[Line]:
    step, lines = Step.ROUGH_DRAIN, []
    for item in dict.fromkeys(pipe.item for pipe in riser.pipes):
        mine = [pipe for pipe in riser.pipes if pipe.item == item]
        pieces = tuple(Piece(pipe.length_in, pipe.count, _piece_name(pipe)) for pipe in mine)
        length = total([_length(pipe) for pipe in mine]) / number(12, "in a foot")
        lines.append(sheet.buy(step, item, "riser", length, pieces=pieces, parts=("stub",)))
    lines += [sheet.buy(step, fitting.item, "riser", number(fitting.count, "in the wall"), parts=("stub",)) for fitting in riser.fittings]
    if sheet.job.plumbing.drain_old in _HEAVY and sheet.job.scope.drain_move.ours_to_install:
        lines += _iron_parts(sheet)
    return [*lines, *solvent_lines(sheet, step, riser.material, counted(riser.cemented_joints, "cemented joint in the wall", "cemented joints in the wall"))]


def _iron_parts(sheet: Sheet) -> list[Line]:
    """What is above the cut would come down: a clamp on blocking holds it; a blade for each cut. A plumber brings his own (common practice, no source)."""
    step = Step.ROUGH_DRAIN
    return [
        sheet.buy(step, "riser-clamp", "riser", number(1, "pipe that hangs above the cut"), source="common-practice", parts=("stub",)),
        sheet.buy(step, "metal-blade", "riser", number(ENDS, "cuts"), source="common-practice", parts=("stub",)),
    ]


def count_drain(sheet: Sheet) -> list[Line]:
    """From the strainers to the stub, or to the pipe in the floor. What the joints take follows from the fittings of the design.

    Where a hired plumber joins it to the pipe in the floor, his hours stand for our work; where nothing of it is designed, his call-out is all there is.
    """
    if not drain_is_opened(sheet):
        return []
    by_plumber, drain, scope = sheet.design.duties.floor_plumber, sheet.design.drain, sheet.job.scope.drain_move
    if drain.not_designed:
        return [_call_out(sheet)] if by_plumber else []
    lines = [*_pipes(sheet), *_fittings(sheet), *_joints(sheet), *_unseen(sheet)]
    if not by_plumber:
        return lines
    parts = [line for line in lines if line.kind is Kind.BUY] if scope.supplied_by in {"us", "trade"} else []
    return [*parts, _joined_by_plumber(sheet)]


def _call_out(sheet: Sheet) -> Line:
    """The plumber looks at what is below the sink and connects it where he can; for less than his least charge he bills that."""
    hours = number(1, "call-out") * number(value("practice", "drain/call-out"), "h")
    return sheet.hire(Step.CONNECT_DRAIN, PLUMBER, "call-out", hours, source=ALLOWANCE, parts=("stub",))


def _joined_by_plumber(sheet: Sheet) -> Line:
    """He cuts and joins what our crew would, at its hours."""
    work = [*(("drain-cut", cuts) for cuts in _cuts(sheet)), ("drain-joint", total(_made(sheet))), *(("unseen-drain", one) for one in _behind_the_trap(sheet))]
    hours = total([sheet.hire_hours(driver, amount) for driver, amount in work])
    return sheet.hire(Step.CONNECT_DRAIN, PLUMBER, "join the pipe in the floor", hours, source="demo", parts=("stub",))


def _cuts(sheet: Sheet) -> list[Amount]:
    pipes = sheet.design.drain.pipes
    return [total([named(pipe.count, pipe.name) for pipe in pipes])] if pipes else []


def _made(sheet: Sheet) -> list[Amount]:
    """The joints that are made: cemented ones, where there are any, and slip joints."""
    drain = sheet.design.drain
    slip = counted(drain.slip_joints, "slip joint", "slip joints")
    return [_cemented(sheet), slip] if drain.cemented_joints else [slip]


def _cemented(sheet: Sheet) -> Amount:
    return counted(sheet.design.drain.cemented_joints, "cemented joint", "cemented joints")


def _unseen(sheet: Sheet) -> list[Line]:
    return [sheet.do(Step.CONNECT_DRAIN, "unseen-drain", "behind the trap", one, source="common-practice", parts=("stub",)) for one in _behind_the_trap(sheet)]


def _behind_the_trap(sheet: Sheet) -> list[Amount]:
    """Nobody photographed what is behind the trap: fittings are tried until they fit (common practice, no source)."""
    return [] if sheet.job.old.drain_photographed else [number(1, "drain nobody saw")]


def _pipes(sheet: Sheet) -> list[Line]:
    """One line for each kind of pipe or tube, with its pieces for the cut plan."""
    lines = []
    pipes = sheet.design.drain.pipes
    for item in dict.fromkeys(pipe.item for pipe in pipes):
        mine = [pipe for pipe in pipes if pipe.item == item]
        pieces = tuple(Piece(pipe.length_in, pipe.count, _piece_name(pipe)) for pipe in mine)
        length = total([_length(pipe) for pipe in mine]) / number(12, "in a foot")
        part = "cut lengths" if item == "tube-slip-joint" else "lengths"
        lines.append(sheet.buy(Step.CONNECT_DRAIN, item, part, length, pieces=pieces, parts=("drain",)))
    return [*lines, *(sheet.do(Step.CONNECT_DRAIN, "drain-cut", "measure and cut", cuts) for cuts in _cuts(sheet))]


def _piece_name(pipe: Pipe) -> str:
    """A length between centers says so: it is no cut."""
    return f"{pipe.name}, {CENTERS}" if pipe.measure else pipe.name


def _length(pipe: Pipe) -> Amount:
    """Length of one kind; where a take-out is not known, center to center is bought and the fitting at hand decides the cut."""
    words = "in center to center, cut after measuring the fittings" if pipe.measure else "in"
    return named(pipe.count, pipe.name) * number(pipe.length_in, words)


def _fittings(sheet: Sheet) -> list[Line]:
    drain = sheet.design.drain
    lines = [
        sheet.buy(Step.CONNECT_DRAIN, fitting.item, "fitting", named(fitting.count, _kind_of(sheet, fitting.item)), parts=("drain",))
        for fitting in drain.fittings
    ]
    if drain.transition is not None:
        words = f"from {say_choice('drain_old', drain.stub_material)} to {say_choice('drain_new', drain.material)}"
        lines.append(sheet.buy(Step.CONNECT_DRAIN, drain.transition, "change of material", number(1, words), source="common-practice", parts=("stub",)))
    return lines


def _kind_of(sheet: Sheet, item: str) -> str:
    """What a fitting is called, its size left out: a working holds no digit that is no number of it."""
    return lower_first(_SIZE.sub("", sheet.lists.name_of(item)))


def _joints(sheet: Sheet) -> list[Line]:
    drain, step, lines = sheet.design.drain, Step.CONNECT_DRAIN, []
    slip = counted(drain.slip_joints, "slip joint", "slip joints")
    if drain.cement is not None and drain.cemented_joints:
        lines += solvent_lines(sheet, step, drain.cement, _cemented(sheet))
    lines.append(sheet.buy(step, "slip-joint-washer", "slip joints", slip))
    return [*lines, sheet.do(step, "drain-joint", "make and check", total(_made(sheet)), parts=("drain",))]


def solvent_lines(sheet: Sheet, step: Step, material: str, joints: Amount) -> list[Line]:
    """Cement by the joint, and primer with it where the material takes one.

    Notes
    -----
    Joints a quart are a cement maker's average (one joint is one socket); the share of primer is from memory. A kitchen
    drain never empties a can: the can is what is bought.
    """
    name = f"joints/{table_size(sheet.job.plumbing.drain_size)}"
    cement = joints * number(OUNCES_A_QUART, "fl oz a quart") / number(value("solvent_cement", name), "joints a quart")
    lines = [sheet.buy(step, f"cement-{material}", "joints", cement, source="cement-guide")]
    if material == "pvc":
        primer = cement * number(value("solvent_cement", "primer-share"), "of the cement")
        lines.append(sheet.buy(step, "primer-pvc", "joints", primer, source="from-memory"))
    return lines
