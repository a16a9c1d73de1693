"""What a person reads: US trade words by the list tests/words.csv, no ids, lengths as a tape shows them, days as people write them."""

import ast
import csv
import html
import io
import re
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

import openpyxl
import pytest
import typer
from export_demo import EXAMPLES, FIRST, LISTS, estimate_of, example_path, workbook_of
from typer.testing import CliRunner

import kit
from kit.cli.commands import app
from kit.draw import tables
from kit.draw.drawings import list_drawings
from kit.draw.why import explain_number
from kit.export import crew_sheet, purchase_list
from kit.export.proposal import proposal_document
from kit.outlook import plan_schedule
from kit.panels.check_list import draw_check_list
from kit.panels.customer_view import draw_customer_view
from kit.panels.verdict import draw_verdict

ROOT = Path(__file__).resolve().parents[2]
KIT = Path(kit.__file__).parent
RULES = {
    "an id in place of a name": re.compile(
        r"\b(?:[a-z0-9]+_[a-z0-9_]+(?!\.csv|[a-z0-9_]*\.csv)\b|(?:site|cabinet|old|sink|counter|plumbing|levelness|terms|scope)\.[a-z])"
    ),
    "a decimal of an inch": re.compile(r"(?<![$\d.,])\d*\.\d+ in\b"),
    "a day not as people write it": re.compile(r"\b\d{4}-\d{2}-\d{2}\b"),
}
# the workbook's own names of cells and lines, and the files and folder of the lists, are for formulas and for whoever looks them up
CODES_STAND = {"Cell name", "Line", "File", "Fingerprint", "Name in formulas"}


def word_list() -> list[tuple[re.Pattern[str], dict[str, str]]]:
    rows = list(csv.DictReader((ROOT / "tests" / "words.csv").read_text(encoding="utf-8").splitlines()))
    return [(re.compile(rf"(?<![\w./-]){re.escape(row['word'])}(?![\w-]|\.\w)", re.IGNORECASE), row) for row in rows]


WORDS = word_list()


def strings(thing: Any) -> Iterator[str]:
    """Every string in nested data, without days for the program."""
    if isinstance(thing, str):
        yield thing
    elif isinstance(thing, dict):
        yield from (text for key, value in thing.items() if key not in {"day", "sha256"} for text in strings(value))
    elif isinstance(thing, list | tuple):
        yield from (text for one in thing for text in strings(one))


def shown(markup: str) -> list[str]:
    """The texts of HTML or SVG."""
    bare = re.sub(r"<style.*?</style>|<script.*?</script>", "", markup, flags=re.DOTALL)
    return [html.unescape(text).strip() for text in re.split(r"<[^>]*>", bare) if text.strip()]


def off_the_list(text: str) -> Iterator[str]:
    for supplier in LISTS.suppliers:
        text = text.replace(supplier, "")
    for pattern, row in WORDS:
        if pattern.search(text.replace(row["but_not"], "") if row["but_not"] else text):
            yield f'"{row["word"]}" (say {row["use"]}): {text[:150]}'


def faults(texts: Iterable[str], *, rules: Iterable[str] = RULES) -> list[str]:
    found = [fault for text in dict.fromkeys(texts) for fault in off_the_list(text)]
    return found + [f"{name}: {text[:150]}" for text in dict.fromkeys(texts) for name in rules if RULES[name].search(text)]


def run(*args: object) -> list[str]:
    """What a command prints on a wide terminal, tables of lists and their fingerprints aside."""
    printed = CliRunner().invoke(app, [str(arg) for arg in args], env={"COLUMNS": "400"}).output
    return [line for line in printed.splitlines() if not re.search(r"\.csv |folder price_lists| Counter$| Counter ", line)]


@pytest.mark.parametrize("name", EXAMPLES)
def test_reports_and_papers_speak_the_trades_english(name: str) -> None:
    """Check and estimate in full, proposal, crew sheet, purchase list; the text of the templates is in the next test but one."""
    found, schedule = estimate_of(name), plan_schedule(estimate_of(name))
    papers = proposal_document(found), crew_sheet._document(found, schedule, None, {}), purchase_list._document(found, schedule, None)
    assert faults([*run("check", example_path(name), "--all"), *run("estimate", example_path(name), "--full"), *strings(list(papers))]) == []


@pytest.mark.parametrize("name", EXAMPLES)
def test_drawings_and_tables_of_the_screen_do(name: str) -> None:
    """Every drawing; check list, verdict, customer's view, takeoff, purchases, hours, dates, price; and what stands behind each "why?" of them."""
    found = estimate_of(name)
    views = [
        draw_check_list(found),
        draw_verdict(found, at_rest=True),
        draw_customer_view(found),
        tables.draw_lines(found.lines, LISTS),
        tables.draw_purchases(found.purchases, LISTS),
        tables.draw_hours(found.tasks, {step: row.name for step, row in LISTS.steps.items()}),
        tables.draw_dates(plan_schedule(found)),
        tables.draw_build_up(found.build_up, found.terms),
        *(drawing for _, drawing in list_drawings(found)),
    ]
    behind = [explain_number(found, html.unescape(about)) for view in views for about in re.findall(r"data-why='([^']+)'", view)]
    assert len(behind) > 50
    assert faults(text for view in (*views, *behind) for text in shown(view)) == []


def test_comparison_help_and_templates_do() -> None:
    """One comparison (it is the dearest to make), the help of every command, and what a paper's template says by itself."""
    commands = typer.main.get_command(app).commands  # type: ignore[attr-defined]
    said = [line for name in commands for line in run(name, "--help")]
    templates = [text for path in KIT.glob("export/*.typ") for text in re.findall(r"\[([^\[\]#]*)\]", path.read_text(encoding="utf-8"))]
    assert len(commands) > 10
    assert len(templates) > 50
    assert faults([*run("compare", example_path("counter_stays_sink_only"), "--full")]) == []
    assert faults([*said, *templates], rules=("a decimal of an inch",)) == []


def test_cells_of_the_workbook_do() -> None:
    """Words, lengths and days; ids stand in the columns that say so."""
    book = openpyxl.load_workbook(io.BytesIO(workbook_of(FIRST)), read_only=True)
    cells = [cell for sheet in book for row in sheet.iter_rows(values_only=True) for cell in row if isinstance(cell, str) and not cell.startswith("=")]
    texts = [cell for cell in cells if " " in cell and "/" not in cell.split(" ", 1)[0]]
    assert len(texts) > 300
    assert faults(texts, rules=("a decimal of an inch", "a day not as people write it")) == []


def error_templates() -> Iterator[str]:
    """The literal text of every sentence that is raised or becomes a fault."""
    for path in KIT.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            name = getattr(node.func, "id", getattr(node.func, "attr", "")) if isinstance(node, ast.Call) else ""
            if name == "Fault" or name.endswith("Error"):
                yield from (one.value for one in ast.walk(node) if isinstance(one, ast.Constant) and isinstance(one.value, str) and " " in one.value)


def test_errors_do() -> None:
    """Every template of an error; places in a file keep their own names there."""
    said = list(error_templates())
    assert len(said) > 300
    assert faults(said, rules=()) == []


@pytest.mark.parametrize(
    ("text", "hand_fault"),
    [
        ("The counter is level", '"counter" (say countertop)'),
        ("0.125 in low", "a decimal of an inch"),
        ("old on 2026-03-02", "a day not"),
        ("sink.bowls is missing", "an id in place"),
        ("stops_to_renew", "an id in place"),
    ],
)
def test_the_rules_find_what_they_forbid(text: str, hand_fault: str) -> None:
    """Each rule by one fault."""
    assert any(fault.startswith(hand_fault) for fault in faults([text]))
    assert faults(["Countertop 25 1/2 in deep, side splash, ask at the Invented Plumbing Counter by Thu, Apr 16"]) == []
