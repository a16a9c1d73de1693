"""The notebook server as it really starts: this machine only, behind a token, in the user's folder."""

import http.client
import json
import os
import socket
import subprocess
import sys
import time
from collections.abc import Iterator

import pytest

PATIENCE_S = 300
TOKEN = "a-token-of-the-test"
COMMAND = "from kit.cli import main; main()"


def free_port() -> int:
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        return int(one.getsockname()[1])


def ask(port: int, path: str, token: str = "") -> tuple[int, bytes]:
    """Status and content of a page."""
    line = http.client.HTTPConnection("127.0.0.1", port, timeout=PATIENCE_S)
    try:
        line.request("GET", path, headers={"Authorization": f"token {token}"} if token else {})
        answer = line.getresponse()
        return answer.status, answer.read()
    finally:
        line.close()


@pytest.fixture(scope="module")
def port(tmp_path_factory: pytest.TempPathFactory) -> Iterator[int]:
    """A server in a folder with one notebook, with no settings of whoever runs the test."""
    home = tmp_path_factory.mktemp("home")
    (home / "mine" / "notebooks").mkdir(parents=True)
    (home / "mine" / "notebooks" / "mine.ipynb").write_text('{"cells": [], "metadata": {}, "nbformat": 4, "nbformat_minor": 5}', encoding="utf-8")
    number = free_port()
    folders = {name: str(home / name.lower()) for name in ("JUPYTER_CONFIG_DIR", "JUPYTER_DATA_DIR", "JUPYTER_RUNTIME_DIR", "IPYTHONDIR")}
    words = ["lab", str(home / "mine"), "--no-browser", "--port", str(number)]
    env = {**os.environ, **folders, "JUPYTER_TOKEN": TOKEN}
    with (home / "log").open("wb") as log:
        server = subprocess.Popen([sys.executable, "-c", COMMAND, *words], env=env, stdout=log, stderr=log, stdin=subprocess.DEVNULL)
        try:
            end = time.monotonic() + PATIENCE_S
            while True:
                assert server.poll() is None, (home / "log").read_text(encoding="utf-8")
                assert time.monotonic() < end, (home / "log").read_text(encoding="utf-8")
                try:
                    ask(number, "/api")
                    break
                except OSError:
                    time.sleep(0.1)
            yield number
        finally:
            server.terminate()
            server.wait(PATIENCE_S)


def test_the_users_notebooks_are_shown_to_who_has_the_token(port: int) -> None:
    """Files and page with the token; a refusal without it or with another."""
    status, content = ask(port, "/api/contents/notebooks", TOKEN)
    assert (status, [file["name"] for file in json.loads(content)["content"]]) == (200, ["mine.ipynb"])
    assert ask(port, "/lab/tree/notebooks", TOKEN)[0] == 200
    assert ask(port, "/api/contents/notebooks")[0] == 403
    assert ask(port, "/api/contents/notebooks", "another")[0] == 403


def test_nobody_else_reaches_it(port: int) -> None:
    """On this machine's other addresses nothing answers."""
    others = {str(found[4][0]) for found in socket.getaddrinfo(socket.gethostname(), port, socket.AF_INET, socket.SOCK_STREAM)} - {"127.0.0.1"}
    for address in others | {"127.0.0.2"}:
        with pytest.raises(OSError, match=r"(?i)refused|unreach|timed out|assign|not valid"):
            socket.create_connection((address, port), timeout=2).close()


def test_news_updates_and_extensions_are_not_fetched(port: int) -> None:
    """What the page is told: no news, and a catalogue of extensions that can't install."""
    page = ask(port, "/lab", TOKEN)[1].decode()
    assert '"news": {"disabled": true}' in page
    assert '"can_install": false' in page
