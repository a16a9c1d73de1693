"""What waits below the deck: drain, supply, and everything else that lives there."""

from typing import Generic, Literal

from kit.job.fields import Blank, Record, choice, count, flag, measure
from kit.sources import value

__all__ = ["Plumbing"]

DrainMaterial = Literal["pvc", "abs", "cast-iron", "galvanized", "copper", "slip-joint"]
SupplyMaterial = Literal["copper", "pex", "cpvc", "galvanized"]

StopJoint = Literal["push-fit", "compression", "press", "threaded"]


class Plumbing(Record, Generic[Blank]):
    """Drain and supply as found, and what is wanted."""

    drain_leaves: Literal["wall", "floor"] | Blank = choice(
        "Where the drain leaves the sink base: into the wall, or down through the floor", assume="wall", why="the usual way; look below the sink"
    )
    floor_pipe_from_left_in: float | None = measure(
        "length", "Drain through the floor: left end of the sink base to the center of its pipe", 0, 120, unknown_ok=True
    )
    floor_pipe_from_wall_in: float | None = measure("length", "Drain through the floor: finished wall to the center of its pipe", 0, 36, unknown_ok=True)
    floor_pipe_top_in: float | Blank = measure(
        "length",
        "Drain through the floor: kitchen floor to the top of its pipe below the sink",
        0,
        36,
        assume="8 in",
        why="some inches above the cabinet floor; from memory",
    )
    floor_pipe_vent: Literal["none", "wall"] | Blank = choice(
        "Drain through the floor: the vent seen on its pipe, above a tee that takes the trap's arm",
        assume="none",
        why="never count on a vent nobody saw",
    )
    floor_inlet_in: float | None = measure(
        "length", "Drain through the floor, with a vent: kitchen floor to the center of the tee's inlet that takes the arm", 2, 36, unknown_ok=True
    )
    floor_vent_in: float | None = measure(
        "length", "Drain through the floor, with a vent: kitchen floor to the center of the vent where it goes into the wall", 4, 60, unknown_ok=True
    )
    stub_height_in: float | None = measure("length", "Floor to the center of the drain stub at the wall", 4, 36, unknown_ok=True)
    stub_wanted_in: float | None = measure(
        "length", "Floor to the center of the stub as you want it; left out: as it is, or a little below the highest that drains", 4, 36, optional=True
    )
    stub_offset_in: float | Blank = measure(
        "length", "Drain stub, right of the sink's center line (left: with a minus sign)", -36, 36, assume="0 in", why="straight behind the sink"
    )
    arm_to_wall_in: float | Blank = measure(
        "length",
        "Today: trap weir to the wall stub, along the arm; says how much of the way to the vent lies in the wall",
        2,
        72,
        assume="18 in",
        why="half a usual cabinet; common practice, no source",
    )
    arm_to_vent_in: float | None = measure("length", "Today: trap weir to the vent, along the arm", 2, 240, unknown_ok=True)
    stud_depth_in: float | Blank = measure(
        "length", "Depth of the studs in the wall behind the sink", 1.5, 8, assume="3 1/2 in", why="a usual 2x4 wall; common practice, no source"
    )
    stud_offset_in: float | None = measure(
        "length",
        "Middle of the stud nearest to the drain, right of the sink's center line (left: with a minus sign). Left out: not known",
        -36,
        36,
        optional=True,
    )
    vent_seen: bool | Blank = flag("The vent was seen", assume="false", why="never count on a vent nobody saw")
    drain_size: Literal["1-1/2", "2"] | Blank = choice(
        "Nominal size of the stub, or of the pipe in the floor", assume="1-1/2", why="usual kitchen stub; common practice, no source"
    )
    drain_old: DrainMaterial | Blank = choice(
        "Material of the stub, or of the pipe in the floor", assume="pvc", why="look below the sink; the usual one, common practice, no source"
    )
    drain_new: Literal["pvc", "abs", "slip-joint"] = choice("Material of the new trap and arm")
    supply_old: SupplyMaterial | Blank = choice(
        "Material of the supply stubs", assume="copper", why="look below the sink; the usual one, common practice, no source"
    )
    supply_new: Literal["copper", "pex"] | Blank = choice("Material of any new supply", assume="pex", why="cut and joined without a flame")
    clean_stub_in: float | Blank = measure(
        "length", "Clean, round, straight supply stub outside the wall", 0, 24, assume="0 in", why="not seen behind the old shutoff valves"
    )
    stop_height_in: float | Blank = measure(
        "length",
        "Floor to the center of the shutoff valves at the wall",
        4,
        40,
        like="usual_stop_height_in",
        why="a little above the drain's stub; common practice, no source",
    )
    stops_apart_in: float | Blank = measure(
        "length",
        "Hot to cold shutoff valve, center to center, the sink's center line between them",
        2,
        36,
        assume="12 in",
        why="usual; common practice, no source",
    )
    faucet_holes: int | Blank = count(
        "Holes the faucet takes: 1, 3 with separate handles, 0 for a wall faucet",
        0,
        4,
        assume="1",
        why="usual faucet; common practice, no source",
    )
    stops_to_renew: int = count("Shutoff valves to replace", 0, 6)
    stop_joint: StopJoint | Blank = choice("How the new shutoff valves connect to the pipes", assume="push-fit", why="joined without heat or a special tool")
    stop_age: Literal["new", "old"] | Blank = choice("Age of the shutoff valves that stay", assume="old", why="old shutoff valves may fail when turned")
    disposer: Literal["none", "keep", "new"] = choice("Disposer after the job")
    disposer_weight_lb: float | Blank = measure("weight", "Weight of the disposer", 5, 40, assume="20 lb", why="from memory; check the maker's sheet")
    disposer_height_in: float | Blank = measure(
        "length", "Height of the disposer below the bowl", 6, 20, assume="13 in", why="from memory; check the maker's sheet"
    )
    disposer_diameter_in: float | Blank = measure("length", "Diameter of the disposer", 4, 12, assume="8 in", why="from memory; check the maker's sheet")
    outlet_cable_ft: float | Blank = measure(
        "distance",
        "Cable for a new disposer outlet: from the nearest box or the panel to the sink base",
        1,
        200,
        assume="15 ft",
        why="our judgment; the electrician measures it",
    )
    strainer_drop_in: float | Blank = measure(
        "length",
        "Underside of the bowl to the trap weir with a strainer: body, tailpiece, slip joint",
        2,
        24,
        assume="6 in",
        why="from memory; check the maker's sheet",
    )
    disposer_drop_in: float | Blank = measure(
        "length", "Underside of the bowl to the trap weir with a disposer", 4, 24, assume="9 1/2 in", why="from memory; check the maker's sheet"
    )
    dishwasher: bool = flag("A dishwasher drains into this sink")
    dishwasher_drain: Literal["high-loop", "air-gap", "none"] | Blank = choice(
        "How its hose is kept from siphoning", assume="high-loop", why="the usual way where the code allows it"
    )
    hose_run_in: float | Blank = measure(
        "length", "Dishwasher to the sink, along the hose", 12, 180, assume="60 in", why="one cabinet over; common practice, no source"
    )
    filter: bool = flag("There is a water filter below the sink", default=False)
    hot_tap: bool = flag("There is a boiling- or hot-water tank below the sink", default=False)
    bin: bool = flag("There is a pull-out bin below the sink", default=False)

    @property
    def floor_pipe_at_in(self) -> tuple[float, float] | None:
        """Middle of the pipe of a drain through the floor, from the base's left outside and from the wall [in]; None where nobody measured it."""
        x_in, y_in = self.floor_pipe_from_left_in, self.floor_pipe_from_wall_in
        return None if self.drain_leaves != "floor" or x_in is None or y_in is None else (x_in, y_in)

    @property
    def vented_inlet_in(self) -> float | None:
        """Center of the inlet of the tee on that pipe [in]; None where no vent was seen above it, or nobody measured it."""
        return self.floor_inlet_in if self.drain_leaves == "floor" and self.floor_pipe_vent == "wall" else None

    @property
    def usual_stop_height_in(self) -> float:
        """Shutoff valves where nobody measured them [in]: above the stub, or at a usual height where that was not measured either."""
        above_in = value("practice", "valve/above-stub")
        return value("practice", "valve/height") if self.stub_height_in is None else self.stub_height_in + above_in
