"""Can a drain that leaves through the floor be designed: is there a vent, and does an arm fit between the trap and the inlet of the tee on its pipe?

A trap whose arm turns down before a vent is an S-trap, and may siphon itself dry: without a vent that somebody saw nothing is designed. The code families
of the settings let no S-trap be built (from memory); a licensed plumber and the local authority decide.
"""

from kit.design.arm_way import ArmWay
from kit.design.drain_levels import DrainLevels
from kit.job import FilledJob
from kit.units import exceeds, format_length, format_limit, format_side, next_mark

__all__ = ["NO_VENT", "why_not_designed"]

NO_VENT = "no vent was seen on its pipe"


def why_not_designed(job: FilledJob, way: ArmWay | None, levels: DrainLevels) -> str:
    """What keeps the trap and its arm from being designed, in words; empty where they are, and for a drain into the wall.

    Parameters
    ----------
    job
        The job, assumptions filled in.
    way
        The arm from the trap to the pipe; None where the pipe has no place or the trap would stand on it.
    levels
        The levels with the tee's inlet as the stub.
    """
    plumbing = job.plumbing
    inlet_in, vent_in, arm_in = plumbing.vented_inlet_in, plumbing.floor_vent_in, 0.0 if way is None else way.length_in
    if plumbing.drain_leaves != "floor":
        return ""
    if plumbing.floor_pipe_vent == "none":
        return NO_VENT
    if plumbing.floor_pipe_at_in is None or inlet_in is None:
        return "nobody measured where its pipe is or how high its inlet is"
    if exceeds(levels.arm_shortest_in, arm_in):
        least = format_limit(levels.arm_shortest_in, most=False)
        return f"the trap would sit right over its pipe: {format_length(arm_in)} of arm, at least {least} before the vent"
    if exceeds(inlet_in, levels.stub_highest_in):
        highest = format_side(next_mark(levels.stub_highest_in, down=True), "above the floor", "below the floor")
        return f"its inlet stands too high: {format_length(inlet_in)}; the arm needs it no higher than {highest}"
    if vent_in is not None and vent_in <= inlet_in:
        return f"its vent goes into the wall {format_length(vent_in)} above the floor, no higher than the inlet"
    return ""
