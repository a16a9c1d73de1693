"""Taking off the old counter and its splash: by material, by how it is held, by weight."""

from kit.records import Line
from kit.sources import value
from kit.steps import Step
from kit.takeoff.removal import (
    board_area,
    counter_comes_off,
    counter_length,
    old_counter_area,
    old_counter_density,
    runs_length,
    splash_comes_off,
    splash_length,
)
from kit.takeoff.sheet import Sheet
from kit.takeoff.working import n, round_up

__all__ = ["count_old_counter"]


def count_old_counter(sheet: Sheet) -> list[Line]:
    """Splash first, then the counter; what stays costs nothing."""
    lines = _splash(sheet)
    if not counter_comes_off(sheet.job):
        return lines
    job, step = sheet.job, Step.REMOVE_COUNTER
    length = counter_length(job)
    weight = old_counter_area(job) * n(job.old.counter_thickness_in, "in thick") / n(12, "in a foot") * old_counter_density(job)
    lines += [
        sheet.do(step, f"old-counter-{job.old.counter_material}", "loosen and part", length, parts=("old counter",)),
        sheet.do(step, "old-counter-pound", "lift off", weight),
    ]
    rows = n(2, "rows")
    if job.old.counter_fixing == "screwed":
        screws = rows * round_up(runs_length(job) / n(value("site_work", "old-counter/screw-spacing"), "in between screws"))
        lines.append(sheet.do(step, "old-counter-screw", "undo", screws, source="common-practice"))
    else:
        blades = rows * length / n(value("site_work", "old-counter/blade-life"), "ft of glue a blade")
        lines.append(sheet.buy(step, "glue-blade", "glue line", blades, source="common-practice"))
    return lines


def _splash(sheet: Sheet) -> list[Line]:
    """Feet of a splash that comes off whole; square feet of one whose wall board comes with it."""
    job, step = sheet.job, Step.REMOVE_COUNTER
    if not splash_comes_off(job):
        return []
    if job.old.splash == "tile":
        area = board_area(job)
        return [] if area is None else [sheet.do(step, "splash-tile", "break off", area)]
    return [sheet.do(step, f"splash-{job.old.splash}", "pull off", splash_length(job) / n(12, "in a foot"))]
