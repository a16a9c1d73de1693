"""The commands: each reads, computes, and only then prints or writes.

Bad input ends with 2 and one report of everything that is wrong; nothing is written then. What a command needs is
imported inside it, so that the first answer comes fast.
"""

import sys
from pathlib import Path
from typing import Annotated

import typer

from kit.errors import KitError

__all__ = ["app", "main", "say"]

STOPPED, BAD_INPUT = 1, 2

app = typer.Typer(
    name="sinkset",
    help="Estimating and material takeoff for replacing a kitchen sink and the counter around it.",
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"]},
)

JobFile = Annotated[Path, typer.Argument(metavar="JOB", help="Job file (TOML).")]
Given = Annotated[Path, typer.Argument(metavar="JOB", help="Job file (TOML), or an issued estimate (JSON) with the prices it was issued with.")]
AsJson = Annotated[bool, typer.Option("--json", help="Print one JSON object and nothing else.")]
Prices = Annotated[Path | None, typer.Option("--prices", metavar="FOLDER", help="Folder of price lists; without it the job's, else the one beside it.")]
Papers = Annotated[bool, typer.Option("--papers", help="With --out: also the proposal, purchase list, crew sheet and the rows for the books.")]
Out = Annotated[Path | None, typer.Option("--out", metavar="FOLDER", help="Folder to write files into; earlier files of this command are replaced.")]


def main() -> None:
    """Run the command line; what a person can mend is said in sentences, without a traceback."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")  # a terminal without fractions shows a mark instead of failing
    try:
        app()
    except KitError as error:
        from kit.cli.words import printable

        for fault in error.faults:
            typer.echo(printable(str(fault)), err=True)
        raise SystemExit(BAD_INPUT) from None


@app.callback(invoke_without_command=True)
def _version(*, version: Annotated[bool, typer.Option("--version", help="Print the version and end.")] = False) -> None:
    if version:
        from kit import __version__

        typer.echo(f"sinkset {__version__}")


@app.command()
def check(job: JobFile, *, as_json: AsJson = False, prices: Prices = None) -> None:
    """Say whether the job fits, holds and drains, worst first. Ends with 1 when something says stop."""
    from kit.cli.opening import estimate_file

    found = estimate_file(job, prices)
    if as_json:
        from kit.document import document_bytes, findings_document

        typer.echo(document_bytes(findings_document(found)), nl=False)
    else:
        from kit.cli.report import check_report

        typer.echo(check_report(found), nl=False)
    if not found.buildable:
        raise typer.Exit(STOPPED)


@app.command()
def estimate(job: Given, *, as_json: AsJson = False, out: Out = None, papers: Papers = False, prices: Prices = None) -> None:
    """Price the job; with --out, write the workbook and the drawings, with --papers also what customer, crew and bookkeeper get."""
    from kit.cli.given import issued_document, open_given

    if papers and out is None:
        raise typer.BadParameter("say with --out into which folder.", param_hint="--papers")
    given = open_given(job, prices)
    found = given.estimate
    answer: str | bytes
    if as_json:
        from kit.cli.outlook_document import outlook_document
        from kit.cli.payments_document import payments_document
        from kit.document import document_bytes, estimate_document

        answer = document_bytes({**estimate_document(found), **outlook_document(found), **payments_document(found), "issued": issued_document(given)})
    else:
        from kit.cli.report import estimate_report

        answer = estimate_report(found, issued=given.issued)
    if out is not None:
        from kit.cli.drawing_files import drawing_files
        from kit.cli.files import write_files
        from kit.export.workbook import workbook_bytes

        files = {f"{job.stem}.xlsx": lambda path: path.write_bytes(workbook_bytes(found)), **drawing_files(found, job.stem)}
        if papers:
            from kit.cli.paper_files import paper_files

            files |= paper_files(found, job.stem, issued=given.issued)
        write_files(out, files, say=say)
    typer.echo(answer, nl=False)


@app.command()
def compare(job: JobFile, *, as_json: AsJson = False, out: Out = None, prices: Prices = None) -> None:
    """Put mounts and counters side by side for the same scope and size; with --out, write each alternate's job file."""
    from kit.cli.comparing import comparison_document, comparison_report, option_files
    from kit.cli.opening import compare_file

    opened, options = compare_file(job, prices)
    answer: str | bytes
    if as_json:
        from kit.document import document_bytes

        answer = document_bytes(comparison_document(opened, options))
    else:
        answer = comparison_report(opened, options)
    if out is not None:
        from kit.cli.files import write_files

        write_files(out, option_files(opened, options, out), say=say)
    typer.echo(answer, nl=False)


@app.command()
def lab(
    folder: Annotated[Path | None, typer.Argument(metavar="[FOLDER]", help="A folder laid by `sinkset start`; without it the current one.")] = None,
    *,
    port: Annotated[int, typer.Option(help="Port on this machine; the next free one is taken when it is in use.", min=1024, max=65535)] = 8888,
    browser: Annotated[bool, typer.Option("--browser/--no-browser", help="Open a browser.")] = True,
) -> None:
    """Open the notebooks in JupyterLab, on this machine only and behind a token."""
    from kit.cli.lab import open_lab

    raise typer.Exit(open_lab(folder, port=port, browser=browser))


@app.command()
def pages(
    folder: Annotated[Path | None, typer.Argument(metavar="[FOLDER]", help="A folder laid by `sinkset start`; without it the current one.")] = None,
    *,
    port: Annotated[int, typer.Option(help="Port on this machine; the next free one is taken when it is in use.", min=1024, max=65535)] = 8866,
    browser: Annotated[bool, typer.Option("--browser/--no-browser", help="Open a browser.")] = True,
    dark: Annotated[bool, typer.Option("--dark/--light", help="Dark or light pages.")] = False,
) -> None:
    """Serve the notebooks as pages without code, on this machine only and behind a token."""
    from kit.cli.pages import serve_pages

    raise typer.Exit(serve_pages(folder, port=port, browser=browser, dark=dark))


@app.command()
def start(folder: Annotated[Path, typer.Argument(metavar="FOLDER", help="Your own folder; made when it is not there.")]) -> None:
    """Lay notebooks, price lists and examples into your own folder; nothing that is there is overwritten."""
    from kit.cli.start import lay_folder

    laid = lay_folder(folder)
    for path in laid.left_alone:
        typer.echo(f"Left alone, already there: {path}")
    typer.echo(f"{len(laid.written)} files written into {folder}.")


def say(sentence: str) -> None:
    """A sentence beside the answer, on standard error."""
    typer.echo(sentence, err=True)
