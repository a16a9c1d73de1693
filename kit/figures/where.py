"""Where does a figure act? Each module of the kit opens with the question that it answers; here stands which of them read which figure."""

import ast
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import kit.sources
from kit.lists import Lists
from kit.sources import Row, list_tables, table

__all__ = ["ReadingModule", "all_figures", "modules_reading", "places_of_use", "table_name"]

ANY = ".*"
HOUSE = Path(kit.sources.__file__).resolve().parents[1]
ROOM_WORDS = {
    "buying": "buying",
    "checks": "fit checks",
    "design": "how it is built",
    "draw": "drawings",
    "export": "papers",
    "job": "what a job file may say",
    "labor": "hours and calendar",
    "takeoff": "takeoff",
}
"""Where a figure acts, by the room of the module that reads it."""
READERS = {"value", "row", "rows_under", "table"}
"""The functions of `kit.sources` that give figures."""


@dataclass(frozen=True, slots=True)
class ReadingModule:
    """A module that reads figures: its name, the question that it answers, and what of each table it reads, as a pattern of names."""

    name: str
    question: str
    reads: tuple[tuple[str, re.Pattern[str]], ...]

    def takes(self, figure: Row) -> bool:
        """Whether it reads a figure."""
        return any(name == figure.table and pattern.fullmatch(figure.name) for name, pattern in self.reads)


def all_figures() -> tuple[Row, ...]:
    """Every figure, table by table, in the order of the files."""
    return tuple(figure for name in list_tables() for figure in table(name).values())


def table_name(name: str) -> str:
    """What a table is called: "Trap arms"."""
    return re.sub(r"\bcounter", "countertop", name.replace("_", " ")).capitalize()


def places_of_use(figure: Row, lists: Lists | None = None) -> tuple[str, ...]:
    """In which part of the work a figure acts, in a few words, and the lists that name it; none: no estimate reads it."""
    rooms = (ROOM_WORDS[module.name.partition("/")[0]] for module in _modules() if module.takes(figure))
    return (*dict.fromkeys(rooms), *_lists_naming(figure, lists))


def modules_reading(figure: Row, lists: Lists | None = None) -> tuple[str, ...]:
    """The questions of the modules in which a figure acts; of a figure that price lists name in a cell, the lists too. None: no estimate reads it."""
    return (*(module.question for module in _modules() if module.takes(figure)), *_lists_naming(figure, lists))


def _lists_naming(figure: Row, lists: Lists | None) -> Iterator[str]:
    named = f"{figure.table}/{figure.name}"
    return (f"Price lists, {file}" for file, text in (lists.texts.items() if lists else ()) if named in text)


@cache
def _modules() -> tuple[ReadingModule, ...]:
    """The modules that read tables, by the syntax of their sources: nothing of them is run."""
    modules = []
    for path in sorted(HOUSE.rglob("*.py")):
        text = path.read_text(encoding="utf-8") if path.parent.name != "sources" or path.name != "__init__.py" else ""
        if "kit.sources" in text:
            tree = ast.parse(text)
            reads = tuple(dict.fromkeys(_reads(tree)))
            question = (ast.get_docstring(tree) or path.stem).splitlines()[0].strip().rstrip(".")
            modules.append(ReadingModule(path.relative_to(HOUSE).with_suffix("").as_posix(), question, reads))
    return tuple(module for module in modules if module.reads)


def _reads(tree: ast.Module) -> Iterator[tuple[str, re.Pattern[str]]]:
    """What a module reads: calls with a table's name, and texts that name table and figure ("checks/lead/year")."""
    named = {to.id: node.value for node in tree.body if isinstance(node, ast.Assign) for to in node.targets if isinstance(to, ast.Name)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and node.args and (names := _texts(node.args[0], named)):
            function = node.func.id if isinstance(node.func, ast.Name) else getattr(node.func, "attr", "")
            of_tables = [name for name in names if name in list_tables()]
            whole = function not in READERS or function == "table" or len(node.args) < 2
            pattern = ANY if whole else f"{_pattern(node.args[1])}{'/.*' if function == 'rows_under' else ''}"
            for name in of_tables:
                yield from ((name, re.compile(pattern_of_name)) for pattern_of_name in ([pattern] if pattern != ANY else _names_in(tree, name)))
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and node.value.partition("/")[0] in list_tables():
            name, _, rest = node.value.partition("/")
            if rest:
                yield name, re.compile(re.escape(rest))


def _names_in(tree: ast.Module, name: str) -> list[str]:
    """What a module may read of a table where the name is only known when it runs: the names that stand in it as texts, else any."""
    texts = {node.value for node in ast.walk(tree) if isinstance(node, ast.Constant) and isinstance(node.value, str)}
    parts = {_pattern(node) for node in ast.walk(tree) if isinstance(node, ast.JoinedStr)}
    known = [re.escape(text) for text in sorted(texts & set(table(name)))]
    built = [pattern for pattern in sorted(parts) if "/" in pattern and any(re.fullmatch(pattern, row) for row in table(name))]
    return known + built or [ANY]


def _texts(node: ast.expr, named: Mapping[str, ast.expr]) -> list[str]:
    """The texts that an expression may be; `named` are the constants of the module."""
    if isinstance(node, ast.IfExp):
        return [*_texts(node.body, named), *_texts(node.orelse, named)]
    if isinstance(node, ast.Name) and node.id in named:
        return _texts(named[node.id], {})
    return [node.value] if isinstance(node, ast.Constant) and isinstance(node.value, str) else []


def _pattern(node: ast.expr) -> str:
    """The names of figures that an expression may give: what is only known when it runs may be anything."""
    if isinstance(node, ast.IfExp):
        return f"(?:{_pattern(node.body)}|{_pattern(node.orelse)})"
    if isinstance(node, ast.JoinedStr):
        return "".join(_pattern(part) for part in node.values)
    return re.escape(node.value) if isinstance(node, ast.Constant) and isinstance(node.value, str) else ANY
