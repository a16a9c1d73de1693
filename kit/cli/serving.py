"""Open the notebooks, in JupyterLab or as pages without code: behind a token, with nothing fetched from outside, on this machine only.

Pages alone can be shared with the network that the machine is in, on request.
"""

import os
import secrets
import socket
import subprocess
import sys
import tempfile
import webbrowser
from html import escape
from pathlib import Path
from typing import Any

import typer

from kit.errors import Fault, KitError
from kit.shipped_files import shipped

__all__ = ["free_port", "lab_command", "notebook_home", "open_lab", "page_settings", "serve_pages"]

NOTEBOOKS = "notebooks"
FIRST = "0_first_steps.ipynb"
HOST = "127.0.0.1"
# A page that is open keeps its kernel; one whose tablet sleeps finds it again within half a day, one that was left gives it up after two minutes. By
# then everything typed has long been kept on the disk, and where it can't be, the screen tries again every half minute, which counts as work: such a
# kernel is not ended.
IDLE_S, CLOSED_S, LOOK_S = 12 * 3600, 120, 60
_PORTS, _LAST_PORT = 50, 65535
_FAILED = "This part could not be worked out; everything above it is sound. Reload the page. If it comes back, show it to whoever looks after the kit."
SHARED = (
    "WARNING: shared on your network. Anyone with the address below sees and changes jobs, prices and costs, and nothing is encrypted on "
    "the way. Share it only on a network you trust, give the address to nobody else, and stop it when you are done.\n"
)
CHANNELS = "kit.cli.channels.PromptChannels"
PANELS = Path(__file__).resolve().parent.parent / "panels"
SETTINGS, TEMPLATES = PANELS / "lab", PANELS / "pages"


def _token() -> str:
    """The token of whoever starts the server, else a new one."""
    return os.environ.get("JUPYTER_TOKEN") or secrets.token_urlsafe(24)


def open_lab(folder: Path | None, *, port: int, browser: bool) -> int:
    """Run JupyterLab until it is ended; gives its exit code where the server does not take this process's place.

    The token travels in the environment, which other people on the machine can't read as they can a command line.
    """
    home, port = notebook_home(folder), free_port(port)
    command = lab_command(home, port=port, browser=browser, root=hasattr(os, "geteuid") and os.geteuid() == 0)
    env = {
        **os.environ,
        "JUPYTER_TOKEN": _token(),
        # the Lab asks whether it may fetch news unless its settings say no
        "JUPYTER_CONFIG_PATH": os.pathsep.join(part for part in (os.environ.get("JUPYTER_CONFIG_PATH", ""), str(SETTINGS)) if part),
    }
    if not browser:  # the server itself says its address with the token masked
        typer.echo(f"The Lab, on this machine only: http://{HOST}:{port}/lab?token={env['JUPYTER_TOKEN']}", err=True)
    if os.name == "posix":
        os.execve(command[0], command, env)  # noqa: S606 - our own fixed command; the server answers the keyboard itself
    with subprocess.Popen(command, env=env) as server:  # noqa: S603 - as above
        while True:
            try:
                return server.wait()
            except KeyboardInterrupt:  # the server has it too, and asks whether to end
                continue


def free_port(port: int) -> int:
    """The port, or the next one on which nothing listens. Raises KitError if none of the next fifty is free."""
    for number in range(port, min(port + _PORTS, _LAST_PORT) + 1):
        with socket.socket() as one:
            if os.name == "posix":  # as the server does: a port that has just been left is free
                one.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            try:
                one.bind((HOST, number))
            except OSError:
                continue
        return number
    raise KitError(f"No port from {port} to {port + _PORTS} is free: give another one with --port.")


def notebook_home(folder: Path | None) -> Path:
    """The folder that holds `notebooks`: the given one, else the current one, else the shipped one.

    Raises KitError if the given folder holds no notebooks.
    """
    if folder is None:
        here = Path.cwd()
        return here if (here / NOTEBOOKS).is_dir() else shipped(NOTEBOOKS).parent
    if folder.is_file():
        raise KitError(Fault("", "is a file. Give the folder that sinkset start made.", str(folder)))
    if not (folder / NOTEBOOKS).is_dir():
        raise KitError(Fault("", f'holds no folder "{NOTEBOOKS}". Make one with: sinkset start {folder}', str(folder)))
    return folder.absolute()


def lab_command(home: Path, *, port: int, browser: bool, root: bool) -> list[str]:
    """The command that starts JupyterLab in `home` at the first-steps page, else with the notebooks shown; only root needs to be allowed to be root."""
    return [
        sys.executable,
        "-m",
        "jupyterlab",
        f"--ServerApp.root_dir={home}",
        f"--LabApp.default_url=/lab/tree/{NOTEBOOKS}{f'/{FIRST}' if (home / NOTEBOOKS / FIRST).is_file() else ''}",
        f"--ServerApp.ip={HOST}",
        f"--ServerApp.port={port}",
        "--ServerApp.port_retries=0",  # another port than the one that was said would be of no use
        "--ServerApp.allow_remote_access=False",
        f"--ServerApp.kernel_websocket_connection_class={CHANNELS}",
        "--LabApp.news_url=None",
        "--LabApp.check_for_updates_class=jupyterlab.NeverCheckForUpdate",
        "--LabApp.extension_manager=readonly",
        *([] if browser else ["--no-browser"]),
        *(["--allow-root"] if root else []),
    ]


def serve_pages(folder: Path | None, *, port: int, browser: bool, dark: bool, address: str = HOST) -> int:
    """Run the page server until it is ended; says on standard error where the pages are.

    Parameters
    ----------
    folder
        Where the notebooks lie.
    port
        Port to listen on; the next free one where it is in use.
    browser
        Whether to open one.
    dark
        Dark or light pages.
    address
        The address to listen on: this machine only, or that of this machine in its network, which is warned of.
    """
    home = notebook_home(folder)
    token = _token()
    # where the server looks for the template; before it is imported
    os.environ["JUPYTER_PATH"] = os.pathsep.join(part for part in (str(TEMPLATES), os.environ.get("JUPYTER_PATH", "")) if part)
    from voila.app import Voila

    from kit.cli.closed_pages import ClosedPage
    from kit.cli.gate import LOOPBACK, guard_application

    class Pages(Voila):  # type: ignore[misc]  # it has no types
        """The page server behind its door; once it listens it says where, with the token."""

        def init_handlers(self) -> list[Any]:
            return [("/voila/api/shutdown/(.*)", ClosedPage, {"after_s": CLOSED_S}), *super().init_handlers()]

        def listen(self) -> None:
            guard_application(self.app, token, LOOPBACK if address == HOST else (address,))
            super().listen()

        def launch_browser(self) -> None:
            whole = f"http://{address}:{self.port}/?token={token}"
            where = "on this machine only" if address == HOST else "for anyone on your network who has this address"
            typer.echo(f"{'' if address == HOST else SHARED}Pages without code, {where}: {whole}\nStop with Ctrl+C.", err=True)
            if browser:
                _open_browser(whole)

    # the token is handed over inside the process: other people on the machine can read a command line
    Pages.launch_instance(argv=page_settings(home, port=port, dark=dark, address=address), token=token)
    return 0


def page_settings(home: Path, *, port: int, dark: bool, address: str) -> list[str]:
    """Settings of the page server: where the notebooks lie, no code, no template but ours, kernels of closed pages ended."""
    return [
        str(home / NOTEBOOKS),
        f"--Voila.ip={address}",
        f"--port={port}",
        "--Voila.open_browser=True",
        "--Voila.log_level=30",
        f"--Voila.kernel_websocket_connection_class={CHANNELS}",
        "--template=sinkset",
        "--VoilaConfiguration.allow_template_override=NO",  # an unknown one named in an address would never answer
        "--VoilaConfiguration.allow_theme_override=NO",
        "--classic-tree",
        f"--theme={'dark' if dark else 'light'}",
        "--strip_sources=True",
        f"--VoilaExecutor.cell_error_instruction={_FAILED}",
        f"--MappingKernelManager.cull_idle_timeout={IDLE_S}",
        f"--MappingKernelManager.cull_interval={LOOK_S}",
    ]


def _open_browser(address: str) -> None:
    """Through a private file that leads on, so that the token stands in no command line either."""
    handle, name = tempfile.mkstemp(suffix=".html", prefix="sinkset-pages-")
    with os.fdopen(handle, "w", encoding="utf-8") as file:
        file.write(f"<!DOCTYPE html><title>Pages</title><meta http-equiv='refresh' content='0;url={escape(address, quote=True)}'>")
    webbrowser.open(Path(name).as_uri())
