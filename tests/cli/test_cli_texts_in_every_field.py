"""A hostile text in every text field of job, lists, spent table and ledger stays a text: in reports, drawings, papers, workbook, tables and on the screens."""

import csv
import io
import re
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path
from typing import Any
from xml.etree.ElementTree import fromstring

import ipywidgets
import openpyxl
import pypdf
import pytest
from changes import EXAMPLE, Ended
from random_jobs import BY_ROW, fields_of
from work_jobs import lists as shipped_lists

import kit
from kit import shipped
from kit.job import Job, change_job, job_document, parse_job
from kit.job.fields import Rule
from kit.lists.column_rules import DECLARED
from kit.panels import Bookkeeper, Estimator, Owner, PriceListScreen
from kit.panels.picture_form import PictureForm
from kit.panels.visit_steps import STEPS

MARK = "hostile"
HEAD, TAIL = "=", f"<{MARK} on{MARK}=\"1\">'\" on{MARK}='1' </style></script></title>]]>--><{MARK}>\u202e$x$ #panic() *_"
JOINED = {("counters.csv", "material"), ("counters.csv", "limits_source"), ("counters.csv", "removed_density"), ("wording.csv", "about")}
"""Texts by which lists are joined with each other or with the sources: another one is refused."""
SHOP = "Invented Stone Shop"
OF_THE_COMPANY = {"name", "region", "address", "phone", "licenses", "how_to_pay", "insurance", "warranty_words"}


def hostile(text: str) -> str:
    return f"{HEAD}{text}{TAIL}"


def free_columns(name: str) -> set[str]:
    """Columns of a list in which any words may stand."""
    columns = next((kind.columns for kind in DECLARED if kind.file == name), ())
    found = {column.name for column in columns if column.kind == "text" and not column.is_key and not column.refers and (name, column.name) not in JOINED}
    return found or {"note"}  # of the company, whose values are of many kinds


def hostile_lists(folder: Path) -> None:
    """The shipped lists; every free text of theirs is hostile, those of the company and the name of a supplier too."""
    folder.mkdir()
    for name, text in shipped_lists().texts.items():
        head, *rows = csv.reader(io.StringIO(text))
        free = free_columns(name)
        for row in rows:
            own = {"value"} if name == "company.csv" and row[0] in OF_THE_COMPANY else set()
            row[:] = [hostile(cell) if cell and (column in free | own or cell == SHOP) else cell for column, cell in zip(head, row, strict=True)]
        with (folder / name).open("w", encoding="utf-8", newline="") as file:
            csv.writer(file, lineterminator="\n").writerows([head, *rows])


def hostile_job() -> Job:
    """The example; every field that holds words is hostile, its number as well."""
    document = job_document(kit.read_job(EXAMPLE))
    for field in list(fields_of(Job, document)):
        if isinstance(field.holds, Rule) and field.holds.kind == "text" and field.place not in BY_ROW and not field.holds.common:
            field.table[field.key] = hostile(str(field.table.get(field.key) or "words"))
    return parse_job(document)


class Markup(HTMLParser):
    """Notes what of a page came out of a text."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.found: list[str] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if MARK in tag or any(MARK in name for name, _ in attrs):
            self.found.append(f"{tag} {attrs}"[:120])


def faults_of_file(path: Path) -> Iterator[str]:
    """Whether a written file holds the text as anything else than a text."""
    content = path.read_bytes()
    match path.suffix:
        case ".svg":
            yield from (f"element {one.tag}" for one in fromstring(content).iter() if MARK in one.tag or any(MARK in name for name in one.attrib))
        case ".html":
            yield from Markup(content.decode()).found
        case ".csv":
            cells = (cell for row in csv.reader(io.StringIO(content.decode("utf-8-sig"))) for cell in row)
            yield from (f"a formula: {cell[:60]}" for cell in cells if MARK in cell and cell.strip().startswith(("=", "+", "-", "@")))
        case ".xlsx":
            book = openpyxl.load_workbook(io.BytesIO(content))
            cells = (cell for sheet in book for row in sheet.iter_rows() for cell in row if MARK in str(cell.value))
            yield from (f"{cell.coordinate}: a formula or link" for cell in cells if cell.data_type != "s" or cell.hyperlink)
        case ".pdf":
            pages = pypdf.PdfReader(io.BytesIO(content)).pages
            yield from (f"a link: {one}" for page in pages for one in page.get("/Annots") or () if MARK in str(one.get_object()))
        case ".toml":
            assert HEAD in kit.read_job(path).identity.customer


def faults_of_answer(ended: Ended) -> Iterator[str]:
    """Whether anything that is printed could steer a terminal."""
    for said in (ended.out.decode(), ended.err):
        if not said.startswith("{"):
            yield from {f"{sign!r} reaches the terminal" for sign in said if not sign.isprintable() and sign != "\n"}


def faults_of_screens(home: Path) -> Iterator[str]:
    """Whether markup on any screen, at any step of it, came out of a text."""
    seen: list[str] = []

    def note(change: dict[str, Any]) -> None:
        seen.append(change["new"])

    with pytest.MonkeyPatch.context() as patched:
        for kind in (ipywidgets.HTML, PictureForm):
            start = kind.__init__

            def watched(widget: Any, *args: Any, start: Any = start, **more: Any) -> None:
                start(widget, *args, **more)
                seen.append(widget.value)
                widget.observe(note, "value")

            patched.setattr(kind, "__init__", watched)
        screen = Estimator(folder=home)
        for step in STEPS:
            screen.go(step.id)
        Owner(folder=home)
        Bookkeeper(folder=home)
        PriceListScreen(folder=home)
    assert sum(MARK in one for one in seen) > 20
    yield from (fault for one in seen for fault in Markup(one).found)


def test_a_hostile_text_in_every_field_stays_a_text(run: Any, tmp_path: Path) -> None:
    """Every command and screen works with it, and nothing of it is read as markup, formula, link or sign for the terminal."""
    home, faults = tmp_path / "jobs", {}
    home.mkdir()
    hostile_lists(tmp_path / "price_lists")
    job = hostile_job()
    kit.write_job(job, home / "job.toml")
    kit.write_job(change_job(job, {"terms.temporary_sink": True}), home / "changed.toml")
    out = tmp_path / "out"
    spent = (shipped("examples") / "stone_apron_single_bowl_spent.csv").read_text(encoding="utf-8").splitlines()
    rows = list(csv.DictReader([line for line in spent if line.startswith("date,") or ",material," in line][:3]))
    with (tmp_path / "spent.csv").open("w", encoding="utf-8", newline="") as file:
        table = csv.DictWriter(file, rows[0])
        table.writeheader()
        table.writerows({**row, "text": hostile(row["text"]), "document": hostile("7"), "supplier": hostile(SHOP), "job": ""} for row in rows)
    ended = run("issue", home / "job.toml", "--reason", hostile("reason"))
    assert ended.code == 0, ended.err
    (issued,) = home.glob("*.json")
    lines = (
        ("check", home / "job.toml", "--all"),
        ("estimate", home / "job.toml", "--full", "--papers", "--out", out / "estimate"),
        ("estimate", issued, "--papers", "--out", out / "issued"),
        ("compare", home / "job.toml", "--full", "--out", out / "compare"),
        ("sign", issued),
        ("change", issued, home / "changed.toml", "--offer", "--reason", hostile("why"), "--despite", hostile("why"), "--out", out / "change"),
        ("bill", issued, "--out", out / "bill"),
        ("paid", issued, "100 USD", "--how", hostile("check"), "--out", out / "paid"),
        ("spent", issued, tmp_path / "spent.csv", "--out", out / "spent"),
        ("undo", issued, "5", hostile("slip"), "--out", out / "undo"),
        ("jobs", home, "--out", out / "jobs"),
        ("jobs", issued, "--out", out / "job"),
        ("cancel", issued, hostile("wish"), "--owed", "2000 USD", "--out", out / "cancel"),
        ("sources", "--out", out / "sources"),
    )
    for line in lines:
        ended = run(*line)
        assert ended.code == 0, (line[0], ended.err)
        if found := list(faults_of_answer(ended)):
            faults[line[0]] = found
    files = [path for path in (*out.rglob("*"), *home.rglob("*")) if path.is_file()]
    assert {path.suffix for path in files} >= {".svg", ".html", ".csv", ".xlsx", ".pdf", ".toml", ".json"}
    assert all(re.fullmatch(r"[\w .()-]+", path.relative_to(tmp_path).as_posix().replace("/", "")) for path in files)
    faults |= {path.name: found for path in files if (found := list(faults_of_file(path)))}
    faults |= {"screens": found} if (found := list(faults_of_screens(home))) else {}
    found = kit.read_job(home / "job.toml")
    lists = kit.load_lists(tmp_path / "price_lists")
    shown = [one._repr_html_() for one in (found, lists, kit.estimate(found, lists))]
    faults |= {"notebook": more} if (more := [fault for page in shown for fault in Markup(page).found]) else {}
    assert faults == {}
