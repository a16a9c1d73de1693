"""What a kernel says is sent at once, by both servers."""

from pathlib import Path
from typing import Any

import pytest
from jupyter_server.services.kernels.connection.channels import ZMQChannelsWebsocketConnection
from traitlets.utils.importstring import import_item

from kit.cli.channels import PromptChannels
from kit.cli.serving import lab_command, page_settings


class _Handler:
    """The browser's side of a connection: what was asked of it."""

    def __init__(self) -> None:
        self.asked: list[object] = []

    def set_nodelay(self, value: bool) -> None:
        self.asked.append(value)


def test_small_messages_are_not_held_back(monkeypatch: pytest.MonkeyPatch) -> None:
    """The wait of TCP is off before the first message can be sent."""
    handler, done = _Handler(), object()

    def connect(self: Any) -> object:
        handler.asked.append("connect")
        return done

    monkeypatch.setattr(ZMQChannelsWebsocketConnection, "connect", connect)
    channels = PromptChannels.__new__(PromptChannels)
    monkeypatch.setattr(PromptChannels, "websocket_handler", handler)
    assert channels.connect() is done
    assert handler.asked == [True, "connect"]


@pytest.mark.parametrize("server", ["ServerApp", "Voila"])
def test_both_servers_send_so(tmp_path: Path, server: str) -> None:
    """The setting names this class; a server with a wrong name does not start, which the tests of the servers hold."""
    words = {
        "ServerApp": lab_command(tmp_path, port=9000, browser=False, root=False),
        "Voila": page_settings(tmp_path, port=9000, dark=False, address="127.0.0.1"),
    }[server]
    name = next(word.partition("=")[2] for word in words if word.startswith(f"--{server}.kernel_websocket_connection_class="))
    assert import_item(name) is PromptChannels
