"""The punch list: a walk through every party's work and every opening, and what it finds put right."""

from kit.records import Line
from kit.steps import Step
from kit.takeoff.fronts import door_count
from kit.takeoff.parties import hired_parties
from kit.takeoff.sheet import ALLOWANCE, Sheet
from kit.takeoff.working import counted, n, total

__all__ = ["count_punch_list"]


def count_punch_list(sheet: Sheet) -> list[Line]:
    """One look for each party, door, bowl and hole, and one round of putting right; the way back is among the trips."""
    job, step = sheet.job, Step.PUNCH_LIST
    doors = door_count(job.cabinet.width_in)
    looks = [n(1, "own crew"), *(n(1, party) for party in hired_parties(sheet)), counted(doors, "door", "doors")]
    looks.append(counted(len(job.sink.bowls), "bowl", "bowls"))
    if job.counter.holes:
        looks.append(counted(len(job.counter.holes), "hole", "holes"))
    return [sheet.do(step, "punch-look", "walk through", total(looks)), sheet.do(step, "punch-round", "put right", n(1, "round"), source=ALLOWANCE)]
