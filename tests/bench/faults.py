"""Do the tests see a fault? Puts seeded random faults into the syntax trees of some modules, one at a time, and lists those that no test sees.

    python tests/bench/faults.py FAULTS SEED "kit/takeoff/*.py" -- tests/takeoff

Run by hand. A copy of the checkout in a temporary folder is changed, never the checkout itself. A fault changes a number
by one or a tenth, flips a comparison, swaps plus for minus or times for divided by, or drops a term of a sum. What
survives either wants a test, or makes no difference to any answer (a limit of search steps, say).
"""

import ast
import os
import random
import resource
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[2]
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


def run_tests(folder: Path, tests: list[str]) -> bool:
    """Whether all tests pass."""
    command = [sys.executable, "-m", "pytest", "-x", "-q", "-p", "no:cacheprovider", *tests]
    limit = lambda: resource.setrlimit(resource.RLIMIT_CPU, (SLOWEST_S, SLOWEST_S))  # noqa: E731 - for the child alone
    env = {**os.environ, "PYTHONPATH": str(folder)}
    return subprocess.run(command, cwd=folder, env=env, capture_output=True, preexec_fn=limit, check=False).returncode == 0


def main() -> None:
    """One line for each survivor, then their number."""
    cut = sys.argv.index("--")
    number, seed, patterns, tests = int(sys.argv[1]), int(sys.argv[2]), sys.argv[3:cut], sys.argv[cut + 1 :]
    chance = random.Random(seed)
    modules = sorted(path.relative_to(ROOT) for pattern in patterns for path in ROOT.glob(pattern))
    places = [(module, place) for module in modules for place, _ in enumerate(list_faults(ast.parse((ROOT / module).read_text(encoding="utf-8"))))]
    survivors = 0
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name) / "copy"
        shutil.copytree(ROOT, folder, ignore=shutil.ignore_patterns(".git", ".venv", "__pycache__", ".ci-output"))
        if not run_tests(folder, tests):
            raise SystemExit("The tests fail without any fault.")
        for module, place in chance.sample(places, min(number, len(places))):
            source = (ROOT / module).read_text(encoding="utf-8")
            tree = ast.parse(source)
            node, fault = list(list_faults(tree))[place]
            line = getattr(node, "lineno", 0)
            put_in(node, fault)
            (folder / module).write_text(ast.unparse(tree), encoding="utf-8")
            if run_tests(folder, tests):
                survivors += 1
                print(f"{module}:{line}: {fault}, now {ast.unparse(node)}: {source.splitlines()[line - 1].strip()}", flush=True)
            (folder / module).write_text(source, encoding="utf-8")
    print(f"{survivors} of {number} faults survive")


if __name__ == "__main__":
    main()
