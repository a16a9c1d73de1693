"""Does it still drain: levels from the rim down to the stub, and how far the stub must come down.

All heights are above the finished floor [in]. The weir of a trap is the invert of its arm; the arm falls from the weir
to the stub. Limits differ by place: they are settings of a code family, to be confirmed with the local authority.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType

from kit.design.require import require
from kit.errors import Fault, JobError
from kit.lists.goods_rows import MOUNTS, MountKind
from kit.sources import rows_under, value
from kit.units import exceeds, format_length, next_mark

__all__ = [
    "CONFIRM",
    "FAMILIES",
    "BowlPair",
    "CodeSettings",
    "DrainLevels",
    "DrainMeasures",
    "arm_limits",
    "code_settings",
    "drain_levels",
    "drain_remedies",
    "pair_bowls",
]

CONFIRM = "confirm with the local authority"
FAMILIES = ("irc", "ipc", "upc")


@dataclass(frozen=True, slots=True)
class CodeSettings:
    """Limits of a code family; every one may be replaced by what the local authority says.

    `arm_longest_in` gives the longest arm, weir to vent [in], by nominal size [in]; lengths in inches, slope in inches a
    foot, `arm_least_diameters` and `fall_most_diameters` in nominal pipe diameters. `bowl_depth_spread_stops` is False where
    the rule on unequal depths speaks of separate single sinks, so that bowls of one sink are a matter to confirm.
    """

    family: str
    arm_longest_in: Mapping[float, float]
    arm_least_diameters: float
    slope_least_in_per_ft: float
    fall_most_diameters: float
    drop_most_in: float
    seal_most_in: float
    outlets_apart_most_in: float
    bowl_depth_spread_most_in: float
    bowl_depth_spread_stops: bool


@dataclass(frozen=True, slots=True)
class DrainMeasures:
    """What the route starts from.

    Parameters
    ----------
    mount
        "top" and "flush" count from the counter top, "under" from its underside.
    counter_top_in, counter_thickness_in
        Counter top above the floor and thickness over the rim [in].
    rim_above_in
        Lift of a top-mount rim, or how far a proud apron stands above the counter [in]; 0 for "under".
    bowl_depth_in, bottom_thickness_in
        Inside depth from the rim's top and thickness of the bottom [in].
    need_in
        Vertical need from the underside of the bowl to the weir: strainer, tailpiece and slip joint, or the disposer's
        drop to its outlet and elbow [in].
    bore_in, size_in
        Bore and nominal size of trap and arm [in].
    run_to_wall_in, run_to_vent_in
        Along the arm, weir to the stub and weir to the vent [in]; None: vent not known.
    stub_in
        Center of the stub that is there [in]; None: not known.
    cabinet_floor_in
        Top of the cabinet floor [in].
    trap_seal_in, trap_wall_in
        Seal and wall of the trap [in].
    waste_run_in
        Longest run of a continuous waste from a further bowl to the trap [in]; its fall adds to the need.
    slope_in_per_ft
        Fall of the arm [in/ft].
    spare_in
        How far below the highest stub that drains a lowered one is set [in]; a stub that drains stays where it is.
    wanted_in
        Center of the stub as somebody wants it [in], in place of the spare; one above today's is not built. None: not chosen.
    """

    mount: MountKind
    counter_top_in: float
    counter_thickness_in: float
    bowl_depth_in: float
    bottom_thickness_in: float
    need_in: float
    bore_in: float
    size_in: float
    run_to_wall_in: float
    run_to_vent_in: float | None
    stub_in: float | None
    cabinet_floor_in: float
    trap_seal_in: float
    trap_wall_in: float
    slope_in_per_ft: float
    rim_above_in: float = 0.0
    waste_run_in: float = 0.0
    spare_in: float = 0.0
    wanted_in: float | None = None


@dataclass(frozen=True, slots=True)
class DrainLevels:
    """Every level on the way down [in above the floor].

    `stub_highest_in` is the highest stub that drains, `stub_built_in` the height chosen. `over_in` is how far the stub that is
    there stands above the highest, `lower_by_in` how far it comes down to the chosen height; both are None when its height is
    not known. The `built` and floor figures hold for the stub as it will be.
    """

    rim_in: float
    outlet_in: float
    need_in: float
    arm_fall_to_wall_in: float
    stub_highest_in: float
    stub_built_in: float
    over_in: float | None
    lower_by_in: float | None
    weir_built_in: float
    drop_built_in: float
    trap_bottom_in: float
    floor_spare_in: float
    arm_shortest_in: float
    arm_longest_in: float
    arm_fall_in: float | None
    working: str


@dataclass(frozen=True, slots=True)
class BowlPair:
    """Whether bowls may share one trap, each reason why not, and what to ask before they do."""

    may_share: bool
    reasons: tuple[str, ...]
    questions: tuple[str, ...] = ()


@lru_cache(maxsize=8)
def code_settings(family: str) -> CodeSettings:
    """Give the settings of a code family, to be confirmed with the local authority. Raises JobError if the family is not one of `FAMILIES`."""
    if family not in FAMILIES:
        raise JobError(Fault("code_family", f'"{family}" is not a code family. Give one of: {", ".join(FAMILIES)}.'))
    arms = {float(size): row.value for size, row in rows_under("trap_arms", f"{family}/arm").items()}

    def look(name: str) -> float:
        return value("trap_arms", f"{family}/{name}")

    return CodeSettings(
        family=family,
        arm_longest_in=MappingProxyType(arms),
        arm_least_diameters=look("arm-least-diameters"),
        slope_least_in_per_ft=look("slope-least"),
        fall_most_diameters=look("fall-most-diameters"),
        drop_most_in=look("drop-most"),
        seal_most_in=look("seal-most"),
        outlets_apart_most_in=look("outlets-apart-most"),
        bowl_depth_spread_most_in=look("bowl-depth-spread-most"),
        bowl_depth_spread_stops=bool(look("bowl-depth-spread-stops")),
    )


def arm_limits(settings: CodeSettings, size_in: float, slope_in_per_ft: float) -> tuple[float, float]:
    """Give the shortest and longest arm, weir to vent [in], for a nominal size [in] at a slope [in/ft].

    The longest is the smaller of the family's length and the length at which the fall reaches its limit.

    Raises JobError if the family gives no length for the size, or a number can't be one.
    """
    require(positive={"size_in": size_in, "slope_in_per_ft": slope_in_per_ft})
    if size_in not in settings.arm_longest_in:
        known = ", ".join(f"{size:g}" for size in sorted(settings.arm_longest_in))
        raise JobError(Fault("size_in", f"{format_length(size_in)} was given; the {settings.family} settings know arms of {known} in."))
    by_fall = 12.0 * settings.fall_most_diameters * size_in / slope_in_per_ft
    return settings.arm_least_diameters * size_in, min(settings.arm_longest_in[size_in], by_fall)


def drain_levels(measures: DrainMeasures, settings: CodeSettings) -> DrainLevels:
    """Work the levels from the rim to the stub. Raises JobError with every measure that can't be one."""
    _refuse(measures)
    slope = measures.slope_in_per_ft
    rim = measures.counter_top_in + measures.rim_above_in - (measures.counter_thickness_in if measures.mount == "under" else 0.0)
    outlet = rim - measures.bowl_depth_in - measures.bottom_thickness_in
    need = measures.need_in + slope * measures.waste_run_in / 12.0
    fall = slope * measures.run_to_wall_in / 12.0
    weir_of = fall - measures.bore_in / 2.0  # weir above the stub's center
    stub_highest = outlet - need - weir_of
    over = None if measures.stub_in is None else max(0.0, measures.stub_in - stub_highest)
    stub_built = _stub_built(measures, stub_highest)
    weir_built = stub_built + weir_of
    shortest, longest = arm_limits(settings, measures.size_in, slope)
    trap_bottom = weir_built - measures.trap_seal_in - measures.bore_in - measures.trap_wall_in
    arm_fall = None if measures.run_to_vent_in is None else slope * measures.run_to_vent_in / 12.0
    lower_by = None if measures.stub_in is None else measures.stub_in - stub_built
    return DrainLevels(
        rim_in=rim,
        outlet_in=outlet,
        need_in=need,
        arm_fall_to_wall_in=fall,
        stub_highest_in=stub_highest,
        stub_built_in=stub_built,
        over_in=over,
        lower_by_in=lower_by,
        weir_built_in=weir_built,
        drop_built_in=outlet - weir_built,
        trap_bottom_in=trap_bottom,
        floor_spare_in=trap_bottom - measures.cabinet_floor_in,
        arm_shortest_in=shortest,
        arm_longest_in=longest,
        arm_fall_in=arm_fall,
        working=_working(measures, rim, outlet, need, stub_highest, lower_by),
    )


def _stub_built(measures: DrainMeasures, highest_in: float) -> float:
    """Where the stub will be [in]: as wanted; else as it is where it drains, or below the highest by the spare; the highest where it was not measured."""
    if measures.stub_in is None:
        return highest_in
    if measures.wanted_in is not None:
        return min(measures.wanted_in, measures.stub_in)
    return highest_in - measures.spare_in if exceeds(measures.stub_in, highest_in) else measures.stub_in


def _refuse(measures: DrainMeasures) -> None:
    if measures.mount not in MOUNTS:
        raise JobError(Fault("mount", f'"{measures.mount}" was given; give one of: {", ".join(MOUNTS)}.'))
    names = ("counter_top_in", "bowl_depth_in", "need_in", "bore_in", "size_in", "run_to_wall_in", "trap_seal_in", "slope_in_per_ft")
    zero_too = ("counter_thickness_in", "bottom_thickness_in", "cabinet_floor_in", "trap_wall_in", "rim_above_in", "waste_run_in", "spare_in")
    optional = {
        name: measure
        for name, measure in (("run_to_vent_in", measures.run_to_vent_in), ("stub_in", measures.stub_in), ("wanted_in", measures.wanted_in))
        if measure is not None
    }
    require(
        positive={name: getattr(measures, name) for name in names} | optional,
        not_negative={name: getattr(measures, name) for name in zero_too},
    )
    if measures.mount == "under" and measures.rim_above_in:
        raise JobError(Fault("rim_above_in", f"{measures.rim_above_in:g} was given; a rim under the countertop can't stand above its seat; give 0."))


def _working(measures: DrainMeasures, rim: float, outlet: float, need: float, stub_highest: float, lower_by: float | None) -> str:
    """The sum as a person adds it up; the highest stub to the mark below, as the limit that stands beside it."""
    thickness = f" - {_tape(measures.counter_thickness_in)}" if measures.mount == "under" else ""
    above = f" + {_tape(measures.rim_above_in)}" if measures.rim_above_in else ""
    waste = f" (continuous waste {format_length(measures.waste_run_in)} at {_tape(measures.slope_in_per_ft)} in/ft included)" if measures.waste_run_in else ""
    spare = f" to {_tape(measures.spare_in)} below the highest" if lower_by and measures.spare_in and measures.wanted_in is None else ""
    moved = f", down by {_tape(lower_by)}{spare}" if lower_by else ", stays there"
    now = "; stub not measured" if measures.stub_in is None or lower_by is None else f"; stub at {_tape(measures.stub_in)}{moved}"
    return (
        f"rim {_tape(measures.counter_top_in)}{thickness}{above}{f' = {_tape(rim)}' if thickness or above else ''}; "
        f"outlet {_tape(rim)} - {_tape(measures.bowl_depth_in)} - {_tape(measures.bottom_thickness_in)} = {_tape(outlet)}; "
        f"highest stub {_tape(outlet)} - {_tape(need)}{waste} + {_tape(measures.bore_in)} / 2"
        f" - {_tape(measures.slope_in_per_ft)} x {_tape(measures.run_to_wall_in)} / 12 = {_tape(next_mark(stub_highest, down=True))}{now}"
    )


def _tape(inches: float) -> str:
    """A length in a sum, as a tape shows it, without its unit."""
    return format_length(inches).removesuffix(" in")


def drain_remedies(measures: DrainMeasures, levels: DrainLevels, *, spare_tail_in: float | None, drains_without_disposer: bool = False) -> tuple[str, ...]:
    """List what helps by itself when the stub stands too high, least work first; empty when it doesn't. Each leaves the spare that a lowered stub has.

    Parameters
    ----------
    measures, levels
        What the route starts from, and its levels.
    spare_tail_in
        By how much the tailpiece below the bowl can be cut shorter, at the highest stub that drains [in]; None where a disposer hangs there in its place.
    drains_without_disposer
        Whether the stub could stay where it is without the disposer.
    """
    if levels.lower_by_in is None or levels.over_in is None or not exceeds(levels.over_in, 0.0):
        return ()
    short_in = next_mark(levels.over_in + measures.spare_in)
    short, down = (format_length(length_in) for length_in in (short_in, next_mark(max(levels.over_in, levels.lower_by_in))))
    by_arm_in = next_mark(12.0 * (levels.over_in + measures.spare_in) / measures.slope_in_per_ft)
    ways = {
        f"a tailpiece {short} shorter": spare_tail_in is not None and not exceeds(short_in, spare_tail_in),
        f"a low-profile outlet saving {short}": spare_tail_in is not None,
        "no disposer": drains_without_disposer,
        f"a disposer {short} shorter": spare_tail_in is None,
        f"an arm to the wall {format_length(by_arm_in)} shorter": measures.run_to_wall_in - by_arm_in >= levels.arm_shortest_in,
        f"a bowl {short} shallower": True,
        f"the wall opened and the stub {down} lower": True,
    }
    return tuple(way for way, helps in ways.items() if helps)


def pair_bowls(settings: CodeSettings, outlets_apart_in: float, depth_difference_in: float) -> BowlPair:
    """Tell whether two bowls may share one trap, by the distance of their outlets and the difference of their depths [in]."""
    require(positive={"outlets_apart_in": outlets_apart_in}, not_negative={"depth_difference_in": depth_difference_in})
    reasons, questions = [], []
    if exceeds(outlets_apart_in, settings.outlets_apart_most_in):
        reasons.append(f"the outlets are {format_length(outlets_apart_in)} apart, more than {format_length(settings.outlets_apart_most_in)} ({CONFIRM}).")
    if exceeds(depth_difference_in, settings.bowl_depth_spread_most_in):
        allowed = format_length(settings.bowl_depth_spread_most_in) if settings.bowl_depth_spread_most_in else "none: the same depth is needed"
        words = f"one bowl is {format_length(depth_difference_in)} deeper than the other; allowed is {allowed}"
        if settings.bowl_depth_spread_stops:
            reasons.append(f"{words} ({CONFIRM}).")
        else:
            questions.append(f"{words}, but the rule speaks of separate single sinks (from memory): {CONFIRM}.")
    return BowlPair(not reasons, tuple(reasons), tuple(questions))
