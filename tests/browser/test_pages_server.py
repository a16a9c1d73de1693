"""`sinkset pages` as it really starts: behind a token, and nothing but the person's notebooks."""

import asyncio
import json
import re
import urllib.error
import urllib.request
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from browsing import PATIENCE_S, TOKEN, Screen, free_port, serving
from tornado.httpclient import HTTPRequest
from tornado.websocket import websocket_connect


def ask(address: str, path: str, host: str = "") -> int:
    """The status of a page, redirects not followed; `host` is the name under which it is asked for."""

    class Stay(urllib.request.HTTPRedirectHandler):
        def redirect_request(self, *_: object) -> None:
            return None

    try:
        with urllib.request.build_opener(Stay).open(urllib.request.Request(f"{address}{path}", headers={"Host": host} if host else {})) as answer:
            return int(answer.status)
    except urllib.error.HTTPError as error:
        with error:
            return error.code


@pytest.mark.parametrize("path", ["/", "/voila/tree"])
def test_without_the_token_no_page(pages, path):
    """Who has no token is refused."""
    assert ask(pages, path) == 403
    assert ask(pages, f"{path}?token=another") == 403
    assert ask(pages, f"{path}?token={TOKEN}") == 200


@pytest.mark.parametrize("path", ["/login", "/voila/static/main.js", "/voila/templates/sinkset/static/x.css", "/api/kernels", "/no-such"])
def test_without_the_token_nothing_at_all(pages, path):
    """Whatever is asked for, there or not."""
    assert ask(pages, path) == 403


def test_unasked_pages_are_for_this_machine_alone(pages):
    """Loopback only, and under no other name: one that a page of another site leads here is refused, token or not."""
    port = int(pages.rpartition(":")[2])
    assert ask(pages, f"/?token={TOKEN}", f"localhost:{port}") == 200
    for name in ("elsewhere.example", f"elsewhere.example:{port}", f"127.0.0.1.elsewhere.example:{port}"):
        assert ask(pages, f"/?token={TOKEN}", name) == 403
    with pytest.raises(urllib.error.URLError, match=r"(?i)refused"):
        ask(f"http://127.0.0.2:{port}", f"/?token={TOKEN}")


def test_shared_pages_are_used_at_the_address_that_they_say(tab, home, jobs):
    """Off unless asked for, as above. Asked for, the warning is said, and a tablet types into a job there; no token, another name: refused."""
    other, port = "127.0.0.2", free_port()  # stands for the address of this machine in its network
    with serving(home, "pages", "/", "--share", "--address", other, port=port, host=other) as shared:
        said = (home.parent / f"pages{port}.log").read_text(encoding="utf-8")
        assert "WARNING: shared on your network" in said
        (address,) = re.findall(r"http://\S+", said)
        for refused in (f"{shared}/", f"{shared}/voila/render/1_estimator.ipynb", address.replace(TOKEN, "another")):
            assert tab.goto(refused).status == 403
            assert tab.locator(".sk-screen, a[href*=ipynb]").count() == 0
        for name in (f"127.0.0.1:{port}", f"elsewhere.example:{port}"):
            assert ask(shared, f"/?token={TOKEN}", name) == 403
        with pytest.raises(urllib.error.URLError, match=r"(?i)refused"):
            ask(f"http://127.0.0.1:{port}", f"/?token={TOKEN}")
        tab.goto(address)
        tab.get_by_role("link", name="Estimator What does this").click()
        screen = Screen(tab, "page")
        price = screen.price()
        screen.turn("Countertop")
        screen.type("Run 1: length [in]", "120 1/2")
        assert screen.change_of_price(price).startswith("$")


def test_a_template_that_nobody_has_does_not_hang_a_page(pages, home):
    """A page named with one, or with such a theme, comes whole and as ever."""
    empty = home / "notebooks" / "empty.ipynb"
    empty.write_text('{"cells": [], "metadata": {}, "nbformat": 4, "nbformat_minor": 5}', encoding="utf-8")
    try:
        with urllib.request.urlopen(f"{pages}/voila/render/empty.ipynb?token={TOKEN}&template=no-such&theme=none", timeout=PATIENCE_S) as answer:
            assert b"</html>" in answer.read()
    finally:
        empty.unlink()


@pytest.mark.parametrize(
    "path",
    [
        "/api/contents",
        "/api/kernels",
        "/files/1_estimator.ipynb",
        "/voila/files/1_estimator.ipynb",
        "/voila/files/../price_lists/company.csv",
        "/voila/files/%2e%2e/price_lists/company.csv",
        "/voila/render/../../../../etc/passwd",
        "/voila/render/%2e%2e/%2e%2e/other.ipynb",
    ],
)
def test_no_file_beside_the_pages(pages, path):
    """Neither files of the folder nor what lies above it are given out, token or not."""
    assert ask(pages, f"{path}?token={TOKEN}") in {302, 400, 403, 404, 405, 500}


async def ask_kernel(address: str, kernel: str, code: str) -> list[str]:
    """The kinds of what a page's kernel answers to code that is sent by its socket, on each channel, and then to the question what kernel it is."""
    socket = await websocket_connect(HTTPRequest(f"{address.replace('http', 'ws', 1)}/api/kernels/{kernel}/channels?token={TOKEN}"))
    sent = [("shell", "execute_request", {"code": code}), ("control", "execute_request", {"code": code}), ("shell", "kernel_info_request", {})]
    for number, (channel, kind, content) in enumerate(sent):
        header = {"msg_id": f"asked-{number}", "msg_type": kind, "username": "", "session": "asked", "version": "5.3", "date": "2026-03-02T08:00:00Z"}
        await socket.write_message(json.dumps({"channel": channel, "header": header, "parent_header": {}, "metadata": {}, "content": content}))
    kinds: list[str] = []
    while "kernel_info_reply" not in kinds:
        answer = await asyncio.wait_for(socket.read_message(), PATIENCE_S)
        assert isinstance(answer, str)  # None once the socket is closed
        message = json.loads(answer)
        if message["parent_header"].get("msg_id", "").startswith("asked-"):
            kinds.append(message["header"]["msg_type"])
    socket.close()
    return kinds


@pytest.mark.long
def test_the_socket_of_a_page_runs_no_code(pages, tmp_path: Path):
    """Who has the token may talk to the fields of a page; code that is sent to its kernel is passed over, and the kernel goes on."""
    with urllib.request.urlopen(f"{pages}/voila/render/0_first_steps.ipynb?token={TOKEN}", timeout=PATIENCE_S) as answer:
        kernel = re.search(r'"kernelId": ?"([0-9a-f-]{36})"', answer.read().decode())
    assert kernel is not None
    code = f"open({str(tmp_path / 'ran')!r}, 'w').close()"
    with ThreadPoolExecutor(1) as thread:  # the browser's own loop runs in this one
        kinds = thread.submit(asyncio.run, ask_kernel(pages, kernel[1], code)).result()
    assert not {"execute_input", "execute_reply"} & set(kinds)
    assert not (tmp_path / "ran").exists()
