"""How level the boxes stand along the run."""

from typing import Generic, Self

from pydantic import Field, model_validator

from kit.job.fields import Blank, Record, measure

__all__ = ["Levelness", "Reading"]


class Reading(Record):
    """One reading along the run."""

    at_in: float = measure("length", "Place of the reading, from the left end of the run", 0, 240)
    low_in: float = measure("length", "How far the box top lies below a level line through the highest point", 0, 3)


class Levelness(Record, Generic[Blank]):
    """Readings along the run; without any, a drop over the run is assumed."""

    readings: tuple[Reading, ...] = Field(default=(), max_length=24, strict=False)
    assumed_drop_in: float | Blank = measure(
        "length", "Without readings: drop over the whole run", 0, 3, assume="1/4 in", why="unknown before the old counter is off; common practice, no source"
    )

    @model_validator(mode="after")
    def _agrees_with_itself(self) -> Self:
        places = [reading.at_in for reading in self.readings]
        if len(set(places)) != len(places):
            raise ValueError("two readings lie at the same place.")
        if self.readings and min(reading.low_in for reading in self.readings) > 0:
            raise ValueError("no reading is 0 in: measure from a level line through the highest point.")
        return self
