"""Pages shared with a network: one address, said with a warning; a token on every path; the host held against the address."""

from collections.abc import Iterator
from typing import Any
from urllib.parse import urlsplit

import pytest
from notebook_servers import ask, free_port, notebook_server

OTHER = "127.0.0.2"  # stands for the address of this machine in its network
PATHS = (
    "/",
    "/voila/tree",
    "/voila/render/mine.ipynb",
    "/voila/static/main.js",
    "/voila/templates/base/static/voila.js",
    "/login",
    "/api/kernels/x/channels",
    "/no",
)


@pytest.fixture(scope="module")
def shared(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[str, str]]:
    """The address that it says, and all that it said."""
    with notebook_server(tmp_path_factory.mktemp("home"), "pages", "--share", "--address", OTHER, port=free_port()) as said:
        yield said


def test_shared_pages_warn_and_let_in_only_with_token_and_address(shared: tuple[str, str]) -> None:
    """The whole address works; without its token, with another, or under another name, no path answers; on loopback nothing listens."""
    address, text = shared
    assert "WARNING: shared on your network" in text
    assert "nothing is encrypted on the way" in text
    parts = urlsplit(address)
    port = int(parts.port or 0)
    assert parts.hostname == OTHER
    assert ask(port, f"/?{parts.query}", address=OTHER)[0] == 200
    assert ask(port, f"/voila/render/mine.ipynb?{parts.query}", address=OTHER)[0] == 200
    for path in PATHS:
        assert ask(port, path, address=OTHER)[0] == 403, path
        assert ask(port, f"{path}?token=another", address=OTHER)[0] == 403, path
        assert ask(port, path, address=OTHER, Cookie=f"username-127-0-0-2-{port}=forged")[0] == 403, path
        for name in ("elsewhere.example", f"localhost:{port}", f"127.0.0.1:{port}", f"{OTHER}.elsewhere.example:{port}"):
            status, content = ask(port, f"{path}?{parts.query}", address=OTHER, Host=name)
            assert (status, b"Use the one it printed" in content) == (403, True), (path, name)
        for origin in ("http://elsewhere.example", f"http://{OTHER}:{port + 1}", "null"):
            status, content = ask(port, f"{path}?{parts.query}", address=OTHER, Origin=origin)
            assert (status, b"Another page asked for this" in content) == (403, True), (path, origin)
    assert ask(port, f"/?{parts.query}", address=OTHER, Origin=f"http://{OTHER}:{port}")[0] == 200
    with pytest.raises(OSError, match=r"(?i)refused"):
        ask(port, f"/?{parts.query}")


@pytest.mark.parametrize("wanted", ["0.0.0.0", "203.0.113.9", "elsewhere.example", "::"])
def test_an_address_that_is_not_this_machines_own_is_refused(run: Any, wanted: str) -> None:
    """Also all of them at once; nothing is started."""
    ended = run("pages", "--no-browser", "--share", "--address", wanted)
    assert ended.code == 2
    assert f'"{wanted}" is not an address of this machine' in ended.err


def test_an_address_without_sharing_is_refused(run: Any) -> None:
    """It would say nothing."""
    ended = run("pages", "--no-browser", "--address", OTHER)
    assert ended.code == 2
    assert "give both" in ended.err
