"""What comes over the wire that no page sends: it ends its own connection, and is noted in a line, not a traceback.

Whoever is in the Wi-Fi can open a connection and send anything, without a code. What the protocol's libraries cannot
read they raise and log at length, and that would fill the log as fast as a stranger likes.
"""

import errno
import logging
from collections.abc import Iterable
from contextlib import suppress
from typing import TYPE_CHECKING, Any, Final

from engineio.async_drivers._websocket_wsgi import SimpleWebSocketWSGI

if TYPE_CHECKING:
    from _typeshed.wsgi import StartResponse, WSGIApplication, WSGIEnvironment

_APART_S: Final = 10.0  # chosen: enough to see that it goes on, too little to fill a disk


class Sparing(logging.Filter):
    """Lets one line through every ten seconds, without the traceback; what is left out is counted."""

    def __init__(self) -> None:
        super().__init__()
        self._next_s, self._left_out = 0.0, 0

    def filter(self, record: logging.LogRecord) -> bool:
        """Tell whether a record is written, and shorten it."""
        if record.created < self._next_s:
            self._left_out += 1
            return False
        if record.exc_info and record.exc_info[0]:
            record.msg = f"{record.msg}: {record.exc_info[0].__name__}"
        if self._left_out:
            record.msg = f"{record.msg} (and {self._left_out} more like it)"
        record.exc_info = record.exc_text = None
        self._next_s, self._left_out = record.created + _APART_S, 0
        return True


WIRE: Final = logging.getLogger(__name__)
"""Where Socket.IO and Engine.IO write. Handlers of our own that fail are logged in whole elsewhere."""
WIRE.addFilter(Sparing())
WIRE.setLevel(logging.WARNING)


class QuietWebSocket(SimpleWebSocketWSGI):  # type: ignore[misc]  # Engine.IO publishes no types
    """A live connection whose end is no news: what was reset or hung up on cannot be told that it ends."""

    def close(self) -> None:
        """End it, if there is anything left to end."""
        with suppress(OSError, ValueError):
            super().close()


def with_quiet_ends(server: Any) -> None:
    """Let a Socket.IO server use quiet live connections: its writers close what its readers lost already."""
    # Engine.IO offers no other way to say what stands for a connection.
    server.eio._async = {**server.eio._async, "websocket": QuietWebSocket}


class EndsQuietly:
    """Ends a live connection on which something arrived that cannot be read; stands in front of Socket.IO."""

    def __init__(self, wsgi_app: "WSGIApplication") -> None:
        self._wsgi_app = wsgi_app

    def __call__(self, environ: "WSGIEnvironment", start_response: "StartResponse") -> Iterable[bytes]:
        """Answer a request; both web servers take a reset connection for the end of it."""
        try:
            return self._wsgi_app(environ, start_response)
        except ConnectionError:
            raise
        except Exception as error:
            if "HTTP_UPGRADE" not in environ:
                raise
            WIRE.warning("ended a connection that sent what no page sends: %s", type(error).__name__)
            raise ConnectionResetError(errno.ECONNRESET, "it sent what no page sends") from error
