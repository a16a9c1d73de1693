"""What a person reads: US trade words by the list tests/words.csv, no ids, lengths as a tape shows them, days as people write them."""

import ast
import csv
import html
import io
import json
import re
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Any

import openpyxl
import pytest
import typer
from change_jobs import CHANGES
from export_demo import EXAMPLES, LISTS, SOME, estimate_of, example_path, workbook_of
from paper_text import pages_of
from test_bill import issue, signed
from test_change_order import changing
from typer.testing import CliRunner

import kit
from kit.cli.commands import app
from kit.draw import tables
from kit.draw.drawings import list_drawings
from kit.draw.why import explain_number
from kit.errors import Fault
from kit.export.bill import bill_bytes
from kit.export.change_order import change_order_bytes
from kit.export.crew_sheet import crew_sheet_bytes
from kit.export.proposal import proposal_bytes
from kit.export.purchase_list import purchase_list_bytes
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
SOONEST = "counter_stays_sink_only"  # compared soonest


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
        if found := pattern.search(text.replace(row["but_not"], "") if row["but_not"] else text):
            yield f'"{row["word"]}" (say {row["use"]}): {_around(text, found)}'


def faults(texts: Iterable[str], *, rules: Iterable[str] = RULES) -> list[str]:
    found = [fault for text in dict.fromkeys(texts) for fault in off_the_list(text)]
    seen = [(name, text, RULES[name].search(text)) for text in dict.fromkeys(texts) for name in rules]
    return found + [f"{name}: {_around(text, there)}" for name, text, there in seen if there]


def _around(text: str, found: re.Match[str]) -> str:
    """The place in a text, a page perhaps."""
    return text[max(0, found.start() - 60) : found.start() + 90]


def run(*args: object) -> list[str]:
    """What a command prints on a wide terminal, tables of lists and their fingerprints aside."""
    printed = CliRunner().invoke(app, [str(arg) for arg in args], env={"COLUMNS": "400"}).output
    return [line for line in printed.splitlines() if not re.search(r"\.csv |folder price_lists| Counter$| Counter ", line)]


@pytest.mark.parametrize("name", SOME)
def test_reports_and_papers_speak_the_trades_english(name: str) -> None:
    """Check and estimate in full as they are printed; proposal, crew sheet and purchase list as their PDF reads."""
    found, schedule = estimate_of(name), plan_schedule(estimate_of(name))
    papers = proposal_bytes(found), crew_sheet_bytes(found, schedule=schedule), purchase_list_bytes(found, schedule=schedule)
    pages = [page for paper in papers for page in pages_of(paper)]
    printed = [*run("check", example_path(name), "--all"), *run("estimate", example_path(name), "--full")]
    assert len(printed) > 200
    assert len(pages) >= 5
    assert faults([*printed, *pages]) == []


@pytest.mark.parametrize("name", [SOONEST, *(pytest.param(name, marks=pytest.mark.long) for name in EXAMPLES if name != SOONEST)])
def test_comparisons_do(name: str) -> None:
    """As they are printed; five of them in the long run."""
    assert faults(run("compare", example_path(name), "--full")) == []


def test_papers_of_a_contract_do(tmp_path: Path) -> None:
    """Bill, credit note, canceled contract and every change order of the tests, as their PDF reads."""
    issued = issue(tmp_path)
    billed = signed(issued, 2)
    papers = [bill_bytes(issued, billed, number) for number in (1, 2)] + [change_order_bytes(changing(name)) for name in CHANGES]
    pages = [page for paper in papers for page in pages_of(paper)]
    assert len(pages) > 4
    assert faults(pages) == []


def test_a_contract_from_offer_to_end_does(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What each command prints in a contract's life, its change, the table of jobs, what jobs teach, a target and what it refuses."""
    monkeypatch.chdir(tmp_path)
    job, other = Path(f"{SOONEST}.toml"), Path("changed.toml")
    job.write_bytes(example_path(SOONEST).read_bytes())
    other.write_text(job.read_text(encoding="utf-8").replace('cabinet_floor = "old"', "").replace("wet_floor = false", "wet_floor = true"), encoding="utf-8")
    said = run("issue", job, "--day", "2026-04-13", "--reason", "to try it")
    issued = Path("DEMO-005-r01.json")
    for words in (
        ("estimate", issued),
        ("sign", issued, "--day", "2026-04-14"),
        ("bill", issued, "--day", "2026-04-15"),
        ("paid", issued, "100 USD", "--day", "2026-04-16"),
        ("change", issued, other, "--day", "2026-04-17", "--find", "short-stub=1", "--offer", "--despite", "to try it"),
        ("spent", issued, "--amount", "45.50 USD", "--code", "410", "--kind", "material", "--text", "clips", "--day", "2026-04-18"),
        ("undo", issued, "4", "typed twice", "--day", "2026-04-19"),
        ("cancel", issued, "the customer moved", "--owed", "200 USD", "--day", "2026-04-20"),
        ("jobs", issued),
        ("jobs", "."),
        ("learn", "taught", "--invent", "20", "--all"),
        ("target", job, "--margin", "35%", "--price", "1500 USD", "--crew-day", "900 USD"),
    ):
        printed = run(*words)
        assert printed, words
        said += printed
    assert len(said) > 200
    assert faults([re.sub(r"(hours|days|waste)/[\w./-]+|profit = .*|[\w.-]+\.(json|toml)|DEMO-\S+|common-practice", "", line) for line in said]) == []


@pytest.mark.parametrize("name", SOME)
def test_drawings_and_tables_of_the_screen_do(name: str) -> None:
    """Every drawing; check list, verdict, customer's view, takeoff, purchases, hours, dates, price; and what stands behind each "why?" of them."""
    found = estimate_of(name)
    views = [
        draw_check_list(found),
        draw_verdict(found.job_as_read, found, at_rest=True),
        draw_customer_view(found),
        tables.draw_lines(found.lines, LISTS, found.step_names),
        tables.draw_purchases(found.purchases, LISTS),
        tables.draw_hours(found.tasks, {step: row.name for step, row in LISTS.steps.items()}),
        tables.draw_dates(plan_schedule(found), "if signed Mon, Mar 9"),
        tables.draw_build_up(found.build_up, found.terms),
        *(drawing for _, drawing in list_drawings(found)),
    ]
    behind = [explain_number(found, html.unescape(about)) for view in views for about in re.findall(r"data-why='([^']+)'", view)]
    assert len(behind) > 50
    assert faults(text for view in (*views, *behind) for text in shown(view)) == []


def test_help_and_templates_do() -> None:
    """The help of every command, and what a paper's template says by itself, on no example's paper perhaps."""
    commands = typer.main.get_command(app).commands  # type: ignore[attr-defined]
    said = [line for name in commands for line in run(name, "--help")]
    templates = [text for path in KIT.glob("export/*.typ") for text in re.findall(r"\[([^\[\]#]*)\]", path.read_text(encoding="utf-8"))]
    assert len(commands) > 10
    assert len(templates) > 50
    assert faults([*said, *templates], rules=("a decimal of an inch",)) == []


@pytest.mark.parametrize("name", SOME)
def test_cells_of_the_workbook_do(name: str) -> None:
    """Words, lengths and days; ids stand in the columns that say so."""
    book = openpyxl.load_workbook(io.BytesIO(workbook_of(name)), read_only=True)
    cells = [cell for sheet in book for row in sheet.iter_rows(values_only=True) for cell in row if isinstance(cell, str) and not cell.startswith("=")]
    texts = [cell for cell in cells if " " in cell and "/" not in cell.split(" ", 1)[0]]
    assert len(texts) > 300
    assert faults(texts, rules=("a decimal of an inch", "a day not as people write it")) == []


def error_templates() -> Iterator[str]:
    """Every sentence in a function that raises an error or notes a fault, wherever it is put together; what a docstring says is for programmers."""
    for path in KIT.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.FunctionDef) and any(map(_is_error, ast.walk(node))):
                said = ast.get_docstring(node, clean=False)
                texts = [one.value for one in ast.walk(node) if isinstance(one, ast.Constant) and isinstance(one.value, str)]
                yield from (text for text in texts if " " in text and text != said)


def _is_error(node: ast.AST) -> bool:
    name = getattr(node.func, "id", getattr(node.func, "attr", "")) if isinstance(node, ast.Call) else ""
    return name == "Fault" or name.endswith("Error")


def test_errors_do() -> None:
    """Every template of an error; places in a file keep their own names there."""
    said = list(error_templates())
    assert len(said) > 300
    assert faults(said, rules=()) == []


def fault_messages() -> Iterator[str]:
    """What every fault is made with, a hole as "_"; what is put together elsewhere ("sentence = ...") too."""
    for path in KIT.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            message = None
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Fault" and len(node.args) > 1:
                message = node.args[1]
            elif isinstance(node, ast.Assign) and getattr(node.targets[0], "id", "") in {"sentence", "message", "says"} and _is_of_errors(path):
                message = node.value
            if isinstance(message, ast.Constant | ast.JoinedStr):
                parts = message.values if isinstance(message, ast.JoinedStr) else [message]
                yield "".join(str(part.value) if isinstance(part, ast.Constant) else "_" for part in parts)


def _is_of_errors(path: Path) -> bool:
    return "Error(Fault(" in path.read_text(encoding="utf-8")


def test_a_fault_and_its_place_make_a_sentence() -> None:
    """After a colon a sentence begins anew; without one the place is its subject."""
    told = [str(Fault("items.csv", message)) for message in fault_messages()]
    assert len(told) > 250
    assert [line for line in told if re.match(r"items\.csv: [a-z]", line)] == []
    assert sum(line.startswith("items.csv: ") for line in told) > 50
    assert str(Fault("DEMO-001", "has no bill 7.")) == "DEMO-001 has no bill 7."
    assert str(Fault("site.carry", '"far" has no unit.', "job.toml")) == 'job.toml, site.carry: "far" has no unit.'


def words_of_screens_and_papers() -> Iterator[str]:
    """What stands in the sources of screens, checks, reports, drawings and papers, for states that no example reaches; not docstrings nor HTML."""
    for path in (path for room in ("panels", "checks", "cli", "draw", "export", "contract", "learning") for path in (KIT / room).glob("*.py")):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        unread = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
        texts = [node.value for node in ast.walk(tree) if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in unread]
        yield from (text for text in texts if " " in text and "<" not in text)


def words_of_lists_and_guides() -> Iterator[str]:
    """Cells of the price lists and of the kit's tables; the README; what the notebooks say between their cells."""
    for path in (*(ROOT / "price_lists").glob("*.csv"), *KIT.rglob("*.csv")):
        yield from (cell for row in csv.reader(path.read_text(encoding="utf-8").splitlines()) for cell in row if " " in cell)
    yield from (ROOT / "README.md").read_text(encoding="utf-8").splitlines()
    cells = [cell for path in (ROOT / "notebooks").glob("*.ipynb") for cell in json.loads(path.read_text(encoding="utf-8"))["cells"]]
    yield from (line for cell in cells if cell["cell_type"] == "markdown" for line in "".join(cell["source"]).splitlines())


@pytest.mark.parametrize("words", [words_of_screens_and_papers, words_of_lists_and_guides])
def test_what_no_example_shows_does(words: Callable[[], Iterator[str]]) -> None:
    """Sentences of rare states, cells of the lists, notebooks and README."""
    said = list(words())
    assert len(said) > 1000
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
