"""Who may come in: the door in front of a page server. Each request needs the token, and must have asked for an address that the server said."""

import hmac
import socket
from collections.abc import Iterable
from ipaddress import IPv4Address
from typing import Any

from tornado.httputil import HTTPMessageDelegate, HTTPServerRequest, split_host_and_port
from tornado.web import Application, RequestHandler, decode_signed_value

from kit.errors import KitError

__all__ = ["LOOPBACK", "guard_application", "network_address"]

LOOPBACK = ("127.0.0.1", "localhost")
_ELSEWHERE = "192.0.2.1"  # of the block kept for documentation (RFC 5737): nothing is sent there, the system only says which way it would take


class _Refused(RequestHandler):
    """The answer to whom the door stays shut."""

    def initialize(self, sentence: str) -> None:
        self.sentence = sentence

    def prepare(self) -> None:
        """A sentence in plain text, whatever was asked for."""
        self.set_status(403)
        self.set_header("Content-Type", "text/plain; charset=utf-8")
        self.finish(self.sentence)


def guard_application(app: Application, token: str, hosts: Iterable[str]) -> None:
    """Let a request in only where its host is one of these and it holds the token, or the signed cookie that an earlier one with the token got.

    A page of another site that leads its own name to this machine comes with that name as the host, one that asks from where it is with its own
    origin: both are refused, token or not.
    """
    known, find = frozenset(hosts), app.find_handler

    def find_if_let_in(request: HTTPServerRequest, **kwargs: Any) -> HTTPMessageDelegate:
        if _host(request) not in known:
            return app.get_handler_delegate(request, _Refused, {"sentence": "This server has another address. Use the one it printed."})
        if _is_of_another_page(request):
            return app.get_handler_delegate(request, _Refused, {"sentence": "Another page asked for this. Use the address the server printed."})
        if not _has_token(request, token, app.settings["cookie_secret"]):
            return app.get_handler_delegate(request, _Refused, {"sentence": "Use the whole address the server printed, with its token."})
        return find(request, **kwargs)

    app.find_handler = find_if_let_in  # type: ignore[method-assign, assignment]


def _host(request: HTTPServerRequest) -> str:
    return split_host_and_port(request.host.lower())[0]


def _is_of_another_page(request: HTTPServerRequest) -> bool:
    """Browsers name the page that a request comes from, the port among it, wherever another than its own server is asked."""
    origin = request.headers.get("Origin")
    return origin is not None and origin.lower().partition("://")[2] != request.host.lower()


def _has_token(request: HTTPServerRequest, token: str, secret: str | bytes) -> bool:
    header = request.headers.get("Authorization", "")
    shown = [*request.query_arguments.get("token", []), header.removeprefix("token ").strip().encode()]
    if any(hmac.compare_digest(one, token.encode()) for one in shown):
        return True
    return any(decode_signed_value(secret, name, cookie.value) is not None for name, cookie in request.cookies.items())


def network_address(address_asked: str = "") -> str:
    """The address of this machine in its network: the one that was asked for, if it is its own, else the one that it goes out by.

    Raises KitError if it is in none, or the one that was asked for is not its own.
    """
    if address_asked:
        return _own_address(address_asked)
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as one:
        try:
            one.connect((_ELSEWHERE, 9))
            address = str(one.getsockname()[0])
        except OSError:
            address = "0.0.0.0"  # noqa: S104 - what a machine without a network has; nothing listens there
    if address.startswith(("127.", "0.")):
        raise KitError("This machine is not on a network: connect it, or give its address with --address.")
    return address


def _own_address(address: str) -> str:
    """One address, never all of them at once: a request is held against the address that was said."""
    try:
        if not IPv4Address(address).is_unspecified:
            with socket.socket() as one:
                one.bind((address, 0))
            return address
    except (ValueError, OSError):
        pass
    raise KitError(f'"{address}" is not an address of this machine, such as 192.168.1.20. Leave --address out to have it found.')
