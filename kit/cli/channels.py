"""What a kernel says goes to the browser at once: the screen waits for the last of a handful of small messages."""

from typing import Any

from jupyter_server.services.kernels.connection.channels import ZMQChannelsWebsocketConnection

__all__ = ["PromptChannels"]


class PromptChannels(ZMQChannelsWebsocketConnection):
    """The channels of a kernel, without the wait by which TCP joins small packets.

    Left on, the second message waits until the browser's side has confirmed the first, for which that takes up to 40 ms (Nagle's algorithm, RFC
    896 and RFC 9293 section 3.7.4, with delayed acknowledgments, section 3.8.6.3): now and then an answer took three times as long.
    """

    def connect(self) -> Any:
        """As soon as the browser's side is there."""
        self.websocket_handler.set_nodelay(True)
        return super().connect()
