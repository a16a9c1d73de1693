"""Does the frame stand where it can: as low as the sink's deepest corner, on both sides of its middle, clear of what hangs below it?"""

from kit.checks.finding import SIDES, WALL, fit_finding, plain_finding
from kit.design.design import Design
from kit.job import FilledJob
from kit.job.field_names import part_name
from kit.records import Finding, Level
from kit.shapes import Axis
from kit.solids import Body
from kit.sources import row, value
from kit.spans import spans_cross
from kit.units import format_length, format_side, without_noise

__all__ = ["check_frame_room", "check_platform_height"]

_PLAN: tuple[Axis, Axis] = ("x", "y")


def check_frame_room(job: FilledJob, design: Design) -> list[Finding]:
    """The frame past faucet, outlet and disposer, and its joists on both sides of the sink's middle."""
    return [*_clear_way(job, design), *_balance(design), *_beside_outlet(design)]


def check_platform_height(job: FilledJob, design: Design) -> list[Finding]:
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
                f"more than the bowl's depth of {format_length(sink.deepest_in)}" if wrong else "a reading at each corner of the delivered sink",
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
    findings, model = [], design.placed.model
    nuts = [body.name for body in model.of_part("holes")]
    for number, nut in enumerate(nuts, 1):
        low, high = model[nut].span("x")
        if "rear cross piece" not in model or high < model["rear cross piece"].span("x")[0] or low > model["rear cross piece"].span("x")[1]:
            continue
        gap = model.gap("rear cross piece", nut, "y")
        findings.append(
            fit_finding(
                f"support/cross-piece-hole-{number}",
                f"Rear cross piece clear of the {nut}",
                gap.value_in,
                0.0,
                worst=Level.CAUTION,
                basis=f"under the rear rim, {format_side(model['rear cross piece'].span('y')[0], *WALL)}; nut with room for its wrench",
                source="geometry",
                remedy="Don't notch the cross piece: move the hole, or carry the sink under its bowl.",
                parts=("frame", "holes"),
            )
        )
    if "platform panel" in model:
        hung, at = "disposer" if job.plumbing.disposer != "none" else "strainer", design.placed.sink
        x_in, y_in = at.outlets[0]
        off_in = x_in - sum(at.rim_x) / 2.0
        middle = "in the middle" if format_length(off_in) == "0 in" else f"{format_side(off_in, *SIDES)} of the middle"
        findings.append(
            plain_finding(
                "support/platform-opening",
                "Opening in the platform for drain outlet and trap",
                Level.OK,
                f"panel under the bowl, {hung} hangs through it",
                "an opening between the joists, wide enough to turn the nut",
                basis=f"outlet {format_length(y_in - at.rim_y[0])} from the back, {middle}",
                source="common-practice",
                remedy="Set the joists clear of the outlet before the panel goes on; keep the trap within reach.",
                parts=("frame", hung),
            )
        )
    return findings


def _balance(design: Design) -> list[Finding]:
    """Whether a joist lies on each side of the bowls' middle: a sink that stands in front of all of them tips; one that hangs in the countertop doesn't."""
    model, bowl_y = design.placed.model, design.placed.sink.outside_y
    if "platform joist front" not in model or design.placed.carrying.touches:
        return []
    middle_in, rear, front = sum(bowl_y) / 2.0, model["platform joist rear"], model["platform joist front"]
    if rear.span("y")[0] <= middle_in <= front.span("y")[1]:
        return []
    nearest, farthest = sorted((rear.span("y")[0], front.span("y")[1]))
    return [
        plain_finding(
            "support/balance",
            "Joists on both sides of the sink's middle",
            Level.STOP,
            f"joists between {format_length(nearest)} and {format_length(farthest)} from the wall, the middle {format_side(middle_in, *WALL)}",
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
    level = [(_beside_in(body, other), body.name, other.name) for body in members for other in hung if spans_cross(body.span("z"), other.span("z"))]
    beside_in, member, other = min(level, default=(-1.0, "", ""))
    if beside_in < 0.0:
        return []
    return [
        fit_finding(
            "support/beside-outlet",
            f"Frame clear of {_the_part(other)}",
            beside_in,
            air,
            tolerance_in=0.0,
            worst=Level.CAUTION,
            basis=f"nearest is {_the_part(member)}",
            remedy=f"{_out_of_its_way(member, _the_part(other))}: no wood may touch it, and its nut or mounting ring must turn.",
            parts=("frame", other.partition(" ")[0]),
        )
    ]


def _out_of_its_way(member: str, hung: str) -> str:
    return f"Lay the joists front to back beside {hung}" if member.startswith("platform joist") else f"Move {_the_part(member)} off {hung}"


def _the_part(name: str) -> str:
    """One of several goes by its number: "the strainer", but "strainer 2"."""
    words = part_name(name)
    return words if words[-1].isdigit() else f"the {words}"


def _beside_in(one: Body, other: Body) -> float:
    """From one body to another in plan, without the noise of floats [in]; below 0 where they cross."""
    apart = [max(one.span(axis)[0] - other.span(axis)[1], other.span(axis)[0] - one.span(axis)[1]) for axis in _PLAN]
    return without_noise(max(apart))
