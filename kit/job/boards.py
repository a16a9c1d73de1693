"""Boards that cabinets are made of: their words in the job file, their names for people, and whether the wood standard knows them."""

from dataclasses import dataclass
from typing import Literal

__all__ = ["BOARDS", "Board", "CabinetBoard"]

CabinetBoard = Literal["plywood", "particleboard", "mdf", "solid-wood"]


@dataclass(frozen=True, slots=True)
class Board:
    """Its name for people, and whether the wood standard (NDS) gives its kind any value; on a board without one no load is counted."""

    name: str
    in_wood_standard: bool


BOARDS: dict[str, Board] = {
    "plywood": Board("plywood", in_wood_standard=True),
    "particleboard": Board("particleboard", in_wood_standard=False),
    "mdf": Board("medium-density fiberboard", in_wood_standard=False),
    "solid-wood": Board("solid wood", in_wood_standard=True),
}
"""Each `CabinetBoard`; what it weighs stands under the same word in `densities.csv`."""
