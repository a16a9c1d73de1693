"""The shipped tables and their sources are whole."""

import csv
import re
from pathlib import Path

import pytest

import kit
import kit.sources
from kit.errors import KitError, ListError
from kit.sources import COLUMNS, SourceError, list_tables, row, source, sources, table, value

FOLDER = Path(kit.sources.__file__).parent
ROOT = FOLDER.parents[1]
# Keys for lines, findings and price lists that need no publication; they may wait for their first use.
PLAIN_KEYS = {"common-practice", "from-memory", "definition", "judgement", "job", "allowance", "demo", "general-web"}
# What a row may be called whose source has a status. A judged row stands on nobody's book: it is ours, and its note says why.
MAY_BEAR = {
    "published": {"published", "derived"},
    "general web": {"general web", "derived", "judged"},
    "common practice": {"judged"},
    "from memory": {"from memory", "derived", "judged"},
    "own": {"defined", "derived", "measured", "judged"},
}
UNIT = re.compile(r"1|%|[a-z]+( [a-z]+)*(/[a-z]+( [a-z]+)*)?|1/[a-z]+")


def all_rows():
    return [found for name in list_tables() for found in table(name).values()]


@pytest.mark.parametrize("name", list_tables())
def test_table_can_be_read(name):
    """Columns, numbers, kinds and doubled names are right; the file is plain UTF-8 with line feeds."""
    assert len(table(name)) > 0
    raw = (FOLDER / f"{name}.csv").read_bytes()
    assert b"\r" not in raw
    assert not raw.startswith(b"\xef\xbb\xbf")
    with (FOLDER / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        assert tuple(next(csv.reader(file))) == COLUMNS


@pytest.mark.parametrize("found", all_rows(), ids=lambda found: f"{found.table}:{found.name}")
def test_row_says_who_says_so(found):
    """Each number has a known source, a unit, a plain name, and a kind that its source can bear."""
    origin = source(found.key)
    assert UNIT.fullmatch(found.unit), f"unit {found.unit}"
    assert re.fullmatch(r"[a-z0-9.]+([-/][a-z0-9.]+)*", found.name), "names are lower case, parts divided by / and words by -"
    if found.kind == "judged":
        assert len(found.note) > 10, "a judged row gives its reason in the note"
    assert found.kind in MAY_BEAR[origin.status], f"{found.key} is {origin.status}, so its row can't be {found.kind}"
    assert found.kind != "defined" or found.key == "definition"
    assert "from memory" not in found.note or found.kind != "published" or "429.0" in found.note, "what is from memory is no published number"


def test_every_figure_has_a_title_of_its_own():
    """One that stands alone in a report: no other figure of the kit has it, it begins a sentence, holds no key, no decimal, and fits a line."""
    titles = [found.title for found in all_rows()]
    assert len(titles) == len(set(titles)) > 900
    key = re.compile(r"[a-z0-9]+_[a-z0-9]+|[a-z]/[a-z]|\d\.\d|(?<!/)\b(most|least)$")
    assert [title for title in titles if not re.match(r"[A-Z0-9]", title) or key.search(title) or len(title) > 80] == []
    assert row("wood_design_values", "df-l/2/bending").title == "Douglas fir-larch, No. 2: bending"
    assert row("panels", "1-1/8/thickness-most").title == "1 1/8 in panel: greatest thickness"
    assert row("checks", "lead/year").title == "Year before which lead paint is presumed"


def test_every_source_is_used():
    """A key that nothing cites is a leftover."""
    texts = [
        path.read_text(encoding="utf-8")
        for pattern in ("kit/**/*.py", "kit/**/*.csv", "price_lists/*", "tests/**/*.py", "tests/**/*.csv")
        for path in ROOT.glob(pattern)
        if path.is_file()
    ]
    words = {word for text in texts for word in re.findall(r"[a-z0-9]+(?:-[a-z0-9]+)*", text)}
    assert set(sources()) - words - PLAIN_KEYS == set()


def test_sources_say_how_they_were_read():
    """A publication has a publisher, an address or an author; a year is a year."""
    for origin in sources().values():
        assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", origin.key)
        assert origin.status != "published" or origin.where or origin.author
        assert origin.year == 0 or 1900 < origin.year < 2100


def test_what_is_not_there_is_refused_by_name():
    """No number is invented: table, row and key are named, near ones offered."""
    with pytest.raises(SourceError, match=r'kit/sources/lumber\.csv has no row "2x4/widht"\. Close to it: 2x4/width'):
        value("lumber", "2x4/widht")
    with pytest.raises(SourceError, match=r'kit/sources holds no table "lumbr"\. Close to it: lumber\.'):
        row("lumbr", "2x4/width")
    with pytest.raises(SourceError, match=r'holds no table "\.\./sources/lumber"'):
        table("../sources/lumber")
    with pytest.raises(SourceError, match=r'sources\.toml has no source "nobody-1900"'):
        source("nobody-1900")
    assert issubclass(SourceError, KitError)
    assert issubclass(SourceError, LookupError)


HEADER = "name,title,value,unit,kind,key,locator,note\n"


@pytest.mark.parametrize(
    ("text", "wording"),
    [
        ("name,value\na,1\n", r"use name, title, value, unit, kind, key, locator, note"),
        ("", r"use name, title, value, unit"),
        (HEADER + "a,A,1,in,published,k,,\na,B,2,in,published,k,,\n", r"bad\.csv, row 3: a is there twice"),
        (HEADER + "a,A,one,in,published,k,,\n", r"could not convert string to float: 'one'"),
        (HEADER + "a,A,nan,in,published,k,,\n", r"a: nan is not a number"),
        (HEADER + "a,A,1,in,guessed,k,,\n", r"a: kind is guessed; use one of defined, measured"),
        (HEADER + "a,A,1,,published,,,\n", r"a: unit and key missing"),
        (HEADER + "a,,1,in,published,k,,\n", r"a: title missing"),
        (HEADER + "a,A,1,in,published,k\n", r"a has more or fewer cells than columns"),
        (HEADER + "a,A,1,in,published,k,,,extra\n", r"a has more or fewer cells than columns"),
    ],
)
def test_a_broken_table_is_refused(monkeypatch, text, wording):
    """Each fault of a table, a number without source among them, is found when it is read."""
    monkeypatch.setattr(kit.sources, "_read_text", lambda file: text)
    with pytest.raises(ListError, match=wording):
        kit.sources.read_rows("bad")


def test_all_faults_of_a_table_come_at_once(monkeypatch):
    """Two bad rows, two faults."""
    monkeypatch.setattr(kit.sources, "_read_text", lambda file: HEADER + "a,A,x,in,published,k,,\nb,B,inf,in,published,k,,\n")
    with pytest.raises(ListError, match=r"row 2") as caught:
        kit.sources.read_rows("bad")
    assert len(caught.value.faults) == 2


@pytest.mark.parametrize(
    "entry", [{"title": "x"}, {"status": "published"}, {"title": "x", "status": "rumor"}, {"title": "x", "status": "published", "color": "red"}]
)
def test_a_broken_source_is_refused(entry):
    """A source needs title and a known status, and no field that nobody reads."""
    with pytest.raises(ListError, match=r"sources\.toml, some-key needs title and status"):
        kit.sources._build_source("some-key", entry)
