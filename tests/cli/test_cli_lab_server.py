"""The notebook server as it really starts: this machine only, behind a token, in the user's folder."""

import json
import socket
from collections.abc import Iterator
from urllib.parse import urlsplit

import pytest
from notebook_servers import TOKEN, ask, free_port, login_cookie, notebook_server


@pytest.fixture(scope="module")
def said(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[int, str]]:
    """A server whose asked port is taken: that port, and the address that the server said."""
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", free_port()))
        taken.listen()
        asked = taken.getsockname()[1]
        with notebook_server(tmp_path_factory.mktemp("home"), "lab", port=asked) as (address, _):
            yield asked, address


@pytest.fixture(scope="module")
def port(said: tuple[int, str]) -> int:
    """Where it listens."""
    return int(urlsplit(said[1]).port or 0)


def test_the_address_it_says_lets_in_and_one_without_its_token_does_not(said: tuple[int, str], port: int) -> None:
    """The port that was asked for is taken: the address names the next free one, and works as it stands."""
    asked, address = said
    parts = urlsplit(address)
    assert asked < port <= asked + 50
    assert ask(port, f"{parts.path}?{parts.query}")[0] == 200
    assert ask(port, parts.path)[0] == 302
    assert ask(port, f"{parts.path}?token=another")[0] == 302
    assert ask(port, f"/api/contents?{parts.query}", Host="elsewhere.example")[0] == 403
    cookie = login_cookie(port, f"{parts.path}?{parts.query}")
    assert ask(port, "/api/contents", Cookie=cookie)[0] == 200
    assert ask(port, "/api/contents", Cookie=cookie, Origin="http://elsewhere.example")[0] in {403, 404}


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
