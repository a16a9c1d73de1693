"""Which steps has a visit, in the order of the work; which fields belong to each, and to which step a finding leads?"""

from collections.abc import Mapping
from dataclasses import dataclass
from html import escape
from types import MappingProxyType

from kit.draw.marks import find_part
from kit.records import Finding

__all__ = ["STEPS", "VisitStep", "leads_to", "leads_to_field", "link_to_field", "part_of", "step_of_field", "step_of_finding", "steps_by_id"]


@dataclass(frozen=True, slots=True)
class VisitStep:
    """A step of the visit: its name, the parts of the job that are typed in it, the picture beside them, and what it is for."""

    id: str
    name: str
    parts: tuple[str, ...]
    help: str
    picture: str = ""


STEPS = (
    VisitStep("start", "Start", ("identity",), "Start a job or open one, and say whose it is. Every date counts from the day of the visit.", "plan"),
    VisitStep("house", "House", ("site",), "The house and the way in.", "way-in"),
    VisitStep("cabinet", "Cabinet", ("cabinet",), "The sink base. Heights below the cabinet top are measured down from it.", "front"),
    VisitStep("there", "What is there", ("old",), "What comes out.", "today"),
    VisitStep("sink", "Sink", ("sink",), "A sink from the list brings its nominal sizes. Type over them what you measure on the sink itself.", "sink"),
    VisitStep("counter", "Countertop", ("counter",), "A countertop from the list brings its material, thickness and maker.", "plan"),
    VisitStep("plumbing", "Plumbing", ("plumbing",), "What is below the sink. Leave empty what you could not see.", "section"),
    VisitStep("level", "Level", ("levelness",), "Readings along the run, down from a level line through the highest point.", "level"),
    VisitStep("scope", "Who does what", ("scope",), "Who supplies each thing and who installs it. What stays or is excluded costs nothing.", "section"),
    VisitStep("check", "Check", (), "What the checks found, sorted by what to do."),
    VisitStep("options", "Options", (), "The other mounts and countertops, and what a change would do. Nothing here changes the job until you keep it."),
    VisitStep("papers", "Price and papers", ("terms", "offcuts", "prices"), "What the price is made of, and everything that goes out."),
)
_PARTS_OF_STEP: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "sink": ("sink", "apron", "bowl", "rim", "frame", "posts"),
        "cabinet": ("cabinet", "cabinet floor", "toe kick", "doors", "false front", "front cut", "left neighbor", "right neighbor", "corner", "run boxes"),
        "counter": ("counter", "cut-out", "front strip", "rear strip", "splash", "seam", "holes"),
        "plumbing": ("strainer", "disposer", "trap", "arm", "stub"),
        "level": ("shims",),
        "house": ("wall", "floor"),
    }
)
_STEP_OF_PART = {part: step for step, parts in _PARTS_OF_STEP.items() for part in parts}
_STEP_OF_FIELD = {part: step.id for step in STEPS for part in step.parts}
_FIELD_OF_FINDING = {  # typed elsewhere than the first part that it names
    "cabinet/apron-above-doors": "cabinet.door_top",
    "cabinet/apron-covers-false-front": "cabinet.false_front_bottom",
    "lift/crew": "terms.crew",
    "lift/screening": "terms.crew",
    "support/below-posts": "cabinet.floor_material",
    "surface/level": "levelness.readings",
    "surface/packed": "cabinet.fixed",
}
_LISTS_AND_LAW = {"prices": "papers", "terms": "papers", "duties": "house", "way-in": "house", "supply": "plumbing", "drain": "plumbing"}


def steps_by_id() -> dict[str, VisitStep]:
    """The steps by their id."""
    return {step.id: step for step in STEPS}


def part_of(place: str) -> str:
    """The part of the job in which a field stands: "counter" of "counter.runs[1].length"."""
    return place.partition(".")[0].partition("[")[0]


def step_of_field(place: str) -> str:
    """The step in which a field is typed."""
    return _STEP_OF_FIELD.get(part_of(place), "start")


def leads_to_field(place: str) -> str:
    """What is turned to where a person goes to a field."""
    return f"{step_of_field(place)}/{place}"


def link_to_field(place: str, words: str, tip: str = "") -> str:
    """A way to a field, as HTML."""
    leads = escape(leads_to_field(place), quote=True)
    return f"<button type='button' class='sk-link' data-go='{leads}' title='{escape(tip, quote=True)}'>{escape(words)}</button>"


def leads_to(finding: Finding) -> str:
    """What is turned to where a person goes from a finding: its step, and in it its own field where it has one."""
    return "/".join(filter(None, (step_of_finding(finding), _FIELD_OF_FINDING.get(finding.id))))


def step_of_finding(finding: Finding) -> str:
    """The step in which what a finding speaks of is typed: that of its own field or of the first part that it names, else that of its room."""
    if finding.id in _FIELD_OF_FINDING:
        return step_of_field(_FIELD_OF_FINDING[finding.id])
    room = finding.id.partition("/")[0]
    if room in _LISTS_AND_LAW:
        return _LISTS_AND_LAW[room]
    parts = (find_part(name) or name for name in finding.parts)
    return next((_STEP_OF_PART[part] for part in parts if part in _STEP_OF_PART), "scope" if room == "scope" else "cabinet")
