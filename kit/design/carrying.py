"""What carries the sink: cleats under its rim, a platform under its bowl, the counter, clips, rails or a cradle?"""

from dataclasses import dataclass
from typing import Literal

from kit.design.frame_load import Load
from kit.design.levels import Levels
from kit.design.place_counter import Opening
from kit.design.place_sink import SinkPlace
from kit.job import FilledJob
from kit.sources import value
from kit.units import exceeds

__all__ = ["Carrying", "choose_carrying"]

Way = Literal["cleats", "platform", "counter", "clips", "rails", "cradle"]


@dataclass(frozen=True, slots=True)
class Carrying:
    """The way the sink is carried; with `touches` the counter carries it and a platform is brought up to touch below it.

    `hung_lb` is the sink, full, with its disposer; `most_lb` what may hang without a frame by the row `most` of the table of practice ("" and 0
    where a frame is asked for anyway). `above_in` is how far the underside of a rim that cleats should carry stands above the box: they can't reach it [in].
    """

    way: Way
    touches: bool = False
    hung_lb: float = 0.0
    most: str = ""
    above_in: float = 0.0

    @property
    def most_lb(self) -> float:
        """What may hang without a frame [lb]."""
        return value("practice", self.most) if self.most else 0.0

    @property
    def on_frame(self) -> bool:
        """Whether members on posts carry the sink or touch it from below."""
        return self.touches or self.way in {"cleats", "platform"}


def choose_carrying(job: FilledJob, levels: Levels, load: Load, at: SinkPlace, opening: Opening) -> Carrying:
    """The way by mount and style, as the job says; where it leaves it to the weight, heavy ones get a frame.

    Notes
    -----
    A rim whose underside lies above the box can't be carried by cleats on the box's sides: the platform is placed then. All common
    practice, no source; the maker's sheet goes first.
    """
    sink, hung_lb = job.sink, load.hung_lb
    if sink.mount == "top" or (sink.mount == "flush" and not sink.is_apron):
        most, most_lb = "sink/counter-carries", value("practice", "sink/counter-carries")
        wide = opening.width_in > value("practice", "sink/counter-span") and hung_lb > most_lb / 2.0
        by_frame = sink.held_by == "frame" or (sink.is_apron and sink.carried_at == "bowl")
        return Carrying("counter", by_frame or (sink.held_by is None and (hung_lb > most_lb or wide)), hung_lb, most)
    if not sink.is_apron and sink.held_by != "frame":
        if sink.held_by == "rails" or sink.held_by == "cradle":  # noqa: PLR1714 - the type checker follows this
            return Carrying(sink.held_by, hung_lb=hung_lb, most="sink/rails-carry")
        if sink.held_by == "clips" or hung_lb <= value("practice", "sink/clips-carry"):
            return Carrying("clips", hung_lb=hung_lb, most="sink/clips-carry")
    above_in = max(0.0, at.rim_z[0] - levels.box_top_in) if sink.carried_at != "bowl" else 0.0
    if sink.carried_at == "bowl" or exceeds(above_in, 0.0):
        return Carrying("platform", hung_lb=hung_lb, above_in=above_in)
    return Carrying("cleats", hung_lb=hung_lb)
