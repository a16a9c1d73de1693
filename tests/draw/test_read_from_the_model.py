"""Where something is, drawings and fit checks read from the model: none of them works a place out again from the job's fields."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest
from drawn import EXAMPLES, job, lists

import kit

HOUSE = Path(kit.__file__).parent
DRAWINGS = (
    "front_elevation",
    "front_room",
    "today",
    "sink_sizes",
    "way_in_picture",
    "level_profile",
    "section",
    "section_drain",
    "plan",
    "plan_sink",
    "frame_picture",
    "set_out",
)
CHECKS = tuple(sorted(path.stem for path in (HOUSE / "checks").glob("*.py")))
_SEEN = "whether somebody measured it, which no body says; and how far down from the box top, as he did"
_GOODS = "the thing as it is delivered and carried in, not where it stands"
SECTIONS = {"cabinet", "sink", "counter", "plumbing"}
WORKED_OUT = {("cabinet", "inside_width"), ("counter", "run_of_sink"), ("sink", "deepest"), ("sink", "rim_width")}
"""What a section of a job works out from fields that fix a place."""
ALLOWED = {
    ("plan", "counter.runs"): "runs that stand apart don't stand in the model; how many there are says what the runs are called",
    ("plan_sink", "counter.runs"): "whether there are others says on which side the dimensions stand",
    ("front_room", "counter.run_of_sink"): "what the ends of the run meet is a word, no place",
    ("openings", "sink.rim_width"): "the check holds the rim as measured against the model",
    ("cabinet_fit", "cabinet.false_front_bottom"): _SEEN,
    ("cabinet_fit", "cabinet.door_top"): _SEEN,
    ("cabinet_fit", "cabinet.door_reveal"): "a wish: doors that stay have no such gap in the model",
    ("cabinet_fit", "cabinet.mid_rail"): _SEEN,
    ("cabinet_fit", "cabinet.mid_rail_top"): _SEEN,
    ("counter_ends", "counter.runs"): "the gap as measured at the end of each run, also of runs that stand apart",
    ("counter_ends", "counter.splash_thickness"): "what covers that gap",
    ("counter_ends", "counter.run_of_sink"): "what the ends of the run meet is a word, no place; how far past its boxes it may go there",
    ("counter_ends", "cabinet.boxes"): "what the boxes are called, held against the neighbors",
    ("drain_in_wall", "plumbing.stud_depth"): "the share of a stud that a hole may take: no place",
    ("lift_crew", "sink.depth"): _GOODS,
    ("mounts", "sink.bottom_thickness"): "what a strainer clamps: no place",
    ("frame_room", "sink.under_most"): "the reading at the delivered sink, held against the bowl as measured",
    ("frame_room", "sink.deepest"): "the bowl as measured, held against the reading",
    ("surface", "counter.run_of_sink"): "how level boxes must be over the length of their run; an opening past its end leaves no end in the model",
    ("wood_top", "counter.reveal"): "the reveal as chosen, which moves with the seasons",
    ("wood_top", "counter.splash_thickness"): "what covers the gap at the wall, also a splash of tile by others",
}


@pytest.fixture(scope="module")
def fixed() -> set[tuple[str, str]]:
    """Section and field of every measure that fixes a place in the model of an example."""
    models = [kit.estimate(job(name), lists()).design.placed.model for name in EXAMPLES]
    named = {field for model in models for body in model for field in body.fields}
    return {tuple(field.split(".", 1)) for field in named} | WORKED_OUT


def section_of(node: ast.expr, known: dict[str, str]) -> str | None:
    """The section of a job that an expression is: `job.sink`, `estimate.job.sink`, or a name that stands for it."""
    if isinstance(node, ast.Name):
        return known.get(node.id)
    if isinstance(node, ast.Attribute) and node.attr in SECTIONS:
        owner = node.value
        if (isinstance(owner, ast.Name) and owner.id == "job") or (isinstance(owner, ast.Attribute) and owner.attr == "job"):
            return node.attr
    return None


def names_of(tree: ast.AST) -> dict[str, str]:
    """Names that stand for a section: assigned alone or in a row, or a parameter that is a counter."""
    known: dict[str, str] = {}
    for node in ast.walk(tree):
        if isinstance(node, ast.arg) and node.annotation is not None and ast.unparse(node.annotation).startswith("Counter["):
            known[node.arg] = "counter"
        for target in node.targets if isinstance(node, ast.Assign) else ():
            in_a_row = isinstance(target, ast.Tuple) and isinstance(node.value, ast.Tuple)
            pairs = zip(target.elts, node.value.elts, strict=True) if in_a_row else ((target, node.value),)
            known |= {name.id: section for name, value in pairs if isinstance(name, ast.Name) and (section := section_of(value, known))}
    return known


def reads_of(tree: ast.AST) -> Iterator[tuple[str, str]]:
    """Section and attribute of every read of a job's section, whatever name the section goes by."""
    known = names_of(tree)
    for node in ast.walk(tree):
        if isinstance(node, ast.Attribute) and (section := section_of(node.value, known)):
            yield section, node.attr.removesuffix("_in")


def trees() -> Iterator[tuple[str, ast.AST]]:
    """Each module of a drawing of the job, and of the checks, with its name."""
    for name in DRAWINGS:
        yield name, ast.parse((HOUSE / "draw" / f"{name}.py").read_text(encoding="utf-8"))
    for name in CHECKS:
        yield name, ast.parse((HOUSE / "checks" / f"{name}.py").read_text(encoding="utf-8"))


def test_the_places_of_the_examples_are_fixed_by_known_fields(fixed: set[tuple[str, str]]) -> None:
    """Width and depth of the base, bowls, runs and holes are among them, or the test below would let everything through."""
    assert {("cabinet", "width"), ("cabinet", "depth"), ("sink", "bowls"), ("counter", "runs"), ("counter", "holes"), ("plumbing", "stub_height")} <= fixed


def test_drawings_and_fit_checks_read_no_field_that_fixes_a_place(fixed: set[tuple[str, str]]) -> None:
    """What they show or compare are bodies and gaps of the model; each exception has its reason."""
    read = {(name, f"{section}.{field}") for name, tree in trees() for section, field in reads_of(tree) if (section, field) in fixed}
    assert read - set(ALLOWED) == set()
    assert set(ALLOWED) - read == set(), "an exception that nothing needs any more"


@pytest.mark.parametrize(
    "source",
    [
        "def f(job): return job.cabinet.width_in",
        "def f(estimate):\n    sink = estimate.job.sink\n    return sink.depth_in",
        "def f(job):\n    one, other = job.site, job.counter\n    return other.holes",
        "def f(counter: Counter[Never]): return counter.runs[0]",
    ],
)
def test_a_read_is_seen_by_whatever_name(source: str, fixed: set[tuple[str, str]]) -> None:
    """Directly, through a name, out of a pair, from a parameter; the place of the sink in the model is no field of the job."""
    assert set(reads_of(ast.parse(source))) & fixed
    assert not set(reads_of(ast.parse("def f(placed): return placed.sink.depth_in")))
