"""Connecting the drain: pieces to cut, fittings, the change of material, cement or washers."""

from kit.design.drain import Pipe
from kit.records import Line, Piece
from kit.sources import value
from kit.steps import Step
from kit.takeoff.sheet import Sheet
from kit.takeoff.sink import drain_is_opened
from kit.takeoff.working import Amount, counted, n, total

__all__ = ["count_drain", "solvent_lines"]

OUNCES_A_QUART = 32
_SIZES = {"1-1/2": "1.5", "2": "2"}


def count_drain(sheet: Sheet) -> list[Line]:
    """From the strainers to the stub. What the joints take follows from the fittings of the design."""
    if not drain_is_opened(sheet):
        return []
    return [*_pipes(sheet), *_fittings(sheet), *_joints(sheet)]


def _pipes(sheet: Sheet) -> list[Line]:
    """One line for each kind of pipe or tube, with its pieces for the cut plan."""
    lines = []
    pipes = sheet.design.drain.pipes
    for item in dict.fromkeys(pipe.item for pipe in pipes):
        mine = [pipe for pipe in pipes if pipe.item == item]
        pieces = tuple(Piece(pipe.length_in, pipe.count, pipe.name) for pipe in mine)
        length = total([_length(pipe) for pipe in mine]) / n(12, "in a foot")
        lines.append(sheet.buy(Step.CONNECT_DRAIN, item, "cut lengths", length, pieces=pieces, parts=("drain",)))
    if pipes:
        lines.append(sheet.do(Step.CONNECT_DRAIN, "drain-cut", "measure and cut", total([n(pipe.count, pipe.name) for pipe in pipes])))
    return lines


def _length(pipe: Pipe) -> Amount:
    """Length of one kind; where a take-out is not known, centre to centre is bought and the fitting at hand decides the cut."""
    words = "in centre to centre, cut after measuring the fittings" if pipe.measure else "in"
    return n(pipe.count, pipe.name) * n(pipe.length_in, words)


def _fittings(sheet: Sheet) -> list[Line]:
    drain = sheet.design.drain
    lines = [sheet.buy(Step.CONNECT_DRAIN, fitting.item, "fitting", n(fitting.count), parts=("drain",)) for fitting in drain.fittings]
    if drain.transition is not None:
        words = f"from {sheet.job.plumbing.drain_old} to {drain.material}"
        lines.append(sheet.buy(Step.CONNECT_DRAIN, drain.transition, "change of material", n(1, words), source="common-practice", parts=("stub",)))
    return lines


def _joints(sheet: Sheet) -> list[Line]:
    drain, step, lines = sheet.design.drain, Step.CONNECT_DRAIN, []
    cemented, slip = n(drain.cemented_joints, "cemented joints"), counted(drain.slip_joints, "slip joint", "slip joints")
    if drain.cement is not None and drain.cemented_joints:
        lines += solvent_lines(sheet, step, drain.cement, cemented)
    lines.append(sheet.buy(step, "slip-joint-washer", "slip joints", slip))
    return [*lines, sheet.do(step, "drain-joint", "make and check", total([cemented, slip] if drain.cemented_joints else [slip]), parts=("drain",))]


def solvent_lines(sheet: Sheet, step: Step, material: str, joints: Amount) -> list[Line]:
    """Cement by the joint, and primer with it where the material takes one.

    Notes
    -----
    Joints a quart are a cement maker's average (one joint is one socket); the share of primer is from memory. A kitchen
    drain never empties a can: the can is what is bought.
    """
    name = f"joints/{_SIZES[sheet.job.plumbing.drain_size]}"
    cement = joints * n(OUNCES_A_QUART, "fl oz a quart") / n(value("solvent_cement", name), "joints a quart")
    lines = [sheet.buy(step, f"cement-{material}", "joints", cement, source="cement-guide")]
    if material == "pvc":
        primer = cement * n(value("solvent_cement", "primer-share"), "of the cement")
        lines.append(sheet.buy(step, "primer-pvc", "joints", primer, source="from-memory"))
    return lines
