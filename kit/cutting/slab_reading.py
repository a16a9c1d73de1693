"""From parts and slabs in inches to the whole numbers of a slab job."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import isfinite, lcm

from kit.cutting.exact import count_places, read_length, whole_price
from kit.cutting.reading import check_measures, check_pieces, check_stock
from kit.cutting.sheets import Sheets
from kit.cutting.slab_plans import Slab
from kit.errors import CutError, Fault
from kit.records import Piece

__all__ = ["SlabJob", "read_slab_job"]


@dataclass(frozen=True, slots=True)
class SlabJob:
    """A slab job in whole numbers, and the way back.

    Parameters
    ----------
    sheets
        The job in whole numbers; None without parts.
    wanted
        For each kind of part of `sheets`: the names of its parts.
    slabs
        For each kind of slab of `sheets`: the slab meant.
    places
        Decimals of the prices.
    grid
        Grid units in an inch.
    kerf
        Width of the cut [in].
    """

    sheets: Sheets | None
    wanted: tuple[tuple[str, ...], ...]
    slabs: tuple[Slab, ...]
    places: int
    grid: int
    kerf: Fraction


def read_slab_job(parts: Sequence[Piece], slabs: Sequence[Slab], kerf_in: float) -> SlabJob:
    """Check a job and put it in whole numbers; the parameters are those of `plan_slabs`.

    Raises
    ------
    CutError
        With every fault found.
    """
    faults = [*check_measures(kerf_in=kerf_in), *check_pieces(parts), *check_widths(parts), *check_stock(slabs), *check_slabs(slabs)]
    if faults:
        raise CutError(faults)
    on_sale = [slab for slab in slabs if slab.available != 0]
    wanted = [part for part in parts if part.count]
    faults = [too_large(part, on_sale) for part in wanted if not any(fits(part, slab) for slab in on_sale)]
    if faults:
        raise CutError(faults)
    kerf = read_length(kerf_in)
    return build_slab_job(wanted, on_sale, kerf) if wanted else SlabJob(None, (), (), 2, 1, kerf)


def build_slab_job(wanted: Sequence[Piece], on_sale: Sequence[Slab], kerf: Fraction) -> SlabJob:
    """The checked job on the grid that holds all measures."""
    measures = [*(size for part in wanted for size in (part.length_in, part.width_in)), *(size for slab in on_sale for size in (slab.length_in, slab.width_in))]
    grid = lcm(kerf.denominator, *(read_length(size).denominator for size in measures), *(read_length(slab.margin_in).denominator for slab in on_sale))
    groups: dict[tuple[tuple[int, int], ...], list[str]] = {}
    for part in wanted:
        length, width = (int((read_length(size) + kerf) * grid) for size in (part.length_in, part.width_in))
        ways = {(length, width), (width, length)} if part.grain == "free" else {(length, width)}
        groups.setdefault(tuple(sorted(ways, reverse=True)), []).extend([part.name] * part.count)
    kinds = sorted(groups, key=lambda ways: (-ways[0][0] * ways[0][1], ways))
    count = sum(map(len, groups.values()))
    places = count_places(slab.price for slab in on_sale)
    kept = worth_keeping(on_sale)
    prices = [whole_price(slab.price, places) for slab in kept]
    rooms = [tuple(int((read_length(size) - 2 * read_length(slab.margin_in) + kerf) * grid) for size in (slab.length_in, slab.width_in)) for slab in kept]
    sheets = Sheets(
        tuple(kinds),
        tuple(len(groups[kind]) for kind in kinds),
        tuple((length, width) for length, width in rooms),
        tuple(price * (count + 1) + (price > 0) for price in prices),
        tuple(count if slab.available is None else min(slab.available, count) for slab in kept),
    )
    return SlabJob(sheets, tuple(tuple(groups[kind]) for kind in kinds), tuple(kept), places, grid, kerf)


def usable(slab: Slab) -> tuple[Fraction, Fraction]:
    """Length and width inside the margin [in]."""
    rim = 2 * read_length(slab.margin_in)
    return read_length(slab.length_in) - rim, read_length(slab.width_in) - rim


def worth_keeping(on_sale: Sequence[Slab]) -> list[Slab]:
    """Slabs that are not outdone by another one without end, as large and no dearer; smallest first."""
    order = sorted(on_sale, key=lambda slab: (*usable(slab), slab.price))
    kept = []
    for place, slab in enumerate(order):
        length, width = usable(slab)
        for other_place, other in enumerate(order):
            other_length, other_width = usable(other)
            covers = other.available is None and other_length >= length and other_width >= width and other.price <= slab.price
            alike = (other_length, other_width, other.price, other.available) == (length, width, slab.price, slab.available)
            if covers and other_place != place and (not alike or other_place < place):
                break
        else:
            kept.append(slab)
    return kept


def check_widths(parts: Sequence[Piece]) -> Iterator[Fault]:
    """Faults of the parts' widths."""
    for part in parts:
        if not isfinite(part.width_in) or part.width_in <= 0:
            yield Fault(f"part {part.name}", f"{part.width_in:.10g} in is no width. Give more than 0 inches.")


def check_slabs(slabs: Sequence[Slab]) -> Iterator[Fault]:
    """Faults of the slabs' widths and margins."""
    for slab in slabs:
        if not isfinite(slab.width_in) or slab.width_in <= 0:
            yield Fault(f"slab {slab.name}", f"{slab.width_in:.10g} in is no width. Give more than 0 inches.")
        elif not isfinite(slab.margin_in) or slab.margin_in < 0 or 2 * slab.margin_in >= min(slab.length_in, slab.width_in):
            yield Fault(f"slab {slab.name}", f"{slab.margin_in:.10g} in is no margin. Give 0 or more inches, less than half the slab.")


def fits(part: Piece, slab: Slab) -> bool:
    """Whether a part fits a slab by itself."""
    length, width = usable(slab)
    along, across = read_length(part.length_in), read_length(part.width_in)
    return (along <= length and across <= width) or (part.grain == "free" and across <= length and along <= width)


def too_large(part: Piece, on_sale: Sequence[Slab]) -> Fault:
    """The fault of a part that fits no slab."""
    if not on_sale:
        return Fault(f"part {part.name}", "there is no slab to cut it from.")
    sizes = ", ".join(f"{float(length):.10g} x {float(width):.10g}" for length, width in sorted({usable(slab) for slab in on_sale}))
    grain = "" if part.grain == "free" else ", grain along the length"
    return Fault(f"part {part.name}", f"{part.length_in:.10g} x {part.width_in:.10g} in{grain} fits no slab; usable are {sizes} in.")
