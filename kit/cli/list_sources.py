"""What the command `sources` says: every figure of the kit, its source and where it is used; of a job, what each would move if it were a tenth off."""

from collections import Counter
from collections.abc import Iterator, Sequence
from decimal import Decimal
from pathlib import Path
from typing import Any, get_args

from kit.cli.report_text import Page
from kit.document import money_text
from kit.estimating import Estimate
from kit.figures.moves import OFF, YEARS_OFF, Move, find_moves
from kit.figures.where import all_figures, modules_reading, places_of_use, table_name
from kit.lists import Lists
from kit.money import format_dollars, format_money
from kit.sources import Kind, Row, Source, source
from kit.units import format_exact_length

__all__ = ["job_moves", "sources_document", "sources_page", "sources_report"]

LEAST_HOURS = 0.005
"""What is less is no hour in a report."""
SHOWN = 15
"""Figures of a job that its report shows; the rest are counted."""

_KINDS: dict[Kind, str] = {
    "defined": "set by definition",
    "measured": "measured by ourselves",
    "published": "read in the publication named",
    "general web": "read on a web page that nobody vouches for",
    "derived": "worked out from other figures, as the note says",
    "judged": "our own decision, with its reason",
    "from memory": "not looked up",
}
_HEADS = ("Figure", "Value", "Kind", "Source", "Where it is used")

Moves = Sequence[Move] | None


def job_moves(priced: Estimate | None) -> Moves:
    """What each figure moves in a job; None where no job is given."""
    return None if priced is None else find_moves(priced)


def sources_document(lists: Lists, moves: Moves) -> dict[str, Any]:
    """Every figure as plain data; with a job only those that it reads, each with what it moves."""
    figures = all_figures() if moves is None else [move.figure for move in moves]
    said = {(move.figure.table, move.figure.name): _move_document(move) for move in moves or ()}
    return {"figures": [{**_figure_document(figure, lists), **({"moves": said[figure.table, figure.name]} if moves is not None else {})} for figure in figures]}


def _figure_document(figure: Row, lists: Lists) -> dict[str, Any]:
    cited = source(figure.key)
    return {
        "table": figure.table,
        "name": figure.name,
        "title": figure.title,
        "value": figure.value,
        "unit": figure.unit,
        "kind": figure.kind,
        "source": {"key": figure.key, "title": cited.title, "edition": cited.edition, "year": cited.year or None, "status": cited.status},
        "locator": figure.locator,
        "note": figure.note,
        "acts_in": list(modules_reading(figure, lists)),
    }


def _move_document(move: Move) -> dict[str, Any]:
    facts = {"price": money_text(move.price), "cost": money_text(move.cost), "hours": move.hours}
    return {**facts, "findings": list(move.findings), "problem": move.refused or None}


def sources_report(lists: Lists, moves: Moves, job: Path | None, *, everything: bool) -> str:
    """The figures in short: how many of each kind in each table, or what moves the job most; with `everything` each figure."""
    page = Page()
    if moves is None:
        _write_counts(page)
    else:
        _write_moves(page, moves, job, everything=everything)
    if everything:
        _write_all(page, lists, [move.figure for move in moves] if moves is not None else all_figures())
    else:
        page.note("Each figure with its source: --all, or --out FOLDER for a page to read in a browser.")
    return page.text()


def _write_counts(page: Page) -> None:
    figures = all_figures()
    kinds = [kind for kind in get_args(Kind) if any(figure.kind == kind for figure in figures)]
    tables = Counter((figure.table, figure.kind) for figure in figures)
    page.title(f"{len(figures)} figures and their sources")
    names = dict.fromkeys(figure.table for figure in figures)
    rows = [(table_name(name), *(str(tables[name, kind] or "") for kind in kinds)) for name in names]
    sums = ("All", *(str(sum(figure.kind == kind for figure in figures)) for kind in kinds))
    page.table("Figures by table and kind", ("Table", *(f">{kind}" for kind in kinds)), [*rows, sums])
    page.note(_kind_words(figures))


def _kind_words(figures: Sequence[Row]) -> str:
    """What the words of the column Kind say, as far as they stand in it."""
    return f"{'; '.join(f'{kind}: {words}' for kind, words in _KINDS.items() if any(figure.kind == kind for figure in figures))}."


def _write_moves(page: Page, moves: Sequence[Move], job: Path | None, *, everything: bool) -> None:
    moving = [move for move in moves if move.price or move.hours or move.findings or move.refused]
    page.title(
        f"{job.name if job else 'The job'} uses {len(moves)} figures; {len(moving)} of them move it",
        f"Each figure {OFF:.0%} up or down (a calendar year by {YEARS_OFF:.0f} years), whichever moves more; all else unchanged",
    )
    rows = [(move.figure.title, _amount(move.figure), move.figure.kind, *_move_words(move)) for move in (moving if everything else moving[:SHOWN])]
    page.table("What moves most", ("Figure", "Value", "Kind", ">Price", ">Hours", "Checks that change"), rows)
    page.note(_kind_words([move.figure for move in moving]))
    if len(moving) > SHOWN and not everything:
        page.note(f"{len(moving) - SHOWN} more move it less; {len(moves) - len(moving)} move nothing here.")


def _move_words(move: Move) -> tuple[str, str, str]:
    if move.refused:
        return "no price", "", move.refused
    price = f"{'+' if move.price > 0 else ''}{format_money(move.price)}" if move.price else ""
    checks, more = "; ".join(move.findings[:2]), len(move.findings) - 2
    return price, f"{move.hours:+.2f}" if abs(move.hours) >= LEAST_HOURS else "", f"{checks}; {more} more" if more > 0 else checks


def _amount(figure: Row) -> str:
    if figure.unit == "in":
        return format_exact_length(figure.value)
    if figure.unit == "usd":
        return format_dollars(Decimal(repr(figure.value)))
    unit = {"d": "days"}.get(figure.unit, figure.unit.removesuffix("s") if figure.value == 1 else figure.unit)
    return f"{figure.value:.6g}{'' if unit == '1' else f' {unit}'}"


def _write_all(page: Page, lists: Lists, figures: Sequence[Row]) -> None:
    for name in dict.fromkeys(figure.table for figure in figures):
        rows = [tuple(figure_cells(figure, lists)) for figure in figures if figure.table == name]
        page.table(table_name(name), _HEADS, rows)
    page.table("Sources, by the marks above", ("=Mark", "Source"), _source_rows(figures))


def _names_a_work(cited: Source) -> bool:
    """Whether it can be looked up; else its title says who decided."""
    return bool(cited.author or cited.edition or cited.year or cited.where)


def _source_rows(figures: Sequence[Row]) -> list[tuple[str, str]]:
    """The works that figures cite, by the mark at each: title, author, edition and where to find it."""
    cited = [source(key) for key in sorted({figure.key for figure in figures})]
    return [
        (one.key, "; ".join(words for words in (one.title, one.author, one.edition, str(one.year or ""), one.where) if words))
        for one in cited
        if _names_a_work(one)
    ]


def figure_cells(figure: Row, lists: Lists) -> Iterator[str]:
    """A figure as cells of a table: name, value, kind, source and where in it, where it is used."""
    cited = source(figure.key)
    yield figure.title
    yield _amount(figure)
    yield figure.kind
    mark = f"[{figure.key}]" if _names_a_work(cited) else cited.title
    yield f"{mark}{f', {figure.locator}' if figure.locator else ''}{f'; {figure.note}' if figure.note else ''}"
    yield "; ".join(places_of_use(figure, lists)) or "no estimate: for your own lists and hand checks"


def sources_page(lists: Lists, moves: Moves, job: Path | None) -> bytes:
    """The same as a page for a browser, every figure in it: nothing of it is fetched from anywhere."""
    from kit.draw.figures_page import draw_figures_page

    figures = all_figures() if moves is None else [move.figure for move in moves]
    said = {(move.figure.table, move.figure.name): _move_words(move) for move in moves or ()}
    tables = {
        table_name(name): [(*figure_cells(figure, lists), *said.get((name, figure.name), ())) for figure in figures if figure.table == name]
        for name in dict.fromkeys(figure.table for figure in figures)
    }
    off = f": {job.stem}, each figure 10% up or down" if job else ""
    more = ("Price", "Hours", "Checks that change") if moves is not None else ()
    return draw_figures_page(f"{len(figures)} figures and their sources{off}", _kind_words(figures), (*_HEADS, *more), tables, _source_rows(figures)).encode()
