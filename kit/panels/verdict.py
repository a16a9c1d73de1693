"""What stands on top of the estimator's screen: price, days without a sink, done by, and whether it can be built; each leads to where it is worked out."""

from collections.abc import Iterator, Sequence
from html import escape

from kit.draw.level_marks import LEVEL_WORDS, level_mark
from kit.draw.tables import NOT_PROVEN, count_words
from kit.estimating import Estimate
from kit.job import Job
from kit.job.field_names import label_of
from kit.labor.clock import last_day
from kit.labor.job_schedule import signing_day
from kit.money import format_money
from kit.outlook import plan_schedule
from kit.panels.visit_steps import STEPS, leads_to_field, link_to_field, step_of_field
from kit.records import Finding, Level
from kit.units import format_day, format_days

__all__ = ["draw_verdict", "say_signed"]

_FEW = 6
_TO_DO = {Level.CAUTION: "to decide", Level.UNKNOWN: "to measure"}


def draw_verdict(job: Job, estimate: Estimate | None, *, at_rest: bool, ended: str = "") -> str:
    """The verdict on a job, or what is missing while it has no price; the price stands nowhere else on the page.

    `ended` is how the contract of its number ended: "closed" or "canceled", "" where none has.
    """
    return _draw_open(job.deciding_places) if estimate is None else _draw_priced(estimate, job, at_rest=at_rest, ended=ended)


def say_signed(estimate: Estimate) -> str:
    """From which signature the days count: the one that was, or the one that is expected."""
    job = estimate.job
    return f"{'signed' if job.terms.signed_on else 'if signed'} {format_day(signing_day(job, estimate.lists.company), beside=job.identity.visit_date)}"


def _draw_priced(estimate: Estimate, as_read: Job, *, at_rest: bool, ended: str) -> str:
    """Days may count from another signature than the job's own terms name: that in the ledger, and then both are said. Under an ended contract none count."""
    schedule, visit, named = plan_schedule(estimate), estimate.job.identity.visit_date, as_read.terms.signed_on
    counted = f"Done by, {say_signed(estimate)}"
    if named is not None and named != estimate.job.terms.signed_on:
        counted += f" in the ledger, {format_day(named, beside=visit)} in the terms"
    without = "-" if schedule.days_without_sink is None else format_days(schedule.days_without_sink)
    done_by = escape(format_day(last_day(schedule.finish), beside=visit))
    parts = [
        _part("papers/made-of", "Price", f"<b class='sk-price'>{escape(format_money(estimate.price))}</b>"),
        _part("papers/calendar", "Without a sink", escape(without)),
        _part("papers", "Contract", escape(ended)) if ended else _part("papers/calendar", escape(counted), done_by),
        *_levels(estimate.findings),
        _to_fill_in(as_read.open_places),
        "" if estimate.proven else NOT_PROVEN,
    ]
    return _headline("".join(parts), at_rest=at_rest)


def _draw_open(places: Sequence[str]) -> str:
    """The verdict on a job whose price is still open: the answers that are missing by name where they are few, else how many in which step."""
    links = [link_to_field(place, label_of(place)) for place in places] if len(places) <= _FEW else [*_by_step(places)]
    count = "1 answer decides it" if len(places) == 1 else f"{len(places)} answers decide it"
    text = f"<span class='sk-fact'><b class='sk-price'>No price yet</b> {count}:</span><span class='sk-fact sk-open'>{' &middot; '.join(links)}</span>"
    return _headline(text, at_rest=True)


def _by_step(places: Sequence[str]) -> Iterator[str]:
    """A link for each step, to the first of its answers; its tip names them all."""
    for step in STEPS:
        mine = [place for place in places if step_of_field(place) == step.id]
        if mine:
            yield link_to_field(mine[0], f"{step.name} ({len(mine)})", ", ".join(label_of(place) for place in mine))


def _headline(inner: str, *, at_rest: bool) -> str:
    return f"<div class='sk-headline' role='status' data-rest='{'yes' if at_rest else 'no'}'>{inner}</div>"


def _part(leads: str, label: str, value: str) -> str:
    return f"<button type='button' class='sk-verdict-part sk-fact' data-go='{leads}'><small>{label}</small> {value}</button>"


def _to_fill_in(places: Sequence[str]) -> str:
    """What is still to be said of whose job it is: the price is there, but nothing goes out before."""
    if not places:
        return ""
    tip = escape(f"Before anything goes out: {', '.join(label_of(place) for place in places)}", quote=True)
    mark, leads = level_mark(Level.UNKNOWN, f"{len(places)} to fill in"), escape(leads_to_field(places[0]), quote=True)
    return f"<button type='button' class='sk-verdict-part' data-go='{leads}' title='{tip}'>{mark}</button>"


def _levels(findings: Sequence[Finding]) -> list[str]:
    """Whether it can be built, then what is to be decided and measured; what is fine is not counted here."""
    counts = {level: sum(one.level is level for one in findings) for level in Level}
    stops = counts[Level.STOP]
    words = level_mark(Level.STOP, f"{count_words(stops, 'stop')}: can't be built") if stops else level_mark(Level.OK, "can be built")
    parts = [f"<button type='button' class='sk-verdict-part sk-worst' data-go='check/{'stop' if stops else 'fine'}'>{words}</button>"]
    for level, says in _TO_DO.items():
        if counts[level]:
            mark = level_mark(level, f"{counts[level]} {says}")
            parts.append(f"<button type='button' class='sk-verdict-part' data-go='check/{LEVEL_WORDS[level]}'>{mark}</button>")
    return parts
