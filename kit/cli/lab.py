"""Open the notebooks in JupyterLab: on this machine only, behind a token, with nothing fetched from outside."""

import os
import secrets
import subprocess
import sys
from pathlib import Path

from kit.errors import Fault, KitError
from kit.shipped import shipped

__all__ = ["lab_command", "notebook_home", "open_lab"]

NOTEBOOKS = "notebooks"
FIRST = "0_first_steps.ipynb"
SETTINGS = Path(__file__).resolve().parent.parent / "panels" / "lab"


def open_lab(folder: Path | None, *, port: int, browser: bool) -> int:
    """Run JupyterLab until it is ended; gives its exit code where the server does not take this process's place.

    The token travels in the environment, which other people on the machine can't read as they can a command line.
    """
    command = lab_command(notebook_home(folder), port=port, browser=browser, root=_is_root())
    env = {
        **os.environ,
        "JUPYTER_TOKEN": os.environ.get("JUPYTER_TOKEN") or secrets.token_urlsafe(24),
        # the Lab asks whether it may fetch news unless its settings say no
        "JUPYTER_CONFIG_PATH": os.pathsep.join(part for part in (os.environ.get("JUPYTER_CONFIG_PATH", ""), str(SETTINGS)) if part),
    }
    if os.name == "posix":
        os.execve(command[0], command, env)  # noqa: S606 - our own fixed command; the server answers the keyboard itself
    with subprocess.Popen(command, env=env) as server:  # noqa: S603 - as above
        while True:
            try:
                return server.wait()
            except KeyboardInterrupt:  # the server has it too, and asks whether to end
                continue


def notebook_home(folder: Path | None) -> Path:
    """The folder that holds `notebooks`: the given one, else the current one, else the shipped one.

    Raises
    ------
    KitError
        If the given folder holds no notebooks.
    """
    if folder is None:
        here = Path.cwd()
        return here if (here / NOTEBOOKS).is_dir() else shipped(NOTEBOOKS).parent
    if not (folder / NOTEBOOKS).is_dir():
        raise KitError(Fault("", f'holds no folder "{NOTEBOOKS}". Lay one with: sinkset start {folder}', str(folder)))
    return folder.absolute()


def lab_command(home: Path, *, port: int, browser: bool, root: bool) -> list[str]:
    """The command that starts JupyterLab in `home` at the first-steps page, else with the notebooks shown; only root needs to be allowed to be root."""
    return [
        sys.executable,
        "-m",
        "jupyterlab",
        f"--ServerApp.root_dir={home}",
        f"--LabApp.default_url=/lab/tree/{NOTEBOOKS}{f'/{FIRST}' if (home / NOTEBOOKS / FIRST).is_file() else ''}",
        "--ServerApp.ip=127.0.0.1",
        f"--ServerApp.port={port}",
        "--ServerApp.allow_remote_access=False",
        "--LabApp.news_url=None",
        "--LabApp.check_for_updates_class=jupyterlab.NeverCheckForUpdate",
        "--LabApp.extension_manager=readonly",
        *([] if browser else ["--no-browser"]),
        *(["--allow-root"] if root else []),
    ]


def _is_root() -> bool:
    return hasattr(os, "geteuid") and os.geteuid() == 0
