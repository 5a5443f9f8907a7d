"""The connections of the web server: how many there may be, and how long a client may take over one request."""

import socket
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from typing import Any, Final

EXCHANGE_S: Final = 60.0
"""How long one request may take from the wait for it to the end of its answer. Chosen: no honest phone needs longer."""
MOST: Final = 2000  # chosen: six for each page that a large stage opens, and room
RESERVE: Final = 100  # chosen: for this machine's own browser, and for the database's files
_LOOK_S: Final = 1.0

_TOO_MANY: Final = b"Too many connections: try again in a moment.\n"
_REFUSAL: Final = (
    b"HTTP/1.1 503 Service Unavailable\r\nRetry-After: 5\r\nContent-Type: text/plain\r\nCache-Control: no-store\r\n"
    b"Connection: close\r\nContent-Length: %d\r\n\r\n%s" % (len(_TOO_MANY), _TOO_MANY)
)


class Connections:
    """All that are open. Those who send or read too slowly, one byte at a time too, are hung up on.

    Args:
        most: How many there may be for all others; this machine itself may have more.
        exchange_s: How long a request may take. [s]
        now_s: A clock that only counts on. [s]
    """

    def __init__(
        self, most: int = MOST, exchange_s: float = EXCHANGE_S, now_s: Callable[[], float] = time.monotonic
    ) -> None:
        self._most, self._exchange_s, self._now_s = most, exchange_s, now_s
        self._lock = threading.Lock()
        self._until_s: dict[Any, float | None] = {}
        self._is_over = threading.Event()

    def enter(self, connection: Any, host: str) -> bool:
        """Take note of a new one; False, after it was told to come again, if there are too many."""
        with self._lock:
            is_let_in = len(self._until_s) < self._most or host.startswith("127.") or host == "::1"
            if is_let_in:
                self._until_s[connection] = self._now_s() + self._exchange_s
        if not is_let_in:
            refuse(connection)
        return is_let_in

    def begin(self, connection: Any) -> None:
        """Wait for a request, or for the next one."""
        self.put(connection, self._now_s() + self._exchange_s)

    def put(self, connection: Any, until_s: float | None) -> None:
        """Say until when one may take; None for as long as it likes."""
        with self._lock:
            if connection in self._until_s:
                self._until_s[connection] = until_s

    def leave(self, connection: Any) -> None:
        """Forget one that ended."""
        with self._lock:
            self._until_s.pop(connection, None)

    def end_late(self) -> None:
        """Hang up on those that took too long."""
        now_s = self._now_s()
        with self._lock:
            late = [one for one, until_s in self._until_s.items() if until_s is not None and until_s < now_s]
        for connection in late:
            hang_up(connection)

    def watch(self) -> None:
        """Begin to look after them in the background."""
        threading.Thread(target=self._watch, name="connections", daemon=True).start()

    def stop(self) -> None:
        """End what watch began."""
        self._is_over.set()

    def _watch(self) -> None:
        while not self._is_over.wait(_LOOK_S):
            self.end_late()


class Held:
    """One connection, as what answers a request on it may hold it."""

    def __init__(self, open_ones: Connections, connection: Any) -> None:
        self._open_ones, self._connection = open_ones, connection

    @contextmanager
    def lasting(self) -> Iterator[None]:
        """Let it last until the block ends: it is a live connection, which has pings of its own."""
        self._open_ones.put(self._connection, None)
        try:
            yield
        finally:
            self._open_ones.begin(self._connection)

    def hang_up(self) -> None:
        """End it at once; whoever waits on it is woken."""
        hang_up(self._connection)


def hang_up(connection: Any) -> None:
    """End a connection at once; whoever waits on it is woken."""
    with suppress(OSError):
        connection.shutdown(socket.SHUT_RDWR)


def refuse(connection: Any) -> None:
    """Say that there are too many."""
    with suppress(OSError):
        connection.settimeout(1.0)
        connection.recv(65536)  # what is left unread would make the answer a reset
        connection.sendall(_REFUSAL)
        connection.shutdown(socket.SHUT_WR)
