"""The dishwasher is freed with the old counter and fastened again: to its sides where the new counter takes no screws."""

from kit.job import FilledJob
from kit.records import Line
from kit.sources import value
from kit.steps import Step
from kit.takeoff.removal import counter_comes_off, new_dishwasher
from kit.takeoff.sheet import Sheet
from kit.takeoff.working import n

__all__ = ["count_dishwasher_fastened", "count_dishwasher_freed"]

# a screw from below holds in these; every other counter splits, chips or is too thin for it
TAKES_SCREWS = {"laminate", "wood"}


def count_dishwasher_freed(sheet: Sheet) -> list[Line]:
    """Brackets under the old counter undone; an old machine that is changed is slid out."""
    job, step, lines = sheet.job, Step.FREE_DISHWASHER, []
    if _comes_loose(job):
        lines.append(sheet.do(step, "free-bracket", "undo", n(value("site_work", "dishwasher/brackets"), "brackets under the counter"), parts=("dishwasher",)))
    if _old_machine_out(job):
        lines.append(sheet.do(step, "old-dishwasher", "slide out", n(1, "old dishwasher")))
    return lines


def count_dishwasher_fastened(sheet: Sheet) -> list[Line]:
    """Brackets to the new counter, or to the sides where it is stone and the like."""
    job, step = sheet.job, Step.CONNECT_DISHWASHER
    if not (_comes_loose(job) or new_dishwasher(job)):
        return []
    to_counter = job.counter.material in TAKES_SCREWS
    where = "the counter" if to_counter else "the sides"
    lines = [sheet.do(step, "fasten-bracket", f"to {where}", n(value("site_work", "dishwasher/brackets"), f"brackets to {where}"), parts=("dishwasher",))]
    if not to_counter:
        lines.append(sheet.buy(step, "side-bracket", "brackets", n(value("site_work", "dishwasher/brackets"), "brackets"), source="common-practice"))
    screws = n(value("site_work", "dishwasher/brackets"), "brackets") * n(value("site_work", "dishwasher/bracket-screws"), "screws")
    lines.append(sheet.buy(step, "screw-bracket", "brackets", screws, source="common-practice"))
    return lines


def _comes_loose(job: FilledJob) -> bool:
    return job.plumbing.dishwasher and job.old.dishwasher_fixing == "counter" and counter_comes_off(job)


def _old_machine_out(job: FilledJob) -> bool:
    return new_dishwasher(job) and job.old.dishwasher_fixing != "none"
