"""Connecting the supply: hoses from stops to faucet, branches for filter and hot-water tap."""

from kit.records import Line
from kit.steps import Step
from kit.takeoff.sheet import Sheet
from kit.takeoff.sink import drain_is_opened
from kit.takeoff.working import counted, n

__all__ = ["count_supply"]


def count_supply(sheet: Sheet) -> list[Line]:
    """Hoses bought new with a new faucet or stop; every line joined again; a tee and a hose for each branch. Nothing where nothing comes apart."""
    supply, step, lines = sheet.design.supply, Step.CONNECT_SUPPLY, []
    if not (supply.stops or sheet.job.scope.faucet.renewed or drain_is_opened(sheet)):
        return []
    if supply.hoses:
        lines.append(sheet.buy(step, "supply-hose", "faucet", counted(supply.hoses, "hose", "hoses"), parts=("supply",)))
    if supply.connections:
        lines.append(sheet.do(step, "connect-hose", "faucet", n(supply.connections, "hoses"), parts=("supply",)))
    if supply.tees:
        branches = counted(supply.tees, "branch for filter or hot water", "branches for filter and hot water")
        lines.append(sheet.buy(step, "supply-tee", "branches", branches))
        lines.append(sheet.buy(step, "supply-hose", "branches", branches))
        lines.append(sheet.do(step, "branch-tap", "reconnect", branches))
    return lines
