"""Does the frame carry the sink: bending, shear, deflection, bearing, posts and fasteners, by the wood specification."""

import itertools
import math
from collections import Counter
from collections.abc import Sequence
from functools import lru_cache

from kit.checks.beams import span_uniform
from kit.checks.finding import WALL, fit_finding, plain_finding
from kit.checks.frame_room import check_frame_room, check_platform_height
from kit.checks.no_value import NoValue
from kit.checks.platform_panel import check_panel
from kit.checks.wood_columns import column_capacity
from kit.checks.wood_members import MemberUse, Service, load_duration, member_use, support_limit
from kit.checks.wood_screws import material_gravity
from kit.checks.wood_values import dressed_section, lowest_values, weakest_row
from kit.design.design import Design
from kit.design.frame import Member
from kit.design.named_goods import counter_kind
from kit.design.place_room import GROUND
from kit.design.weights import LoadPath, follow_loads
from kit.job import FilledJob
from kit.job.boards import BOARDS
from kit.job.field_names import part_name
from kit.lists import Lists
from kit.lists.goods_rows import CounterKind
from kit.records import Finding, Level
from kit.sources import Row, row, value
from kit.units import format_length, format_side

__all__ = ["check_support"]

_SOURCE = "awc-2018-nds"
_REMEDY = "Use deeper or more members, or posts closer together; heavy or odd cases need an engineer."


def check_support(job: FilledJob, design: Design, lists: Lists) -> list[Finding]:
    """One finding each for beam, post, floor below the post, and fasteners; the lowest listed wood is assumed."""
    if not design.frame.members:
        return []
    kind = counter_kind(job, lists)
    loads = follow_loads(design.placed.model, design.load, kind, GROUND)
    return [
        _path(job, design, loads),
        *check_platform_height(job, design),
        *_beam(design, kind, loads),
        *_rear_cross(design, kind, loads),
        *check_panel(design, _carried_lb(design, loads)),
        *_post(design, loads),
        *_below_post(job, design),
        *_screws(job, design),
        *check_frame_room(job, design),
    ]


_FLOORS = {
    "slab": "a slab carries what stands on it; if it is cracked or hollow there, ask an engineer",
    "crawl-space": "joists below the subfloor are not checked: look from the crawl space; if the floor looks doubtful, ask an engineer",
    "basement": "joists below the subfloor are not checked: look from the basement; if the floor looks doubtful, ask an engineer",
    "rooms": "joists below the subfloor are not checked and hidden by a ceiling: if the floor looks doubtful, ask an engineer",
}


def _carried_lb(design: Design, loads: LoadPath) -> float:
    """What posts and members are checked for: the design load, and all of the frame's own weight [lb]."""
    return design.load.design_lb + loads.frame_lb


def _in_words(path: Sequence[str]) -> str:
    """The bodies that carry, those of one kind counted: "4 posts", not each by its name."""
    kinds = Counter(next((kind for kind in _ALIKE if name.startswith(kind)), name) for name in path)
    return ", ".join(f"{count} {_ALIKE[kind]}" if count > 1 else part_name(kind) for kind, count in kinds.items())


_ALIKE = {
    "post": "posts",
    "block below post": "blocks below the posts",
    "shims below post": "pairs of shims",
    "packer below post": "packers below shims",
    "platform joist": "platform joists",
}


def _path(job: FilledJob, design: Design, loads: LoadPath) -> Finding:
    """The way of the load, body by body, from the sink down to subfloor or slab; joists below it are not checked."""
    model, ground = design.placed.model, "slab" if job.site.below == "slab" else "subfloor"
    path = model.path_down("sink rim", GROUND)
    return plain_finding(
        "support/load-path",
        "Load path to the floor",
        Level.OK if loads.holds else Level.STOP,
        _in_words(sorted(path, key=lambda name: name in GROUND)),
        f"an unbroken path from the sink down to the {ground}",
        basis=f"{design.load.working.partition(';')[0]}, frame {loads.frame_lb:.0f}, countertop of this run {loads.counter_lb:.0f} lb: {loads.placed_lb:.0f} lb"
        f" placed, {loads.arrives_lb:.0f} lb at the {ground}; {_FLOORS[job.site.below]}",
        source="common-practice",
        remedy="" if loads.holds else "Give the member that stands on nothing a post of its own.",
        parts=("frame",),
    )


@lru_cache(maxsize=256)
def _beam_use(length_in: float, load_lb: float, *, brittle: bool) -> MemberUse | NoValue:
    section = dressed_section("2x4")
    values = lowest_values(section)
    if isinstance(values, NoValue):
        return values
    stiffness = values.elasticity_psi * section.inertia_in4
    effects = span_uniform(load_lb / length_in, length_in, stiffness)
    return member_use(
        values,
        section,
        effects,
        Service(duration=load_duration("ten-year")),
        bearing_length_in=value("lumber", "2x4/thickness"),
        deflection_limit_in=support_limit(length_in, stone=brittle),
    )


def _beam(design: Design, kind: CounterKind, loads: LoadPath) -> list[Finding]:
    """The cleat or joist that carries half the load: a stiff sink may rock on two supports."""
    member = design.frame.of("side cleat") or design.frame.of("platform joist")
    if member is None:
        return []
    load_lb = _carried_lb(design, loads) / 2.0
    use = _beam_use(member.length_in, load_lb, brittle=kind.brittle)
    if isinstance(use, NoValue):
        return [_no_value("support/beam", f"{member.name.capitalize()}", use, ("frame",))]
    ratios, worst = use.shares, use.governing[0]
    return [
        plain_finding(
            f"support/beam-{name}",
            f"{member.name.capitalize()}: {name}",
            Level.OK if ratio <= 1.0 else Level.STOP,
            f"{ratio:.0%} of the limit",
            "100% or less",
            basis=f"half of {2.0 * load_lb:.0f} lb ({design.load.working}; frame {loads.frame_lb:.0f} lb) over {format_length(member.length_in)} between posts,"
            f" worst is {worst}; {use.working}",
            source=_beam_row(name, member.length_in, brittle=kind.brittle),
            remedy="" if ratio <= 1.0 else _REMEDY,
            margin=1.0 - ratio,
            unit="1",
            parts=("frame",),
        )
        for name, ratio in ratios.items()
    ]


def _beam_row(name: str, length_in: float, *, brittle: bool) -> Row:
    """The row behind what is allowed: the weakest listed wood's, or the limit of deflection that counts here."""
    if name != "deflection":
        return weakest_row(name, dressed_section("2x4"))
    limit = row("wood_factors", "limit/stone" if brittle else "limit/support")
    most = row("wood_factors", "limit/absolute")
    return most if most.value < length_in / limit.value else limit


def _rear_cross(design: Design, kind: CounterKind, loads: LoadPath) -> list[Finding]:
    """The rear cross piece with half the load over its longest way between posts, and how much of the rear rim lies on it."""
    model = design.placed.model
    if "rear cross piece" not in model:
        return []
    cross, rim = model["rear cross piece"], model["sink rim"]
    posts = sorted(model[name].span("x") for name in cross.stands_on if name in model)
    ways = [right[0] - left[1] for left, right in itertools.pairwise(posts)]
    span_in = max(ways, default=cross.length_in)
    load_lb = _carried_lb(design, loads) / 2.0
    use = _beam_use(span_in, load_lb, brittle=kind.brittle)
    if isinstance(use, NoValue):
        return [_no_value("support/rear-cross-piece", "Rear cross piece", use, ("frame",))]
    worst, share = use.governing
    return [
        plain_finding(
            "support/rear-cross-piece",
            f"Rear cross piece: {worst}",
            Level.OK if share <= 1.0 else Level.STOP,
            f"{share:.0%} of the limit",
            "100% or less",
            basis=f"half of {2.0 * load_lb:.0f} lb, frame included, over {format_length(span_in)} between {len(posts)} posts; {use.working}",
            source=_beam_row(worst, span_in, brittle=kind.brittle),
            remedy="" if share <= 1.0 else _REMEDY,
            margin=1.0 - share,
            unit="1",
            parts=("frame",),
        ),
        fit_finding(
            "support/rear-rim",
            "Rear rim resting on the cross piece",
            cross.span("y")[1] - max(rim.span("y")[0], cross.span("y")[0]),
            row("checks", "cabinet/rim-on-cleat"),
            worst=Level.CAUTION,
            basis=f"rim begins {format_side(rim.span('y')[0], *WALL)}, cross piece ends {format_side(cross.span('y')[1], *WALL)}",
            remedy="The side cleats carry it alone: carry the sink under the bowl if its sheet allows.",
            parts=("frame", "rim"),
        ),
    ]


@lru_cache(maxsize=256)
def _post_capacity(length_in: float) -> tuple[float, str] | NoValue:
    section = dressed_section("2x4")
    values = lowest_values(section)
    if isinstance(values, NoValue):
        return values
    post = column_capacity(values, section, length_in, Service(duration=load_duration("permanent")))
    return post if isinstance(post, NoValue) else (post.capacity_lb, post.working)


def _post(design: Design, loads: LoadPath) -> list[Finding]:
    posts = [member for member in design.frame.members if member.way == "upright"]
    if not posts:
        return [
            plain_finding(
                "support/posts",
                "Posts below the frame",
                Level.STOP,
                "none",
                "posts to the floor that carry the load",
                basis="the carrying members leave no room for posts above the cabinet floor",
                source="common-practice",
                remedy="Screws into a thin side have no tabulated value: without posts nothing is known to hold. Redesign the frame.",
                parts=("frame",),
            )
        ]
    return [_one_post(member, _carried_lb(design, loads) / 2.0) for member in posts]


def _one_post(member: Member, load_lb: float) -> Finding:
    capacity = _post_capacity(member.length_in)
    name = member.name.replace(" ", "-")
    if isinstance(capacity, NoValue):
        return _no_value(f"support/{name}", member.name.capitalize(), capacity, ("frame",))
    capacity_lb, working = capacity
    most_lb, holds = math.floor(capacity_lb), load_lb <= capacity_lb
    shown_lb = min(round(load_lb), most_lb) if holds else max(round(load_lb), most_lb + 1)  # the pound tells on which side it lies
    return plain_finding(
        f"support/{name}",
        f"{member.name.capitalize()}: load on one",
        Level.OK if holds else Level.STOP,
        f"{shown_lb:,} lb",
        f"at most {most_lb:,} lb",
        basis=f"half of the load and of the frame's own weight on one of two diagonal posts; {working}",
        source=weakest_row("compression", dressed_section("2x4")),
        remedy="" if holds else _REMEDY,
        margin=capacity_lb - load_lb,
        unit="lb",
        parts=("frame",),
    )


def _below_post(job: FilledJob, design: Design) -> list[Finding]:
    if design.frame.of("post") is None:
        return []
    blocked = design.frame.of("block below post") is not None
    board = BOARDS[job.cabinet.floor_material]
    weak = not board.in_wood_standard
    return [
        plain_finding(
            "support/below-posts",
            "What the posts stand on",
            Level.CAUTION if weak else Level.OK,
            f"{board.name} floor{' on blocking to the subfloor' if blocked else ' without blocking'}",
            "blocking to the subfloor: a cabinet floor is not made for this load",
            basis=f"cabinet floor {format_length(design.placed.model['cabinet floor'].span('z')[1])} above the room's floor",
            source="common-practice",
            remedy=f"Cut the {board.name} out under each post and stand the posts on the blocking: the board has no rated strength." if weak else "",
            parts=("frame", "cabinet"),
        )
    ]


def _screws(job: FilledJob, design: Design) -> list[Finding]:
    if not design.frame.cleat_screws:
        return []
    gravity = material_gravity(job.cabinet.side_material)
    refused, least = isinstance(gravity, NoValue), row("wood_screws", "penetration/least")
    reason = gravity.reason if isinstance(gravity, NoValue) else f"the point reaches less than {least.value:g} diameters into a thin side"
    points = f"points end inside {format_length(design.frame.cleat_reach_in + design.placed.model.size('side left', 'x').value_in)} of cleat and side"
    return [
        plain_finding(
            "support/cleat-screws",
            "Screws from the cleat into the side",
            Level.CAUTION if refused else Level.OK,
            f"{design.frame.cleat_screws} screws of {format_length(design.frame.cleat_screw_in)}",
            "screws that hold the cleat in place; no load counted on them",
            basis=f"no tabulated value: {reason}; adhesive on a melamine face gets no credit; the posts carry the load; {points}",
            source=gravity.source if isinstance(gravity, NoValue) else least,
            remedy="Pre-drill. If a hole strips, move it; don't fill it." if refused else "",
            parts=("frame",),
        )
    ]


def _no_value(finding_id: str, check: str, refused: NoValue, parts: tuple[str, ...]) -> Finding:
    return plain_finding(
        finding_id,
        check,
        Level.UNKNOWN,
        "no value",
        "a tabulated value",
        basis=refused.reason,
        source=refused.source or _SOURCE,
        remedy="Ask an engineer.",
        parts=parts,
    )
