"""`sinkset sources`: every figure with who says so; of a job, what each moves."""

import re
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from changes import EXAMPLE

from kit.figures import moves
from kit.figures.where import all_figures
from kit.sources import row


def test_every_figure_says_who_says_so_and_where_it_acts(run: Any) -> None:
    """As many as the tables hold; each with value, unit, kind, source, place in it; in short on the screen."""
    figures = run("sources", "--json").json["figures"]
    assert len(figures) == len(all_figures())
    assert all(figure["source"]["title"] and figure["unit"] and figure["kind"] for figure in figures)
    lead = next(figure for figure in figures if (figure["table"], figure["name"]) == ("checks", "lead/year"))
    assert (lead["value"], lead["kind"], lead["source"]["key"], lead["locator"]) == (1978.0, "published", "cfr-40-745", "745.83")
    assert any(place.startswith("What the law may ask") for place in lead["acts_in"])
    said = run("sources").out.decode()
    assert f"{len(figures)} figures and their sources" in said
    assert len(said.splitlines()) < 45
    whole = run("sources", "--all").out.decode()
    assert whole.count("\n") > len(figures)
    assert re.search(r"Tolerance of a fit measured.* +1/8 in ", whole)  # lengths as a tape shows them, where it can
    assert re.search(r"Shim pairs at each low.* +1 pair ", whole)
    assert re.search(r"California: largest deposit +\$1,000 ", whole)
    assert "[common-practice]" not in whole
    assert re.search(r"general web: read on a web page.*; derived: worked out", " ".join(said.split()))
    table, listed = whole.split("Sources, by the marks above")
    marks = set(re.findall(r"\[([a-z0-9-]+)\]", table))
    assert marks == {figure["source"]["key"] for figure in figures if f"[{figure['source']['key']}]" in table}
    assert {line.split("  ")[0] for line in listed.splitlines() if line and line[0].isalpha()} - {"Mark"} == marks  # each mark is in the list at the end
    assert len(marks) > 40
    assert "fit checks; hours and calendar" in table
    assert "What the law may ask" not in table


def test_what_each_moves_in_a_job_and_the_page(run: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Three figures stand for all: screws, the least slope of a drain, and a year that no answer hangs on."""
    named = tuple(row(*place) for place in (("calendar", "job/last-year"), ("trap_arms", "irc/slope-least"), ("practice", "frame/screws-a-joint")))
    monkeypatch.setattr(moves, "figures_read", lambda _: named)
    figures = run("sources", "--job", EXAMPLE, "--json").json["figures"]
    assert [figure["name"] for figure in figures] == ["frame/screws-a-joint", "irc/slope-least", "job/last-year"]
    assert abs(Decimal(figures[0]["moves"]["price"])) > abs(Decimal(figures[0]["moves"]["cost"])) > 1
    assert "Drain stub low enough for the new sink" in figures[1]["moves"]["findings"]
    assert figures[2]["moves"] == {"price": "0.00", "cost": "0.00", "hours": 0.0, "findings": [], "problem": None}
    ended = run("sources", "--job", EXAMPLE, "--out", tmp_path / "out")
    assert "uses 3 figures; 2 of them move it" in ended.out.decode()
    assert "Screws in each joint" in ended.out.decode()
    page = (tmp_path / "out" / "sources.html").read_text(encoding="utf-8")
    assert page.count("<tr>") == 3 + 3 + 2  # figures, their heads; one source and its head
    assert "Drain stub low enough for the new sink" in page


def test_a_job_that_cannot_be_read_is_refused(run: Any, tmp_path: Path) -> None:
    """As by every command."""
    ended = run("sources", "--job", tmp_path / "none.toml", "--out", tmp_path / "out")
    assert ended.code == 2
    assert "none.toml" in ended.err
    assert not (tmp_path / "out").exists()
