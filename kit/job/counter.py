"""The counter: material, runs, splash and holes."""

from typing import Generic, Literal, Never, Self

from pydantic import Field, model_validator

from kit.job.fields import Blank, Record, choice, count, measure, text
from kit.lists.older import usual_counters
from kit.units import format_exact_length

__all__ = ["COMMON_MATERIALS", "Counter", "Hole", "Run"]

# to choose from; which materials there are, and what each stands, says counters.csv of the lists that the job is worked with
COMMON_MATERIALS = tuple(dict.fromkeys(traits["material"] for traits in usual_counters()))
CounterEnd = Literal["wall", "open", "range", "corner"]
Species = Literal[
    "hard-maple",
    "red-oak",
    "white-oak",
    "black-walnut",
    "black-cherry",
    "white-ash",
    "yellow-birch",
    "paper-birch",
    "beech",
    "pecan-hickory",
    "true-hickory",
    "teak",
    "douglas-fir",
]
"""Every wood whose movement `kit/sources/wood_movement.csv` gives."""


class Run(Record, Generic[Blank]):
    """One straight run of counter."""

    length_in: float = measure("length", "Length of the run, end to end; with gaps at its ends, from wall to wall", 12, 240)
    depth_in: float | Blank = measure(
        "length", "Depth of the countertop, wall to front edge", 12, 60, assume="25 1/2 in", why="usual countertop depth; common practice, no source"
    )
    left_end: CounterEnd = choice("What the left end meets")
    right_end: CounterEnd = choice("What the right end meets")
    left_gap_in: float | Blank = measure(
        "length", "Gap between the countertop and what its left end meets", 0, 1, assume="0 in", why="the length is taken as the countertop's own"
    )
    right_gap_in: float | Blank = measure(
        "length", "Gap between the countertop and what its right end meets", 0, 1, assume="0 in", why="the length is taken as the countertop's own"
    )
    joints: int | None = count(
        "Least number of seams across the run, where one piece can't be carried in; the longest piece may need more", 0, 4, optional=True
    )

    @property
    def own_span_in(self: "Run[Never]") -> tuple[float, float]:
        """Where the counter itself begins and ends, from the left end of the run [in]."""
        return self.left_gap_in, self.length_in - self.right_gap_in

    @property
    def own_length_in(self: "Run[Never]") -> float:
        """Length of the counter itself [in]."""
        return self.length_in - self.left_gap_in - self.right_gap_in


class Hole(Record, Generic[Blank]):
    """One hole in the deck."""

    use: Literal["faucet", "air-gap", "dispenser", "filter-tap"] = choice("What the hole is for")
    diameter_in: float | Blank = measure("length", "Diameter of the hole", 0.5, 4, assume="1 3/8 in", why="usual faucet hole; common practice, no source")
    offset_in: float = measure("length", "Center of the hole, right of the sink's center line (left: with a minus sign)", -60, 60)
    setback_in: float | Blank = measure(
        "length", "Center of the hole, forward from the wall", 0.5, 24, assume="2 1/2 in", why="behind a usual sink; common practice, no source"
    )
    drilled: Literal["there", "to-drill"] | None = choice(
        "In a countertop that stays: the hole is there, or still to be drilled. Left out: it is there", optional=True
    )


class Counter(Record, Generic[Blank]):
    """The new counter, or the one that stays."""

    material: str = text("Material of the countertop the sink goes in, as the list of countertops names it", common=COMMON_MATERIALS)
    item: str = text("The countertop in the list of countertop shops or, for a top made by us, the blank in the items list")
    thickness_in: float = measure("length", "Thickness of the countertop at the hole for the sink, without a built-up edge", 0.25, 4)
    runs: tuple[Run[Blank], ...] = Field(min_length=1, max_length=4, strict=False)
    sink_run: int = count("Which run holds the sink, counted from 1", 1, 4, default=1)
    sink_center_in: float = measure("length", "Sink's center line, from the left end of its run", 6, 240)
    overhang_in: float | Blank = measure(
        "length", "Overhang beyond the cabinet's face", 0, 12, assume="1 1/2 in", why="usual overhang; common practice, no source"
    )
    sub_top: Literal["none", "there", "new"] | Blank = choice(
        "A sub-top between boxes and countertop: none, there already, or a new one by us", assume="none", why="none seen"
    )
    sub_top_thickness_in: float | Blank = measure(
        "length", "Thickness of the sub-top, where there is one", 0.25, 3, assume="3/4 in", why="one layer of usual plywood; common practice, no source"
    )
    wall_gap_in: float | Blank = measure(
        "length", "Gap between the countertop and the wall behind it", 0, 1, assume="1/8 in", why="usual gap; common practice, no source"
    )
    reveal_in: float | Blank = measure(
        "length",
        "Under mount: countertop edge to bowl edge; positive shows the rim, with a minus sign hangs over",
        -0.75,
        0.75,
        assume="0 in",
        why="zero reveal until the customer signs",
    )
    splash: Literal["none", "same", "tile-by-others"] = choice("The new backsplash: none, of the countertop's material, or tile by others")
    splash_height_in: float | Blank = measure(
        "length", "Height of the new backsplash", 0, 24, assume="4 in", why="usual backsplash; common practice, no source"
    )
    splash_thickness_in: float | Blank = measure(
        "length", "Thickness of the new backsplash", 0.25, 2, assume="3/4 in", why="usual backsplash; common practice, no source"
    )
    edge: Literal["eased", "round", "bevel", "built-up"] | Blank = choice(
        "Profile of the front edge", assume="eased", why="the plain edge until the customer signs"
    )
    made_by: Literal["us", "fabricator", "stays"] = choice("Who makes it; nobody where the present countertop stays")
    species: Species | None = choice("Species of wood, for tops that move with the seasons", optional=True)
    finish_coats: int | Blank = count("Wood tops: coats of finish on every face", 1, 8, assume="3", why="three thin coats; common practice, no source")
    bead_in: float | Blank = measure("length", "Side of the sealant bead", 0.125, 0.5, assume="1/4 in", why="least usual joint; common practice, no source")
    holes: tuple[Hole[Blank], ...] = Field(default=(), max_length=8, strict=False)

    @model_validator(mode="after")
    def _agrees_with_itself(self) -> Self:
        if self.sink_run > len(self.runs):
            raise ValueError(f"The sink is in run {self.sink_run}, but there {'is' if len(self.runs) == 1 else 'are'} only {len(self.runs)}.")
        if self.sink_center_in >= self.run_of_sink.length_in:
            raise ValueError(
                f"The sink's center ({format_exact_length(self.sink_center_in)}) is beyond its run ({format_exact_length(self.run_of_sink.length_in)})."
            )
        return self

    @property
    def sub_top_in(self: "Counter[Never]") -> float:
        """How far a sub-top raises the counter above the boxes [in]."""
        return 0.0 if self.sub_top == "none" else self.sub_top_thickness_in

    @property
    def run_of_sink(self) -> Run[Blank]:
        """The run that holds the sink."""
        return self.runs[self.sink_run - 1]
