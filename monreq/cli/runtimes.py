"""The two web servers that can carry the application: gevent's, and Werkzeug's with threads."""

import logging
import socket
from contextlib import AbstractContextManager, nullcontext
from email.message import Message
from threading import Condition, Thread
from types import TracebackType
from typing import TYPE_CHECKING, Any, Final, Protocol, Self

from gevent.monkey import is_module_patched
from gevent.pywsgi import WSGIHandler, WSGIServer
from werkzeug.serving import ThreadedWSGIServer, WSGIRequestHandler

if TYPE_CHECKING:
    from _typeshed.wsgi import WSGIApplication

LOG = logging.getLogger(__name__)

_FIRST_BYTE_S: Final = 30.0  # chosen: browsers open connections ahead of use
_MALFORMED: Final = "a client sent something that is not an HTTP request"


class Running:
    """Counts the requests that are being answered; a live connection is not one of them."""

    def __init__(self) -> None:
        self._count, self._changed = 0, Condition()

    def __enter__(self) -> Self:
        """Begin to answer one."""
        self._add(1)
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None
    ) -> None:
        """End the answer."""
        self._add(-1)

    def counted(self, headers: Message) -> AbstractContextManager[object]:
        """What to keep open while a request with these headers is answered."""
        return nullcontext() if "Upgrade" in headers else self

    def wait_until_none(self, longest_s: float) -> bool:
        """Wait for the last answer; False if it takes longer than so many seconds."""
        with self._changed:
            return self._changed.wait_for(lambda: self._count == 0, longest_s)

    def _add(self, difference: int) -> None:
        with self._changed:
            self._count += difference
            self._changed.notify_all()


class Runtime(Protocol):
    """A web server that runs beside its caller."""

    def start(self) -> None:
        """Begin to answer."""

    def close(self) -> None:
        """Accept nothing new; what runs goes on."""


def runtime(mode: str, listener: socket.socket, wsgi_app: "WSGIApplication", running: Running) -> Runtime:
    """Make the server for an async mode.

    Raises:
        RuntimeError: If gevent is wanted but the standard library was not made cooperative.
    """
    if mode != "gevent":
        return _Threads(listener, wsgi_app, running)
    if not is_module_patched("queue"):
        raise RuntimeError("prepare_runtime('gevent') must come before all other imports")
    return _GeventServer(listener, wsgi_app, running)


class _GeventHandler(WSGIHandler):
    server: "_GeventServer"

    def handle_one_response(self) -> None:
        with self.server.running.counted(self.headers):
            super().handle_one_response()

    # Request lines hold tokens, and malformed ones anything at all: neither is logged.
    def log_request(self) -> None: ...

    def log_error(self, msg: str, *args: object) -> None:  # noqa: ARG002 - not to be logged
        LOG.info(_MALFORMED)


class _GeventServer(WSGIServer):
    handler_class = _GeventHandler

    def __init__(self, listener: socket.socket, wsgi_app: "WSGIApplication", running: Running) -> None:
        self.running = running
        patched: Any = listener
        super().__init__(patched, wsgi_app, log=None, error_log=LOG)

    def handle(self, sock: Any, address: Any) -> None:
        if _opens_like_http(sock):
            super().handle(sock, address)


class _ThreadHandler(WSGIRequestHandler):
    server: "_ThreadServer"

    def run_wsgi(self) -> None:
        with self.server.running.counted(self.headers):
            super().run_wsgi()

    def log_request(self, code: int | str = "-", size: int | str = "-") -> None: ...

    def log_error(self, format: str, *args: object) -> None:  # noqa: ARG002 - not to be logged
        LOG.info(_MALFORMED)


class _ThreadServer(ThreadedWSGIServer):
    daemon_threads = True

    def __init__(self, listener: socket.socket, wsgi_app: "WSGIApplication", running: Running) -> None:
        self.running = running
        host, port = listener.getsockname()[:2]
        super().__init__(host, port, wsgi_app, _ThreadHandler, fd=listener.fileno())

    def finish_request(self, request: Any, client_address: Any) -> None:
        if _opens_like_http(request):
            super().finish_request(request, client_address)


class _Threads:
    def __init__(self, listener: socket.socket, wsgi_app: "WSGIApplication", running: Running) -> None:
        self._server = _ThreadServer(listener, wsgi_app, running)
        listener.close()
        self._thread = Thread(target=self._server.serve_forever, name="web", daemon=True)

    def start(self) -> None:
        self._thread.start()

    def close(self) -> None:
        self._server.shutdown()
        self._thread.join()


def _opens_like_http(connection: socket.socket) -> bool:
    """Look at the first byte; a browser that tries TLS gets a quick end instead of a wait.

    Without TCP_NODELAY a small push waits for the acknowledgement of the one before.
    """
    try:
        connection.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        connection.settimeout(_FIRST_BYTE_S)
        if connection.recv(1, socket.MSG_PEEK).isalpha():
            connection.settimeout(None)
            return True
        connection.recv(65536)  # what is left unread would make the end a reset
    except OSError:
        pass
    return False
