"""The commands in the order of a job's life. Each reads, computes, and only then prints or writes.

Bad input ends with 2 and one report of everything that is wrong; nothing is written then. What a command needs is
imported inside it, so that the first answer comes fast.
"""

import sys
from typing import Annotated

import typer

from kit.cli.contract_commands import backup, bill, cancel, change, close, jobs, learn, paid, sign, spent, undo
from kit.cli.job_commands import check, compare, estimate, issue, target
from kit.cli.notebook_commands import lab, pages, start
from kit.errors import KitError

__all__ = ["app", "main"]

BAD_INPUT = 2

app = typer.Typer(
    name="sinkset",
    help="Estimating and material takeoff for replacing a kitchen sink and the countertop around it.",
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"]},
)
for command in (check, estimate, compare, issue, change, sign, bill, paid, spent, cancel, close, undo, jobs, backup, learn, target, lab, pages, start):
    app.command()(command)


def main() -> None:
    """Run the command line; what a person can mend is said in sentences, without a traceback."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")  # a terminal without fractions shows a mark instead of failing
    try:
        app()
    except KitError as error:
        from kit.cli.page import printable

        for fault in error.faults:
            typer.echo(printable(str(fault)), err=True)
        raise SystemExit(BAD_INPUT) from None


@app.callback(invoke_without_command=True)
def _version(*, version: Annotated[bool, typer.Option("--version", help="Print the version and end.")] = False) -> None:
    if version:
        from kit import __version__

        typer.echo(f"sinkset {__version__}")
