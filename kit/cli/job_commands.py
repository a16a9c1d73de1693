"""What is asked about a job: does it fit, what does it cost, what else could it be, issue it, work back from a price."""

from pathlib import Path
from typing import Annotated

import typer

from kit.cli.answering import AsJson, JobFile, Out, Prices, answer

__all__ = ["check", "compare", "estimate", "issue", "sources", "target"]

STOPPED = 1

JobOrIssued = Annotated[Path, typer.Argument(metavar="JOB", help="Job file (TOML), or an issued estimate (JSON) with the prices it was issued with.")]
OfJob = Annotated[Path | None, typer.Option("--job", metavar="JOB", help="Only the figures this job uses, and what each moves if it is 10% off.")]
All = Annotated[bool, typer.Option("--all", help="Print everything that was checked, including what is fine.")]
Full = Annotated[bool, typer.Option("--full", help="Print every figure and reason.")]
Papers = Annotated[bool, typer.Option("--papers", help="With --out: also the proposal, purchase list, crew sheet and the rows for the books.")]
Folder = Annotated[
    Path | None, typer.Option("--folder", metavar="FOLDER", help="Where the job's issued estimates are kept; a new one is made. Default: beside the job file.")
]
StopReason = Annotated[str | None, typer.Option("--reason", metavar="TEXT", help="Why you issue it despite a warning. Kept with it.")]
IssueDay = Annotated[str | None, typer.Option("--day", metavar="DAY", help="Day of issue, such as 2026-03-31. Default: today.")]
Margin = Annotated[str | None, typer.Option("--margin", metavar="SHARE", help='The price that leaves this gross margin, such as "35%".')]
Price = Annotated[str | None, typer.Option("--price", metavar="MONEY", help='The margin left at this price, such as "12000 USD".')]
CrewDay = Annotated[str | None, typer.Option("--crew-day", metavar="MONEY", help='The price that leaves this much per crew-day, such as "900 USD".')]


def check(job: JobFile, *, everything: All = False, as_json: AsJson = False, prices: Prices = None) -> None:
    """Say whether the job fits, holds and drains, worst first. Exit code 1 if something says stop."""
    from kit.cli.job_source import estimate_file
    from kit.cli.report import check_report
    from kit.document import findings_document
    from kit.estimating import with_earlier_stages

    estimate = with_earlier_stages(estimate_file(job, prices))
    answer(lambda: findings_document(estimate), lambda: check_report(estimate, everything=everything), as_json=as_json)
    if not estimate.buildable:
        raise typer.Exit(STOPPED)


def estimate(
    job: JobOrIssued,
    *,
    hours: Annotated[bool, typer.Option("--hours", help="Print the hours by step.")] = False,
    calendar: Annotated[bool, typer.Option("--calendar", help="Print the calendar, the trips and the days without a sink.")] = False,
    buy: Annotated[bool, typer.Option("--buy", help="Print purchases, hired work and fees.")] = False,
    build_up: Annotated[bool, typer.Option("--build-up", help="Print how the price is built up.")] = False,
    cash: Annotated[bool, typer.Option("--cash", help="Print the payments and the cash by day.")] = False,
    risk: Annotated[bool, typer.Option("--risk", help="Print how sure cost and finish are, and why.")] = False,
    sources: Annotated[bool, typer.Option("--sources", help="Print what was assumed and which price lists were used.")] = False,
    full: Annotated[bool, typer.Option("--full", help="Print all of these.")] = False,
    as_json: AsJson = False,
    out: Out = None,
    papers: Papers = False,
    prices: Prices = None,
) -> None:
    """Price the job: one screen, or the parts that are asked for.

    With --out, write the workbook and the drawings, with --papers also what customer, crew and bookkeeper get.
    """
    from kit.cli.estimate_document import whole_document
    from kit.cli.job_source import open_source
    from kit.cli.out_folder import file_writers
    from kit.cli.report import PARTS, estimate_report
    from kit.export.estimate_files import estimate_files, sent_files

    switches = {"hours": hours, "calendar": calendar, "buy": buy, "build-up": build_up, "cash": cash, "risk": risk, "sources": sources}
    parts = tuple(PARTS) if full else tuple(name for name, on in switches.items() if on)
    if papers and out is None:
        raise typer.BadParameter("say with --out which folder to write into.", param_hint="--papers")
    source = open_source(job, prices)
    if (issued := source.issued) is not None:
        from kit.cli.promises import promise_document, promise_report  # its ledger takes as long to load as the estimate's rooms

        document, report = (lambda: promise_document(issued)), (lambda: promise_report(issued, job, parts))
        answer(document, report, as_json=as_json, out=out, files=lambda _: file_writers(sent_files(issued, papers=papers)))
        return
    answer(
        lambda: {**whole_document(source.estimate), "issued": None},
        lambda: estimate_report(source.estimate, job, parts=parts),
        as_json=as_json,
        out=out,
        files=lambda _: file_writers(estimate_files(source.estimate, job.stem, papers=papers)),
    )


def compare(
    job: JobFile,
    *,
    full: Full = False,
    as_json: AsJson = False,
    out: Out = None,
    prices: Prices = None,
) -> None:
    """Compare mounts and countertops for the same job. With --out, write each alternate's job file."""
    from kit.cli.comparing import comparison_document, comparison_report, option_files
    from kit.cli.job_source import compare_file
    from kit.cli.report_text import busy

    with busy():
        source, options = compare_file(job, prices)
    document, report = (lambda: comparison_document(source, options)), (lambda: comparison_report(source, options, full=full))
    answer(document, report, as_json=as_json, out=out, files=lambda folder: option_files(source, options, folder))


def issue(job: JobFile, *, folder: Folder = None, reason: StopReason = None, day: IssueDay = None, as_json: AsJson = False, prices: Prices = None) -> None:
    """Issue the estimate and keep everything that is sent. It is the next revision.

    Refused while there is a warning and no reason is given: a finding that says stop, a scope that contradicts itself, old or ended prices,
    days in the past, the kit's lists in place of your own. Refused under the number of a contract that is closed or canceled.
    """
    from kit.cli.contracts import read_day
    from kit.cli.job_source import estimate_to_issue
    from kit.cli.promises import issue_document, issue_report, offer_issued
    from kit.contract.contract_file import refuse_ended
    from kit.export.estimate_files import files_to_send
    from kit.issued import issue_estimate, open_issued
    from kit.whole_files import making_new

    source = estimate_to_issue(job, prices)
    home, today = folder or job.parent, read_day(day)
    refuse_ended(home, source.estimate.job.identity.job_number)
    with making_new(home) as made:
        path = issue_estimate(source.estimate, home, make_files=files_to_send, stop_reason=reason, fell_back=source.fell_back, today=today)
    issued = open_issued(path)  # as anybody will open it
    ledger = offer_issued(path)
    answer(lambda: issue_document(path, issued, ledger, made=made), lambda: issue_report(path, issued, ledger, made=made), as_json=as_json)


def target(job: JobFile, *, margin: Margin = None, price: Price = None, crew_day: CrewDay = None, as_json: AsJson = False, prices: Prices = None) -> None:
    """Find the price for a target, or what a price leaves. A target is a margin, or a margin for each crew-day."""
    from kit.cli.job_source import estimate_file
    from kit.cli.targets import answer_targets, read_targets, target_document, target_report

    if margin is None and price is None and crew_day is None:
        raise typer.BadParameter("give at least one of them.", param_hint="--margin, --price or --crew-day")
    targets = read_targets(margin=margin, price=price, crew_day=crew_day)
    result = answer_targets(estimate_file(job, prices), targets)
    answer(lambda: target_document(result), lambda: target_report(result), as_json=as_json)


def sources(
    *,
    job: OfJob = None,
    everything: Annotated[bool, typer.Option("--all", help="Print each figure with its source and where it is used.")] = False,
    as_json: AsJson = False,
    out: Out = None,
    prices: Prices = None,
) -> None:
    """Say where the kit's figures come from. With --all, the value, unit, kind, source and use of each; with --out, a page for a browser too."""
    from kit.cli.job_source import estimate_file
    from kit.cli.list_sources import job_moves, sources_document, sources_page, sources_report
    from kit.cli.out_folder import file_writers
    from kit.cli.report_text import busy
    from kit.lists import load_lists
    from kit.shipped_files import shipped

    with busy():
        priced = estimate_file(job, prices) if job is not None else None
        lists = priced.lists if priced is not None else load_lists(prices or shipped("price_lists"))
        moves = job_moves(priced)
    document, report = (lambda: sources_document(lists, moves)), (lambda: sources_report(lists, moves, job, everything=everything))
    answer(document, report, as_json=as_json, out=out, files=lambda _: file_writers({"sources.html": sources_page(lists, moves, job)}))
