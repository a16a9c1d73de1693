"""Every example in a docstring of the kit runs and gives what stands there."""

import ast
import doctest
import inspect
import re
from importlib import import_module
from pathlib import Path

import pytest

import kit

HOUSE = Path(kit.__file__).parent
MODULES = [
    ".".join(("kit", *path.relative_to(HOUSE).with_suffix("").parts)).removesuffix(".__init__")
    for path in sorted(HOUSE.rglob("*.py"))
    if ">>> " in path.read_text(encoding="utf-8")
]


@pytest.mark.parametrize("name", MODULES)
def test_the_examples_of_a_module(name: str) -> None:
    tried = doctest.testmod(import_module(name), optionflags=doctest.FAIL_FAST)
    assert tried.attempted > 0
    assert tried.failed == 0


def test_each_public_function_says_what_it_takes_and_shows_an_example() -> None:
    """Parameters, what may go wrong and an example that runs; files that go out for good are the exception: `write_papers`, `issue`."""
    for name in kit.__all__:
        thing = getattr(kit, name)
        if inspect.isfunction(thing):
            words = inspect.getdoc(thing) or ""
            assert "Parameters\n---" in words, name
            assert "Raises\n---" in words, name
            assert f"kit.{name}(" in words.partition("Examples")[2] or name in {"write_papers", "issue"}, name


SECTION = re.compile(r"Parameters\n-+\n(.*?)(?:\n\n\w[\w ]*\n-+\n|\Z)", re.DOTALL)


def test_parameters_are_named_as_they_are_called() -> None:
    """Wherever a docstring lists them: each one of the function, and none that it has not."""
    seen = 0
    for path in sorted(HOUSE.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            section = SECTION.search(ast.get_docstring(node) or "") if isinstance(node, ast.FunctionDef) else None
            if isinstance(node, ast.FunctionDef) and section:
                said = {name.strip() for line in section.group(1).splitlines() if not line.startswith(" ") for name in line.split(",")} - {""}
                takes = {one.arg for one in (*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs)} - {"self", "cls"}
                takes |= {one.arg for one in (node.args.vararg, node.args.kwarg) if one is not None}
                assert said == takes, f"{path.name}, {node.name}"
                seen += 1
    assert seen > 100
