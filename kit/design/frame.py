"""The frame that carries the sink, counted: its members by kind, what fastens them, where its top lies."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from kit.design.carrying import Carrying
from kit.design.frame_parts import PANEL, FramePlace
from kit.design.levels import Levels
from kit.design.place_counter import STRIP_CLEAT
from kit.job import FilledJob
from kit.solids import Body
from kit.sources import rows_under, value
from kit.units import without_noise

__all__ = ["Frame", "Member", "cleat_screws", "describe_frame"]

_KINDS = ("side cleat", STRIP_CLEAT, "cleat packer", "rear cross piece", "front tie", "platform panel", "platform joist", "post", "block below post")
_AT_SIDES = ("side cleat", "cleat packer")

Way = Literal["on edge", "flat", "upright"]
_WAYS: dict[str, Way] = {"front tie": "flat", "platform panel": "flat", "post": "upright", "block below post": "upright"}


@dataclass(frozen=True, slots=True)
class Member:
    """Members of one kind and length: what they are cut from, how many, which way they stand; `width_in` is that of a panel.

    `bodies` are their names in the model.
    """

    name: str
    item: str
    length_in: float
    count: int
    way: Way
    width_in: float = 0.0
    bodies: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Frame:
    """The frame.

    `support_down_in` is the top of what carries the sink, down from the box top [in]; `cleat_reach_in` is how far a
    side cleat, packed out where the bare one carries too little rim, reaches in from the cabinet's side; `rim_on_cleat_in` how much of the
    body lies on it there. Both are 0 without cleats. `rim_above_box_in` is how far the rim's underside stands above the box, where cleats
    on its sides can't reach it. `screws` hold the members together; `cleat_screws` of `cleat_screw_in` go through what lies at the sides
    into them, the longest that does not come out on the far face.
    """

    carried_at: Literal["rim", "bowl", "unknown"]
    support_down_in: float = 0.0
    cleat_reach_in: float = 0.0
    rim_on_cleat_in: float = 0.0
    members: tuple[Member, ...] = ()
    posts: int = 0
    screws: int = 0
    toe_board_off: bool = False
    cleat_screws: int = 0
    cleat_screw_in: float = 0.0
    rim_above_box_in: float = 0.0

    def of(self, name: str) -> Member | None:
        """The first member of a kind, None where the frame has none."""
        return next((member for member in self.members if member.name == name), None)


def describe_frame(job: FilledJob, levels: Levels, carrying: Carrying, place: FramePlace | None) -> Frame:
    """The frame of a job, counted from the members as they stand; without members counter, clips, rails or a cradle hold the sink."""
    carried_at = job.sink.carried_at
    if place is None or not carrying.on_frame:
        return Frame("bowl" if carrying.way == "cradle" else "rim")
    members = _members([body for body in place.bodies if body.item])
    at_sides = [member for member in members if member.name in _AT_SIDES]
    reach_in = place.reach_in
    return Frame(
        carried_at="unknown" if carried_at is None and not carrying.touches else "rim" if reach_in else "bowl",
        support_down_in=levels.box_top_in - place.support_in,
        cleat_reach_in=reach_in,
        rim_on_cleat_in=max(0.0, job.sink.body_width_in / 2.0 - (job.cabinet.inside_width_in / 2.0 - reach_in)) if reach_in else 0.0,
        members=members,
        posts=sum(member.count for member in members if member.name == "post"),
        screws=_screws_of(members),
        toe_board_off=bool(job.cabinet.toe_height_in) and any(member.name == "block below post" for member in members),
        cleat_screws=sum(_screws(member) * member.count for member in at_sides),
        cleat_screw_in=_cleat_screw_in(job, reach_in) if at_sides else 0.0,
        rim_above_box_in=carrying.above_in,
    )


def _kind_of(body: Body) -> str:
    """The kind of a member: its name without side and number."""
    return next(kind for kind in reversed(_KINDS) if body.name.startswith(kind))


def _members(bodies: Sequence[Body]) -> tuple[Member, ...]:
    """Members of one kind and length together, in the order in which they were placed."""
    alike: dict[tuple[str, str, float, float], list[str]] = {}
    for body in bodies:
        width_in = body.size_in("y") if body.item == PANEL else 0.0
        alike.setdefault((_kind_of(body), body.item, without_noise(body.length_in), without_noise(width_in)), []).append(body.name)
    return tuple(
        Member(name, item, length_in, len(names), _WAYS.get(name, "on edge"), width_in, tuple(names))
        for (name, item, length_in, width_in), names in alike.items()
    )


def _screws_of(members: Sequence[Member]) -> int:
    """Screws that hold the members together [each]: a panel along each joist below it; joists are held by the ends of their posts."""
    joists = sum(member.count for member in members if member.name == "platform joist")
    screws = 0
    for member in members:
        if member.item == PANEL:
            screws += joists * _screws(member)
        elif member.name not in {*_AT_SIDES, "platform joist"}:
            screws += member.count * _screws(member)
    return screws


def _screws(member: Member) -> int:
    if member.way == "upright" or member.name == "rear cross piece":
        return 2 * int(value("practice", "frame/screws-a-joint"))
    return math.floor(member.length_in / value("practice", "frame/screw-spacing")) + 1


def _cleat_screw_in(job: FilledJob, reach_in: float) -> float:
    """The longest screw whose point stays in the side; the shortest there is where none does (the checks say so)."""
    most_in = reach_in + job.cabinet.side_thickness_in - value("practice", "frame/screw-end-cover")
    return max((length for length in cleat_screws() if length <= most_in), default=min(cleat_screws()))


def cleat_screws() -> dict[float, str]:
    """Item of each length of screw that goes through a cleat into the side [in]."""
    return {row.value: item for item, row in rows_under("practice", "frame/cleat-screw").items()}
