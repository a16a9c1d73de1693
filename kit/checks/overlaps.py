"""Do two things want the same place? Read from the model of everything that is built."""

from collections.abc import Sequence

from kit.checks.finding import chance_of_fit, tape_tolerance_in
from kit.design.design import Design
from kit.records import Assumption, Finding, Level
from kit.solids import Overlap, Stage
from kit.sources import table
from kit.units import format_length

__all__ = ["check_overlaps"]


def check_overlaps(design: Design, assumptions: Sequence[Assumption], stage: Stage = Stage.BUILT) -> list[Finding]:
    """One finding for every two bodies of a stage that overlap by more than their joint allows.

    Both measured: a stop, or a caution with its chance where the tape may be off by as much. A measure that was assumed fixes one of
    them: unknown, measure that.
    """
    assumed = tuple(assumption.field for assumption in assumptions)
    return [_judge(overlap, assumed) for overlap in design.placed.model.overlaps(stage) if overlap.depth_in > _allowed_in(overlap) + 1e-6]


def _allowed_in(overlap: Overlap) -> float:
    """How deep the two may stand in each other by the table of joints [in]; 0 for all that are no joint."""
    row = table("joints").get("/".join(sorted((overlap.first.name, overlap.second.name))))
    return row.value if row is not None else 0.0


def _judge(overlap: Overlap, assumed: Sequence[str]) -> Finding:
    tolerance_in, depth_in = tape_tolerance_in(), overlap.depth_in
    first, second = sorted((overlap.first.name, overlap.second.name))
    unmeasured = [_in_words(field) for field in overlap.fields if any(name.partition("[")[0] == field or name.startswith(f"{field}.") for name in assumed)]
    if unmeasured:
        level, remedy = Level.UNKNOWN, f"Measure first, now assumed: {', '.join(unmeasured)}."
    elif depth_in < tolerance_in:
        level, remedy = Level.CAUTION, "Too close to call with a tape: measure again."
    else:
        level, remedy = Level.STOP, "Move one of them, or choose another size or another way to carry the sink."
    return Finding(
        f"place/{first}-{second}".replace(" ", "-").replace(",", ""),
        f"{first.capitalize()} and {second} want the same place",
        level,
        format_length(depth_in),
        "nothing in the same place",
        "in",
        -depth_in,
        tolerance_in,
        None if unmeasured else chance_of_fit(-depth_in, tolerance_in),
        f"fixed by {', '.join(map(_in_words, overlap.fields))}",
        "geometry",
        remedy,
        tuple(dict.fromkeys((overlap.first.part, overlap.second.part))),
    )


def _in_words(field: str) -> str:
    """A measure as people call it: "cabinet depth", "disposer height"."""
    part, _, name = field.partition(".")
    words = name.replace("_", " ")
    return words if part == "plumbing" else f"{part} {words}"
