"""Taking out the old sink, splash and counter, and their sizes and weights: asked by the haul and by whatever is put back."""

from kit.design.design import Design
from kit.design.edges import wall_edges
from kit.job import FilledJob
from kit.records import Line
from kit.sources import value
from kit.steps import Step
from kit.takeoff.sheet import Sheet
from kit.takeoff.working import Amount, number, round_up, total

__all__ = [
    "bare_length",
    "board_area",
    "count_old_counter",
    "count_old_sink",
    "counter_length",
    "old_counter_area",
    "old_counter_density",
    "splash_area",
    "splash_length",
    "waits_for_counter",
]


def count_old_sink(sheet: Sheet) -> list[Line]:
    """Nothing where there is no old sink, or where it stays in place."""
    job, step = sheet.job, Step.REMOVE_SINK
    if sheet.design.removal.sink_by != "us":
        return []
    lines = [
        sheet.do(step, "disconnect-joint", "disconnect", total(_joints(job)), parts=("old sink",)),
    ]
    if sheet.design.torn_out_by_us("sink"):
        lines += _sink_lifted(sheet)
    if job.old.disposer:
        lines.append(sheet.do(step, "old-disposer", "take off", number(1, "disposer")))
    return lines


def _sink_lifted(sheet: Sheet) -> list[Line]:
    job, step, edge = sheet.job, Step.REMOVE_SINK, _sink_edge(sheet.job)
    lines = [sheet.do(step, "old-sink-pound", "lift out", number(job.old.sink_weight_lb, "lb"))]
    if job.old.sink_kind == "tiled-in":
        lines.append(sheet.do(step, "tiled-edge-foot", "break the tile edge", edge / number(12, "in a foot")))
    else:
        lines.append(sheet.do(step, "old-sealant-foot", "cut the sealant", edge / number(12, "in a foot")))
    if job.old.sink_kind in {"top", "under"}:
        clips = round_up(edge / number(value("site_work", "old-sink/clip-spacing"), "in between clips"))
        lines.append(sheet.do(step, "old-clip", "clips", clips, source="common-practice"))
    return lines


def _joints(job: FilledJob) -> list[Amount]:
    joints = [number(2, "supply hoses"), number(1, "trap")]
    if job.plumbing.dishwasher:
        joints.append(number(1, "dishwasher hose"))
    if job.plumbing.filter:
        joints.append(number(1, "filter tube"))
    if job.plumbing.hot_tap:
        joints.append(number(1, "hot-tap tube"))
    return joints


def _sink_edge(job: FilledJob) -> Amount:
    """Length of the joint between old sink and counter [in]; an apron has none in front."""
    across = number(1 if job.old.sink_kind == "apron" else 2) * number(job.old.sink_width_in, "in")
    return across + number(2) * number(job.old.sink_depth_in, "in")


def count_old_counter(sheet: Sheet) -> list[Line]:
    """Splash first, then the counter; what stays costs nothing."""
    lines = _old_splash(sheet)
    if not sheet.design.torn_out_by_us("counter"):
        return lines
    job, step = sheet.job, Step.REMOVE_COUNTER
    length = counter_length(job)
    weight = old_counter_area(job) * number(job.old.counter_thickness_in, "in thick") / number(12, "in a foot") * old_counter_density(sheet)
    lines += [
        sheet.do(step, f"old-counter-{job.old.counter_material}", "loosen and part", length, parts=("old countertop",)),
        sheet.do(step, "old-counter-pound", "lift off", weight),
    ]
    rows = number(2, "rows")
    if job.old.counter_fixing == "screwed":
        spaces = round_up(_runs_length(job) / number(value("site_work", "old-counter/screw-spacing"), "in between screws"))
        screws = rows * (spaces + number(1, "at the end"))
        lines.append(sheet.do(step, "old-counter-screw", "undo", screws, source="common-practice"))
    else:
        blades = rows * length / _blade_life()
        lines.append(sheet.buy(step, "glue-blade", "glue line", blades, source="common-practice"))
        lines.append(sheet.do(step, "glue-foot", "cut", rows * length))
    return lines


def _old_splash(sheet: Sheet) -> list[Line]:
    """Feet of a splash that comes off whole; square feet of one whose wall board comes with it."""
    job, step = sheet.job, Step.REMOVE_COUNTER
    if not sheet.design.torn_out_by_us("splash"):
        return []
    if job.old.splash == "tile":
        area = board_area(sheet)
        return [] if area is None else [sheet.do(step, "splash-tile", "break off", area)]
    feet = splash_length(job) / number(12, "in a foot")
    lines = [sheet.do(step, f"splash-{job.old.splash}", "pull off", feet)]
    if job.old.splash == "glued":
        lines.append(sheet.buy(step, "glue-blade", "splash", feet / _blade_life(), source="common-practice"))
    return lines


def _blade_life() -> Amount:
    return number(value("site_work", "old-counter/blade-life"), "ft of glue a blade")


def waits_for_counter(job: FilledJob, design: Design) -> bool:
    """Whether the kitchen stands open between the old counter and a fabricator's new one; what is templated before, or laid in the house, is one stay."""
    return design.removal.counter_by == "us" and job.counter.made_by == "fabricator" and design.setting.cradled


def counter_length(job: FilledJob) -> Amount:
    """Length of the old counter [ft]."""
    return _runs_length(job) / number(12, "in a foot")


def _runs_length(job: FilledJob) -> Amount:
    """Length of the old counter [in]: as measured, else that of all new runs."""
    if job.old.counter_length_in is not None:
        return number(job.old.counter_length_in, "in of old countertop")
    return total([number(run.length_in, "in") for run in job.counter.runs])


def bare_length(job: FilledJob) -> float:
    """How much longer the old counter was than the new one: wall that nothing covers any more [in]; below 0 where it was shorter."""
    return 0.0 if job.old.counter_length_in is None else job.old.counter_length_in - sum(run.length_in for run in job.counter.runs)


def splash_length(job: FilledJob) -> Amount:
    """Length of the old splash [in]: along every wall behind the runs and at their ends, more or less by what the old counter was longer or shorter."""
    along, more_in = total([number(edge.length_in, edge.kind) for edge in wall_edges(job.counter.runs)]), bare_length(job)
    if more_in > 0.0:
        return along + number(more_in, "in where the old countertop was longer")
    return along if more_in == 0.0 else along - number(-more_in, "in where it was shorter")


def board_area(sheet: Sheet) -> Amount | None:
    """Wall board that comes off with a glued or tiled splash [sq ft]; None where none does."""
    job = sheet.job
    if sheet.design.removal.splash_by != "us" or job.old.splash == "loose" or not job.old.splash_height_in:
        return None
    return splash_area(job)


def splash_area(job: FilledJob) -> Amount:
    """Area of the old splash [sq ft]."""
    return splash_length(job) * number(job.old.splash_height_in, "in high") / number(144, "sq in a sq ft")


def old_counter_area(job: FilledJob) -> Amount:
    """Area of the old counter [sq ft], its sink opening not deducted."""
    deep_in = job.old.counter_depth_in
    if deep_in is not None or job.old.counter_length_in is not None:
        return _runs_length(job) * number(deep_in or job.counter.run_of_sink.depth_in, "in deep") / number(144, "sq in a sq ft")
    return total([number(run.length_in, "in") * number(run.depth_in, "in") for run in job.counter.runs]) / number(144, "sq in a sq ft")


def old_counter_density(sheet: Sheet) -> Amount:
    """Density of the old counter [lb/cu ft]."""
    return number(sheet.lists.removed_density(sheet.job.old.counter_material), "lb a cubic foot")
