"""The counter's parts: pieces, seams, cut-out, strips, edge, splash and what the fabricator bills."""

import math
from dataclasses import dataclass

from kit.job import Job
from kit.job.counter import Run
from kit.lists import CounterKind
from kit.records import Piece

__all__ = ["CutOut", "Top", "design_top"]


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
class Top:
    """All parts of the counter. Areas in square feet, lengths in inches; `billed_sqft` is what a fabricator bills for each of `pieces`."""

    pieces: tuple[Piece, ...]
    splash: tuple[Piece, ...]
    seams: int
    seam_in: float
    front_edge_in: float
    wall_in: float
    cut_out: CutOut | None
    area_sqft: float
    billed_sqft: tuple[float, ...]
    weight_lb: float


def design_top(job: Job, kind: CounterKind) -> Top:
    """Pieces of every run, seamed where a run is longer than the longest piece, and the sink's opening.

    A fabricator bills rectangles: the opening is not deducted, each piece is rounded up and has a least area.
    """
    counter = job.counter
    pieces = [piece for number, run in enumerate(counter.runs, 1) for piece in _pieces(run, number, kind.longest_piece)]
    splash = _splash(job) if counter.splash == "same" else []
    inner_seams = len(pieces) - len(counter.runs)
    corner_seams = sum(run.left_end == "corner" for run in counter.runs) if len(counter.runs) > 1 else 0
    depths = [run.depth_in for run in counter.runs]
    area_sqft = sum(piece.length_in * piece.width_in * piece.count for piece in (*pieces, *splash)) / 144.0
    return Top(
        pieces=tuple(pieces),
        splash=tuple(splash),
        seams=inner_seams + corner_seams,
        seam_in=(inner_seams + corner_seams) * max(depths),
        front_edge_in=sum(run.length_in + sum(run.depth_in for end in (run.left_end, run.right_end) if end == "open") for run in counter.runs),
        wall_in=sum(run.length_in + sum(run.depth_in for end in (run.left_end, run.right_end) if end == "wall") for run in counter.runs),
        cut_out=_cut_out(job),
        area_sqft=area_sqft,
        billed_sqft=tuple(_billed_sqft(piece, kind) for piece in pieces),
        weight_lb=area_sqft * kind.weight_psf,
    )


def _pieces(run: Run, number: int, longest_in: float) -> list[Piece]:
    count = math.ceil(run.length_in / longest_in)
    if count == 1:
        return [Piece(run.length_in, 1, f"run {number}", run.depth_in)]
    length_in = run.length_in / count
    return [Piece(length_in, 1, f"run {number} part {part}", run.depth_in) for part in range(1, count + 1)]


def _splash(job: Job) -> list[Piece]:
    height_in = job.counter.splash_height_in
    pieces = []
    for number, run in enumerate(job.counter.runs, 1):
        pieces.append(Piece(run.length_in, 1, f"splash {number}", height_in))
        pieces.extend(
            Piece(run.depth_in, 1, f"side splash {number} {side}", height_in)
            for side, end in (("left", run.left_end), ("right", run.right_end))
            if end == "wall"
        )
    return pieces


def _billed_sqft(piece: Piece, kind: CounterKind) -> float:
    exact = piece.length_in * piece.width_in / 144.0
    step = kind.round_up or 0.0
    rounded = math.ceil(round(exact / step, 6)) * step if step else exact
    return max(rounded, kind.least_area or 0.0) * piece.count


def _cut_out(job: Job) -> CutOut | None:
    if job.counter.made_by == "stays" and job.old.sink_kind == "none":
        return None
    sink, counter, run = job.sink, job.counter, job.counter.run_of_sink
    reveal_in = counter.reveal_in if sink.mount == "under" else 0.0
    if sink.is_apron:
        width_in = sink.bowl_width_in + 2.0 * reveal_in if sink.mount == "under" else sink.body_width_in
        back_in = counter.overhang_in + sink.depth_in - sink.apron_projection_in
        return CutOut(width_in, back_in, counter.sink_center_in - width_in / 2.0, 0.0, run.depth_in - back_in, open_front=True)
    inset_in = {"under": reveal_in, "flush": 0.0, "top": -sink.rim_width_in / 2.0}[sink.mount]
    outside_in = sink.bowl_width_in if sink.mount == "under" else sink.body_width_in
    deep_in = max(bowl.front_to_back_in for bowl in sink.bowls) if sink.mount == "under" else sink.depth_in
    width_in, back_in = outside_in + 2.0 * inset_in, deep_in + 2.0 * inset_in
    front_in = (run.depth_in - back_in) / 2.0
    return CutOut(width_in, back_in, counter.sink_center_in - width_in / 2.0, front_in, run.depth_in - back_in - front_in, open_front=False)
