"""The sink base and what stands beside it."""

from typing import Generic, Literal, Never

from pydantic import Field

from kit.job.boards import CabinetBoard
from kit.job.fields import Blank, Record, choice, flag, measure

__all__ = ["Box", "Cabinet", "Corner", "Neighbor"]


class Neighbor(Record, Generic[Blank]):
    """What stands beside the sink base in the same run."""

    kind: Literal["door", "drawer", "dishwasher", "range", "wall", "open"] = choice("What is on this side")
    gap_in: float | Blank = measure(
        "length", "Gap between the sink base's front and this neighbor's front", 0, 24, assume="1/8 in", why="usual reveal; common practice, no source"
    )


class Box(Record):
    """One more box of the sink's run; those of a side are listed from the sink base outward."""

    side: Literal["left", "right"] = choice("Side of the sink base it is on")
    kind: Literal["door", "drawer", "dishwasher", "range", "filler", "open"] = choice("What it is; open: a space without a box")
    width_in: float = measure("length", "Outside width", 0.25, 60)


class Corner(Record, Generic[Blank]):
    """An inside corner near the sink base, and what opens on the return run."""

    side: Literal["left", "right"] = choice("Side of the sink base the corner is on")
    distance_in: float = measure("length", "From the sink base's side to the face plane of the return run", 0, 120)
    return_part: Literal["door", "drawer", "dishwasher", "none"] = choice("What opens first on the return run")
    filler_in: float | None = measure("length", "From the corner of the two face planes to the edge of that part's front", 0, 36, unknown_ok=True)
    travel_in: float | Blank = measure("length", "How far that part comes out", 0, 40, assume="21 in", why="a usual drawer; common practice, no source")
    pull_in: float | Blank = measure(
        "length", "How far its pull stands out from its front", 0, 5, assume="1 1/2 in", why="a usual pull; common practice, no source"
    )


class Cabinet(Record, Generic[Blank]):
    """The sink base; heights below `cabinet top` are measured down from it."""

    width_in: float = measure(
        "length", "Outside width of the sink base", 18, 60, common=("24 in", "27 in", "30 in", "33 in", "36 in", "39 in", "42 in", "48 in")
    )
    depth_in: float | Blank = measure(
        "length", "Depth of the box, front of the face frame to the back", 12, 36, assume="24 in", why="usual base depth; common practice, no source"
    )
    height_in: float | Blank = measure(
        "length", "Floor to the top of the box, where it stands highest", 24, 40, assume="34 1/2 in", why="usual base height; common practice, no source"
    )
    construction: Literal["face-frame", "frameless"] = choice("Face frame or frameless")
    stile_in: float | Blank = measure(
        "length", "Width of a face-frame stile; the side's thickness when frameless", 0.25, 4, assume="1 1/2 in", why="usual stile; common practice, no source"
    )
    side_thickness_in: float | Blank = measure("length", "Thickness of a side", 0.25, 1.5, assume="1/2 in", why="the thinner of the two usual sides")
    side_material: CabinetBoard | Blank = choice("Material of the sides", assume="particleboard", why="the weaker of the two usual materials")
    floor_thickness_in: float | Blank = measure(
        "length", "Thickness of the cabinet floor", 0.125, 1.5, assume="1/2 in", why="the thinner of the two usual floors"
    )
    floor_material: CabinetBoard | Blank = choice("Material of the cabinet floor", assume="particleboard", why="the weaker of the two usual materials")
    floor_height_in: float | Blank = measure("length", "Room floor to the top of the cabinet floor", 1, 12, assume="5 in", why="toe space and a floor panel")
    toe_height_in: float | Blank = measure("length", "Height of the toe space", 0, 10, assume="4 1/2 in", why="usual toe space; common practice, no source")
    top_rail_in: float | Blank = measure(
        "length", "Height of the top rail of the face frame", 0, 6, assume="1 1/2 in", why="usual rail; common practice, no source"
    )
    mid_rail_in: float | Blank = measure(
        "length",
        "Height of the face frame's mid rail, between false front and doors; 0: none",
        0,
        6,
        assume="0 in",
        why="a rail that nobody saw is not counted; look behind the false front",
    )
    mid_rail_top_in: float | None = measure("length", "Cabinet top down to the top edge of the mid rail", 0, 24, unknown_ok=True)
    false_front_bottom_in: float | None = measure("length", "Cabinet top down to the bottom edge of the false front", 0, 20, unknown_ok=True)
    false_front_screw_in: float | None = measure(
        "length", "Cabinet top down to the false front's lowest screw", 0, 20, like="false_front_bottom_in", why="no screw is lower than the false front"
    )
    door_top_in: float | None = measure("length", "Cabinet top down to the top edge of the doors", 0, 24, unknown_ok=True)
    door_height_in: float | None = measure("length", "Height of the doors; left out: down to the toe space", 4, 40, optional=True)
    door_kind: Literal["slab", "five-piece", "wrapped"] | Blank = choice(
        "Kind of the doors: a plain slab, five pieces (rails, stiles and a panel), or wrapped or banded at faces or edges",
        assume="five-piece",
        why="the usual kind, and one that can't be trimmed; common practice, no source",
    )
    hinge_bore_in: float | Blank = measure(
        "length",
        "Top edge of a door down to the center of its upper hinge bore; 0: no bore",
        0,
        12,
        assume="3 in",
        why="the nearer of the usual places, so that no trim goes too far; common practice, no source",
    )
    door_reveal_in: float | Blank = measure(
        "length", "Reveal to leave between apron and doors", 0, 1, assume="1/8 in", why="usual reveal; common practice, no source"
    )
    clear_back: bool | Blank = flag(
        "The box has no back panel at the wall", assume="true", why="sink bases are usually open at the back; common practice, no source"
    )
    back_panel_in: float | Blank = measure(
        "length", "Thickness of the back panel, where there is one", 0.1, 1, assume="1/4 in", why="usual back; common practice, no source"
    )
    nailer_in: float | Blank = measure(
        "length", "Thickness of the nailer at the back, below the top; 0: none", 0, 2, assume="3/4 in", why="usual nailer; common practice, no source"
    )
    wet_floor: bool | Blank = flag(
        "The cabinet floor is wet, soft or stained", assume="true", why="a floor nobody could test is priced as if it had to be replaced"
    )
    swollen_side: Literal["none", "left", "right", "both"] | Blank = choice(
        "Which side of the sink base is swollen or loose, seen from the front",
        assume="none",
        why="what is seen with the doors open; check again when the countertop is off",
    )
    fixed: bool | Blank = flag("The boxes are screwed to wall and neighbors and stay that way", assume="true", why="installed boxes are fixed")
    aisle_in: float | None = measure("length", "Clear aisle in front of the countertop", 24, 240, unknown_ok=True)
    left: Neighbor[Blank]
    right: Neighbor[Blank]
    corner: Corner[Blank] | None = None
    boxes: tuple[Box, ...] = Field(default=(), max_length=12, strict=False)

    @property
    def sides_to_stiffen(self: "Cabinet[Never]") -> tuple[str, ...]:
        """The sides that are swollen: "left", "right"; none where both are sound."""
        return {"none": (), "both": ("left", "right")}.get(self.swollen_side, (self.swollen_side,))

    @property
    def inside_width_in(self: "Cabinet[Never]") -> float:
        """Clear width between the sides [in]."""
        return self.width_in - 2.0 * self.side_thickness_in

    @property
    def opening_width_in(self: "Cabinet[Never]") -> float:
        """Clear width of the front opening between stiles or sides [in]."""
        edge = self.stile_in if self.construction == "face-frame" else self.side_thickness_in
        return self.width_in - 2.0 * edge
