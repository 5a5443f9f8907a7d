"""How many live connections there may be, and the end of those that hold a place and do not use it."""

import json
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from contextlib import AbstractContextManager, contextmanager
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final, Protocol
from urllib.parse import parse_qs

from flask_socketio import SocketIO

from monreq.domain.live_refusals import TooManyPages
from monreq.live.wire import with_quiet_ends

if TYPE_CHECKING:
    from _typeshed.wsgi import StartResponse, WSGIApplication, WSGIEnvironment

CONNECTION: Final = "monreq.connection"
"""Where the web server puts, into a request, the connection that it came by."""

PER_CODE: Final = 40  # chosen: a choir's phones share one code
TOGETHER: Final = 400  # chosen: twice the phones of a large stage
FOR_DESKS: Final = 20  # chosen: places on top that only desks may take

Code = tuple[str, str | None]
"""What opens a page: a show, and a mix of it, or its desk (None)."""

RETRY_AFTER_S: Final = 5
_LOOKS_TO_JOIN: Final = 5  # chosen: of two seconds each; a page says at once what it listens to

_REFUSAL: Final = json.dumps(
    {
        "error": "full",
        "message": "There are as many live connections as this machine holds: try again in a moment.",
    }
).encode()


def refuse_one_too_many(code: Code, held: Iterable[Code]) -> None:
    """Look whether there is room for one more page.

    Args:
        code: What opens it.
        held: What opened the others.

    Raises:
        TooManyPages: If it has opened as many as it may.
    """
    if sum(one == code for one in held) >= PER_CODE:
        raise TooManyPages


class Connection(Protocol):
    """The connection that a request came by."""

    def lasting(self) -> AbstractContextManager[None]:
        """Take away the limit on how long it may last, until the block ends."""

    def hang_up(self) -> None:
        """End it at once."""


@dataclass
class _Upgraded:
    connection: Connection
    sid: str


class Doorman:
    """Refuses new live connections beyond what there is room for, before they take anything.

    Stands in front of Socket.IO. Its looks, every few seconds, end connections that never said what they listen to,
    and those whose other end has been given up: a client that reads nothing would keep them open for ever.

    Args:
        wsgi_app: What is behind it.
        socketio: Whose connections they are.
        is_desk: Tells by a request whether its browser is admitted to a desk.
        together: How many there may be, without those kept for desks.
    """

    def __init__(
        self,
        wsgi_app: "WSGIApplication",
        socketio: SocketIO,
        is_desk: Callable[["WSGIEnvironment"], bool],
        together: int = TOGETHER,
    ) -> None:
        self._wsgi_app, self._is_desk, self._together = wsgi_app, is_desk, together
        untyped: Any = socketio
        self._server: Any = untyped.server
        with_quiet_ends(self._server)
        self._seen_idle: Counter[str] = Counter()
        self._upgraded: dict[int, _Upgraded] = {}

    def __call__(self, environ: "WSGIEnvironment", start_response: "StartResponse") -> Iterable[bytes]:
        """Answer a request."""
        if not environ.get("PATH_INFO", "").lstrip("/").startswith("socket.io"):
            return self._wsgi_app(environ, start_response)
        sid = parse_qs(environ.get("QUERY_STRING", "")).get("sid", [""])[0]
        if not sid and self._is_full(environ):
            return _refuse(start_response)
        connection: Connection | None = environ.get(CONNECTION)
        if "HTTP_UPGRADE" not in environ or connection is None:
            return self._wsgi_app(environ, start_response)
        with connection.lasting(), self._remembered(_Upgraded(connection, sid)):
            return self._wsgi_app(environ, start_response)

    def look(self) -> None:
        """Look once at all that are open."""
        self._end_idle()
        self._hang_up()

    def _is_full(self, environ: "WSGIEnvironment") -> bool:
        count = len(self._server.eio.sockets)
        if count < self._together:
            return False
        return count >= self._together + FOR_DESKS or not self._is_desk(environ)

    @contextmanager
    def _remembered(self, upgraded: _Upgraded) -> Iterator[None]:
        self._upgraded[id(upgraded)] = upgraded
        try:
            yield
        finally:
            del self._upgraded[id(upgraded)]
            self._let_go(upgraded)

    def _end_idle(self) -> None:
        manager, clients = self._server.manager, dict(self._server.eio.sockets)
        joined = {
            client
            for namespace in list(manager.get_namespaces())
            for _, client in list(manager.get_participants(namespace, None))
        }
        self._seen_idle = Counter({sid: self._seen_idle[sid] + 1 for sid in clients if sid not in joined})
        for sid, looks in self._seen_idle.items():
            if looks > _LOOKS_TO_JOIN:
                clients[sid].close(wait=False)

    def _let_go(self, ended: _Upgraded) -> None:
        """Free the place of a connection that ended; where it sent what cannot be read nobody else does."""
        client = self._server.eio.sockets.get(ended.sid or self._opened_by().get(id(ended.connection)))
        if client is not None and client.upgraded:
            client.close(wait=False, abort=True)

    def _hang_up(self) -> None:
        opened_by, clients = self._opened_by(), self._server.eio.sockets
        for one in list(self._upgraded.values()):
            # Engine.IO names a connection only after it has begun.
            one.sid = one.sid or opened_by.get(id(one.connection), "")
            if one.sid and (one.sid not in clients or clients[one.sid].closed):
                one.connection.hang_up()

    def _opened_by(self) -> dict[int, str]:
        return {id(environ.get(CONNECTION)): sid for sid, environ in list(self._server.environ.items())}


def _refuse(start_response: "StartResponse") -> list[bytes]:
    start_response(
        "503 Service Unavailable",
        [
            ("Content-Type", "application/json"),
            ("Content-Length", str(len(_REFUSAL))),
            ("Retry-After", str(RETRY_AFTER_S)),
            ("Cache-Control", "no-store"),
        ],
    )
    return [_REFUSAL]
