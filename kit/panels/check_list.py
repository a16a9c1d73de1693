"""The Check step: what speaks against the job, grouped by what to do about it; what is fine is folded away and counted."""

from collections.abc import Iterator, Sequence
from html import escape

from kit.draw.level_marks import LEVEL_WORDS, level_mark
from kit.draw.marks import number_words
from kit.draw.tables import why_button
from kit.estimating import Estimate
from kit.job.field_names import label_of, say_value
from kit.panels.visit_steps import leads_to, step_of_field, step_of_finding, steps_by_id
from kit.records import Assumption, Finding, Level

__all__ = ["draw_check_list"]

_HEADS = {Level.STOP: "Stops: change this", Level.UNKNOWN: "Measure", Level.CAUTION: "Decide"}  # worst first, as they are numbered
Row = tuple[str, Finding]


def draw_check_list(estimate: Estimate) -> str:
    """Every finding in its group, worst first, with its number in the drawings, what to do, and where; then what was assumed, taken care of, and fine."""
    rows = list(zip(number_words(estimate.findings), estimate.findings, strict=True))
    groups = [_group(level, [row for row in rows if row[1].level is level]) for level in _HEADS]
    fine = [row for row in rows if row[1].level is Level.OK]
    taken_care_of = _ok("taken-care-of", "Not met as it stands, but taken care of", [row for row in fine if row[1].taken_care_of])
    return "".join([*groups, _assumed(estimate.assumptions), taken_care_of, _ok("fine", "Fine", [row for row in fine if not row[1].taken_care_of])])


def _group(level: Level, rows: Sequence[Row]) -> str:
    if not rows:
        return ""
    items = "".join(_item(number, finding) for number, finding in rows)
    return _fold(LEVEL_WORDS[level], level_mark(level, f"{_HEADS[level]} ({len(rows)})"), items, opened=True)


def _fold(name: str, head: str, items: str, *, opened: bool = False) -> str:
    """A group that can be folded; its head, as HTML, is its heading."""
    return (
        f"<details class='sk-checks sk-{name}' data-group='{name}' tabindex='-1'{' open' if opened else ''}><summary>{head}</summary><ul>{items}</ul></details>"
    )


def _item(number: str, finding: Finding) -> str:
    limit = f"; need {finding.limit}" if finding.limit else ""
    doing = f"<p>{escape(finding.remedy)}</p>" if finding.remedy else ""
    return (
        f"<li><span>{number}</span><div><b>{escape(finding.check)}</b>: {escape(finding.measured)}{escape(limit)}{doing}</div>"
        f"<div>{''.join(_ways(finding))}</div></li>"
    )


def _ways(finding: Finding) -> Iterator[str]:
    """The button that asks why, and the one that leads to the step where it is changed."""
    yield why_button(f"finding:{finding.id}", finding.check)
    if finding.level is not Level.OK:
        step, about = steps_by_id()[step_of_finding(finding)].name, escape(finding.check, quote=True)
        yield f" <button type='button' class='sk-link' data-go='{leads_to(finding)}' aria-label='{step}: {about}'>{step}</button>"


def _assumed(assumptions: Sequence[Assumption]) -> str:
    if not assumptions:
        return ""
    return _fold("assumed", f"Assumed: measure it, or say it in the proposal ({len(assumptions)})", "".join(_assumption(one) for one in assumptions))


def _assumption(one: Assumption) -> str:
    name = label_of(one.field)
    leads = f"{step_of_field(one.field)}/{escape(one.field, quote=True)}"
    return (
        f"<li><span></span><div><b>{escape(name)}</b>: {escape(say_value(one.field, one.value))} is taken<p>{escape(one.why)}</p></div>"
        f"<div>{why_button(f'assume:{one.id}', name)} <button type='button' class='sk-link' data-go='{leads}' "
        f"aria-label='Measure {escape(name, quote=True)}'>Measure</button></div></li>"
    )


def _ok(name: str, head: str, rows: Sequence[Row]) -> str:
    return _fold(name, level_mark(Level.OK, f"{head} ({len(rows)})"), "".join(_item("", finding) for _, finding in rows)) if rows else ""
