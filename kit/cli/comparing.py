"""The comparison on the command line: the sink swapped to each mount, and each counter, as report, JSON and job files."""

import os
from collections.abc import Iterator, Mapping, Sequence
from functools import partial
from pathlib import Path
from typing import Any

from kit.cli.job_source import JobWithLists
from kit.cli.one_screen import WIDTH
from kit.cli.out_folder import Writer
from kit.cli.report_text import Page, days_text, share_text
from kit.compare.figures import Figures, weigh_option
from kit.compare.longer import explain_alternates
from kit.compare.options import Option
from kit.compare.sink_out import why_sink_out
from kit.design.named_goods import counter_name
from kit.document import instant_text, lists_document, money_text, plain_fields, plain_job
from kit.estimating import Estimate
from kit.issued.file_names import file_stem
from kit.job import Job, change_job, write_job
from kit.job.field_names import lower_first, mount_words
from kit.labor.clock import last_day
from kit.money import EXACT, format_dollars, whole_dollars
from kit.records import Level
from kit.shipped_files import shipped
from kit.sources import source_title
from kit.units import format_day, format_days

__all__ = ["comparison_document", "comparison_report", "option_files"]

_HAD = ("Mount and countertop", ">Price", ">Difference", ">Sink out", ">Done", ">To decide")
_OUT = (">Sink out", "Because")
_NOT = ("Mount and countertop", "Result", "Because")
_WHAT = ("No.", "Result", "Mount", "Sink", "Countertop", "Cutout by", "Worst finding")
_MONEY = ("No.", ">Price", ">Direct cost", ">Margin", ">Margin per crew-day", ">Hired", ">Our money out", ">Cost, 1 in 2", ">Cost, 4 in 5", ">Odds of a loss")
_TIME = ("No.", ">Own hours", ">Crew-days", ">Trips", ">Without a sink", ">Order to done", "Done", "Done, 4 in 5")
_UNSOURCED = "Reasons are common practice where no source is named"
_SAYS = ("No.", "Mount", "Countertop", "Available", "Reason", "Source")


def comparison_report(source: JobWithLists, options: Sequence[Option], *, full: bool = False) -> str:
    """What can be had, usable first, then by price, in one table; why not, in one more; with `full`, every figure and reason of each alternate."""
    job, lists, page = source.job, source.lists, Page(None if full else WIDTH)
    same = "same scope and size" if {option.sink for option in options} == {job.sink.item} else "same scope; another sink where a mount needs one"
    what = f"{lists.name_of(job.sink.item)}, {lower_first(counter_name(job, lists))}; {same}."
    page.title(f"{job.identity.job_number}  {job.identity.customer}: other mounts and countertops", what)
    numbered = [(str(number), option) for number, option in enumerate(options, 1)]
    figures = weigh_all(options)
    priced = [(number, option, figures[option.id]) for number, option in numbered if option.id in figures]
    if full:
        _add_all(page, numbered, priced, figures)
    else:
        own = next((row for _, option, row in priced if option.chosen), None)
        had = [_had(option, row, own, job) for _, option, row in priced if option.usable]
        page.table("AVAILABLE, cheapest first", _HAD, had)
        page.table("HOW LONG THE SINK IS OUT, AND WHY", _OUT, list(_sink_out([(option, row) for _, option, row in priced if option.usable])))
        page.table("WHY NOT", _NOT, [(_way(option, job), option.standing, option.reason) for _, option in numbered if not option.usable])
        page.note("-> is this job. Hours, margin, risk, why the days differ: --full. The maker's sheet and local code decide.")
    return page.text()


def _had(option: Option, row: Figures, own: Figures | None, job: Job) -> tuple[str, ...]:
    """One alternate that can be had: mount and counter, price, what it adds, days without a sink, last day, how many things to decide."""
    dearer = EXACT.subtract(whole_dollars(row.price), whole_dollars(row.price if own is None else own.price))
    more = "" if own is None or option.chosen else f"{'+' if dearer >= 0 else ''}{format_dollars(dearer)}"
    done = format_day(last_day(row.schedule.finish), beside=job.identity.visit_date).partition(", ")[2]
    gone = "" if row.days_without_sink is None else format_days(row.days_without_sink)
    to_decide = sum(one.level is not Level.OK for one in option.estimate.findings) if option.estimate else 0
    return f"{'-> ' if option.chosen else ''}{_way(option, job)}", format_dollars(row.price), more, gone, done, str(to_decide)


def _sink_out(had: Sequence[tuple[Option, Figures]]) -> Iterator[tuple[str, str]]:
    """Each reason once, with the fewest and the most days that alternates are without a sink for it, fewest first."""
    days: dict[str, list[float]] = {}
    for option, row in had:
        if option.estimate is not None and row.days_without_sink is not None:
            days.setdefault(why_sink_out(option.estimate), []).append(row.days_without_sink)
    for why, days_each in sorted(days.items(), key=lambda item: item[1]):
        least, most = format_days(min(days_each)), format_days(max(days_each))
        yield most if least == most else f"{least.partition(' ')[0]} to {most}", why


def _way(option: Option, job: Job) -> str:
    """Mount and counter, with the sink where another takes the place of the job's."""
    return f"{mount_words(option.mount).capitalize()}: {option.counter_name}{f'; {option.sink_name}' if option.sink != job.sink.item else ''}"


def _add_all(page: Page, numbered: Sequence[tuple[str, Option]], priced: Sequence[tuple[str, Option, Figures]], figures: Mapping[str, Figures]) -> None:
    page.table("Side by side: usable ones first, then by price", _WHAT, [(number, *_what(option, row)) for number, option, row in priced])
    page.table("Money", _MONEY, [(number, *_money(row)) for number, _, row in priced])
    page.table("Work and days", _TIME, [(number, *_time(row)) for number, _, row in priced])
    why = explain_alternates([option for _, option in numbered], figures)
    rows = [(number, _signed(why[option.id].days), "; ".join(why[option.id].because)) for number, option in numbered if option.id in why]
    page.table("Why the days differ from this job", ("No.", ">Days", "Because"), rows)
    sources = {source_title(option.source) for _, option in numbered}
    alike = next(iter(sources)) if len(sources) == 1 else ""
    heads, says = (_SAYS[:-1] if alike else _SAYS), [(number, *_reason_row(option)) for number, option in numbered]
    page.table("What the lists say", heads, [row[: len(heads)] for row in says])
    page.table("What was swapped", ("No.", "Swapped"), [(number, "; ".join(option.swapped)) for number, option in numbered if option.swapped])
    page.note("Margin is price less direct cost. 1 in 2, 4 in 5: that often the job costs no more, or is done by then.")
    page.note(f"{f'Source of all reasons: {alike}' if alike else _UNSOURCED}; the maker's sheet and local code decide.")


def _signed(days: float) -> str:
    """Days more or less; none has no sign."""
    return f"{days:+g}" if days else "0"


def weigh_all(options: Sequence[Option]) -> dict[str, Figures]:
    """The figures of each priced alternate by its id; the trials are run once for each."""
    return {option.id: weigh_option(option.estimate) for option in options if option.estimate is not None}


def _what(option: Option, figures: Figures) -> tuple[str, ...]:
    mount = f"{mount_words(option.mount)} (this job)" if option.chosen else mount_words(option.mount)
    found = figures.worst
    worst = "" if found is None else ": ".join(filter(None, (found.level.word, found.check, found.measured)))
    return option.standing, mount, option.sink_name, option.counter_name, figures.cut_out_by, worst


def _money(figures: Figures) -> tuple[str, ...]:
    risk = figures.risk
    return (
        format_dollars(figures.price),
        format_dollars(figures.cost),
        share_text(float(figures.margin)),
        "" if figures.per_crew_day is None else format_dollars(figures.per_crew_day),
        format_dollars(figures.hired),
        format_dollars(figures.fronted),
        format_dollars(risk.cost_at(0.5)),
        format_dollars(figures.p80),
        share_text(risk.chance_to_lose),
    )


def _time(figures: Figures) -> tuple[str, ...]:
    finish, finish_p80 = figures.schedule.finish, figures.risk.finish_at(0.8)
    return (
        f"{figures.own_hours:.1f}",
        days_text(figures.crew_days),
        str(figures.trips),
        "" if figures.days_without_sink is None else format_days(figures.days_without_sink),
        format_days(figures.lead_days),
        format_day(last_day(finish)),
        format_day(last_day(finish_p80)),
    )


def _reason_row(option: Option) -> tuple[str, ...]:
    return mount_words(option.mount), option.counter_name, option.verdict, option.reason, source_title(option.source)


def comparison_document(source: JobWithLists, options: Sequence[Option]) -> dict[str, Any]:
    """The comparison as plain data: `job`, `alternates`, `lists`.

    Usable ones come first; `standing` says whether one can be had, `file` names the job file that `--out` writes.
    """
    figures = weigh_all(options)
    why = explain_alternates(options, figures)
    return {
        "job": plain_job(source.job),
        "alternates": [
            {
                **plain_fields(option, "id", "mount", "sink", "counter", "chosen", "standing", "level", "reason", "source", "swapped"),
                "file": None if option.estimate is None else _file_name(source, option),
                "why_days_differ": list(why[option.id].because) if option.id in why else [],
                "figures": None if option.estimate is None else _figures(option.estimate, figures[option.id]),
            }
            for option in options
        ],
        "lists": lists_document(source.lists),
    }


def _figures(estimate: Estimate, figures: Figures) -> dict[str, Any]:
    schedule, risk = figures.schedule, figures.risk
    return {
        "buildable": estimate.buildable,
        **plain_fields(figures, "price", "cost", "gross"),
        "margin": float(figures.margin),
        "crew_days": round(figures.crew_days, 6),
        "gross_per_crew_day": None if figures.per_crew_day is None else money_text(figures.per_crew_day),
        "hours": figures.own_hours,
        **plain_fields(figures, "hired", "trips", "fronted"),
        "lead_days": round(figures.lead_days, 6),
        "worst": None if figures.worst is None else {"level": figures.worst.level.word, "check": figures.worst.check},
        "cut_out_by": figures.cut_out_by,
        "finish": instant_text(schedule.finish),
        "finish_p50": instant_text(risk.finish_at(0.5)),
        "finish_p80": instant_text(risk.finish_at(0.8)),
        "cost_p50": money_text(risk.cost_at(0.5)),
        "cost_p80": money_text(risk.cost_at(0.8)),
        **plain_fields(schedule, "days_without_sink"),
        "chance_to_lose": risk.chance_to_lose,
    }


def option_files(source: JobWithLists, options: Sequence[Option], out: Path) -> dict[str, Writer]:
    """Name and writer of each priced alternate's job file, which names the same price lists from where it will lie."""
    prices = _prices_from(out, source.folder)
    return {_file_name(source, option): partial(write_job, change_job(option.job, {"prices": prices})) for option in options if option.estimate is not None}


def _file_name(source: JobWithLists, option: Option) -> str:
    mount, _, counter = option.id.partition("_")
    return f"{source.path.stem}_{mount}_{file_stem(counter)}.toml"  # whatever stands in a list as the countertop's short name


def _prices_from(out: Path, folder: Path) -> str | None:
    """The lists' folder as seen from `out`; None for the shipped one, which every job falls back on."""
    folder = folder.resolve()
    if folder == shipped("price_lists").resolve():
        return None
    try:
        return Path(os.path.relpath(folder, out.resolve())).as_posix()
    except ValueError:  # another drive
        return folder.as_posix()
