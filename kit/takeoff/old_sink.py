"""Taking out the old sink: disconnect, cut the sealant or break the tile, clips, lift."""

from kit.job import FilledJob
from kit.records import Line
from kit.sources import value
from kit.steps import Step
from kit.takeoff.removal import sink_comes_out
from kit.takeoff.sheet import Sheet
from kit.takeoff.working import Amount, n, round_up, total

__all__ = ["count_old_sink"]


def count_old_sink(sheet: Sheet) -> list[Line]:
    """Nothing where there is no old sink, or where it stays in place."""
    job, step = sheet.job, Step.REMOVE_SINK
    if not sink_comes_out(job):
        return []
    lines = [
        sheet.do(step, "disconnect-joint", "disconnect", total(_joints(job)), parts=("old sink",)),
        sheet.do(step, "old-sink-pound", "lift out", n(job.old.sink_weight_lb, "lb")),
    ]
    edge = _edge(job)
    if job.old.sink_kind == "tiled-in":
        lines.append(sheet.do(step, "tiled-edge-foot", "break the tile edge", edge / n(12, "in a foot")))
    else:
        lines.append(sheet.do(step, "old-sealant-foot", "cut the sealant", edge / n(12, "in a foot")))
    if job.old.sink_kind in {"top", "under"}:
        clips = round_up(edge / n(value("site_work", "old-sink/clip-spacing"), "in between clips"))
        lines.append(sheet.do(step, "old-clip", "clips", clips, source="common-practice"))
    if job.old.disposer:
        lines.append(sheet.do(step, "old-disposer", "take off", n(1, "disposer")))
    return lines


def _joints(job: FilledJob) -> list[Amount]:
    joints = [n(2, "supply hoses"), n(1, "trap")]
    if job.plumbing.dishwasher:
        joints.append(n(1, "dishwasher hose"))
    if job.plumbing.filter:
        joints.append(n(1, "filter tube"))
    if job.plumbing.hot_tap:
        joints.append(n(1, "hot-tap tube"))
    return joints


def _edge(job: FilledJob) -> Amount:
    """Length of the joint between old sink and counter [in]; an apron has none in front."""
    across = n(1 if job.old.sink_kind == "apron" else 2) * n(job.old.sink_width_in, "in")
    return across + n(2) * n(job.old.sink_depth_in, "in")
