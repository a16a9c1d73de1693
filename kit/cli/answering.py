"""How a command answers: one JSON object or a report for people, and files in the folder of `--out`; and the options that most commands take."""

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Annotated, Any

import typer

from kit.errors import Fault, KitError

__all__ = ["AsJson", "JobFile", "Out", "Prices", "answer"]

JobFile = Annotated[Path, typer.Argument(metavar="JOB", help="Job file (TOML).")]
AsJson = Annotated[bool, typer.Option("--json", help="Print JSON and nothing else.")]
Prices = Annotated[Path | None, typer.Option("--prices", metavar="FOLDER", help="Folder of price lists. Default: the job's own, else the one beside it.")]
Out = Annotated[Path | None, typer.Option("--out", metavar="FOLDER", help="Folder to write into. Files from an earlier run are replaced.")]


def answer(
    document: Callable[[], Mapping[str, Any]],
    report: Callable[[], str],
    *,
    as_json: bool,
    out: Path | None = None,
    files: Callable[[Path], Mapping[str, Any]] | None = None,
    recorded: str = "",
) -> None:
    """Work out the answer, one JSON object or the report for people; write the files into the folder of `--out`; then print the answer.

    `recorded` says what the ledger holds already, should the files fail after it: nobody must do it twice.
    """
    from kit.cli.report_text import busy
    from kit.document import document_bytes

    with busy():
        text = document_bytes(document()) if as_json else report()
    if out is not None and files is not None:
        from kit.cli.out_folder import write_files

        try:
            write_files(out, files(out), say=lambda sentence: typer.echo(sentence, err=True))
        except KitError as error:
            raise KitError((*error.faults, *([Fault("", recorded)] if recorded else []))) from None
    typer.echo(text, nl=False)
