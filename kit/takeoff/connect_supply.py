"""Water to the faucet: stops renewed on clean stubs, short stubs lengthened, hoses and branches connected."""

from kit.design.supply import FAUCET_LINES
from kit.records import Line, Piece
from kit.sources import value
from kit.steps import Step
from kit.takeoff.set_sink import drain_is_opened
from kit.takeoff.sheet import Sheet
from kit.takeoff.working import Amount, counted, number

__all__ = ["count_stops", "count_supply", "thread_tape"]


def count_stops(sheet: Sheet) -> list[Line]:
    """Nothing when no stop is renewed."""
    supply, step = sheet.design.supply, Step.STOPS
    if not supply.stops:
        return []
    stops, lines = counted(supply.stops, "shutoff valve", "shutoff valves"), []
    if supply.stops != supply.dual_stops:
        plain = stops - number(supply.dual_stops, "with a second outlet") if supply.dual_stops else stops
        lines.append(sheet.buy(step, f"stop-{supply.joint}", "stops", plain, parts=("stops",)))
    if supply.dual_stops:
        lines.append(sheet.buy(step, f"stop-{supply.joint}-dual", "stops", number(supply.dual_stops, "with an outlet for the dishwasher"), parts=("stops",)))
    if supply.adapters:
        adapters = number(supply.adapters, "stubs without a thread")
        lines += [sheet.buy(step, "stub-adapter", "adapters", adapters, source="common-practice"), sheet.do(step, "fit-adapter", "adapters", adapters)]
    lines.append(sheet.buy(step, "escutcheon", "stops", stops))
    lines.append(sheet.do(step, "fit-stop", "cut, clean and fit", stops, parts=("stops",)))
    if sheet.job.plumbing.supply_old == "copper":
        lines.append(sheet.do(step, "dress-copper", "cut, ream and deburr", stops, source="common-practice"))
    return [*lines, *_lengthened(sheet), *_sealed(sheet)]


def _sealed(sheet: Sheet) -> list[Line]:
    """Tape on threads; a stiffener in each end of PEX tube, or a ring on each that is pressed."""
    supply, step, lines = sheet.design.supply, Step.STOPS, []
    if supply.threads:
        lines.append(thread_tape(sheet, step, counted(supply.threads, "thread", "threads")))
    if supply.pex_ends:
        item = "press-ring" if supply.joint == "press" else "pex-stiffener"
        lines.append(sheet.buy(step, item, "PEX ends", number(supply.pex_ends, "ends of PEX tube"), source="common-practice"))
    return lines


def thread_tape(sheet: Sheet, step: Step, threads: Amount) -> Line:
    """Tape round threaded joints."""
    return sheet.buy(step, "thread-tape", "threads", threads * number(value("practice", "supply/thread-tape"), "ft each"), source="common-practice")


def _lengthened(sheet: Sheet) -> list[Line]:
    """A coupling and a piece of tube on every stub too short for its stop, or of steel."""
    supply, step = sheet.design.supply, Step.STOPS
    if not supply.short_stubs:
        return []
    each_in = supply.tube_pieces_in[0]
    stubs = counted(supply.short_stubs, "short stub", "short stubs")
    tube = f"tube-{sheet.job.plumbing.supply_new}-1-2"
    pieces = (Piece(each_in, supply.short_stubs, "stub piece"),)
    lines = [sheet.buy(step, tube, "stub pieces", stubs * number(each_in, "in") / number(12, "in a foot"), source="judgement", pieces=pieces)]
    if supply.transition is not None:
        lines.append(sheet.buy(step, supply.transition, "short stubs", stubs, source="common-practice"))
    return [*lines, sheet.do(step, "lengthen-stub", "lengthen", stubs)]


def count_supply(sheet: Sheet) -> list[Line]:
    """Hoses bought new with a new faucet or stop; every line joined again; a tee and a hose for each branch. Nothing where nothing comes apart."""
    supply, step, lines = sheet.design.supply, Step.CONNECT_SUPPLY, []
    if not (supply.stops or sheet.job.scope.faucet.renewed or drain_is_opened(sheet)):
        return []
    if supply.hoses:
        lines.append(sheet.buy(step, "supply-hose", "faucet", counted(supply.hoses, "hose", "hoses"), parts=("supply",)))
    if supply.connections:
        lines.append(sheet.do(step, "connect-hose", "faucet", number(supply.connections, "hoses"), parts=("supply",)))
        lines += _on_old_valves(sheet)
    if supply.tees:
        branches = counted(supply.tees, "branch for filter or hot water", "branches for filter and hot water")
        lines.append(sheet.buy(step, "supply-tee", "branches", branches))
        lines.append(sheet.buy(step, "supply-hose", "branches", branches))
        lines.append(sheet.do(step, "branch-tap", "reconnect", branches))
    return lines


def _on_old_valves(sheet: Sheet) -> list[Line]:
    """What a valve that stays and is old takes beyond its hose: it turns hard and weeps (common practice, no source)."""
    old = max(FAUCET_LINES - sheet.design.supply.stops, 0)
    if sheet.job.plumbing.stop_age != "old" or not old:
        return []
    hoses = counted(old, "hose on an old valve", "hoses on old valves")
    return [sheet.do(Step.CONNECT_SUPPLY, "old-valve-hose", "old valves", hoses, source="common-practice", parts=("stops",))]
