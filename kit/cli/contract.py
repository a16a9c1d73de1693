"""What goes out to the customer and comes back signed: issuing, change orders, and working back from a wanted price."""

from pathlib import Path
from typing import Annotated

import typer

from kit.cli.commands import AsJson, JobFile, Out, Prices, app, say

__all__ = ["change", "issue", "target"]

Folder = Annotated[Path | None, typer.Option("--folder", metavar="FOLDER", help="Where the issued estimates of the job lie; without it beside the job file.")]
StopReason = Annotated[str | None, typer.Option("--reason", metavar="TEXT", help="Why it is issued although a finding says stop; it becomes part of it.")]
Issued = Annotated[Path, typer.Argument(metavar="ISSUED", help="What the contract stands for: an issued estimate (JSON), or a job file for a draft.")]
NewJob = Annotated[Path, typer.Argument(metavar="NEWJOB", help="The job file with the change; or the issued estimate of it.")]
Finds = Annotated[list[str] | None, typer.Option("--find", metavar="NAME=QUANTITY", help="Found, at its price of unit_prices.csv; as often as needed.")]
Rule = Annotated[str | None, typer.Option("--rule", metavar="NAME", help="Rule of change_rules.csv; without it the company's own.")]
Number = Annotated[int, typer.Option("--number", min=1, max=99, help="Which change order of the contract it is.")]
Contract = Annotated[str | None, typer.Option("--contract", metavar="MONEY", help="Contract sum before it; without it the price in ISSUED.")]
Paid = Annotated[list[str] | None, typer.Option("--paid", metavar="MONEY", help="What was paid so far, each payment in order; without it the deposit.")]
Why = Annotated[str | None, typer.Option("--reason", metavar="TEXT", help="Why there is a change, in your own words, for the paper.")]
Day = Annotated[str | None, typer.Option("--day", metavar="DAY", help="Day of the paper, such as 2026-03-31; without it today.")]
Margin = Annotated[str | None, typer.Option("--margin", metavar="SHARE", help='Which price leaves this share of it over direct cost, such as "35 %".')]
Price = Annotated[str | None, typer.Option("--price", metavar="MONEY", help='Which margin is left at this price, such as "12000 USD".')]
CrewDay = Annotated[str | None, typer.Option("--crew-day", metavar="MONEY", help='Which price leaves this much for each crew-day, such as "900 USD".')]


@app.command()
def issue(job: JobFile, *, folder: Folder = None, reason: StopReason = None, as_json: AsJson = False, prices: Prices = None) -> None:
    """Freeze the estimate as the next revision, with its prices and its day; refused while a finding says stop and no reason is given."""
    from kit.cli.opening import estimate_file
    from kit.issued import issue_estimate

    path = issue_estimate(estimate_file(job, prices), folder or job.parent, stop_reason=reason)
    if as_json:
        from kit.cli.given import issue_document
        from kit.document import document_bytes

        typer.echo(document_bytes(issue_document(path)), nl=False)
    else:
        from kit.cli.issuing import issue_report

        typer.echo(issue_report(path), nl=False)


@app.command()
def change(
    issued: Issued,
    new_job: NewJob,
    *,
    find: Finds = None,
    rule: Rule = None,
    number: Number = 1,
    contract: Contract = None,
    paid: Paid = None,
    reason: Why = None,
    day: Day = None,
    as_json: AsJson = False,
    out: Out = None,
    prices: Prices = None,
) -> None:
    """Price a change of the contract row by row; with --out, write the change order to sign and the rows for the books."""
    from kit.cli.changing import change_document, change_files, order_change, read_asked
    from kit.cli.given import open_two
    from kit.document import document_bytes

    asked = read_asked(number=number, paid=paid or [], finds=find or [], rule=rule, contract=contract, day=day, reason=reason)
    old, new = open_two(issued, new_job, prices)
    changing = order_change(old, new, asked)
    answer: str | bytes
    if as_json:
        answer = document_bytes(change_document(changing, old, new))
    else:
        from kit.cli.change_report import change_report

        answer = change_report(changing, old, new)
    if out is not None:
        from kit.cli.files import write_files

        write_files(out, change_files(changing), say=say)
    typer.echo(answer, nl=False)


@app.command()
def target(job: JobFile, *, margin: Margin = None, price: Price = None, crew_day: CrewDay = None, as_json: AsJson = False, prices: Prices = None) -> None:
    """Work back: the price for a wanted margin or a wanted margin for each crew-day, or the margin at a wanted price."""
    from kit.cli.opening import estimate_file
    from kit.cli.targets import read_targets, target_document, work_back

    if margin is None and price is None and crew_day is None:
        raise typer.BadParameter("say what is wanted.", param_hint="--margin, --price or --crew-day")
    wanted = read_targets(margin=margin, price=price, crew_day=crew_day)
    found = work_back(estimate_file(job, prices), wanted)
    if as_json:
        from kit.document import document_bytes

        typer.echo(document_bytes(target_document(found)), nl=False)
    else:
        from kit.cli.target_report import target_report

        typer.echo(target_report(found), nl=False)
