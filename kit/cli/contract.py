"""What goes out to the customer and comes back signed: issuing, change orders, and working back from a wanted price."""

from pathlib import Path
from typing import Annotated

import typer

from kit.cli.commands import AsJson, JobFile, Prices, app

__all__ = ["issue", "target"]

Folder = Annotated[Path | None, typer.Option("--folder", metavar="FOLDER", help="Where the issued estimates of the job lie; without it beside the job file.")]
StopReason = Annotated[str | None, typer.Option("--reason", metavar="TEXT", help="Why it is issued although a finding says stop; it becomes part of it.")]
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
