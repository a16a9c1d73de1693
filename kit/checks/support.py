"""Does the frame carry the sink: bending, shear, deflection, bearing, posts and fasteners, by the wood specification."""

import itertools
from collections import Counter
from collections.abc import Sequence
from functools import lru_cache

from kit.checks.beams import span_uniform
from kit.checks.finding import fit_finding, plain_finding
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
from kit.solids import Axis, Body, Span
from kit.sources import Row, row, value
from kit.units import format_length

__all__ = ["check_support"]

_SOURCE = "awc-2018-nds"
_PLAN: tuple[Axis, Axis] = ("x", "y")
_REMEDY = "Deeper or more members, or posts closer together; heavy or odd cases need an engineer."


def check_support(job: FilledJob, design: Design, lists: Lists) -> list[Finding]:
    """One finding each for beam, post, floor below the post, and fasteners; the lowest listed wood is assumed."""
    if not design.frame.members:
        return []
    kind = counter_kind(job, lists)
    loads = follow_loads(design.placed.model, design.load, kind, GROUND)
    return [
        _path(job, design, loads),
        *_platform_height(job, design),
        *_beam(design, kind, loads),
        *_rear_cross(design, kind, loads),
        *check_panel(design, _carried_lb(design, loads)),
        *_post(design, loads),
        *_below_post(job, design),
        *_screws(job, design),
        *_clear_way(job, design),
        *_balance(design),
        *_beside_outlet(design),
    ]


_FLOORS = {
    "slab": "a slab carries what stands on it; one that is cracked or hollow there: ask locally",
    "crawl-space": "joists below the subfloor are not checked: look from the crawl space; doubtful floor, ask locally",
    "basement": "joists below the subfloor are not checked: look from the basement; doubtful floor, ask locally",
    "rooms": "joists below the subfloor are not checked and hidden by a ceiling: doubtful floor, ask locally",
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
        _in_words(path),
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
            "100 % or less",
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
    span_in = max(ways) if ways and max(ways) > 0.0 else cross.length_in
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
            "100 % or less",
            basis=f"half of {2.0 * load_lb:.0f} lb, frame included, over {format_length(span_in)} between {len(posts)} posts; {use.working}",
            source=_beam_row(worst, span_in, brittle=kind.brittle),
            remedy="" if share <= 1.0 else _REMEDY,
            margin=1.0 - share,
            unit="1",
            parts=("frame",),
        ),
        fit_finding(
            "support/rear-rim",
            "Rear rim that lies on the cross piece",
            cross.span("y")[1] - max(rim.span("y")[0], cross.span("y")[0]),
            value("checks", "cabinet/rim-on-cleat"),
            worst=Level.CAUTION,
            basis=f"rim begins {format_length(rim.span('y')[0])} from the wall, cross piece ends {format_length(cross.span('y')[1])} from it",
            source=row("checks", "cabinet/rim-on-cleat"),
            remedy="Side cleats carry alone: carry it under the bowl if its sheet allows.",
            parts=("frame", "rim"),
        ),
    ]


@lru_cache(maxsize=256)
def _post_capacity(length_in: float) -> tuple[float, str] | NoValue:
    section = dressed_section("2x4")
    values = lowest_values(section)
    if isinstance(values, NoValue):
        return values
    found = column_capacity(values, section, length_in, Service(duration=load_duration("permanent")))
    return found if isinstance(found, NoValue) else (found.capacity_lb, found.working)


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
    found = _post_capacity(member.length_in)
    name = member.name.replace(" ", "-")
    if isinstance(found, NoValue):
        return _no_value(f"support/{name}", member.name.capitalize(), found, ("frame",))
    capacity_lb, working = found
    return plain_finding(
        f"support/{name}",
        f"{member.name.capitalize()}: load on one",
        Level.OK if load_lb <= capacity_lb else Level.STOP,
        f"{load_lb:.0f} lb",
        f"at most {capacity_lb:.0f} lb",
        basis=f"half of the load and of the frame's own weight on one of two diagonal posts; {working}",
        source=weakest_row("compression", dressed_section("2x4")),
        remedy="" if load_lb <= capacity_lb else _REMEDY,
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
            remedy=f"Cut the {board.name} out under each post and stand the posts on the blocking: it gets no wood value." if weak else "",
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
            remedy="Pre-drill; a stripped hole is moved, not filled." if refused else "",
            parts=("frame",),
        )
    ]


def _platform_height(job: FilledJob, design: Design) -> list[Finding]:
    """The platform is as low as the sink's deepest corner: of the delivered sink, or of its sheet until that is there."""
    sink, model = job.sink, design.placed.model
    if "platform panel" not in model:
        return []
    top = f"top of the platform {format_length(model.gap('subfloor', 'platform panel', 'z', to='far').value_in)} above the floor"
    if sink.under_most_in is None or sink.under_most_in <= sink.deepest_in:
        wrong = sink.under_most_in is not None
        return [
            plain_finding(
                "support/platform-height",
                "Height of the platform",
                Level.STOP if wrong else Level.CAUTION if sink.as_received else Level.OK,
                f"rim to underside {format_length(sink.underside_in)}",
                f"more than the bowl's depth of {format_length(sink.deepest_in)}" if wrong else "a measure at each corner of the delivered sink",
                basis=f"{top}, {'as read' if wrong else 'from bowl and bottom'}",
                source="common-practice",
                remedy="Read rim to underside again at the four corners."
                if wrong
                else "Measure the delivered sink before cutting posts: rim to underside at its four corners; note the largest and how much they differ.",
                parts=("frame", "bowl"),
            )
        ]
    return [
        fit_finding(
            "support/platform-height",
            "Corners of the sink above the platform",
            sink.corners_apart_in or 0.0,
            value("shims", "thick-end") + value("shims", "thin-end"),
            most=True,
            tolerance_in=0.0,
            basis=f"{top}, {format_length(sink.underside_in)} below the rim; shims fill the corners that stand higher",
            source=row("shims", "thick-end"),
            worst=Level.CAUTION,
            remedy="Bed the sink in mortar or send it back: shims alone don't fill this.",
            parts=("frame", "bowl"),
        )
    ]


def _clear_way(job: FilledJob, design: Design) -> list[Finding]:
    """Whether faucet, outlet and disposer find their way past the frame."""
    found, model = [], design.placed.model
    nuts = [body.name for body in model.of_part("holes")]
    for number, nut in enumerate(nuts, 1):
        low, high = model[nut].span("x")
        if "rear cross piece" not in model or high < model["rear cross piece"].span("x")[0] or low > model["rear cross piece"].span("x")[1]:
            continue
        gap = model.gap("rear cross piece", nut, "y")
        found.append(
            fit_finding(
                f"support/cross-piece-hole-{number}",
                f"Rear cross piece clear of the {nut}",
                gap.value_in,
                0.0,
                worst=Level.CAUTION,
                basis=f"under the rear rim, {format_length(model['rear cross piece'].span('y')[0])} from the wall; nut with room for its wrench",
                source="geometry",
                remedy="Don't notch the cross piece: move the hole, or carry the sink under its bowl.",
                parts=("frame", "holes"),
            )
        )
    if "platform panel" in model:
        hung, at = "disposer" if job.plumbing.disposer != "none" else "strainer", design.placed.sink
        x_in, y_in = at.outlets[0]
        off_in = x_in - sum(at.rim_x) / 2.0
        found.append(
            plain_finding(
                "support/platform-opening",
                "Opening in the platform for drain outlet and trap",
                Level.OK,
                f"panel under the bowl, {hung} hangs through it",
                "an opening between the joists, wide enough to turn the nut",
                basis=f"outlet {format_length(y_in - at.rim_y[0])} from the back, {format_length(off_in)} off the middle",
                source="common-practice",
                remedy="Set the joists clear of the outlet before the panel goes on; keep the trap within reach.",
                parts=("frame", hung),
            )
        )
    return found


def _balance(design: Design) -> list[Finding]:
    """Whether a joist lies on each side of the bowls' middle: a sink that stands in front of all of them tips; one that hangs in the countertop doesn't."""
    model, bowl_y = design.placed.model, design.placed.sink.outside_y
    if "platform joist front" not in model or design.placed.carrying.touches:
        return []
    middle_in, rear, front = sum(bowl_y) / 2.0, model["platform joist rear"], model["platform joist front"]
    if rear.span("y")[0] <= middle_in <= front.span("y")[1]:
        return []
    return [
        plain_finding(
            "support/balance",
            "Joists on both sides of the sink's middle",
            Level.STOP,
            f"joists from {format_length(rear.span('y')[0])} to {format_length(front.span('y')[1])}, the middle {format_length(middle_in)} from the wall",
            "a joist behind the middle and one in front of it",
            basis="joists lie between the back of the box and the toe kick, clear of the drain",
            source="geometry",
            remedy="The sink would tilt: choose another sink or base, or another place for the outlet.",
            parts=("frame", "bowl"),
        )
    ]


def _beside_outlet(design: Design) -> list[Finding]:
    """How near posts and joists stand to what hangs below an outlet; where they stand in it, that is a finding of its own."""
    model, air = design.placed.model, row("practice", "frame/outlet-air")
    hung = (*model.of_part("disposer"), *model.of_part("strainer"))
    members = [body for body in model.members() if body.part == "frame" and body.name != "platform panel"]  # the panel is cut out round it
    level = [(_beside_in(body, other), body.name, other.name) for body in members for other in hung if _share(body.span("z"), other.span("z"))]
    beside_in, member, other = min(level, default=(-1.0, "", ""))
    if beside_in < 0.0:
        return []
    return [
        fit_finding(
            "support/beside-outlet",
            f"Frame clear of the {part_name(other)}",
            beside_in,
            air.value,
            tolerance_in=0.0,
            worst=Level.CAUTION,
            basis=f"nearest is the {part_name(member)}",
            source=air,
            remedy=f"Lay the joists front to back beside the {part_name(other)}: no wood may touch it, and its nut or mounting ring must turn.",
            parts=("frame", other.partition(" ")[0]),
        )
    ]


def _beside_in(one: Body, other: Body) -> float:
    """From one body to another in plan, to a millionth: less is the noise of floats [in]; below 0 where they cross."""
    apart = [max(one.span(axis)[0] - other.span(axis)[1], other.span(axis)[0] - one.span(axis)[1]) for axis in _PLAN]
    return round(max(apart), 6)


def _share(one: Span, other: Span) -> bool:
    return one[0] < other[1] and other[0] < one[1]


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
