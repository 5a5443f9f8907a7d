"""The two web servers that can carry the application: gevent's, and Werkzeug's with threads."""

import logging
import socket
from contextlib import AbstractContextManager, nullcontext
from email.message import Message
from http.client import HTTPException
from threading import Condition, Thread
from types import TracebackType
from typing import TYPE_CHECKING, Any, Final, Protocol, Self

from gevent.monkey import is_module_patched
from gevent.pywsgi import WSGIHandler, WSGIServer
from gevent.socket import socket as GeventSocket  # noqa: N812 - a class, whatever its name
from werkzeug.serving import ThreadedWSGIServer, WSGIRequestHandler

from monreq.cli.connections import Connections, Held
from monreq.live.capacity import CONNECTION

if TYPE_CHECKING:
    from _typeshed.wsgi import WSGIApplication, WSGIEnvironment

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


def runtime(
    mode: str, listener: socket.socket, wsgi_app: "WSGIApplication", running: Running, open_ones: Connections
) -> Runtime:
    """Make the server for an async mode.

    Raises:
        RuntimeError: If gevent is wanted but the standard library was not made cooperative.
    """
    if mode != "gevent":
        return _Threads(listener, wsgi_app, running, open_ones)
    if not is_module_patched("queue"):
        raise RuntimeError("prepare_runtime('gevent') must come before all other imports")
    return _GeventServer(listener, wsgi_app, running, open_ones)


class _GeventHandler(WSGIHandler):
    server: "_GeventServer"

    def handle_one_request(self) -> Any:
        self.server.open_ones.begin(self.socket)
        return super().handle_one_request()

    # Of headers that are too many or too long gevent tells by a traceback, of what is a ValueError by one line.
    def read_request(self, raw_requestline: str) -> Any:
        try:
            return super().read_request(raw_requestline)
        except HTTPException as malformed:
            raise ValueError(str(malformed)) from malformed

    def get_environ(self) -> "WSGIEnvironment":
        return super().get_environ() | {CONNECTION: Held(self.server.open_ones, self.socket)}

    def handle_one_response(self) -> None:
        with self.server.running.counted(self.headers):
            super().handle_one_response()

    # Request lines hold tokens, and malformed ones anything at all: neither is logged.
    def log_request(self) -> None: ...

    def log_error(self, msg: str, *args: object) -> None:  # noqa: ARG002 - not to be logged
        LOG.info(_MALFORMED)


class _WholeSocket(GeventSocket):
    """Sends whole what it is given.

    The library behind live connections calls send and takes it for granted that all was sent; gevent's sends what
    there is room for, and a slow phone would get half a message and the next one behind it.
    """

    __slots__ = ()

    def send(self, data: Any, *how: Any, **named: Any) -> int:
        view, sent = memoryview(data).cast("B"), 0
        while sent < len(view):
            sent += super().send(view[sent:], *how, **named)
        return sent


class _GeventServer(WSGIServer):
    handler_class = _GeventHandler

    def __init__(
        self,
        listener: socket.socket,
        wsgi_app: "WSGIApplication",
        running: Running,
        open_ones: Connections,
    ) -> None:
        self.running, self.open_ones = running, open_ones
        patched: Any = listener
        super().__init__(patched, wsgi_app, log=None, error_log=LOG)

    def do_read(self) -> Any:
        read: Any = super().do_read()
        if not read:
            return read
        sock, address = read
        return _WholeSocket(sock.family, sock.type, sock.proto, fileno=sock.detach()), address

    def handle(self, sock: Any, address: Any) -> None:
        if not self.open_ones.enter(sock, address[0]):
            return
        try:
            if _opens_like_http(sock):
                super().handle(sock, address)
        finally:
            self.open_ones.leave(sock)


class _ThreadHandler(WSGIRequestHandler):
    server: "_ThreadServer"

    def handle_one_request(self) -> None:
        self.server.open_ones.begin(self.connection)
        super().handle_one_request()

    def make_environ(self) -> "WSGIEnvironment":
        return super().make_environ() | {CONNECTION: Held(self.server.open_ones, self.connection)}

    def run_wsgi(self) -> None:
        with self.server.running.counted(self.headers):
            super().run_wsgi()

    def log_request(self, code: int | str = "-", size: int | str = "-") -> None: ...

    def log_error(self, format: str, *args: object) -> None:  # noqa: ARG002 - not to be logged
        LOG.info(_MALFORMED)


class _ThreadServer(ThreadedWSGIServer):
    daemon_threads = True

    def __init__(
        self,
        listener: socket.socket,
        wsgi_app: "WSGIApplication",
        running: Running,
        open_ones: Connections,
    ) -> None:
        self.running, self.open_ones = running, open_ones
        host, port = listener.getsockname()[:2]
        super().__init__(host, port, wsgi_app, _ThreadHandler, fd=listener.fileno())

    def finish_request(self, request: Any, client_address: Any) -> None:
        if not self.open_ones.enter(request, client_address[0]):
            return
        try:
            if _opens_like_http(request):
                super().finish_request(request, client_address)
        finally:
            self.open_ones.leave(request)


class _Threads:
    def __init__(
        self,
        listener: socket.socket,
        wsgi_app: "WSGIApplication",
        running: Running,
        open_ones: Connections,
    ) -> None:
        self._server = _ThreadServer(listener, wsgi_app, running, open_ones)
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
