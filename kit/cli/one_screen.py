"""An estimate on one screen: what to decide first, what was assumed, work, dates and money, the next command; price and stops at the very end.

80 columns and 45 lines for any job: what a person must decide gets the lines that the rest leaves, worst first, and what is left out is counted.
"""

import textwrap
from collections.abc import Iterable, Sequence
from datetime import date
from pathlib import Path

from kit.cli.report_text import Page, days_text, share_text, typed_path
from kit.design.named_goods import counter_name
from kit.draw.marks import number_findings
from kit.estimating import Estimate
from kit.issued import Issued, list_issued
from kit.job.field_names import label_of, lower_first, mount_words, say_value
from kit.job.prices import are_of_the_kit
from kit.labor.clock import last_day
from kit.labor.job_schedule import JobSchedule
from kit.money import format_dollars, format_money
from kit.outlook import JobRisk, assess_risk, cash_of, crew_days_of, plan_schedule, price_temporary_sink
from kit.pricing.draws import plan_draws
from kit.records import Finding, Level
from kit.takeoff.working import counted
from kit.units import format_day, format_days

__all__ = ["CAUTION", "count_decisions", "finding_lines", "one_screen"]

WIDTH, LINES = 80, 44  # one line more says what was written
OF_A_KIND = 5  # of a level, and of the assumptions
LEVEL_WIDTH, NAME_WIDTH = 12, 14
REMEDY_LINES = 2
CAUTION = "Confirm plumbing, wiring, structure and permits with your local authority and the licensed trades. Nothing here says the work meets a code."

Lines = list[str]


def one_screen(estimate: Estimate, path: Path, *, issued: Issued | None = None) -> str:
    """The report of an estimate. `path` is the file it was read from, for the commands that come next. Raises KitError as `plan_schedule`."""
    page = Page(WIDTH)
    schedule = plan_schedule(estimate)
    risk = assess_risk(estimate, schedule)
    head = [*_head(estimate, path, issued)]
    rest = [*_assumed(estimate), *_work(estimate, schedule, risk), *_money(estimate, risk), *_next(estimate, path, issued)]
    for line in head:
        page.line(line)
    for line, level in _decisions(estimate, path, LINES - len(head) - len(rest) - 2):
        page.line(line, level)
    for line in rest:
        page.line(line)
    page.line("")
    page.line(f"Price {format_money(estimate.price)}. {count_decisions(estimate.findings)}", _worst(estimate.findings))
    return page.text()


def count_decisions(findings: Iterable[Finding]) -> str:
    """How many stops, unknowns and cautions there are, in a sentence."""
    levels = [one.level for one in findings]
    stops, unknowns, cautions = (levels.count(level) for level in (Level.STOP, Level.UNKNOWN, Level.CAUTION))
    parts = [f"{counted(stops, 'stop', 'stops').text}" if stops else "No stops"]
    parts += [f"{number} to {verb}" for number, verb in ((unknowns, "measure"), (cautions, "decide")) if number]
    return f"{'; '.join(parts)}."


def _worst(findings: Sequence[Finding]) -> Level:
    return max((one.level for one in findings), default=Level.OK)


def _wrap(name: str, text: str, width: int) -> Lines:
    """A text after its name, in lines that stand below each other."""
    return textwrap.wrap(text, WIDTH, initial_indent=name.ljust(width), subsequent_indent=" " * width, break_on_hyphens=False) or [name]


def _head(estimate: Estimate, path: Path, issued: Issued | None) -> Lines:
    who, sink, name_of = estimate.job.identity, estimate.job.sink, estimate.lists.name_of
    title = textwrap.shorten(f"{who.job_number}  {who.customer}, {who.address}", WIDTH, placeholder=" ...")
    what = f"{name_of(sink.item)}, {mount_words(sink.mount)}, {lower_first(counter_name(estimate.job, estimate.lists))}."
    if issued is not None:
        where_sent = f"; what was sent is kept in {issued.folder.name}" if issued.file_names and issued.folder else "; what was sent was not kept"
        state = f"Issued {format_day(issued.issued)} as revision {issued.revision}{where_sent}."
    else:
        out = list_issued(path.absolute().parent, who.job_number)
        state = f"Draft; {len(out)} {'revision is' if len(out) == 1 else 'revisions are'} out already." if out else "Draft, not issued."
    whose = "the kit's invented lists, not yours" if are_of_the_kit(estimate.lists) else f'your lists in "{estimate.lists.folder_words}"'
    dated = f"Measured {format_day(who.visit_date)}. {state} Prices: {whose}, of {estimate.lists.company.dated}."
    return [title, "=" * len(title), *_wrap("", what, 0), *_wrap("", dated, 0)]


def finding_lines(number: str, one: Finding, *, remedy_lines: int | None = None) -> Lines:
    """A finding in a few lines: its number in the drawings, level, what was checked, have and need, then what to do."""
    known = f"{one.check}: {one.measured}" + (f" / need {one.limit}" if one.limit else "")
    doing = textwrap.wrap(one.remedy, WIDTH - LEVEL_WIDTH - 2, max_lines=remedy_lines, placeholder=" ...", break_on_hyphens=False) if one.remedy else []
    return [*_wrap(_mark(number, one), known, LEVEL_WIDTH), *(f"{' ' * LEVEL_WIDTH}{'  ' if row else '> '}{line}" for row, line in enumerate(doing))]


def _mark(number: str, one: Finding) -> str:
    return f"{number:>2} {one.level.word.upper()}"


def _in_a_line(number: str, one: Finding) -> Lines:
    return [_mark(number, one).ljust(LEVEL_WIDTH) + textwrap.shorten(f"{one.check}: {one.measured}", WIDTH - LEVEL_WIDTH, placeholder=" ...")]


def _decisions(estimate: Estimate, path: Path, room: int) -> list[tuple[str, Level]]:
    """What needs a decision, worst first: the first of each level, in full as far as the room goes, then in a line; the rest is counted."""
    open_ones = number_findings(estimate.findings)
    if not open_ones:
        return []
    first = {number for level in Level for number in [number for number, one in open_ones if one.level is level][:OF_A_KIND]}
    shown = [(str(number), one) for number, one in open_ones if number in first][: room - 3]
    blocks = [_in_a_line(number, one) for number, one in shown]
    for place, (number, one) in enumerate(shown):
        whole = finding_lines(number, one, remedy_lines=REMEDY_LINES)
        if sum(map(len, blocks)) - 1 + len(whole) + 3 <= room:
            blocks[place] = whole
    lines = [("", Level.OK), ("DECIDE FIRST", Level.OK)]
    for (_, one), block in zip(shown, blocks, strict=True):
        lines += [(line, Level.OK if row else one.level) for row, line in enumerate(block)]
    if left := len(open_ones) - len(shown):
        more = f"+ {left} more: sinkset check {typed_path(path)}"
        lines.append((more if len(more) <= WIDTH else f"+ {left} more: sinkset check, with the same file", Level.OK))
    return lines


def _assumed(estimate: Estimate) -> Lines:
    """What was taken in place of a measure; those first whose field a finding that is not ok speaks of, as the estimate lists them."""
    if not estimate.assumptions:
        return []
    lines = ["", "ASSUMED, NOT MEASURED"]
    for one in estimate.assumptions[:OF_A_KIND]:
        said = f"{label_of(one.field)}: {say_value(one.field, one.value)}"
        whole = f"{said} ({one.why})"
        lines.append(whole if len(whole) <= WIDTH else textwrap.shorten(said, WIDTH, placeholder=" ..."))  # why: --sources
    left = len(estimate.assumptions) - OF_A_KIND
    return [*lines, f"+ {left} more: --sources"] if left > 0 else lines


def _work(estimate: Estimate, schedule: JobSchedule, risk: JobRisk) -> Lines:
    visit = estimate.job.identity.visit_date
    first = next((schedule.schedule.find(trip.first) for trip in schedule.trips if trip.sets_up), None)
    hired = f"; hired {schedule.hired_hours:.1f}" if schedule.hired_hours else ""
    hours = (
        f"{schedule.own_hours:.1f} of our own{hired}; {days_text(crew_days_of(estimate))} crew-days in {counted(schedule.trips_priced, 'trip', 'trips').text}"
    )
    at_house = _span(first.start.date() if first else None, last_day(schedule.finish), visit)
    done = f"{at_house}; 4 times out of 5 done by {format_day(last_day(risk.finish_at(0.8)), beside=visit)}"
    lines = ["", "WORK AND DATES", *_wrap("Hours", hours, NAME_WIDTH), *_wrap("At the house", done, NAME_WIDTH)]
    if schedule.days_without_sink is not None and schedule.sink_out is not None and schedule.sink_back is not None:
        lent, gone = schedule.days_with_temporary_sink, format_days(schedule.days_without_sink)
        more = "in the price" if estimate.job.terms.temporary_sink else f"+{format_dollars(price_temporary_sink(estimate))}"
        spared = f"; with a temporary sink {format_days(lent)} ({more})" if lent is not None and format_days(lent) != gone else ""
        lines += _wrap(
            "Without sink",
            f"{gone}, {_span(schedule.sink_out.date(), schedule.sink_back.date(), visit)}{spared}",
            NAME_WIDTH,
        )
    return lines


def _span(first: date | None, last: date, visit: date) -> str:
    """From a day to another, or that one day."""
    words = format_day(last, beside=visit)
    return words if first is None or first == last else f"{format_day(first, beside=visit)} to {words}"


def _money(estimate: Estimate, risk: JobRisk) -> Lines:
    cost = f"{format_dollars(estimate.cost)}; 4 times out of 5 no more than {format_dollars(risk.cost_at(0.8))}"
    taxed = " before tax" if risk.income != estimate.price else ""
    profit = f"{format_dollars(estimate.amount('gross'))}, {share_text(float(estimate.margin))} of the price{taxed}"
    lines = ["", "MONEY", *_wrap("Direct cost", cost, NAME_WIDTH), *_wrap("Gross profit", profit, NAME_WIDTH)]
    if estimate.price:
        lines += _payments(estimate)
    return lines


def _payments(estimate: Estimate) -> Lines:
    visit, cash = estimate.job.identity.visit_date, cash_of(estimate)
    draws = plan_draws(estimate).draws
    paid = "; ".join(f"{format_money(draw.due)} {lower_first(draw.label)} ({_short(day, visit)})" for draw, day in zip(draws, cash.draw_days, strict=True))
    most = (
        f"{format_dollars(cash.most_fronted)} at most, on {format_day(cash.worst.day, beside=visit)}"
        if cash.most_fronted
        else "none: the customer's payments are always ahead"
    )
    return [*_wrap("Payments", paid, NAME_WIDTH), *_wrap("Our money out", most, NAME_WIDTH)]


def _short(day: date, visit: date) -> str:
    return format_day(day, beside=visit).partition(", ")[2]


def _next(estimate: Estimate, path: Path, issued: Issued | None) -> Lines:
    if issued is not None:
        command = f"sinkset jobs {typed_path(path)}"
    elif estimate.buildable:
        command = f"sinkset issue {typed_path(path)}"
    else:
        command = f"sinkset compare {typed_path(path)}"
    more = "--hours --calendar --buy --build-up --cash --risk --sources, or --full"
    return ["", *_wrap("Next:", command, 7), *_wrap("More:", more, 7), *_wrap("", CAUTION, 0)]
