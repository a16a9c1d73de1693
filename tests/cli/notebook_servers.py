"""A notebook or page server as it really starts, and requests to it."""

import http.client
import os
import re
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

PATIENCE_S = 300
TOKEN = "a-token-of-the-test"
COMMAND = "from kit.cli import main; main()"
NOTEBOOK = '{"cells": [], "metadata": {}, "nbformat": 4, "nbformat_minor": 5}'


def free_port() -> int:
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        return int(one.getsockname()[1])


def ask(port: int, path: str, token: str = "", *, address: str = "127.0.0.1", **headers: str) -> tuple[int, bytes]:
    """Status and content of a page; redirects are not followed."""
    line = http.client.HTTPConnection(address, port, timeout=PATIENCE_S)
    try:
        line.request("GET", path, headers={**({"Authorization": f"token {token}"} if token else {}), **headers})
        answer = line.getresponse()
        return answer.status, answer.read()
    finally:
        line.close()


def login_cookie(port: int, path: str) -> str:
    """The cookies that a server on this machine gives whoever comes with its token."""
    line = http.client.HTTPConnection("127.0.0.1", port, timeout=PATIENCE_S)
    try:
        line.request("GET", path)
        answer = line.getresponse()
        answer.read()
        return "; ".join(one.partition(";")[0] for one in answer.headers.get_all("Set-Cookie") or ())
    finally:
        line.close()


@contextmanager
def notebook_server(home: Path, command: str, *more: str, port: int) -> Iterator[tuple[str, str]]:
    """Start a server in a folder with one notebook, with no settings of whoever runs the test; gives the address that it says, and all that it said."""
    (home / "mine" / "notebooks").mkdir(parents=True, exist_ok=True)
    (home / "mine" / "notebooks" / "mine.ipynb").write_text(NOTEBOOK, encoding="utf-8")
    folders = {name: str(home / name.lower()) for name in ("JUPYTER_CONFIG_DIR", "JUPYTER_DATA_DIR", "JUPYTER_RUNTIME_DIR", "IPYTHONDIR")}
    words = [command, str(home / "mine"), "--no-browser", "--port", str(port), *more]
    env, log = {**os.environ, **folders, "JUPYTER_TOKEN": TOKEN}, home / f"{command}{port}.log"
    with log.open("wb") as out:
        server = subprocess.Popen([sys.executable, "-c", COMMAND, *words], env=env, stdout=out, stderr=out, stdin=subprocess.DEVNULL)
        try:
            end = time.monotonic() + PATIENCE_S
            while True:
                text = log.read_text(encoding="utf-8")
                assert server.poll() is None, text
                assert time.monotonic() < end, text
                found = re.search(r"http://([0-9.]+):([0-9]+)/\S*", text)
                try:
                    if found:
                        ask(int(found[2]), "/api", address=found[1])
                        break
                except OSError:
                    pass
                time.sleep(0.1)
            yield found[0], text
        finally:
            server.terminate()
            server.wait(PATIENCE_S)
