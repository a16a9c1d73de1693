"""How level the boxes stand along the run."""

from typing import Generic, Self

from pydantic import Field, model_validator

from kit.job.fields import Blank, Record, measure

__all__ = ["Levelness", "Reading"]


class Reading(Record):
    """One reading along the run, in front and at the rear of the boxes."""

    at_in: float = measure("length", "Place of the reading, from the left end of the run", 0, 240)
    low_in: float = measure("length", "How far the box top is below a level line through the highest point, in front", 0, 3)
    rear_low_in: float | None = measure("length", "The same at the rear of the boxes; left out: read in front only", 0, 3, optional=True)

    @property
    def lows_in(self) -> tuple[float, float]:
        """How low in front and at the rear [in]; as in front where the rear was not read."""
        return self.low_in, self.low_in if self.rear_low_in is None else self.rear_low_in


class Levelness(Record, Generic[Blank]):
    """Readings along the run; without any, a drop over the run is assumed."""

    readings: tuple[Reading, ...] = Field(default=(), max_length=24, strict=False)
    assumed_drop_in: float | Blank = measure(
        "length", "Without readings: drop over the whole run", 0, 3, assume="1/4 in", why="unknown before the old countertop is off; common practice, no source"
    )

    @model_validator(mode="after")
    def _agrees_with_itself(self) -> Self:
        places = [reading.at_in for reading in self.readings]
        if len(set(places)) != len(places):
            raise ValueError("Two readings are at the same place.")
        if self.readings and min(low for reading in self.readings for low in reading.lows_in) > 0:
            raise ValueError("No reading is 0 in: measure from a level line through the highest point.")
        return self

    @property
    def rear_was_read(self) -> bool:
        """Whether the boxes were read at the rear too, at one place at least."""
        return any(reading.rear_low_in is not None for reading in self.readings)
