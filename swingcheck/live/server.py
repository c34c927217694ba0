"""The live page's server: this machine only, one page, and what it asks.

The standard library's server is enough for it: one person, one scene, no file
served, no name but this machine's. What such a server has to keep out is other
web pages in the same browser, a matter of its headers, and other programs on
the machine, which do not know the token in the page's address.
"""

from __future__ import annotations

import json
import sys
import threading
from collections.abc import Callable
from hmac import compare_digest
from http import HTTPStatus
from http.client import LineTooLong
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from secrets import token_urlsafe
from select import select
from socket import MSG_PEEK
from typing import Any, BinaryIO

from swingcheck.errors import SwingcheckError
from swingcheck.live.desk import Desk, StaleError
from swingcheck.live.session import Session, Turned

HOST = "127.0.0.1"
"""The loopback address: nothing off this machine can reach it."""

NAMES = (HOST, "localhost")
"""What a browser may call this machine."""

LARGEST = 64_000
"""Bytes of a request's body; a page's dials take a few hundred."""

LARGEST_HEAD = 32_000
"""Bytes of a request's line and headers; a browser's take a thousand, cookies some more."""

PATIENCE = 30.0
"""Seconds that a connection may say nothing."""

MOST_CONNECTIONS = 300
"""Connections at a time, past which one is hung up."""

HEADERS = {
    "Cache-Control": "no-store",
    "Content-Security-Policy": "frame-ancestors 'none'",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Referrer-Policy": "no-referrer",
    "X-Content-Type-Options": "nosniff",
}


class LoopbackServer(ThreadingHTTPServer):
    """Serves the loopback address; :attr:`address` is what to type into a browser.

    The ``token`` in it is another one at every start.
    """

    daemon_threads = True
    request_queue_size = 128

    def __init__(self, session: Session, port: int) -> None:
        self.session, self.desk = session, Desk()
        self.token = token_urlsafe(16)
        super().__init__((HOST, port), _Handler)

    @property
    def port(self) -> int:
        """The port that it listens at."""
        return int(self.socket.getsockname()[1])

    @property
    def address(self) -> str:
        """Where the page is."""
        return f"http://{HOST}:{self.port}/{self.token}/"

    def process_request(self, request: Any, client_address: Any) -> None:
        """Answer a connection in a thread of its own, or hang up where there are too many."""
        if threading.active_count() > MOST_CONNECTIONS:
            self.shutdown_request(request)
        else:
            super().process_request(request, client_address)

    def handle_error(self, request: Any, client_address: Any) -> None:
        """Say nothing of a connection that is gone; let everything else be heard."""
        if not isinstance(sys.exception(), OSError):
            super().handle_error(request, client_address)


def server(session: Session, port: int = 0) -> LoopbackServer:
    """Return a server of a session's page, listening on the loopback address, not yet serving.

    A port of 0 is any that is free. Raises OSError when the port is taken.
    """
    return LoopbackServer(session, port)


class _Counted:
    """A connection's input, of which ``left`` bytes more may be read in lines."""

    def __init__(self, file: BinaryIO) -> None:
        self.left = 0
        self.read, self.close = file.read, file.close
        self._readline = file.readline

    def readline(self, size: int) -> bytes:
        """Return a line of up to ``size`` bytes. Raises LineTooLong past what is left."""
        line = self._readline(min(size, self.left + 1))
        self.left -= len(line)
        if self.left < 0:
            raise LineTooLong("head")
        return line


class _RefusedError(Exception):
    """A request that is not answered; carries the status and why."""


class _Handler(BaseHTTPRequestHandler):
    """Answers one connection."""

    server: LoopbackServer
    protocol_version = "HTTP/1.1"
    server_version = "swingcheck"
    sys_version = ""
    timeout = PATIENCE

    def setup(self) -> None:
        """Count what is read of the connection."""
        super().setup()
        self.rfile: Any = _Counted(self.rfile)

    def handle_one_request(self) -> None:
        """Answer a request, or hang up on a line without end."""
        self.rfile.left = LARGEST_HEAD
        try:
            super().handle_one_request()
        except LineTooLong:
            self.close_connection = True

    def do_GET(self) -> None:
        """Answer with the page."""
        self._answer(self._page)

    def do_POST(self) -> None:
        """Answer what the page asks."""
        self._answer(self._asked)

    def log_message(self, format: str, *args: Any) -> None:
        """Say nothing: the terminal is the carpenter's."""

    def _answer(self, work: Callable[[], tuple[HTTPStatus, str, bytes]]) -> None:
        try:
            self._refuse_strangers()
            status, kind, body = work()
        except _RefusedError as refusal:
            status, why = refusal.args
            kind, body = "text/plain; charset=utf-8", f"{why}\n".encode()
            self.close_connection = True
        self.send_response(status)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Length", str(len(body)))
        for name, value in HEADERS.items():
            self.send_header(name, value)
        if self.close_connection:
            self.send_header("Connection", "close")
        self.end_headers()
        self.wfile.write(body)

    def _refuse_strangers(self) -> None:
        """Refuse a request that came under another name, or from another site's page.

        A foreign name in ``Host`` is how a page elsewhere reaches a server on
        this machine by way of a name that it had pointed here; a foreign
        ``Origin`` or ``Sec-Fetch-Site`` is such a page asking openly.
        """
        own = [f"{name}:{self.server.port}" for name in NAMES]
        if self.headers.get_all("Host") not in [[name] for name in own]:
            raise _RefusedError(HTTPStatus.FORBIDDEN, "not this machine's name")
        origins = self.headers.get_all("Origin", [])
        sites = self.headers.get_all("Sec-Fetch-Site", [])
        path = f"/{self.server.token}/"
        if not compare_digest(self.path[: len(path)].encode(), path.encode()):
            raise _RefusedError(HTTPStatus.FORBIDDEN, "open the address that was printed")
        own_page = origins in ([], *([f"http://{name}"] for name in own))
        if not own_page or sites not in ([], ["same-origin"], ["none"]):
            raise _RefusedError(HTTPStatus.FORBIDDEN, "asked by another site's page")

    @property
    def _name(self) -> str:
        """What is asked for, behind the token."""
        return self.path[len(self.server.token) + 2 :]

    def _has_left(self) -> bool:
        """Return whether whoever asked has hung up."""
        readable, _, _ = select([self.connection], [], [], 0)
        return bool(readable) and not self.connection.recv(1, MSG_PEEK)

    def _page(self) -> tuple[HTTPStatus, str, bytes]:
        if self._name:
            raise _RefusedError(HTTPStatus.NOT_FOUND, "there is only the page")
        page = self.server.desk.answered("", self._has_left, lambda: self.server.session.page)
        return HTTPStatus.OK, "text/html; charset=utf-8", page.encode()

    def _asked(self) -> tuple[HTTPStatus, str, bytes]:
        answers: dict[str, Callable[[Turned], dict[str, Any]]] = {
            "check": self.server.session.checked,
            "clearance": self.server.session.clearance,
            "cards": self.server.session.cards,
            "save": lambda turned: {"file": str(self.server.session.save(turned))},
        }
        name = self._name
        answer = answers.get(name)
        if answer is None:
            raise _RefusedError(HTTPStatus.NOT_FOUND, "nothing to ask here")
        turned = self._turned()
        try:
            kind = "" if name == "save" else name
            found = self.server.desk.answered(kind, self._has_left, lambda: answer(turned))
        except SwingcheckError as error:
            found = {"error": str(error)}
        except StaleError:
            raise _RefusedError(HTTPStatus.CONFLICT, "asked anew meanwhile") from None
        body = json.dumps(found, separators=(",", ":"), allow_nan=False).encode()
        return HTTPStatus.OK, "application/json", body

    def _turned(self) -> dict[str, str]:
        """Return the request's dials; refuse what is no JSON object of texts."""
        if self.headers.get_content_type() != "application/json":
            raise _RefusedError(HTTPStatus.UNSUPPORTED_MEDIA_TYPE, "JSON is expected")
        length = self.headers.get("Content-Length", "")
        if not length.isdecimal():
            raise _RefusedError(HTTPStatus.LENGTH_REQUIRED, "how long is it?")
        if len(length) > len(str(LARGEST)) or int(length) > LARGEST:
            raise _RefusedError(HTTPStatus.REQUEST_ENTITY_TOO_LARGE, "too long for a page's dials")
        try:
            said = json.loads(self.rfile.read(int(length)))
        except (ValueError, RecursionError):
            said = None
        texts = isinstance(said, dict) and all(isinstance(text, str) for text in said.values())
        if not texts:
            raise _RefusedError(HTTPStatus.BAD_REQUEST, "an object of texts is expected")
        return dict(said)
