"""Is each number of the shipped tables held by something outside of it?

A check is a printed case (`tests/printed.csv`), a function `check_*` of a module in `tests/sources/hand_checks/`, or a
test that calls a module of the kit which reads the tables. Each check is first run while watching which rows it reads;
then each row is changed by one percent, and a check that reads it must fail. Judged rows are let off: their note says why.
"""

import importlib.util
import re
import sys
import time
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, replace
from functools import cache, partial
from operator import attrgetter
from pathlib import Path
from types import FunctionType, ModuleType
from typing import Any

import printed_cases
import pytest
from hypothesis import is_hypothesis_test

import kit.sources
from kit.figures.moves import WatchedRows
from kit.sources import Row

TESTS = Path(__file__).resolve().parents[1]
KIT = Path(kit.sources.__file__).resolve().parents[1]
HAND_CHECKS = Path(__file__).resolve().parent / "hand_checks"
CHANGE = 0.01
ParameterSet = type(pytest.param())

_read_rows = kit.sources.read_rows


@dataclass(frozen=True)
class Check:
    """Something that fails when a number it reads is wrong."""

    name: str
    run: Callable[[], object]

    def fails(self) -> bool:
        """Whether it fails now."""
        try:
            self.run()
        except Exception:  # noqa: BLE001 (a wrong number may break a check in any way)
            return True
        return False


@dataclass(frozen=True)
class Reading:
    """A check, the rows that it reads as table and name, and how long it takes [s]."""

    check: Check
    rows: frozenset[tuple[str, str]]
    seconds: float


@contextmanager
def tables_read_by(reader: Callable[[str], dict[str, Row]]) -> Iterator[None]:
    """Let the kit read its tables through another function; nothing read before is remembered."""
    kit.sources.read_rows = reader
    forget()
    try:
        yield
    finally:
        kit.sources.read_rows = _read_rows
        forget()


def forget() -> None:
    """Empty every cache of the kit."""
    for module_name in [name for name in sys.modules if name.partition(".")[0] == "kit"]:
        for thing in caches_of(module_name):
            thing.cache_clear()


@cache
def caches_of(module_name: str) -> list[Any]:
    """What a module of the kit remembers."""
    return [thing for thing in list(vars(sys.modules[module_name]).values()) if callable(getattr(thing, "cache_clear", None))]


def rows_read_by(check: Check) -> set[tuple[str, str]]:
    """Table and name of each row that a check reads; the check must hold."""
    seen: set[tuple[str, str]] = set()
    with tables_read_by(lambda name: WatchedRows(_read_rows(name), seen)):
        check.run()
    return seen


def changed(row: Row, factor: float = 1 + CHANGE) -> Callable[[str], dict[str, Row]]:
    """A reader of tables that gives one row another value: one percent more, or as much as the factor says (the difference for a row of zero)."""
    wrong = replace(row, value=row.value * factor if row.value else abs(factor - 1))
    return lambda name: {**_read_rows(name), row.name: wrong} if name == row.table else _read_rows(name)


def find_uncovered(table: str) -> list[str]:
    """Rows of a table, not judged, that may be changed by one percent without a check failing: firm checks are tried first, the nearest tests next."""
    left = [row for row in _read_rows(table).values() if row.kind != "judged"]
    for find_readings in (firm_readings, partial(near_readings, table), all_readings):
        if left:
            checks = checks_by_row(find_readings())  # worked out before any row is changed
            left = [row for row in left if not is_held(row, checks[table, row.name])]
    return [row.name for row in left]


def is_held(row: Row, checks: list[Check]) -> bool:
    """Whether one of the checks fails when the row is changed; the first that fails is enough."""
    with tables_read_by(changed(row)):
        return any(check.fails() for check in checks)


def checks_by_row(readings: Iterable[Reading]) -> dict[tuple[str, str], list[Check]]:
    """The checks that read each row, the quickest first."""
    found: dict[tuple[str, str], list[Check]] = defaultdict(list)
    for reading in sorted(readings, key=attrgetter("seconds")):
        for place in reading.rows:
            found[place].append(reading.check)
    return found


def watch(check: Check) -> Reading:
    """The rows that a check reads, and how long it takes."""
    start = time.process_time()
    rows = rows_read_by(check)
    return Reading(check, frozenset(rows), time.process_time() - start)


@cache
def firm_readings() -> tuple[Reading, ...]:
    """Those of the printed cases and the hand checks, which must hold."""
    return tuple(watch(check) for check in (*printed_checks(), *hand_checks()))


def near_readings(table: str) -> list[Reading]:
    """Those of the tests that import a module in which the table is named."""
    modules = {module_name(path) for path in KIT.rglob("*.py") if f'"{table}"' in path.read_text(encoding="utf-8")}
    return [reading for path in offering_files() if imports_of(path) & modules for reading in readings_of(path)]


def all_readings() -> list[Reading]:
    """Those of every test that is offered."""
    return [reading for path in offering_files() for reading in readings_of(path)]


@cache
def readings_of(path: Path) -> list[Reading]:
    """Those of the tests of one file; a test that does not hold now fails under its own name."""
    found = []
    for check in tests_of(path):
        with suppress(Exception):
            found.append(watch(check))
    return found


def printed_checks() -> list[Check]:
    """The cases of printed.csv."""
    return [Check(str(case), case.check) for case in printed_cases.read_cases()]


def hand_checks() -> list[Check]:
    """The functions `check_*` of the modules in hand_checks."""
    modules = [load(path) for path in sorted(HAND_CHECKS.glob("*.py"))]
    return [Check(f"{module.__name__}.{name}", thing) for module in modules for name, thing in vars(module).items() if name.startswith("check_")]


@cache
def offering_files() -> list[Path]:
    """Files with tests of modules that read the tables.

    Of these tests, those are left out that want fixtures or draw examples, and those of the long run.
    """
    readers = {module_name(path) for path in KIT.rglob("*.py") if "kit.sources" in path.read_text(encoding="utf-8")} - {"kit.sources"}
    return [path for path in sorted(TESTS.rglob("test_*.py")) if path.parent != HAND_CHECKS.parent and imports_of(path) & readers]


@cache
def imports_of(path: Path) -> set[str]:
    """Modules of the kit that a file of tests names in its imports."""
    return set(re.findall(r"^(?:from|import) (kit[.\w]*)", path.read_text(encoding="utf-8"), re.MULTILINE))


def module_name(path: Path) -> str:
    """Dotted name of a module of the kit."""
    return ".".join(path.relative_to(KIT.parent).with_suffix("").parts).removesuffix(".__init__")


def tests_of(path: Path) -> list[Check]:
    """The tests of one module that can be called without pytest."""
    try:
        module = load(path)
    except Exception:  # noqa: BLE001 (it fails under its own name)
        return []
    tests = [thing for name, thing in vars(module).items() if name.startswith("test_") and isinstance(thing, FunctionType) and not is_hypothesis_test(thing)]
    tests = [test for test in tests if not is_long(test)]
    return [Check(f"{path.stem}.{test.__name__}{values or ''}", partial(test, **values)) for test in tests for values in parameters(test)]


def is_long(case: Any) -> bool:
    """Whether a test, or a set of parameters, is left to the long run."""
    marks = case.marks if isinstance(case, ParameterSet) else getattr(case, "pytestmark", [])
    return any(mark.name == "long" for mark in marks)


def parameters(test: Callable[..., object]) -> list[dict[str, object]]:
    """Every set of parameters of a test; none when it wants fixtures."""
    sets: list[dict[str, object]] = [{}]
    for mark in getattr(test, "pytestmark", []):
        if mark.name == "parametrize":
            names = [name.strip() for name in mark.args[0].split(",")] if isinstance(mark.args[0], str) else list(mark.args[0])
            cases = [given for given in mark.args[1] if not is_long(given)]
            rows = [given.values if isinstance(given, ParameterSet) else given if len(names) > 1 else (given,) for given in cases]
            one = [dict(zip(names, row, strict=True)) for row in rows]
            sets = [left | right for left in sets for right in one]
    wanted = set(test.__code__.co_varnames[: test.__code__.co_argcount])
    return sets if sets and set(sets[0]) == wanted else []


@cache
def load(path: Path) -> ModuleType:
    """A module of the tests by its path."""
    spec = importlib.util.spec_from_file_location(f"mutation_{path.stem}", path)
    assert spec is not None
    assert spec.loader is not None
    if str(path.parent) not in sys.path:
        sys.path.insert(0, str(path.parent))  # as pytest does, for helpers beside the test
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module
