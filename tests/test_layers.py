"""The house has one way: each room imports only from the lines above it, and a start loads nothing heavy."""

import ast
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from importlib.metadata import packages_distributions
from pathlib import Path

import pytest

import kit

HOUSE = Path(kit.__file__).parent
# From the floor up; rooms on one line don't know each other, except on the floor.
FLOOR = "earned_value errors facts_html failures incoming money records shapes shipped_files solids sources spans steps units whole_files"
LINES = (
    set(FLOOR.split()),
    {"tables"},
    {"lists"},
    {"job"},
    {"design"},
    {"checks", "takeoff"},
    {"cutting"},
    {"buying", "labor"},
    {"pricing", "risk"},
    {"estimating"},
    {"outlook"},
    {"document"},
    {"archive", "change", "compare", "figures", "issued", "repricing"},
    {"contract"},
    {"learning"},
    {"draw"},
    {"export"},
    {"cli", "panels"},
    {"notebook"},
)
WHOLE_KIT = "estimating"  # `from kit import ...` brings what kit/__init__.py names, which reaches up to here
LINE_OF = {room: number for number, rooms in enumerate(LINES) for room in rooms}
WIDGETS = {"IPython", "anywidget", "ipywidgets", "traitlets"}
NEVER = {"ftplib", "http", "marshal", "pickle", "shelve", "smtplib", "socket", "urllib", "xmlrpc"}
HEAVY = ["anywidget", "highspy", "ipywidgets", "numpy", "openpyxl", "pandas", "pint", "rich", "tomlkit", "typer", "typst", "xlsxwriter"]
MODULES = sorted(path for path in HOUSE.rglob("*.py") if path != HOUSE / "__init__.py" and "_shipped" not in path.parts)


def room_of(path: Path) -> str:
    return path.relative_to(HOUSE).parts[0].removesuffix(".py")


def imports_of(source: str) -> Iterator[str]:
    """Every module that a source imports anywhere, functions included; relative imports are not used here."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            yield from (name.name for name in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, "a relative import"
            module = node.module or ""
            yield from ((f"kit.{name.name}" if module == "kit" and name.name in LINE_OF else module) for name in node.names)


def upward(room: str, source: str) -> list[str]:
    """The imports of a room's source that don't go down."""
    found = []
    for name in imports_of(source):
        if name.split(".")[0] != "kit":
            continue
        other = name.split(".")[1] if "." in name else WHOLE_KIT
        same_floor = LINE_OF[room] == LINE_OF[other] == 0
        if other != room and not same_floor and LINE_OF[other] >= LINE_OF[room]:
            found.append(name)
    return found


SERVERS = {"cli/gate.py", "cli/serving.py"}


def test_every_module_has_its_line() -> None:
    """A new room is given its place in the house here."""
    assert {room_of(path) for path in MODULES} <= set(LINE_OF)


@pytest.mark.parametrize("path", MODULES, ids=[path.relative_to(HOUSE).as_posix() for path in MODULES])
def test_imports_run_one_way(path: Path) -> None:
    """No room knows the rooms that are built on it."""
    assert upward(room_of(path), path.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize(
    ("room", "source", "wanted"),
    [
        ("design", "from kit.takeoff import take_off", ["kit.takeoff"]),
        ("design", "def inner():\n    import kit.estimating", ["kit.estimating"]),
        ("job", "from kit import estimating", ["kit.estimating"]),
        ("checks", "from kit.takeoff.sheet import Sheet", ["kit.takeoff.sheet"]),
        ("pricing", "from kit import Lists", ["kit"]),
        ("money", "from kit.errors import KitError", []),
        ("cli", "from kit import Lists\nfrom kit.export.workbook import write_workbook", []),
    ],
)
def test_upward_imports_are_noticed(room: str, source: str, wanted: list[str]) -> None:
    """The test above can fail: each way to import upward is seen."""
    assert upward(room, source) == wanted


@pytest.mark.parametrize("path", MODULES, ids=[path.relative_to(HOUSE).as_posix() for path in MODULES])
def test_only_panels_know_widgets_and_nobody_the_network(path: Path) -> None:
    """No widget library outside `panels`; no network and no pickle anywhere, but that the servers of pages and Lab look which port and address are free."""
    roots = {name.split(".")[0] for name in imports_of(path.read_text(encoding="utf-8"))}
    assert roots & NEVER <= ({"socket"} if path.relative_to(HOUSE).as_posix() in SERVERS else set())
    assert room_of(path) == "panels" or not roots & WIDGETS


def test_what_is_imported_is_declared() -> None:
    """Every library that a module imports is in pyproject.toml."""
    project = tomllib.loads((HOUSE.parent / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    declared = {word.split(">")[0].split("<")[0].split("=")[0].split("!")[0].split("[")[0].strip().lower() for word in project["dependencies"]}
    roots = {name.split(".")[0] for path in MODULES for name in imports_of(path.read_text(encoding="utf-8"))}
    outside = roots - set(sys.stdlib_module_names) - {"kit"}
    brought = packages_distributions()
    missing = sorted(name for name in outside if not {dist.lower() for dist in brought.get(name, [name])} & declared)
    # widget classes and display come with ipywidgets, which is declared
    assert set(missing) <= {"IPython", "traitlets"}


def test_import_kit_loads_nothing_heavy() -> None:
    """`import kit` stays fast: no units library, no arrays, no tables, no terminal, no widgets."""
    code = f"import kit, sys; print(*[name for name in {HEAVY!r} if name in sys.modules])"
    loaded = subprocess.run([sys.executable, "-W", "error", "-c", code], capture_output=True, text=True, check=True).stdout.split()
    assert loaded == []


def test_json_from_the_command_line_loads_no_terminal_library() -> None:
    """A first command stays fast: only a report for people loads the terminal library."""
    example = min(kit.shipped("examples").glob("*.toml"))
    code = (
        "import sys; sys.argv = ['sinkset', 'estimate', sys.argv[1], '--json']\n"
        "from kit.cli import main\n"
        "try:\n    main()\n"
        "except SystemExit as end:\n"
        "    print(end.code or 0, *[name for name in ('rich', 'pandas', 'pint', 'jupyterlab') if name in sys.modules], file=sys.stderr)"
    )
    ended = subprocess.run([sys.executable, "-c", code, str(example)], capture_output=True, text=True, check=True)
    assert ended.stderr.split() == ["0"]
