"""Where is each hole for a faucet and its like: in the counter, or in the sink's own faucet deck?"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from kit.design.place_sink import SinkPlace
from kit.job import FilledJob
from kit.lists import Lists
from kit.sources import value
from kit.spans import Span, about

__all__ = ["DeckHole", "count_ledge_holes", "locate_holes", "rear_flange_in"]


@dataclass(frozen=True, slots=True)
class DeckHole:
    """A round hole: what it is for, its center in the axes of the model, its diameter [in]; in the counter, or with `in_sink` in the sink's faucet deck.

    `to_drill`: in a counter that stays, and not there yet.
    """

    use: str
    x_in: float
    y_in: float
    diameter_in: float
    in_sink: bool = False
    to_drill: bool = False

    @property
    def room(self) -> tuple[Span, Span]:
        """The square around it, left to right and from the wall [in]."""
        return about(self.x_in, self.diameter_in), about(self.y_in, self.diameter_in)


def count_ledge_holes(job: FilledJob, lists: Lists) -> int:
    """Holes in the sink's own faucet deck that can be used: as the job says, else as its row of the list; a faucet deck under the counter is covered by it."""
    if job.sink.mount == "under":
        return 0
    if job.sink.ledge_holes is not None:
        return job.sink.ledge_holes
    kind = lists.sinks.get(job.sink.item)
    return 0 if kind is None else kind.ledge_holes


def count_open_holes(job: FilledJob, lists: Lists, holes: Iterable[DeckHole]) -> int:
    """Holes in the sink's faucet deck that the faucet leaves open: a plate or covers close them, from whoever fits the faucet."""
    return count_ledge_holes(job, lists) - sum(hole.in_sink for hole in holes)


def locate_holes(job: FilledJob, at: SinkPlace, ledge_holes: int) -> tuple[DeckHole, ...]:
    """Those in the sink's faucet deck that the faucet takes, then those of the counter; where that takes it, the counter has no hole for it."""
    middle_in, in_ledge = job.cabinet.width_in / 2.0, tuple(_in_the_ledge(job, at, min(ledge_holes, job.plumbing.faucet_holes)))
    stays = job.counter.made_by == "stays"
    listed = (hole for hole in job.counter.holes if not in_ledge or hole.use != "faucet")
    return *in_ledge, *(
        DeckHole(hole.use, middle_in + hole.offset_in, hole.setback_in, hole.diameter_in, to_drill=hole.drilled == "to-drill" and stays) for hole in listed
    )


def _in_the_ledge(job: FilledJob, at: SinkPlace, taken: int) -> Iterator[DeckHole]:
    """Side by side about the sink's center line, midway on what of the faucet deck lies over the opening."""
    apart_in, wide_in = value("practice", "faucet/holes-apart"), value("practice", "faucet/ledge-hole")
    y_in, left_in = (at.rim_y[0] + rear_flange_in(job, at) + at.outside_y[0]) / 2.0, job.cabinet.width_in / 2.0 - (taken - 1) * apart_in / 2.0
    return (DeckHole("faucet", left_in + number * apart_in, y_in, wide_in, in_sink=True) for number in range(taken))


def rear_flange_in(job: FilledJob, at: SinkPlace) -> float:
    """How much of the faucet deck lies on the counter behind the opening, where the faucet stands in it [in].

    As the maker's template leaves it, else as much as of the rim at each side.
    """
    if job.sink.template_depth_in is not None and not job.sink.is_apron:
        return (at.rim_y[1] - at.rim_y[0] - job.sink.template_depth_in) / 2.0
    return max(at.outside_x[0] - at.rim_x[0] - value("practice", "counter/body-clearance"), 0.0)
