"""Setting the sink: the sink itself, clips or rim sealant, the strainers."""

from kit.records import Line
from kit.steps import Step
from kit.takeoff.sheet import Sheet
from kit.takeoff.working import n

__all__ = ["count_sink"]


def count_sink(sheet: Sheet) -> list[Line]:
    """The sink, its strainers, and setting it with the crew that its weight asks for."""
    job, step = sheet.job, Step.SET_SINK
    scope, lines = job.scope, []
    if scope.sink.ours_to_supply:
        lines.append(sheet.buy(step, job.sink.item, "sink", n(1, "sink"), parts=("sink",)))
    if scope.sink.renewed and scope.sink.ours_to_install:
        lines.append(sheet.do(step, "set-sink", "lift and set", n(1, "sink"), parts=("sink",)))
        lines.append(sheet.do(step, "set-sink-pound", "weight", n(job.sink.weight_lb, "lb")))
    if not job.sink.is_apron and job.sink.mount == "under":
        perimeter = n(2) * n(job.sink.body_width_in, "in") + n(2) * n(job.sink.depth_in, "in")
        lines.append(sheet.buy(step, "sink-clip", "clips", perimeter / n(10, "in between clips"), source="common-practice"))
    outlets = len(job.sink.bowls) - (1 if job.plumbing.disposer != "none" else 0)
    if scope.strainer.ours_to_supply and outlets:
        lines.append(sheet.buy(step, "strainer", "strainers", n(outlets, "outlets without a disposer")))
    return lines
