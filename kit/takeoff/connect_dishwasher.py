"""The dishwasher: freed with the old counter, connected again by hose and high loop or air gap, fastened to the new counter or to its sides."""

from kit.design.named_goods import counter_kind
from kit.job import FilledJob
from kit.records import Line
from kit.sources import value
from kit.steps import Step
from kit.takeoff.connect_supply import thread_tape
from kit.takeoff.set_sink import drain_is_opened
from kit.takeoff.sheet import Sheet
from kit.takeoff.working import Amount, number, total

__all__ = ["count_dishwasher_fastened", "count_dishwasher_freed", "count_dishwasher_hose", "old_dishwasher_goes"]


def count_dishwasher_freed(sheet: Sheet) -> list[Line]:
    """Brackets under the old counter undone; an old machine that is changed is slid out."""
    job, step, lines = sheet.job, Step.FREE_DISHWASHER, []
    if _comes_loose(sheet):
        lines.append(sheet.do(step, "free-bracket", "undo", _brackets("brackets under the countertop"), parts=("dishwasher",)))
    if old_dishwasher_goes(job):
        lines.append(sheet.do(step, "old-dishwasher", "slide out", number(1, "old dishwasher")))
    return lines


def count_dishwasher_hose(sheet: Sheet) -> list[Line]:
    """By the scope table's row for the dishwasher; nothing without one, when it is no part of the job, or when nothing comes apart."""
    job, step, scope = sheet.job, Step.CONNECT_DISHWASHER, sheet.job.scope.dishwasher
    if not job.plumbing.dishwasher or scope.excluded or not (scope.renewed or drain_is_opened(sheet)):
        return []
    lines = []
    if scope.ours_to_supply:
        lines.append(sheet.buy(step, "dishwasher", "dishwasher", number(1, "dishwasher"), parts=("dishwasher",)))
    if _new_dishwasher(job):
        lines.append(sheet.do(step, "set-dishwasher", "slide in and level", number(1, "dishwasher")))
    if scope.installed_by in {"us", "trade"}:
        lines += [*_hose(sheet), *(_new_connections(sheet) if scope.renewed else [])]
    return [*lines, *sheet.work_for(scope, step, "connect-dishwasher", "drain and water", number(1, "dishwasher"))]


def _new_connections(sheet: Sheet) -> list[Line]:
    """A new machine comes without supply line, elbow and cord (common practice; its sheet says)."""
    step, one = Step.CONNECT_DISHWASHER, number(1, "new dishwasher")
    goods = [sheet.buy(step, item, "new dishwasher", one, source="common-practice") for item in ("dishwasher-supply", "dishwasher-elbow", "dishwasher-cord")]
    return [*goods, thread_tape(sheet, step, number(1, "thread of the elbow"))]


def _hose(sheet: Sheet) -> list[Line]:
    """A drain hose only where the machine's own is too short; a clamp where it is joined again, two for each new hose."""
    plumbing, step, lines = sheet.job.plumbing, Step.CONNECT_DISHWASHER, []
    each = number(value("practice", "hose/clamps"), "clamps a hose")
    clamps = [number(1, "clamp at the drain end of its own hose")]
    if plumbing.hose_run_in > value("site_work", "dishwasher/own-hose"):
        lines.append(sheet.buy(step, "dishwasher-hose", "drain hose", number(plumbing.hose_run_in, "in") / number(12, "in a foot"), parts=("dishwasher",)))
        clamps = [number(1, "hose") * each]
    if plumbing.dishwasher_drain == "air-gap":
        hose = _gap_to_branch(sheet) / number(12, "in a foot")
        lines.append(sheet.buy(step, "air-gap-hose", "air gap to drain", hose))
        clamps += [number(1, "hose from the air gap") * each] if hose.value > 0.0 else []
    lines.append(sheet.buy(step, "hose-clamp", "hoses", total(clamps), source="common-practice"))
    if plumbing.dishwasher_drain == "high-loop":
        said_by = "ipc" if sheet.job.site.code_family == "ipc" else "common-practice"
        lines.append(sheet.buy(step, "loop-strap", "high loop", number(1, "strap under the countertop"), source=said_by))
    return lines


def _gap_to_branch(sheet: Sheet) -> Amount:
    """From the air gap in the deck down to the weir of the trap, the lowest that its hose may end."""
    design = sheet.design
    return number(design.levels.counter_top_in, "in to the deck") - number(design.drain.levels.weir_built_in, "in to the weir")


def count_dishwasher_fastened(sheet: Sheet) -> list[Line]:
    """Brackets to the new counter, or to the sides where it is stone and the like; nothing where it is no part of the job."""
    job, step = sheet.job, Step.CONNECT_DISHWASHER
    if job.scope.dishwasher.excluded or not (_comes_loose(sheet) or _new_dishwasher(job)):
        return []
    to_counter = counter_kind(job, sheet.lists).takes_screws
    where = "the countertop" if to_counter else "the sides"
    lines = [sheet.do(step, "fasten-bracket", f"to {where}", _brackets(f"brackets to {where}"), parts=("dishwasher",))]
    if not to_counter:
        lines.append(sheet.buy(step, "side-bracket", "brackets", _brackets("brackets"), source="common-practice"))
    screws = _brackets("brackets") * number(value("site_work", "dishwasher/bracket-screws"), "screws")
    lines.append(sheet.buy(step, "screw-bracket", "brackets", screws, source="common-practice"))
    return lines


def _brackets(words: str) -> Amount:
    return number(value("site_work", "dishwasher/brackets"), words)


def _comes_loose(sheet: Sheet) -> bool:
    return sheet.job.plumbing.dishwasher and sheet.job.old.dishwasher_fixing == "counter" and sheet.design.removal.counter_by == "us"


def old_dishwasher_goes(job: FilledJob) -> bool:
    """Whether we slide out an old dishwasher for a new one, and so have it to take away."""
    return _new_dishwasher(job) and job.old.dishwasher_fixing != "none"


def _new_dishwasher(job: FilledJob) -> bool:
    """Whether the dishwasher is changed by us."""
    return job.plumbing.dishwasher and job.scope.dishwasher.renewed and job.scope.dishwasher.ours_to_install
