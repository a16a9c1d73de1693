"""From a slab plan in whole numbers to inches, money and names."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from kit.cutting.exact import money, read_length
from kit.cutting.sheets import Place, SlabLoad
from kit.cutting.slab_layout import Line, Rectangle, part_slab
from kit.cutting.slab_plans import CutSlab, Remnant, Slab, SlabPlan, SlabProof, ThroughCut
from kit.cutting.slab_reading import SlabJob
from kit.records import PlacedPiece

__all__ = ["SlabAnswer", "write_slab_plan"]


@dataclass(frozen=True, slots=True)
class SlabAnswer:
    """Plan and bound in whole numbers, in the unit of `Sheets.costs`."""

    loads: tuple[SlabLoad, ...]
    cost: int
    bound: int
    proof: SlabProof
    timed_out: bool = False


def write_slab_plan(job: SlabJob, answer: SlabAnswer, kerf_in: float, least_remnant_in: float) -> SlabPlan:
    """The answer in inches and money, with names on the parts."""
    queues = [list(reversed(names)) for names in job.wanted]
    cut = []
    for slab, places in sorted(answer.loads, key=lambda load: (-job.slabs[load[0]].length_in * job.slabs[load[0]].width_in, load)):
        named = [(queues[place[0]].pop(), place) for place in sorted(places, key=lambda place: (place[2], place[1]))]
        cut.append(write_slab(SlabInches(job.grid, job.kerf, job.slabs[slab]), named, least_remnant_in))
    scale = sum(map(len, job.wanted)) + 1
    cost, bound = money(answer.cost // scale, job.places), money(answer.bound // scale, job.places)
    proof = answer.proof if bound == cost else "open"
    return SlabPlan(tuple(cut), cost, bound, bound == cost, proof, answer.bound >= answer.cost, kerf_in)


@dataclass(frozen=True, slots=True)
class SlabInches:
    """Grid units of one slab's usable rectangle in inches from the slab's corner."""

    grid: int
    kerf: Fraction
    slab: Slab

    def at(self, units: int) -> float:
        """Where a coordinate is [in]."""
        return float(Fraction(units, self.grid) + read_length(self.slab.margin_in))

    def size(self, units: int) -> float:
        """A size without its blade [in]."""
        return float(Fraction(units, self.grid) - self.kerf)

    @property
    def region(self) -> Rectangle:
        """The usable rectangle, blade included [grid units]."""
        rim = 2 * read_length(self.slab.margin_in)
        length, width = (int((read_length(size) - rim + self.kerf) * self.grid) for size in (self.slab.length_in, self.slab.width_in))
        return 0, 0, length, width


def write_slab(inches: SlabInches, named: Sequence[tuple[str, Place]], least_remnant_in: float) -> CutSlab:
    """One slab with its parts, cuts and remnants."""
    parts = [
        PlacedPiece(name, inches.at(along), inches.size(length), inches.at(across), inches.size(width)) for name, (_, along, across, length, width) in named
    ]
    lines, left = part_slab(inches.region, [place for _, place in named])
    remnants = [
        Remnant(inches.at(along), inches.at(across), inches.size(length), inches.size(width))
        for along, across, length, width in sorted(left, key=lambda rectangle: (-rectangle[2] * rectangle[3], rectangle))
    ]
    kept = [remnant for remnant in remnants if min(remnant.length_in, remnant.width_in) > 0 and min(remnant.length_in, remnant.width_in) >= least_remnant_in]
    return CutSlab(inches.slab, tuple(parts), tuple(write_line(line, inches) for line in lines), tuple(kept))


def write_line(line: Line, inches: SlabInches) -> ThroughCut:
    """One cut from its rectangle's one side to the other."""
    near = inches.at(line.at) - float(inches.kerf)
    side = 1 - line.axis
    start = inches.at(line.region[side])
    return ThroughCut("across" if line.axis == 0 else "along", near, start, start + inches.size(line.region[2 + side]))
