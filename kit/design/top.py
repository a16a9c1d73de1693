"""The counter's parts: pieces, seams, cut-out, strips, edge, splash and what the fabricator bills."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Never

from kit.design.edges import Edge, corner_joints, end_edges, front_edges, wall_edges
from kit.design.fastening import FastenerRow, design_fasteners
from kit.design.place_counter import Opening
from kit.design.place_run import dishwasher_places
from kit.design.seams import place_seams
from kit.design.wood_movement import Movement, equilibrium_moisture, interior_moisture, top_movement, wall_gap
from kit.job import FilledJob
from kit.job.counter import Run
from kit.lists.goods_rows import CounterKind
from kit.records import Piece
from kit.sources import value
from kit.spans import lies_inside
from kit.units import count_parts, next_mark

__all__ = ["CutOut", "OldHole", "Seam", "Top", "design_top"]


@dataclass(frozen=True, slots=True)
class CutOut:
    """The opening for the sink in its run [in]; an apron leaves it open to the front (`front_strip_in` is 0 then)."""

    width_in: float
    front_to_back_in: float
    left_in: float
    front_strip_in: float
    rear_strip_in: float
    open_front: bool

    @property
    def edge_in(self) -> float:
        """Length of the cut edge [in]."""
        across = self.width_in if self.open_front else 2.0 * self.width_in
        return across + 2.0 * self.front_to_back_in


@dataclass(frozen=True, slots=True)
class OldHole:
    """The hole of the old sink in a counter that stays [in]."""

    width_in: float
    front_to_back_in: float


@dataclass(frozen=True, slots=True)
class Seam:
    """One seam: the run it belongs to, its place from the run's left end (None: at a corner or along the run) and its length [in]."""

    run: int
    at_in: float | None
    length_in: float


@dataclass(frozen=True, slots=True)
class Top:
    """All parts of the counter. Areas in square feet, lengths in inches; `billed_sqft` is what a fabricator bills for each of `pieces`.

    `seams_crowded` lie at the sink or over the dishwasher because no other place was found. `strips` cover the raw edges of
    a top that comes without them. `old_hole` is in a counter that stays; `enlarged_in` is the edge to cut where it is too small for the new sink.
    `movement` between the dry and the wet season, `wall_gap_in` and slots are for wood.
    """

    pieces: tuple[Piece, ...]
    splash: tuple[Piece, ...]
    seams: int
    seams_crowded: int
    seam_in: float
    front_edge_in: float
    wall_in: float
    cut_out: CutOut
    area_sqft: float
    billed_sqft: tuple[float, ...]
    weight_lb: float
    seam_list: tuple[Seam, ...]
    bolts: int
    strips: tuple[Piece, ...]
    fasteners: tuple[FastenerRow, ...]
    movement: Movement | None
    wall_gap_in: float
    old_hole: OldHole | None
    enlarged_in: float


def design_top(job: FilledJob, kind: CounterKind, opening: Opening) -> Top:
    """Pieces of every run, seamed where a run is longer than the longest piece or the job asks for joints, and the sink's opening.

    A fabricator bills rectangles: the opening is not deducted, each piece is rounded up and has a least area.
    """
    counter = job.counter
    cut_out = _cut_out(job, opening)
    pieces: list[Piece] = []
    seams: list[Seam] = []
    crowded = 0
    for number, run in enumerate(counter.runs, 1):
        keep_clear, start_in = _keep_clear(job, cut_out) if number == counter.sink_run else (), run.own_span_in[0]
        from_start = [(low - start_in, high - start_in) for low, high in keep_clear]
        places = tuple(start_in + place for place in place_seams(run.own_length_in, kind.longest_piece_in, from_start, run.joints or 0))
        pieces += _pieces(run, number, places, kind.deepest_piece_in)
        seams += _seams(run, number, places, kind.deepest_piece_in)
        crowded += sum(any(lies_inside(place, stretch) for stretch in keep_clear) for place in places)
    seams += [Seam(joint.later, None, joint.across_in) for joint in corner_joints(counter.runs)]
    has_splash = counter.splash == "same" and bool(counter.splash_height_in)
    splash = _in_pieces(wall_edges(counter.runs), kind.longest_piece_in, counter.splash_height_in) if has_splash else []
    area_sqft = sum(piece.length_in * piece.width_in * piece.count for piece in (*pieces, *splash)) / 144.0
    movement = _movement(job, kind)
    fasteners = () if kind.laid_in_place else design_fasteners(job, movement)
    return Top(
        pieces=tuple(pieces),
        splash=tuple(splash),
        seams=len(seams),
        seams_crowded=crowded,
        seam_in=sum(seam.length_in for seam in seams),
        front_edge_in=sum(edge.length_in for edge in _worked_edges(job, opening)),
        wall_in=sum(edge.length_in for edge in wall_edges(counter.runs)),
        cut_out=cut_out,
        area_sqft=area_sqft,
        billed_sqft=tuple(_billed_sqft(piece, kind) for piece in pieces),
        weight_lb=area_sqft * kind.weight_psf,
        seam_list=tuple(seams),
        bolts=sum(_bolts(seam) for seam in seams),
        strips=tuple(_in_pieces(_worked_edges(job, opening), kind.longest_piece_in, 0.0)),
        fasteners=fasteners,
        movement=movement,
        wall_gap_in=_wall_gap_in(job, fasteners) if movement is not None else 0.0,
        old_hole=(old_hole := _old_hole(job)),
        enlarged_in=_enlarged_in(job, cut_out, old_hole),
    )


def _keep_clear(job: FilledJob, cut_out: CutOut) -> tuple[tuple[float, float], ...]:
    """Along the sink's run: its opening with a margin, and each dishwasher."""
    counter, cabinet = job.counter, job.cabinet
    clear_in = value("practice", "counter/seam-clear")
    stretches = [(cut_out.left_in - clear_in, cut_out.left_in + cut_out.width_in + clear_in)]
    left_in = counter.sink_center_in - cabinet.width_in / 2.0
    stretches += [(left_in + low, left_in + high) for low, high in dishwasher_places(cabinet)]
    return tuple(stretches)


def _rows(run: Run[Never], deepest_in: float) -> int:
    """Pieces across the depth of a run."""
    return count_parts(run.depth_in, deepest_in)


def _pieces(run: Run[Never], number: int, places: tuple[float, ...], deepest_in: float) -> list[Piece]:
    rows = _rows(run, deepest_in)
    lengths = [right - left for left, right in pairwise((run.own_span_in[0], *places, run.own_span_in[1]))]
    return [
        Piece(length_in, rows, f"run {number}" if len(lengths) == 1 else f"run {number} part {part}", run.depth_in / rows)
        for part, length_in in enumerate(lengths, 1)
    ]


def _seams(run: Run[Never], number: int, places: tuple[float, ...], deepest_in: float) -> list[Seam]:
    across = [Seam(number, place, run.depth_in) for place in places]
    return [*across, *(Seam(number, None, run.own_length_in) for _ in range(_rows(run, deepest_in) - 1))]


def _worked_edges(job: FilledJob, opening: Opening) -> list[Edge]:
    """Front edges and open ends in sight; where an apron leaves the front open there is none, the opening's price or cut holds its own edge."""
    left_in = job.counter.sink_center_in - job.cabinet.width_in / 2.0
    cut = [opening.x] if opening.open_front else []
    if opening.notch is not None:
        cut.append(opening.notch.x)
    open_x = (left_in + min(x[0] for x in cut), left_in + max(x[1] for x in cut)) if cut else None
    return [*front_edges(job.counter, open_x), *end_edges(job.counter.runs)]


def _in_pieces(edges: Iterable[Edge], longest_in: float, width_in: float) -> list[Piece]:
    return [piece for edge in edges for piece in _in_parts(edge.length_in, longest_in, edge.name, width_in)]


def _in_parts(length_in: float, longest_in: float, name: str, width_in: float) -> list[Piece]:
    parts = count_parts(length_in, longest_in)
    return [Piece(length_in / parts, parts, name, width_in)]


def _bolts(seam: Seam) -> int:
    return max(2, count_parts(seam.length_in, value("practice", "counter/bolt-spacing")))


def _billed_sqft(piece: Piece, kind: CounterKind) -> float:
    exact = piece.length_in * piece.width_in / 144.0
    step = kind.round_up_sqft
    rounded = count_parts(exact, step) * step if step else exact
    return rounded * piece.count


def _cut_out(job: FilledJob, opening: Opening) -> CutOut:
    """The opening as a counter shop measures it: along its run, and the strips before and behind it."""
    counter, run = job.counter, job.counter.run_of_sink
    return CutOut(
        width_in=opening.width_in,
        front_to_back_in=opening.front_to_back_in,
        left_in=opening.x[0] - (job.cabinet.width_in / 2.0 - counter.sink_center_in),
        front_strip_in=run.depth_in - opening.y[1],
        rear_strip_in=opening.y[0] - counter.wall_gap_in,
        open_front=opening.open_front,
    )


def _enlarged_in(job: FilledJob, cut_out: CutOut, hole: OldHole | None) -> float:
    """Edge to cut in a counter that stays [in]: none while the old sink's opening takes the new sink."""
    if job.counter.made_by != "stays":
        return 0.0
    if hole is None:
        return cut_out.edge_in
    opens = cut_out.open_front and job.old.sink_kind != "apron"
    return cut_out.edge_in if opens or cut_out.width_in > hole.width_in or cut_out.front_to_back_in > hole.front_to_back_in else 0.0


def _old_hole(job: FilledJob) -> OldHole | None:
    """The hole that the old sink leaves in a counter that stays, by what a rim covers of it; None without one."""
    if job.counter.made_by != "stays" or job.old.sink_kind == "none":
        return None
    old, cover_in = job.old, value("practice", "counter/rim-cover")
    return OldHole(old.sink_width_in - 2.0 * cover_in, old.sink_depth_in - 2.0 * cover_in)


def _movement(job: FilledJob, kind: CounterKind) -> Movement | None:
    """Movement of a wood top between the seasons."""
    counter = job.counter
    if not kind.moves or counter.species is None:
        return None
    dry, wet = (equilibrium_moisture(value("practice", f"wood/humidity-{season}")) for season in ("dry", "wet"))
    return top_movement(counter.run_of_sink.depth_in, counter.species, dry, wet)


def _wall_gap_in(job: FilledJob, fasteners: Sequence[FastenerRow]) -> float:
    """The gap at the wall that the growth of a wood top from today asks for, up to the tape's next sixteenth [in].

    What lies behind the row of fasteners that stays put grows to the wall; the whole depth where nobody said how a shop's top is held.
    """
    depth_in, wet = job.counter.run_of_sink.depth_in, equilibrium_moisture(value("practice", "wood/humidity-wet"))
    fixed_in = next((row.from_front_in for row in fasteners if not row.slot_in), 0.0)
    gap_in = wall_gap(depth_in, str(job.counter.species), interior_moisture(), wet, depth_in - fixed_in)
    return next_mark(gap_in)
