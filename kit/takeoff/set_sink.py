"""Setting the sink: the sink itself, dry fit, clips, strainers bedded."""

from kit.design.removal import opens_drain, sets_sink
from kit.job.scope import ScopeItem
from kit.records import Line
from kit.sources import value
from kit.steps import Step
from kit.takeoff.receiving import strained_outlets
from kit.takeoff.sheet import Sheet
from kit.takeoff.working import Amount, counted, number, round_up

__all__ = ["count_sink", "drain_is_opened", "sink_is_set", "sink_setter"]


def sink_is_set(sheet: Sheet) -> bool:
    """Whether a sink is set, a new one or the old one again."""
    return sets_sink(sheet.job, sheet.design.removal)


def drain_is_opened(sheet: Sheet) -> bool:
    """Whether trap and hoses come apart."""
    return opens_drain(sheet.job, sheet.design.removal, lowered=sheet.design.drain.is_lowered)


def count_sink(sheet: Sheet) -> list[Line]:
    """The sink, its clips and strainers, and setting it with the crew that its weight asks for."""
    job, step = sheet.job, Step.SET_SINK
    lines = []
    if job.scope.sink.ours_to_supply:
        lines.append(sheet.buy(step, job.sink.item, "sink", number(1, "sink"), parts=("sink",)))
    work = _set(sheet) if sink_is_set(sheet) else []
    strainers = _strainers(sheet)  # into a sink that lies on the countertop while it still stands free
    return [*lines, *strainers, *work] if job.sink.mount == "top" else [*lines, *work, *strainers]


def _set(sheet: Sheet) -> list[Line]:
    job, step, scope = sheet.job, Step.SET_SINK, sink_setter(sheet)
    fits = number(2, "dry fits before and after trimming the cut") if sheet.design.cut is not None else number(1, "dry fit")
    fit, place = ("dry-fit-drop-in", "set-drop-in") if sheet.design.setting.clipped else ("dry-fit", "set-sink")
    lines = [
        *sheet.work_for(scope, step, fit, "dry fit", fits),
        *sheet.work_for(scope, step, place, "lift and set", number(1, "sink")),
        *sheet.work_for(scope, step, "set-sink-pound", "weight", number(job.sink.weight_lb, "lb")),
    ]
    return [*lines, *(_held(sheet, scope) if scope.installed_by in {"us", "trade"} else [])]


def sink_setter(sheet: Sheet) -> ScopeItem:
    """Who sets the sink: whom the scope names; a sink that stays is set again by us, who took it out with the counter."""
    scope = sheet.job.scope.sink
    return scope.model_copy(update={"installed_by": "us"}) if scope.stays and scope.installed_by == "nobody" else scope


def _held(sheet: Sheet, scope: ScopeItem) -> list[Line]:
    """What holds a sink without an apron from above or from the sides of the box, fixed by whoever sets it: clips, rails or a cradle."""
    step, way = Step.HANG_SINK, sheet.design.placed.carrying.way
    if way == "clips":
        held = sheet.buy(step, "sink-clip", "clips", _clips(sheet), source="common-practice")
        fixed = sheet.work_for(scope, step, "sink-clip-fix", "clips", _clips(sheet))
    elif way in {"rails", "cradle"}:
        one = number(1, f"set: {way}")
        held = sheet.buy(step, f"sink-{way}", way, one, source="common-practice", parts=("frame",))
        fixed = sheet.work_for(scope, step, "sink-rails-fix", way, one)
    else:
        return []
    return [held, *fixed, *sheet.work_for(scope, step, "raise-sink", "raise and bond", number(1, "sink"))]


def _clips(sheet: Sheet) -> Amount:
    """As many as the model has around the rim."""
    sink = sheet.job.sink
    perimeter = number(2) * number(sink.body_width_in, "in") + number(2) * number(sink.depth_in, "in")
    return round_up(perimeter / number(value("practice", "sink/clip-spacing"), "in between clips"))


def _strainers(sheet: Sheet) -> list[Line]:
    """One for each outlet without a disposer, bedded in putty, with a longer body where the bottom is thick; a sink that stays keeps its own."""
    job, step, scope = sheet.job, Step.SET_SINK, sheet.job.scope.strainer
    outlets = strained_outlets(job)
    if not outlets or not scope.renewed:
        return []
    strainers = counted(outlets, "outlet without a disposer", "outlets without a disposer")
    item = "strainer-extended" if job.sink.bottom_thickness_in > value("practice", "strainer/bottom-most") else "strainer"
    lines = [sheet.buy(step, item, "strainers", strainers, parts=("strainer",))] if scope.ours_to_supply else []
    if scope.ours_to_install:
        lines.append(sheet.buy(step, "putty", "strainers", strainers * number(value("practice", "sink/putty"), "fl oz each"), source="judgement"))
    return [*lines, *sheet.work_for(scope, step, "fit-strainer", "bed and tighten", strainers)]
