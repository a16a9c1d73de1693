"""The cabinet made sound and level before anything stands on it: floor renewed, swollen sides stiffened, supports shimmed, sub-top laid."""

from collections import Counter

from kit.design.named_goods import counter_kind
from kit.design.packer_strips import layer_name, strip_layers, strips_in
from kit.design.place_boxes import LEAN_PACKER
from kit.design.place_counter import BOX_PACKER, sub_top_deep
from kit.design.place_level import RUN_PACKER
from kit.design.place_repairs import SIDE_DOUBLER
from kit.records import Line, Piece
from kit.solids import Stage
from kit.sources import value
from kit.steps import Step
from kit.takeoff.sheet import ALLOWANCE, Sheet
from kit.takeoff.working import Amount, counted, number, total
from kit.units import count_parts, exceeds, without_noise

__all__ = ["count_barrier", "count_cabinet_repair", "count_shims", "count_sub_top"]


def count_cabinet_repair(sheet: Sheet) -> list[Line]:
    """A new floor in the place of a wet one; each swollen side doubled: how far shows when the counter is off."""
    cabinet, model, step, lines = sheet.job.cabinet, sheet.design.placed.model, Step.REPAIR_CABINET, []
    if cabinet.wet_floor:
        floor = model["cabinet floor"]
        area = number(floor.length_in, "in between sides") * number(floor.size_in("y"), "in from back to face") / number(144, "sq in a sq ft")
        piece = Piece(floor.length_in, 1, "cabinet floor", floor.size_in("y"), "free")
        lines.append(sheet.buy(step, floor.item, "cabinet floor", area, pieces=(piece,), parts=("cabinet",)))
        lines.append(sheet.do(step, "cabinet-floor", "replace", area))
    if sides := cabinet.sides_to_stiffen:
        lines += _doublers(sheet)
        lines.append(sheet.do(step, "cabinet-side", "stiffen", counted(len(sides), "side", "sides"), source=ALLOWANCE))
    return lines


def _doublers(sheet: Sheet) -> list[Line]:
    """A panel for each swollen side, as large as it stands there."""
    bodies = [body for body in sheet.design.placed.model if body.name.startswith(SIDE_DOUBLER)]
    if not bodies:
        return []
    areas = [number(body.size_in("y"), "in deep") * number(body.length_in, "in high") for body in bodies]
    pieces = tuple(Piece(body.length_in, 1, body.name, body.size_in("y"), "free") for body in bodies)
    area = total(areas) / number(144, "sq in a sq ft")
    return [sheet.buy(Step.REPAIR_CABINET, bodies[0].item, "swollen side", area, source=ALLOWANCE, pieces=pieces, parts=("cabinet",))]


def count_shims(sheet: Sheet) -> list[Line]:
    """Pairs of shims at each support that is low, packers where pairs are too little, screws that hold shimmed boxes again.

    Nothing moves under a counter that stays.
    """
    if sheet.design.removal.counter_by != "us":
        return []
    shims, step = sheet.design.shims, Step.LEVEL
    low = [support for support in shims.supports if support.pairs]
    lines = [sheet.do(step, "level-support", "check and shim", number(len(shims.supports), f"supports at the {shims.where}"))]
    pairs = [number(support.pairs, "pairs") for support in low] + _pairs_on_packers(sheet)
    if pairs:
        lines.append(sheet.buy(step, "shim", "pairs", total(pairs) * number(2, "shims in a pair"), source="common-practice", parts=("shims",)))
    if low and shims.where == "floor":
        screws = counted(len(low), "shimmed support", "shimmed supports") * number(value("practice", "level/refasten-screws"), "screws")
        lines.append(sheet.buy(step, "screw-cabinet", "boxes fastened again", screws, source="common-practice"))
    return [*lines, *_packers(sheet)]


def _pairs_on_packers(sheet: Sheet) -> list[Amount]:
    """Pairs in front and at the rear on each packer of a base side whose last layer would be too thin to rip."""
    thick = [body.size_in("z") for body in sheet.design.placed.model if body.name.startswith(BOX_PACKER)]
    sides = sum(exceeds(thick_in, strips_in(thick_in)) for thick_in in thick)
    return [counted(sides, "side", "sides") * number(2, "pairs on its packer")] if sides else []


def _packers(sheet: Sheet) -> list[Line]:
    """As long as they lie: on the sides of a base that stays fixed and is low or leans, and at other supports where a pair of shims is too little."""
    bodies = [body for body in sheet.design.placed.model.of_part("shims", Stage.BUILT) if body.name.startswith((BOX_PACKER, LEAN_PACKER, RUN_PACKER))]
    if not bodies:
        return []
    layers = Counter((without_noise(body.size_in("y")), layer_name(layer_in)) for body in bodies for layer_in in strip_layers(body.size_in("z")))
    lengths = Counter(length_in for length_in, _ in layers.elements())
    amount = total([number(count, "packers") * number(length_in, "in") for length_in, count in sorted(lengths.items())]) / number(12, "in a foot")
    pieces = tuple(Piece(length_in, count, f"packer{name}") for (length_in, name), count in sorted(layers.items()))
    return [sheet.buy(Step.LEVEL, "packer-strip", "packers", amount, pieces=pieces, parts=("shims",))]


def count_sub_top(sheet: Sheet) -> list[Line]:
    """A new sub-top on the leveled boxes: plywood over each run, in as many layers as its thickness asks, screwed along front and rear.

    Its strips are as deep as they lie (common practice, no source).
    """
    counter, step = sheet.job.counter, Step.LEVEL
    if counter.sub_top != "new" or sheet.design.removal.counter_by != "us":
        return []
    layers = count_parts(counter.sub_top_thickness_in, value("practice", "frame/platform-panel"))
    rear_in, front_in = sub_top_deep(sheet.job)
    deep_in = front_in - rear_in
    parts = [count_parts(run.length_in, value("practice", "sub-top/longest")) for run in counter.runs]
    pieces = tuple(
        Piece(run.length_in / count, layers * count, f"sub-top {place}", deep_in, "free")
        for place, (run, count) in enumerate(zip(counter.runs, parts, strict=True), 1)
    )
    length = total([number(run.length_in, "in of run") for run in counter.runs])
    area = length * number(deep_in, "in deep, a saw cut short") * counted(layers, "layer", "layers") / number(144, "sq in a sq ft")
    screws = number(2, "rows") * length / number(value("practice", "sub-top/screw-spacing"), "in a screw") * counted(layers, "layer", "layers")
    return [
        sheet.buy(step, "plywood-3-4", "sub-top", area, source="common-practice", pieces=pieces, parts=("counter",)),
        sheet.buy(step, "screw-box", "sub-top", screws, source="common-practice"),
        sheet.do(step, "sub-top-foot", "cut and screw down", length / number(12, "in a foot") * counted(layers, "layer", "layers")),
    ]


def count_barrier(sheet: Sheet) -> list[Line]:
    """Foil over a dishwasher under a new top that moves with moisture: steam from its door swells the underside of wood."""
    job, step = sheet.job, Step.LEVEL
    if not (job.plumbing.dishwasher and counter_kind(job, sheet.lists).moves and sheet.design.removal.counter_by == "us"):
        return []
    area = number(value("practice", "counter/dishwasher"), "in wide") * number(job.cabinet.depth_in, "in deep") / number(144, "sq in a sq ft")
    return [
        sheet.buy(step, "vapor-barrier", "above the dishwasher", area, source="common-practice", parts=("counter",)),
        sheet.do(step, "lay-barrier", "above the dishwasher", number(1, "barrier"), source="common-practice"),
    ]
