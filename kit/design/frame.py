"""The frame that carries the sink: cleats, cross pieces, posts, blocking, platform."""

import math
from dataclasses import dataclass
from typing import Literal

from kit.design.front import FrontCut
from kit.design.levels import Levels
from kit.job import FilledJob
from kit.sources import value

__all__ = ["CLEAT_SCREWS", "Frame", "Member", "design_frame"]

# item of each length that goes through a cleat into the side [in]
CLEAT_SCREWS = {1.625: "screw-cleat-1-5-8", 1.75: "screw-cleat-1-3-4", 2.0: "screw-cleat-2", 2.5: "screw-cleat-2-1-2", 3.0: "screw-structural"}
_AT_SIDES = ("side cleat", "cleat packer")


@dataclass(frozen=True, slots=True)
class Member:
    """One kind of member: what it is cut from, its length, how many, and which way it stands."""

    name: str
    item: str
    length_in: float
    count: int
    way: Literal["on edge", "flat", "upright"]
    width_in: float = 0.0


@dataclass(frozen=True, slots=True)
class Frame:
    """The frame.

    `support_down_in` is the top of what carries the sink, down from the box top [in]; `cleat_reach_in` is how far a
    side cleat, packed out where the box is wide, reaches in from the cabinet's side; `rim_on_cleat_in` how much of the
    body lies on it there. Both are 0 without cleats. `screws` hold the members together; `cleat_screws` of
    `cleat_screw_in` go through what lies at the sides into them, the longest that does not come out on the far face.
    """

    carried_at: Literal["rim", "bowl", "unknown"]
    support_down_in: float
    cleat_reach_in: float
    rim_on_cleat_in: float
    members: tuple[Member, ...]
    posts: int
    screws: int
    toe_board_off: bool
    cleat_screws: int = 0
    cleat_screw_in: float = 0.0

    def of(self, name: str) -> Member | None:
        """The member of that name."""
        return next((member for member in self.members if member.name == name), None)


def design_frame(job: FilledJob, levels: Levels, cut: FrontCut | None) -> Frame:
    """Members for the way the sink is carried.

    Carried at the rim: cleats under the rim along both sides. Carried under the bowl: a platform under the bottom.
    Unknown: the frame of the rim is priced and the checks say stop. A standard sink that lies on the counter or hangs
    in it needs no frame of its own.
    """
    sink = job.sink
    if not sink.is_apron and sink.mount != "under":
        return Frame(sink.carried_at or "rim", 0.0, 0.0, 0.0, (), 0, 0, toe_board_off=False)
    carried_at = sink.carried_at or "unknown"
    reach_in = _reach_in(job) if carried_at != "bowl" else 0.0
    if carried_at == "bowl":
        support_in = levels.box_top_in - levels.bowl_bottom_in
        upper = _platform(job)
        beam_in = value("practice", "frame/platform-panel") + _edge_in()
    else:
        support_in = sink.rim_thickness_in - levels.rim_above_box_in
        upper = _cleats(job, cut, reach_in)
        beam_in = _edge_in()
    posts = _posts(job, support_in + beam_in)
    members = (*upper, *posts)
    at_sides = [member for member in members if member.name in _AT_SIDES]
    return Frame(
        carried_at=carried_at,
        support_down_in=support_in,
        cleat_reach_in=reach_in,
        rim_on_cleat_in=max(0.0, sink.body_width_in / 2.0 - (job.cabinet.inside_width_in / 2.0 - reach_in)) if reach_in else 0.0,
        members=members,
        posts=sum(member.count for member in members if member.name == "post"),
        screws=sum(_screws(member) * member.count for member in members if member.name not in _AT_SIDES),
        toe_board_off=job.cabinet.toe_height_in > 0.0 and any(member.name == "block below the floor" for member in members),
        cleat_screws=sum(_screws(member) * member.count for member in at_sides),
        cleat_screw_in=_cleat_screw_in(job, reach_in) if at_sides else 0.0,
    )


def _edge_in() -> float:
    return value("lumber", "2x4/width")


def _thick_in() -> float:
    return value("lumber", "2x4/thickness")


def _clearance_in() -> float:
    return value("practice", "frame/clearance")


def _run_in(job: FilledJob) -> float:
    front_in = value("practice", "frame/face-frame") if job.cabinet.construction == "face-frame" else 0.0
    return job.cabinet.depth_in - front_in - _thick_in() - _clearance_in()


def _reach_in(job: FilledJob) -> float:
    """How far a cleat reaches in: its own thickness, or packed out to a hair from the bowl."""
    beside_bowl_in = (job.cabinet.inside_width_in - job.sink.bowl_width_in) / 2.0 - value("practice", "frame/bowl-clearance")
    return max(_thick_in(), beside_bowl_in)


def _cleats(job: FilledJob, cut: FrontCut | None, reach_in: float) -> tuple[Member, ...]:
    across_in = job.cabinet.inside_width_in - _clearance_in()
    members = [
        Member("side cleat", "lumber-2x4", _run_in(job), 2, "on edge"),
        Member("rear cross piece", "lumber-2x4", across_in, 1, "on edge"),
    ]
    packing_in = reach_in - _thick_in()
    if packing_in > 0.0:  # layers of lumber behind the cleat, the last one planed to what is left
        members.append(Member("cleat packer", "lumber-2x4", _run_in(job), 2 * math.ceil(packing_in / _thick_in()), "on edge"))
    if cut is not None and cut.rail_removed:
        members.append(Member("front tie", "lumber-2x4", across_in, 1, "flat"))
    return tuple(members)


def _platform(job: FilledJob) -> tuple[Member, ...]:
    across_in = job.cabinet.inside_width_in - _clearance_in()
    return (
        Member("platform joist", "lumber-2x4", across_in, int(value("practice", "frame/joists")), "on edge"),
        Member("platform panel", "plywood-3-4", job.sink.bowl_width_in, 1, "flat", min(job.sink.depth_in, _run_in(job))),
    )


def _posts(job: FilledJob, down_in: float) -> tuple[Member, ...]:
    cabinet = job.cabinet
    height_in = cabinet.height_in - down_in - cabinet.floor_height_in
    below_in = cabinet.floor_height_in - cabinet.floor_thickness_in
    if height_in <= 0.0:
        return ()
    count = int(value("practice", "frame/posts"))
    posts = [Member("post", "lumber-2x4", height_in, count, "upright")]
    if below_in > 0.0:
        posts.append(Member("block below the floor", "lumber-2x4", below_in, count, "upright"))
    return tuple(posts)


def _screws(member: Member) -> int:
    if member.way == "upright" or member.name == "rear cross piece":
        return 2 * int(value("practice", "frame/screws-a-joint"))
    return int(member.length_in // value("practice", "frame/screw-spacing")) + 1


def _cleat_screw_in(job: FilledJob, reach_in: float) -> float:
    """The longest screw whose point stays in the side; the shortest there is where none does (the checks say so)."""
    most_in = reach_in + job.cabinet.side_thickness_in - value("practice", "frame/screw-end-cover")
    return max((length for length in CLEAT_SCREWS if length <= most_in), default=min(CLEAT_SCREWS))
