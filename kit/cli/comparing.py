"""The comparison on the command line: the sink swapped to each mount, and each counter, as report, JSON and job files."""

import os
from collections.abc import Callable, Mapping, Sequence
from decimal import Decimal
from pathlib import Path
from typing import Any

from kit.cli.opening import Opened
from kit.cli.outlook_document import outlook_figures
from kit.cli.page import Page, days_text, hours_text, share_text
from kit.compare import Figures, Option, weigh_option
from kit.document import lists_document, money_text, plain_job
from kit.estimate import Estimate
from kit.job import Job, change_job, write_job
from kit.money import format_money
from kit.shipped import shipped

__all__ = ["comparison_document", "comparison_report", "option_files"]

_WHAT = ("No.", "Mount", "Sink", "Counter", "Cut-out by", "Worst finding")
_MONEY = ("No.", ">Price", ">Direct cost", ">Margin", ">A crew-day", ">Hired", ">Most fronted", ">Cost, P50", ">Cost, P80", ">Chance to lose")
_TIME = ("No.", ">Own hours", ">Crew-days", ">Trips", ">Days without a sink", ">Lead, days", "Done", "Done, P80")


def comparison_report(opened: Opened, options: Sequence[Option]) -> str:
    """The alternates in words: figures of those that are priced, reasons for all."""
    job, page = opened.job, Page()
    page.title(f"Alternates compared: {job.identity.job_number}, {job.identity.customer}", f"{job.sink.item} in {job.counter.item}, same scope and size")
    found = {option.id: (weigh_option(option.estimate), outlook_figures(option.estimate)) for option in options if option.estimate is not None}
    numbered = [(str(number), option) for number, option in enumerate(options, 1)]
    priced = [(number, option, *found[option.id]) for number, option in numbered if option.id in found]
    page.table("Side by side, lawful ones first", _WHAT, [(number, *_what(option, figures)) for number, option, figures, _ in priced])
    page.table("Money", _MONEY, [(number, *_money(figures, outlook)) for number, _, figures, outlook in priced])
    page.table("Work and days", _TIME, [(number, *_time(figures, outlook)) for number, _, figures, outlook in priced])
    page.table("Why", ("No.", "Mount", "Counter", "Says", "Reason", "Source"), [(number, *_reason_row(option)) for number, option in numbered])
    page.table("What was swapped", ("No.", "Swapped"), [(number, "; ".join(option.swapped)) for number, option in numbered if option.swapped])
    page.note("Margin is price less direct cost. Reasons are common practice where no source is named; the maker's sheet and local code decide.")
    return page.text()


def _what(option: Option, found: Figures) -> tuple[str, ...]:
    mount = f"{option.mount} (this job)" if option.chosen else option.mount
    worst = "" if found.worst is None else f"{found.worst.level.word}: {found.worst.check}"
    return mount if option.lawful else f"{mount}, not buildable", option.sink, option.counter, found.cut_out_by, worst


def _money(found: Figures, outlook: Mapping[str, Any]) -> tuple[str, ...]:
    return (
        format_money(found.price),
        format_money(found.cost),
        share_text(float(found.margin)),
        "" if found.per_crew_day is None else format_money(found.per_crew_day),
        format_money(found.hired),
        format_money(found.fronted),
        format_money(Decimal(outlook["cost_p50"])),
        format_money(found.p80),
        share_text(outlook["chance_to_lose"]),
    )


def _time(found: Figures, outlook: Mapping[str, Any]) -> tuple[str, ...]:
    return (
        hours_text(found.own_hours),
        days_text(found.crew_days),
        str(found.trips),
        "" if found.days_without_sink is None else days_text(found.days_without_sink),
        days_text(found.lead_days),
        outlook["finish"].partition("T")[0],
        outlook["finish_p80"].partition("T")[0],
    )


def _reason_row(option: Option) -> tuple[str, ...]:
    says = "not allowed" if option.estimate is None else option.level.word if option.lawful else "not buildable"
    return option.mount, option.counter, says, option.reason, option.source


def comparison_document(opened: Opened, options: Sequence[Option]) -> dict[str, Any]:
    """The comparison as plain data: `job`, `alternates` with the lawful ones first, `lists`; `file` names the job file that `--out` writes."""
    return {
        "job": plain_job(opened.job),
        "alternates": [
            {
                "id": option.id,
                "mount": option.mount,
                "sink": option.sink,
                "counter": option.counter,
                "chosen": option.chosen,
                "allowed": option.estimate is not None,
                "lawful": option.lawful,
                "level": option.level.word,
                "reason": option.reason,
                "source": option.source,
                "swapped": list(option.swapped),
                "file": None if option.estimate is None else _file_name(opened, option),
                "figures": None if option.estimate is None else _figures(option.estimate),
            }
            for option in options
        ],
        "lists": lists_document(opened.lists),
    }


def _figures(made: Estimate) -> dict[str, Any]:
    found = weigh_option(made)
    return {
        "buildable": made.buildable,
        "price": money_text(found.price),
        "cost": money_text(found.cost),
        "gross": money_text(found.gross),
        "margin": float(found.margin),
        "crew_days": round(found.crew_days, 6),
        "gross_per_crew_day": None if found.per_crew_day is None else money_text(found.per_crew_day),
        "hours": found.own_hours,
        "hired": money_text(found.hired),
        "trips": found.trips,
        "fronted": money_text(found.fronted),
        "lead_days": round(found.lead_days, 6),
        "worst": None if found.worst is None else {"level": found.worst.level.word, "check": found.worst.check},
        "cut_out_by": found.cut_out_by,
        **outlook_figures(made),
    }


def option_files(opened: Opened, options: Sequence[Option], out: Path) -> dict[str, Callable[[Path], None]]:
    """Name and writer of each priced alternate's job file, which names the same price lists from where it will lie."""
    prices = _prices_from(out, opened.folder)
    return {_file_name(opened, option): _writer(change_job(option.job, {"prices": prices})) for option in options if option.estimate is not None}


def _file_name(opened: Opened, option: Option) -> str:
    return f"{opened.path.stem}_{option.id}.toml"


def _writer(job: Job) -> Callable[[Path], None]:
    return lambda path: write_job(job, path)


def _prices_from(out: Path, folder: Path) -> str | None:
    """The lists' folder as seen from `out`; None for the shipped one, which every job falls back on."""
    folder = folder.resolve()
    if folder == shipped("price_lists").resolve():
        return None
    try:
        return Path(os.path.relpath(folder, out.resolve())).as_posix()
    except ValueError:  # another drive
        return folder.as_posix()
