"""The comparison of mounts as a report, as JSON, and as one job file for each alternate that is allowed."""

import os
from collections.abc import Callable, Sequence
from decimal import Decimal
from pathlib import Path
from typing import Any

from kit.cli.opening import Opened
from kit.cli.outlook_document import outlook_figures
from kit.cli.page import Page, days_text, hours_text, share_text
from kit.compare import Alternate
from kit.document import lists_document, money_text, plain_job
from kit.estimate import Estimate
from kit.job import Job, change_job, write_job
from kit.money import format_money
from kit.shipped import shipped

_FIGURES = ("buildable", "price", "cost", "margin", "hours", "crew_days", "gross_per_crew_day")
_OUTLOOK = ("finish", "finish_p50", "finish_p80", "cost_p50", "cost_p80", "days_without_sink", "chance_to_lose")

__all__ = ["alternate_files", "comparison_document", "comparison_report"]


def comparison_report(opened: Opened, alternates: Sequence[Alternate]) -> str:
    """The alternates in words: figures of those that are allowed, reasons for all."""
    job, page = opened.job, Page()
    page.title(f"Mounts compared: {job.identity.job_number}, {job.identity.customer}", f"{job.sink.item} in {job.counter.material}, same scope and counter")
    rows = [_row(alternate, chosen=alternate.mount == job.sink.mount) for alternate in alternates]
    page.table("Side by side", ("Mount", "Allowed", ">Price", ">Direct cost", ">Margin", ">Hours", ">Crew-days", ">Gross a crew-day", "Worst finding"), rows)
    columns = ("Mount", "Done", "Done, P80", ">Cost, P50", ">Cost, P80", ">Days without a sink", ">Chance to lose")
    page.table("When, and how sure", columns, [_outlook_row(one, one.estimate) for one in alternates if one.estimate is not None])
    page.table("Why", ("Mount", "Says", "Reason", "Source"), [(one.mount, one.level.word, one.reason, one.source) for one in alternates])
    page.note("Gross is price less direct cost. Reasons are common practice where no source is named; the maker's sheet and local code decide.")
    return page.text()


def _row(alternate: Alternate, *, chosen: bool) -> tuple[str, ...]:
    name = f"{alternate.mount} (this job)" if chosen else alternate.mount
    found = alternate.estimate
    if found is None:
        return (name, "no", "", "", "", "", "", "", "")
    per_day = alternate.gross_per_crew_day
    worst = found.worst
    return (
        name,
        "yes" if alternate.level.word == "ok" else f"with care ({alternate.level.word})",
        format_money(found.price),
        format_money(found.cost),
        share_text(float(found.margin)),
        hours_text(found.hours),
        days_text(alternate.crew_days or 0.0),
        "" if per_day is None else format_money(per_day),
        "" if worst is None else f"{worst.level.word}: {worst.check}",
    )


def _outlook_row(alternate: Alternate, found: Estimate) -> tuple[str, ...]:
    figures = outlook_figures(found)
    days = figures["days_without_sink"]
    return (
        alternate.mount,
        figures["finish"].partition("T")[0],
        figures["finish_p80"].partition("T")[0],
        format_money(Decimal(figures["cost_p50"])),
        format_money(Decimal(figures["cost_p80"])),
        "" if days is None else days_text(days),
        share_text(figures["chance_to_lose"]),
    )


def comparison_document(opened: Opened, alternates: Sequence[Alternate]) -> dict[str, Any]:
    """The comparison as plain data: `job`, `alternates` in the order top, flush, under, `lists`."""
    return {
        "job": plain_job(opened.job),
        "alternates": [
            {
                "mount": one.mount,
                "chosen": one.mount == opened.job.sink.mount,
                "allowed": one.estimate is not None,
                "level": one.level.word,
                "reason": one.reason,
                "source": one.source,
                **_figures(one, one.estimate),
            }
            for one in alternates
        ],
        "lists": lists_document(opened.lists),
    }


def _figures(alternate: Alternate, found: Estimate | None) -> dict[str, Any]:
    if found is None:
        return dict.fromkeys((*_FIGURES, "worst", *_OUTLOOK))
    per_day, worst = alternate.gross_per_crew_day, found.worst
    return {
        "buildable": found.buildable,
        "price": money_text(found.price),
        "cost": money_text(found.cost),
        "margin": float(found.margin),
        "hours": found.hours,
        "crew_days": round(alternate.crew_days or 0.0, 6),
        "gross_per_crew_day": None if per_day is None else money_text(per_day),
        "worst": None if worst is None else {"level": worst.level.word, "check": worst.check},
        **outlook_figures(found),
    }


def alternate_files(opened: Opened, alternates: Sequence[Alternate], out: Path) -> dict[str, Callable[[Path], None]]:
    """Name and writer of each allowed alternate's job file, which names the same price lists from where it will lie."""
    prices = _prices_from(out, opened.folder)
    jobs = {one.mount: change_job(opened.job, {"sink.mount": one.mount, "prices": prices}) for one in alternates if one.estimate is not None}
    return {f"{opened.path.stem}_{mount}.toml": _writer(job) for mount, job in jobs.items()}


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
