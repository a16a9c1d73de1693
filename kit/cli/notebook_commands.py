"""The notebooks: in JupyterLab, as pages without code, or laid into a folder of your own."""

from pathlib import Path
from typing import Annotated

import typer

from kit.errors import KitError

__all__ = ["lab", "pages", "start"]

NotebookFolder = Annotated[Path | None, typer.Argument(metavar="FOLDER", help="A folder made by `sinkset start`. Default: the current one.")]
Browser = Annotated[bool, typer.Option("--browser/--no-browser", help="Open a browser.")]


def lab(
    folder: NotebookFolder = None,
    *,
    port: Annotated[int, typer.Option(metavar="NUMBER", help="Port on this machine. If it is in use, the next free one.", min=1024, max=65535)] = 8888,
    browser: Browser = True,
) -> None:
    """Open the notebooks in JupyterLab. On this machine only and behind a token."""
    from kit.cli.serving import open_lab

    raise typer.Exit(open_lab(folder, port=port, browser=browser))


def pages(
    folder: NotebookFolder = None,
    *,
    port: Annotated[int, typer.Option(metavar="NUMBER", help="Port on this machine. If it is in use, the next free one.", min=1024, max=65535)] = 8866,
    browser: Browser = True,
    dark: Annotated[bool, typer.Option("--dark/--light", help="Dark or light pages.")] = False,
    share: Annotated[bool, typer.Option("--share", help="Also for other machines on your network, such as a tablet.")] = False,
    address: Annotated[str, typer.Option(metavar="ADDRESS", help="With --share: this machine's address on the network. Default: found for you.")] = "",
) -> None:
    """Serve the notebooks as pages without code. On this machine only and behind a token, unless you share them."""
    from kit.cli.gate import LOOPBACK, network_address
    from kit.cli.serving import serve_pages

    if address and not share:
        raise KitError("--address only makes sense with --share: give both.")
    raise typer.Exit(serve_pages(folder, port=port, browser=browser, dark=dark, address=network_address(address) if share else LOOPBACK[0]))


def start(folder: Annotated[Path, typer.Argument(metavar="FOLDER", help="Your own folder. Created if it is not there.")]) -> None:
    """Copy notebooks, lists and examples to your own folder. Nothing that is there is overwritten."""
    from kit.cli.report_text import typed_path
    from kit.cli.start import lay_folder
    from kit.takeoff.working import counted

    setup = lay_folder(folder)
    for path in setup.already_there:
        typer.echo(f"Left alone, already there: {path}")
    typer.echo(f"{counted(len(setup.new_files), 'file', 'files').text} written to {folder}.")
    typer.echo(f"Next: sinkset lab {typed_path(folder)}. Put your own figures into its price_lists before you price a real job.")
