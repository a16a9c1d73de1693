"""Do the tests see a fault? Puts seeded random faults into the syntax trees of some modules, one at a time, and lists those that no test of their room sees.

    python tests/bench/faults.py FAULTS SEED                      # all rooms that compute, a room by its lines of code
    python tests/bench/faults.py FAULTS SEED "kit/takeoff/*.py"   # some modules
    python tests/bench/faults.py FAULTS SEED --at-once 2 --traces FOLDER   # two at a time; traces are kept for the next run

Run by hand. A copy of the checkout in a temporary folder is changed, never the checkout itself. A fault changes a number
by one or a tenth, flips a comparison, swaps plus for minus or times for divided by, or drops a term of a sum. The tests
that run its lines are tried first, then the whole room (without the long ones) and the pinned figures of all rooms. What survives either wants a test, or
makes no difference to any answer (a limit of search steps, say).
"""

import argparse
import ast
import json
import os
import random
import resource
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor, as_completed
from functools import partial
from hashlib import sha256
from pathlib import Path
from queue import SimpleQueue
from typing import TypeVar

from coverage import CoverageData

T = TypeVar("T")
ROOT = Path(__file__).parents[2]
ROOMS = ("checks", "design", "takeoff", "labor", "pricing", "buying", "cutting", "risk", "contract", "change", "learning")
NO_FOLDER = {"risk": ["tests/test_risk.py", "tests/test_finish_chance.py"], "change": ["tests/test_change.py", "tests/test_change_references.py"]}
"""Tests of the rooms that have no folder of tests."""
PINNED = "tests/test_pinned_figures.py"
"""Figures of all of these rooms: what a room works out may show in the next one only."""
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


def tests_of(room: str) -> list[str]:
    """What tests a room."""
    return [*NO_FOLDER.get(room, [f"tests/{room}"]), PINNED]


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


def run_tests(folder: Path, tests: list[str], *, traced: tuple[str, ...] = ()) -> str:
    """Empty when all tests pass, else the last lines that were printed."""
    command = [sys.executable, *traced, "-m", "pytest", "-x", "-q", "-p", "no:cacheprovider", "-m", "not long", *tests]
    limit = lambda: resource.setrlimit(resource.RLIMIT_CPU, (SLOWEST_S, SLOWEST_S))  # noqa: E731 - for the child alone
    env = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"} | {"PYTHONPATH": str(folder)}
    done = subprocess.run(command, cwd=folder, env=env, capture_output=True, text=True, preexec_fn=limit, check=False)
    return "" if done.returncode == 0 else "\n".join(done.stdout.splitlines()[-3:]) or f"ended with {done.returncode}"


def print_of(folder: Path) -> str:
    """A fingerprint of kit and tests: a trace holds for these alone."""
    files = sorted(
        path for part in ("kit", "tests", "price_lists", "examples") for path in (folder / part).rglob("*") if path.suffix in {".py", ".csv", ".toml"}
    )
    return sha256(b"".join(path.read_bytes() for path in files)).hexdigest()[:12]


def trace_tests(folder: Path, room: str, kept: Path) -> CoverageData | None:
    """Which line of the room is run by which test, and how many branches are taken; None, said, if a test fails without any fault."""
    rc = folder / f"{room}.rc"
    rc.write_text("[run]\nbranch = true\ndynamic_context = test_function\nrelative_files = true\n", encoding="utf-8")
    if not kept.exists():
        fresh = folder / f"{room}.traced"
        failed = run_tests(folder, tests_of(room), traced=("-m", "coverage", "run", f"--rcfile={rc}", f"--data-file={fresh}", f"--source=kit/{room}"))
        if failed:
            print(f"kit/{room}: not measured, its tests fail without any fault:\n{failed}", flush=True)
            return None
        shutil.move(fresh, kept)
    told = folder / f"{room}.json"
    subprocess.run([sys.executable, "-m", "coverage", "json", "-q", f"--rcfile={rc}", f"--data-file={kept}", "-o", told], cwd=folder, check=True)
    totals = json.loads(told.read_text(encoding="utf-8"))["totals"]
    print(f"kit/{room}: its tests take {totals['covered_branches']} of {totals['num_branches']} branches", flush=True)
    traced = CoverageData(str(kept))
    traced.read()
    return traced


def nearest_tests(folder: Path, traced: CoverageData, module: Path, tree: ast.AST, node: ast.AST) -> list[str]:
    """The tests that run the lines of the smallest statement around a node; of what stands outside of functions, those that run its module."""
    around = [statement for statement in ast.walk(tree) if isinstance(statement, ast.stmt) and any(inner is node for inner in ast.walk(statement))]
    smallest = min(around, key=lambda statement: (statement.end_lineno or 0) - statement.lineno)
    by_line = traced.contexts_by_lineno(str(module))
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


def try_fault(folder: Path, module: Path, place: int, traced: CoverageData) -> tuple[bool, str]:
    """Whether a test sees the fault, and the fault in words."""
    source = (folder / module).read_text(encoding="utf-8")
    tree = ast.parse(source)
    node, fault = list(list_faults(tree))[place]
    line = getattr(node, "lineno", 0)
    nearest = nearest_tests(folder, traced, module, tree, node)
    put_in(node, fault)
    (folder / module).write_text(ast.unparse(tree), encoding="utf-8")
    try:
        caught = bool((nearest and run_tests(folder, nearest)) or run_tests(folder, tests_of(module.parts[1])))
    finally:
        (folder / module).write_text(source, encoding="utf-8")
    return caught, f"{module}:{line}: {fault}, now {ast.unparse(node)}: {source.splitlines()[line - 1].strip()}"


def main() -> None:
    """One line for each fault as it is done, then how many were caught and those that survive."""
    asked = argparse.ArgumentParser(description="Do the tests see a fault?")
    asked.add_argument("faults", type=int)
    asked.add_argument("seed", type=int)
    asked.add_argument("modules", nargs="*", default=[f"kit/{room}/*.py" for room in ROOMS])
    asked.add_argument("--traces", type=Path, help="a folder in which traces stay for the next run")
    asked.add_argument("--at-once", type=int, default=1, help="how many faults at a time, each in a copy of its own")
    args = asked.parse_args()
    modules = sorted(path.relative_to(ROOT) for pattern in args.modules for path in ROOT.glob(pattern))
    with tempfile.TemporaryDirectory() as name, ThreadPoolExecutor(args.at_once) as pool:
        copies: SimpleQueue[Path] = SimpleQueue()
        for number in range(args.at_once):
            copies.put(folder := Path(name) / f"copy {number}" / ROOT.name)
            shutil.copytree(ROOT, folder, ignore=shutil.ignore_patterns(".git", ".venv", "__pycache__", ".ci-output"))
        print_now, traces = print_of(ROOT), (args.traces or Path(name)).resolve()
        traces.mkdir(parents=True, exist_ok=True)
        places = draw_places(folder, random.Random(args.seed), args.faults, modules)

        def in_a_copy(work: Callable[[Path], T]) -> T:
            copy = copies.get()
            try:
                return work(copy)
            finally:
                copies.put(copy)

        rooms = list(dict.fromkeys(module.parts[1] for module, _ in places))
        traced = dict(zip(rooms, pool.map(lambda room: in_a_copy(lambda copy: trace_tests(copy, room, traces / f"{room}-{print_now}")), rooms), strict=True))
        measured = [(module, place, found) for module, place in places if (found := traced[module.parts[1]])]
        running = [pool.submit(in_a_copy, partial(try_fault, module=module, place=place, traced=found)) for module, place, found in measured]
        survivors = []
        for done, one in enumerate(as_completed(running), 1):
            caught, words = one.result()
            survivors += [] if caught else [words]
            print(f"{done} of {len(measured)}: {'caught' if caught else 'SURVIVES'}: {words}", flush=True)
    print("", *sorted(survivors), sep="\n")
    print(f"{len(measured) - len(survivors)} caught, {len(survivors)} survive, {len(places) - len(measured)} not measured")


if __name__ == "__main__":
    main()
