"""Do the tests see a fault? Puts seeded random faults into the syntax trees of some modules, one at a time, and lists those that no test of their room sees.

    python tests/bench/faults.py FAULTS SEED                      # all rooms that compute, a room by its lines of code
    python tests/bench/faults.py FAULTS SEED "kit/takeoff/*.py"   # some modules

Run by hand. A copy of the checkout in a temporary folder is changed, never the checkout itself. A fault changes a number
by one or a tenth, flips a comparison, swaps plus for minus or times for divided by, or drops a term of a sum. The tests
that run its lines are tried first, then the whole room (without the long ones). What survives either wants a test, or
makes no difference to any answer (a limit of search steps, say).
"""

import ast
import json
import os
import random
import resource
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from coverage import CoverageData

ROOT = Path(__file__).parents[2]
ROOMS = ("checks", "design", "takeoff", "labor", "pricing", "buying", "cutting", "risk", "contract", "change", "learning")
NO_FOLDER = {"risk": ["tests/test_risk.py", "tests/test_finish_chance.py"], "change": ["tests/test_change.py", "tests/test_change_references.py"]}
"""Tests of the rooms that have no folder of tests."""
FLIPPED: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.LtE,
    ast.LtE: ast.Lt,
    ast.Gt: ast.GtE,
    ast.GtE: ast.Gt,
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
}
SWAPPED: dict[type[ast.operator], type[ast.operator]] = {ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult}
SLOWEST_S = 300
"""A test run that takes more of a core than this has seen the fault: it sent a loop astray [s of CPU, so that a busy machine hides no fault]."""


def list_faults(tree: ast.AST) -> Iterator[tuple[ast.AST, str]]:
    """Each node that can be changed and how."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and type(node.value) in {int, float}:
            yield node, "a number one more" if isinstance(node.value, int) else "a number a tenth more"
        elif isinstance(node, ast.Compare) and type(node.ops[0]) in FLIPPED:
            yield node, "a comparison flipped"
        elif isinstance(node, ast.BinOp) and type(node.op) in SWAPPED:
            yield node, "an operator swapped"
            if isinstance(node.op, ast.Add | ast.Sub):
                yield node, "a term dropped"


def put_in(node: ast.AST, fault: str) -> None:
    """Change the node."""
    if isinstance(node, ast.Constant):
        node.value = node.value + 1 if isinstance(node.value, int) else node.value * 1.1 + 0.1
    elif isinstance(node, ast.Compare):
        node.ops[0] = FLIPPED[type(node.ops[0])]()
    elif isinstance(node, ast.BinOp) and fault == "a term dropped":
        node.op, node.right = ast.Add(), ast.Constant(0)
    elif isinstance(node, ast.BinOp):
        node.op = SWAPPED[type(node.op)]()


def run_tests(folder: Path, tests: list[str], *, traced: tuple[str, ...] = ()) -> bool:
    """Whether all tests pass."""
    command = [sys.executable, *traced, "-m", "pytest", "-x", "-q", "-p", "no:cacheprovider", "-m", "not long", *tests]
    limit = lambda: resource.setrlimit(resource.RLIMIT_CPU, (SLOWEST_S, SLOWEST_S))  # noqa: E731 - for the child alone
    env = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"} | {"PYTHONPATH": str(folder)}
    return subprocess.run(command, cwd=folder, env=env, capture_output=True, preexec_fn=limit, check=False).returncode == 0


def trace_tests(folder: Path, room: str, tests: list[str]) -> CoverageData:
    """Which line of the room is run by which test, and how many branches are taken; SystemExit if a test fails without any fault."""
    (folder / "traced.rc").write_text("[run]\nbranch = true\ndynamic_context = test_function\n", encoding="utf-8")
    kept = folder / f"{room}.traced"
    if not run_tests(folder, tests, traced=("-m", "coverage", "run", "--rcfile=traced.rc", f"--data-file={kept}", f"--source=kit/{room}")):
        raise SystemExit(f"The tests of {room} fail without any fault.")
    told = folder / f"{room}.json"
    subprocess.run([sys.executable, "-m", "coverage", "json", "-q", f"--data-file={kept}", "-o", told], cwd=folder, check=True)
    totals = json.loads(told.read_text(encoding="utf-8"))["totals"]
    print(f"kit/{room}: its tests take {totals['covered_branches']} of {totals['num_branches']} branches", flush=True)
    traced = CoverageData(str(kept))
    traced.read()
    return traced


def nearest_tests(folder: Path, traced: CoverageData, module: Path, tree: ast.AST, node: ast.AST) -> list[str]:
    """The tests that run the lines of the smallest statement around a node; of what stands outside of functions, those that run its module."""
    around = [statement for statement in ast.walk(tree) if isinstance(statement, ast.stmt) and any(inner is node for inner in ast.walk(statement))]
    smallest = min(around, key=lambda statement: (statement.end_lineno or 0) - statement.lineno)
    by_line = traced.contexts_by_lineno(str(folder / module))
    names = {name for line in range(smallest.lineno, (smallest.end_lineno or 0) + 1) for name in by_line.get(line, [])} - {""}
    names = names or {name for found in by_line.values() for name in found} - {""}
    files = {path.stem: path.relative_to(folder) for path in (folder / "tests").rglob("test_*.py")}
    in_order = sorted(names, key=lambda name: (sum(name in found for found in by_line.values()), name))  # those with little else in them first
    return [f"{files[name.split('.')[0]]}::{name.split('.', 1)[1].replace('.', '::')}" for name in in_order if name.split(".")[0] in files]


def draw_places(folder: Path, chance: random.Random, number: int, modules: list[Path]) -> list[tuple[Path, int]]:
    """Different places of faults; a module is drawn by its lines, a place in it evenly."""
    sources = [(folder / module).read_text(encoding="utf-8") for module in modules]
    places = [list(range(len(list(list_faults(ast.parse(source)))))) for source in sources]
    lines = [source.count("\n") for source in sources]
    drawn: list[tuple[Path, int]] = []
    while len(drawn) < number and any(places):
        at = chance.choices(range(len(modules)), [many if left else 0 for many, left in zip(lines, places, strict=True)])[0]
        drawn.append((modules[at], places[at].pop(chance.randrange(len(places[at])))))
    return drawn


def main() -> None:
    """One line for each survivor, then their number."""
    number, seed, patterns = int(sys.argv[1]), int(sys.argv[2]), sys.argv[3:] or [f"kit/{room}/*.py" for room in ROOMS]
    modules = sorted(path.relative_to(ROOT) for pattern in patterns for path in ROOT.glob(pattern))
    survivors = 0
    traces: dict[str, CoverageData] = {}
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name) / "copy"
        shutil.copytree(ROOT, folder, ignore=shutil.ignore_patterns(".git", ".venv", "__pycache__", ".ci-output"))
        for module, place in draw_places(folder, random.Random(seed), number, modules):
            room = module.parts[1]
            tests = NO_FOLDER.get(room, [f"tests/{room}"])
            traces[room] = traces.get(room) or trace_tests(folder, room, tests)
            source = (folder / module).read_text(encoding="utf-8")
            tree = ast.parse(source)
            node, fault = list(list_faults(tree))[place]
            line = getattr(node, "lineno", 0)
            nearest = nearest_tests(folder, traces[room], module, tree, node)
            put_in(node, fault)
            (folder / module).write_text(ast.unparse(tree), encoding="utf-8")
            if (not nearest or run_tests(folder, nearest)) and run_tests(folder, tests):
                survivors += 1
                print(f"{module}:{line}: {fault}, now {ast.unparse(node)}: {source.splitlines()[line - 1].strip()}", flush=True)
            (folder / module).write_text(source, encoding="utf-8")
    print(f"{survivors} of {number} faults survive")


if __name__ == "__main__":
    main()
