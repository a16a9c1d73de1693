"""Nothing in kit/ is named only by tests: each function, class, method and constant is used by the kit, a notebook, or is public."""

import ast
import json
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import kit

ROOT = Path(__file__).resolve().parents[1]

# what a library finds by its decorator, a notebook or an enumeration by its name
HOOKS = {"command", "callback", "field_validator", "model_validator"}
CALLED_BY_NAME = {
    "_ipython_display_",
    "_missing_",
    "initialize",
    "_repr_html_",
    "check_xsrf_cookie",
    "collect_usage_pieces",
    "format_options",
    "parse_args",
    "post",
}

WOOD = "the design of wood members and fasteners by allowable stress is kept for whoever sizes a frame by hand"
OWN_PLANS = "earned value, three points and the chance to finish are for plans of one's own; the contributor's guide says where they are"
OFFICE = "what the contributor's guide shows under 'From Python, in full'"
UNITS = "lengths, quantities and conversions for people who compute in a notebook of their own"
SETTING = "what a server loads by the name that stands in its settings"
COMMAND = "what the contributor's guide runs by hand"

# names that nothing in the kit or its notebooks reads, by the reason why they stay
KEPT: dict[str, set[str]] = {
    WOOD: {
        *("span_midpoint", "span_point", "span_two_points", "cantilever_end", "add_effects"),
        *(
            "member_elasticity",
            "long_term_deflection",
            "design_values",
            "find_screw",
            "screw_reach",
            "lateral_value",
            "adjusted_lateral",
            "withdrawal",
            "allowable_tension",
        ),
    },
    OWN_PLANS: {
        *(
            "EarnedValue.percent_complete",
            "EarnedValue.cost_variance",
            "EarnedValue.schedule_variance",
            "EarnedValue.variance_at_completion",
            "EarnedValue.to_complete_performance",
            "percent_complete_by_cost",
            "beta_pert_variance",
            "approximate_finish",
            "try_finish",
        ),
    },
    OFFICE: {"set_contingency", "reprice"},
    UNITS: {"convert"},
    SETTING: {"PromptChannels"},
    COMMAND: {"write_schema", "write_description"},
}
REASONS = {name: reason for reason, names in KEPT.items() for name in names}


@dataclass(frozen=True)
class Definition:
    """A name that a file of the kit defines, with the first and last line of what it defines."""

    file: str
    name: str
    owner: str
    first: int
    last: int

    @property
    def title(self) -> str:
        return self.owner + self.name


@cache
def trees() -> dict[str, ast.Module]:
    """Each file of the kit."""
    return {path.relative_to(ROOT).as_posix(): ast.parse(path.read_text(encoding="utf-8")) for path in sorted((ROOT / "kit").rglob("*.py"))}


def definitions_of(file: str, tree: ast.Module) -> Iterator[Definition]:
    """Functions, classes, methods and constants; what a library calls by its decorator or by a name with two underscores is left out."""
    for node in tree.body:
        if isinstance(node, ast.Assign | ast.AnnAssign):
            targets = node.targets if isinstance(node, ast.Assign) else [node.target]
            for target in targets:
                if isinstance(target, ast.Name) and not target.id.startswith("__"):
                    yield Definition(file, target.id, "", node.lineno, node.end_lineno or node.lineno)
        if isinstance(node, ast.FunctionDef | ast.ClassDef):
            yield from _named(file, node, "")
        if isinstance(node, ast.ClassDef):
            for part in node.body:
                if isinstance(part, ast.FunctionDef):
                    yield from _named(file, part, f"{node.name}.")


def _named(file: str, node: ast.FunctionDef | ast.ClassDef, owner: str) -> Iterator[Definition]:
    decorators = {name for decorator in node.decorator_list for name in names_in(decorator)}
    if not node.name.startswith("__") and not decorators & HOOKS and node.name not in CALLED_BY_NAME:
        yield Definition(file, node.name, owner, node.lineno, node.end_lineno or node.lineno)


def names_in(tree: ast.AST) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Name):
            yield node.id
        elif isinstance(node, ast.Attribute):
            yield node.attr


@cache
def uses() -> dict[str, Counter[tuple[str, int]]]:
    """Where each name is read: file and line. Imports and lists of public names are no use; a text that spells a name is one."""
    found: dict[str, Counter[tuple[str, int]]] = {}
    for file, tree in trees().items():
        for node in tree.body:
            if isinstance(node, ast.Assign) and any(isinstance(target, ast.Name) and target.id == "__all__" for target in node.targets):
                continue
            for part in ast.walk(node):
                name = None
                if isinstance(part, ast.Name) and isinstance(part.ctx, ast.Load):
                    name = part.id
                elif isinstance(part, ast.Attribute):
                    name = part.attr
                elif isinstance(part, ast.Constant) and isinstance(part.value, str) and part.value.isidentifier():
                    name = part.value
                if name:
                    found.setdefault(name, Counter())[file, part.lineno] += 1
    return found


@cache
def notebook_names() -> frozenset[str]:
    """Names in the code of the notebooks."""
    cells = [cell for path in (ROOT / "notebooks").glob("*.ipynb") for cell in json.loads(path.read_text(encoding="utf-8"))["cells"]]
    return frozenset(name for cell in cells if cell["cell_type"] == "code" for name in names_in(ast.parse("".join(cell["source"]))))


def is_reached(one: Definition) -> bool:
    """Whether something outside of its own lines reads the name; a private one of a module, inside of its file."""
    if one.name in notebook_names() or (not one.owner and one.name in kit.__all__):
        return True
    private = one.name.startswith("_") and not one.owner
    return any((file != one.file or not one.first <= line <= one.last) and (file == one.file or not private) for file, line in uses().get(one.name, ()))


def unreached() -> list[Definition]:
    """What only tests can reach."""
    return [one for file, tree in trees().items() for one in definitions_of(file, tree) if not is_reached(one)]


def test_nothing_in_the_kit_is_named_only_by_tests() -> None:
    """Use it, make it public, or take it out; what stays for another reason is in the table above."""
    lines = [f"{one.file}:{one.first} {one.title} ({one.last - one.first + 1} lines)" for one in unreached() if one.title not in REASONS]
    assert not lines, "only tests reach:\n" + "\n".join(lines)


def test_the_table_holds_no_more_than_it_must() -> None:
    """What is used, public or gone is off the table."""
    there = {one.title for one in unreached()}
    assert sorted(name for name, reason in REASONS.items() if name not in there) == []


def test_the_guide_leads_to_what_is_kept() -> None:
    """Whoever reads the guide finds each name in the table, or the module that it stands in."""
    guide = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    homes = {one.title: one.file.removesuffix(".py").replace("/", ".") for one in unreached()}
    assert [name for name in REASONS if name not in guide and homes[name] not in guide] == []


def test_a_name_that_nothing_uses_is_noticed() -> None:
    """A function that only calls itself is unreached, one that another calls is not."""
    tree = ast.parse("def lonely(n):\n    return lonely(n - 1)\n\n\ndef _helper():\n    pass\n\n\nMADE = _helper()\n")
    lonely, helper, _ = definitions_of("kit/none.py", tree)
    assert not is_reached(lonely)
    assert helper.name == "_helper"
