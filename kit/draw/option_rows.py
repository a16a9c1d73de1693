"""Alternates as rows with their own small section: mounts first, then counters; numbers in columns that can be sorted, reasons where one can't be had."""

import re
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from html import escape

from kit.compare.options import Option
from kit.draw.level_marks import level_mark
from kit.draw.small_section import draw_small_section
from kit.records import Finding, Level

__all__ = ["Figure", "draw_option_rows"]

_GROUPS = {True: "Mounts, the countertop as in the job", False: "Countertops, each with the first mount that can be had"}
_LEVELS = {"measure first": Level.UNKNOWN, "not recommended": Level.CAUTION}
_FIRST = 5
"""Rows of a group that stand open below a desk's width; `style.css` counts them."""
_COUNTED = {Level.STOP: ("stop", "stops"), Level.CAUTION: ("to decide",) * 2, Level.UNKNOWN: ("to measure",) * 2}  # of one, of several


@dataclass(frozen=True, slots=True)
class Figure:
    """One cell: what it says, a second line below, and the value that sorts it (None stays last)."""

    says: str
    second: str = ""
    value: float | None = None


def draw_option_rows(caption: str, options: Sequence[Option], columns: Sequence[str], figures: Mapping[str, Sequence[Figure]], aside: Collection[str]) -> str:
    """One row an alternate.

    Parameters
    ----------
    caption
        What the table is for.
    options
        As `compare_alternates` gives them; within mounts and counters they keep their order.
    columns
        Heads of the figures.
    figures
        By the alternate's id one figure a column; an alternate that is not priced has none.
    aside
        Columns that give way on a tablet.

    Returns
    -------
    An HTML table of the class `sk-options`; its last column says what must be decided, and why one can't be had. Below a desk's width only the first rows of
    a long group stand open, in the order that they are sorted in, and the job's own; a button of its head shows all of them.
    """
    heads = "".join(
        f"<th scope='col' class='{_classes(head, aside)}' aria-sort='none'><button type='button' class='sk-sort'>{escape(head)}</button></th>"
        for head in columns
    )
    own = next((option for option in options if option.chosen), None)
    known = {finding.id for finding in _open_findings(own)} if own is not None else set()
    body = "".join(_draw_group(counter_stays, options, {head: _classes(head, aside) for head in columns}, figures, known) for counter_stays in (True, False))
    counts = ", ".join(f"{number} {words}" for words, number in _count(options))
    return (
        f"<table class='sk-table sk-few sk-options' data-name='options'><caption>{escape(caption)}: {counts}</caption>"
        f"<thead><tr><th scope='col'>Option</th>{heads}<th scope='col'>What it takes</th></tr></thead>{body}</table>"
    )


def _classes(head: str, aside: Collection[str]) -> str:
    return f"sk-number{' sk-aside' if head in aside else ''}"


def _count(options: Sequence[Option]) -> Iterator[tuple[str, int]]:
    words = {"usable": "can be had", "measure first": "to measure first", "not recommended": "not recommended", "can't be built": "can't be built"}
    for standing, says in words.items():
        if number := sum(option.standing == standing for option in options):
            yield says, number


def _draw_group(counter_stays: bool, options: Sequence[Option], columns: Mapping[str, str], figures: Mapping[str, Sequence[Figure]], known: set[str]) -> str:  # noqa: FBT001
    mine = [option for option in options if option.counter_kept is counter_stays]
    rows = "".join(_draw_row(option, columns, figures.get(option.id), known) for option in mine)
    more = f" <button type='button' class='sk-link sk-show-all' aria-pressed='false'>Show all {len(mine)}</button>" if len(mine) > _FIRST else ""
    head = f"<tr class='sk-group'><th scope='rowgroup' colspan='{len(columns) + 2}'>{_GROUPS[counter_stays]}{more}</th></tr>"
    return f"<tbody class='sk-first-rows'>{head}{rows}</tbody>" if mine else ""


def _draw_row(option: Option, columns: Mapping[str, str], figures: Sequence[Figure] | None, known: set[str]) -> str:
    cells = "".join(_draw_cell(*head, figure) for head, figure in zip(columns.items(), figures or [Figure("-")] * len(columns), strict=True))
    chosen = " class='sk-chosen'" if option.chosen else ""
    return f"<tr{chosen} data-option='{escape(option.id)}'>{_draw_head(option)}{cells}<td class='sk-wide'>{_draw_to_decide(option, known)}</td></tr>"


def _draw_head(option: Option) -> str:
    picture = draw_small_section(option.estimate, f"Section: {option.name}") if option.estimate is not None else ""
    own = " <b class='sk-own'>(this job)</b>" if option.chosen else ""
    words = f"<span>{escape(option.title)}{own}<span class='sk-second'>{_hold(option.sink_name)}</span></span>"
    return f"<th scope='row'><div class='sk-option'>{picture}{words}</div></th>"


def _draw_cell(head: str, classes: str, figure: Figure) -> str:
    value = "" if figure.value is None else f" data-value='{figure.value:.6g}'"
    second = f"<span class='sk-second'>{_hold(figure.second)}</span>" if figure.second else ""
    return f"<td class='{classes}' data-label='{escape(head)}'{value}>{escape(figure.says)}{second}</td>"


def _hold(words: str) -> str:
    """Words of a narrow column, none broken at its hyphen."""
    return re.sub(r"\w+(?:-\w+)+", r"<span class='sk-whole'>\g<0></span>", escape(words))


def _open_findings(option: Option) -> list[Finding]:
    return [finding for finding in option.estimate.findings if finding.level is not Level.OK] if option.estimate is not None else []


def _draw_to_decide(option: Option, known: set[str]) -> str:
    """Its standing where that is not plain, what is to be settled by kind, and behind a fold what the job itself has not."""
    pending = _open_findings(option)
    care = "" if option.verdict == "usable" else f"With care: {escape(option.reason)}"
    standing = care if option.usable else f"{level_mark(_LEVELS.get(option.standing, Level.STOP), option.standing)} {escape(option.reason)}"
    counts = [(level, sum(finding.level is level for finding in pending)) for level in _COUNTED]
    marks = " ".join(level_mark(level, f"{number} {_COUNTED[level][number > 1]}") for level, number in counts if number)
    more = "".join(
        f"<li>{level_mark(finding.level)} {escape(finding.check)}: {escape(finding.measured)}</li>" for finding in pending if finding.id not in known
    )
    counted = f"<div>{marks}</div>" if marks else ""
    if more:
        counted = f"<details><summary>{marks} {more.count('<li>')}&nbsp;new</summary><b>Not in this job</b><ul>{more}</ul></details>"
    return f"<div>{standing}</div>{counted}" if standing else counted
