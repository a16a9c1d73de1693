"""An independent check of finished slab plans, in exact fractions; shares no code with the planner."""

from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction

from kit.cutting.slab_plans import CutSlab, Slab, SlabPlan, ThroughCut
from kit.cutting.verify import meant
from kit.errors import CutError, Fault
from kit.records import Piece

__all__ = ["verify_slabs"]

CLOSE_IN = Fraction(1, 10**6)
"""Places are floats, sums of several measures; they must be right to a millionth of an inch."""

Box = tuple[Fraction, Fraction, Fraction, Fraction]
"""Near and far end along the slab, then near and far end across it [in]."""


def verify_slabs(plan: SlabPlan, parts: Sequence[Piece], slabs: Sequence[Slab], kerf_in: float) -> None:
    """Check that a slab plan can be cut as it says and costs what it says.

    Parameters
    ----------
    plan
        The plan.
    parts, slabs, kerf_in
        What it was asked for [in]; drop-outs that may be used stand among the slabs.

    Raises
    ------
    CutError
        With every fault: a part missing, turned against its grain, outside the usable rectangle or in the blade's way; a
        cut that is not through or leaves parts together; a remnant that is not there; more slabs than there are; a
        wrong price; a bound above the cost.
    """
    blade = meant(kerf_in)
    faults = [*count_faults(plan, parts), *supply_faults(plan, slabs), *cost_faults(plan)]
    for number, cut in enumerate(plan.slabs, start=1):
        faults += slab_faults(f"slab {number}", cut, blade)
    if faults:
        raise CutError(faults)


def count_faults(plan: SlabPlan, parts: Sequence[Piece]) -> Iterator[Fault]:
    """Parts wanted against parts laid; a part whose grain is fixed lies with its length along the slab."""
    left: Counter[tuple[str, Fraction, Fraction, str]] = Counter(
        (part.name, near(part.length_in), near(part.width_in), part.grain) for part in parts for _ in range(part.count)
    )
    for cut in plan.slabs:
        for part in cut.parts:
            along, across = near(part.length_in), near(part.width_in)
            ways = [(part.name, along, across, "length"), (part.name, along, across, "free"), (part.name, across, along, "free")]
            found = next((way for way in ways if left[way] > 0), None)
            if found is None:
                yield Fault(f"part {part.name}", f"{part.length_in:.10g} x {part.width_in:.10g} in as it lies is not wanted, or not once more.")
            else:
                left[found] -= 1
    for (name, length, width, _), count in left.items():
        if count > 0:
            yield Fault(f"part {name}", f"{float(length):.10g} x {float(width):.10g} in: {count} missing.")


def near(size_in: float) -> Fraction:
    """A size rounded for comparison [in]."""
    return round(meant(size_in), 6)


def supply_faults(plan: SlabPlan, slabs: Sequence[Slab]) -> Iterator[Fault]:
    """Slabs cut against slabs there are."""
    for slab, used in Counter(cut.slab for cut in plan.slabs).items():
        offered = [other.available for other in slabs if other == slab]
        if not offered:
            yield Fault(f"slab {slab.name}", "is not on offer.")
        elif None not in offered and used > sum(number or 0 for number in offered):
            yield Fault(f"slab {slab.name}", f"{used} are cut, there are {sum(number or 0 for number in offered)}.")


def cost_faults(plan: SlabPlan) -> Iterator[Fault]:
    """Cost and bound."""
    cost = sum((Fraction(cut.slab.price) for cut in plan.slabs), Fraction(0))
    if Fraction(plan.cost) != cost:
        yield Fault("cost", f"says {plan.cost}, the slabs cost {float(cost):.2f}.")
    if plan.bound > plan.cost or plan.proven != (plan.bound == plan.cost):
        yield Fault("bound", f"says {plan.bound}, {'proven' if plan.proven else 'not proven'}, at a cost of {plan.cost}.")


def slab_faults(place: str, cut: CutSlab, blade: Fraction) -> Iterator[Fault]:
    """Follow the cuts of one slab: what comes out must be the parts, the remnants, and waste."""
    rim = meant(cut.slab.margin_in)
    whole: Box = (rim, meant(cut.slab.length_in) - rim, rim, meant(cut.slab.width_in) - rim)
    boxes = {f"{number} {part.name}": box_of(part.at_in, part.across_in, part.length_in, part.width_in) for number, part in enumerate(cut.parts)}
    if not boxes:
        yield Fault(place, "yields no part.")
    for name, box in boxes.items():
        if not within(box, whole):
            yield Fault(place, f"part {name} lies outside the usable rectangle.")
    pieces = [whole]
    for number, line in enumerate(cut.cuts, start=1):
        split = saw(pieces, line, blade)
        if split is None:
            yield Fault(place, f"cut {number} is not through.")
        else:
            pieces = split
    for name, box in boxes.items():
        if not any(same(box, piece) for piece in pieces):
            yield Fault(place, f"part {name} does not come out of the cuts.")
    for first, second in ((first, second) for first in boxes for second in boxes if first < second):
        if overlap(boxes[first], boxes[second], blade):
            yield Fault(place, f"parts {first} and {second} overlap or leave no room for the blade.")
    for remnant in cut.remnants:
        box = box_of(remnant.at_in, remnant.across_in, remnant.length_in, remnant.width_in)
        if not any(same(box, piece) for piece in pieces) or any(same(box, other) for other in boxes.values()):
            yield Fault(place, f"the remnant of {remnant.length_in:.10g} x {remnant.width_in:.10g} in does not come out of the cuts.")


def box_of(at_in: float, across_in: float, length_in: float, width_in: float) -> Box:
    """A placed rectangle as its four ends [in]."""
    return meant(at_in), meant(at_in) + meant(length_in), meant(across_in), meant(across_in) + meant(width_in)


def saw(pieces: list[Box], line: ThroughCut, blade: Fraction) -> list[Box] | None:
    """The rectangles after one cut; None when it does not go through exactly one of them from side to side."""
    axis = 0 if line.runs == "across" else 2
    side = 2 - axis
    at, start, end = meant(line.at_in), meant(line.start_in), meant(line.end_in)
    for number, piece in enumerate(pieces):
        through = abs(piece[side] - start) <= CLOSE_IN and abs(piece[side + 1] - end) <= CLOSE_IN
        if through and piece[axis] - CLOSE_IN <= at <= piece[axis + 1] + CLOSE_IN:
            near_part, far_part = list(piece), list(piece)
            near_part[axis + 1] = at
            far_part[axis] = min(at + blade, piece[axis + 1])
            kept = [(part[0], part[1], part[2], part[3]) for part in (near_part, far_part)]
            return [*pieces[:number], *kept, *pieces[number + 1 :]]
    return None


def within(box: Box, whole: Box) -> bool:
    """Whether a rectangle lies in another."""
    return all(whole[axis] - CLOSE_IN <= box[axis] and box[axis + 1] <= whole[axis + 1] + CLOSE_IN for axis in (0, 2))


def same(box: Box, other: Box) -> bool:
    """Whether two rectangles are the same."""
    return all(abs(one - two) <= CLOSE_IN for one, two in zip(box, other, strict=True))


def overlap(box: Box, other: Box, blade: Fraction) -> bool:
    """Whether two parts overlap or lie closer than the blade is wide, in both directions."""
    return all(box[axis] < other[axis + 1] + blade - CLOSE_IN and other[axis] < box[axis + 1] + blade - CLOSE_IN for axis in (0, 2))
