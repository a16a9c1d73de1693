"""What large pieces must get into the house, and how large are they as they are carried?

A piece of countertop is carried on edge: it takes its thickness of the way's width. The crate of the sink stays upright and goes with its narrower side ahead.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from kit.design.top import Top
from kit.job import FilledJob
from kit.sources import value

__all__ = ["CarriedPiece", "list_carried"]


@dataclass(frozen=True, slots=True)
class CarriedPiece:
    """A piece with the part of the model it belongs to, its name, its length and what it takes of the way's width [in]."""

    part: str
    name: str
    long_in: float
    wide_in: float


def list_carried(job: FilledJob, top: Top) -> Iterator[CarriedPiece]:
    """The longest piece of a countertop that is renewed, and the crate of a sink that is."""
    if job.scope.counter.renewed and top.pieces:
        piece = max(top.pieces, key=lambda piece: piece.length_in)
        yield CarriedPiece("counter", piece.name, piece.length_in, job.counter.thickness_in)
    if job.scope.sink.renewed:
        more_in = 2.0 * value("practice", "access/crate")
        wide_in, long_in = sorted((job.sink.body_width_in + more_in, job.sink.depth_in + more_in))
        yield CarriedPiece("sink", "sink in its crate", long_in, wide_in)
