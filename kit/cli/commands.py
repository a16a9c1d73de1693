"""The commands in the order of a job's life. Each reads, computes, and only then prints or writes.

Bad input ends with 2 and one report of everything that is wrong; nothing is written then. What a command needs is
imported inside it, so that the first answer comes fast.
"""

import gc
import sys
from collections.abc import Sequence
from typing import Annotated

import typer

from kit.cli.contract_commands import backup, bill, cancel, change, close, jobs, learn, paid, sign, spent, undo
from kit.cli.job_commands import check, compare, estimate, issue, sources, target
from kit.cli.notebook_commands import lab, pages, start
from kit.cli.plain_command import PlainCommand
from kit.errors import Fault, KitError
from kit.failures import keep_details
from kit.incoming import MOST_FAULTS_SHOWN

__all__ = ["app", "main"]

BAD_INPUT = 2
OWN_FAULT = 70  # apart from what a person can mend
NEW_OBJECTS = 50_000  # between two looks for what nobody needs any more; Python's 700 look through all that is loaded again and again

app = typer.Typer(
    name="sinkset",
    help="Estimating and material takeoff for replacing a kitchen sink and the countertop around it.",
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"]},
)
for command in (check, estimate, compare, issue, change, sign, bill, paid, spent, cancel, close, undo, jobs, backup, learn, target, sources, lab, pages, start):
    app.command(cls=PlainCommand)(command)


def main() -> None:
    """Run the command line; what a person can mend is said in sentences, without a traceback."""
    gc.set_threshold(NEW_OBJECTS)
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")  # a terminal without fractions shows a mark instead of failing
    try:
        app()
    except KitError as error:
        _report(error.faults)
        raise SystemExit(BAD_INPUT) from None
    except Exception as error:  # noqa: BLE001 - the last guard: whoever works with it gets a sentence, whoever mends it the details
        typer.echo(f"The program failed. The fault is its own, not yours. {keep_details(error)}", err=True)
        raise SystemExit(OWN_FAULT) from None


def _report(faults: Sequence[Fault]) -> None:
    """All that is wrong, each on a line; of a great many the first ones and how many more there are."""
    from kit.cli.report_text import printable

    for fault in faults[:MOST_FAULTS_SHOWN]:
        typer.echo(printable(str(fault)), err=True)
    if len(faults) > MOST_FAULTS_SHOWN:
        typer.echo(f"... and {len(faults) - MOST_FAULTS_SHOWN:,} more like these. Fix the first ones and try again.", err=True)


@app.callback(invoke_without_command=True)
def _version(*, version: Annotated[bool, typer.Option("--version", help="Print the version and exit.")] = False) -> None:
    if version:
        from kit import __version__

        typer.echo(f"sinkset {__version__}")
