"""Serve the notebooks as pages without code: on this machine only, behind a token, with nothing fetched from outside."""

import os
import secrets
import tempfile
import webbrowser
from html import escape
from pathlib import Path

import typer

from kit.cli.lab import NOTEBOOKS, notebook_home

__all__ = ["page_settings", "serve_pages"]

HOST = "127.0.0.1"
IDLE_S, LOOK_S = 900, 60
TEMPLATES = Path(__file__).resolve().parent.parent / "panels" / "pages"


def serve_pages(folder: Path | None, *, port: int, browser: bool, dark: bool) -> int:
    """Run the page server until it is ended; says on standard error where the pages are."""
    home = notebook_home(folder)
    token = os.environ.get("JUPYTER_TOKEN") or secrets.token_urlsafe(24)
    # where the server looks for the template; before it is imported
    os.environ["JUPYTER_PATH"] = os.pathsep.join(part for part in (str(TEMPLATES), os.environ.get("JUPYTER_PATH", "")) if part)
    from voila.app import Voila

    class Pages(Voila):  # type: ignore[misc]  # it has no types
        """The page server; once it listens it says where, with the token."""

        def launch_browser(self) -> None:
            address = f"http://{HOST}:{self.port}/?token={token}"
            typer.echo(f"Pages without code, on this machine only: {address}\nEnd with Ctrl+C.", err=True)
            if browser:
                _open_browser(address)

    # the token is handed over inside the process: other people on the machine can read a command line
    Pages.launch_instance(argv=page_settings(home, port=port, dark=dark), token=token)
    return 0


def page_settings(home: Path, *, port: int, dark: bool) -> list[str]:
    """What the page server is told: where the notebooks lie, this machine only, no code, kernels of closed pages ended."""
    return [
        str(home / NOTEBOOKS),
        f"--Voila.ip={HOST}",
        f"--port={port}",
        "--Voila.open_browser=True",
        "--Voila.log_level=30",
        "--template=sinkset",
        "--classic-tree",
        f"--theme={'dark' if dark else 'light'}",
        "--strip_sources=True",
        f"--MappingKernelManager.cull_idle_timeout={IDLE_S}",
        f"--MappingKernelManager.cull_interval={LOOK_S}",
    ]


def _open_browser(address: str) -> None:
    """Through a private file that leads on, so that the token stands in no command line either."""
    handle, name = tempfile.mkstemp(suffix=".html", prefix="sinkset-pages-")
    with os.fdopen(handle, "w", encoding="utf-8") as file:
        file.write(f"<!DOCTYPE html><title>Pages</title><meta http-equiv='refresh' content='0;url={escape(address, quote=True)}'>")
    webbrowser.open(Path(name).as_uri())
