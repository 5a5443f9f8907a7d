"""The messenger: lets other workers know at once that a show has moved on. Redis carries it, and nothing waits for Redis.

Only a show's id is said. Each worker reads the log itself, and draws for its own pages; what was not heard it finds at
its next look at the log. So a Redis that is gone, or hangs, costs a second, and no change.
"""

import threading
from collections.abc import Callable
from typing import Any, Final

from flask_socketio import SocketIO
from redis import Redis, RedisError
from redis.backoff import NoBackoff
from redis.retry import Retry

_CHANNEL: Final = "monreq:moved-on"
_PATIENCE_S: Final = 1.0  # chosen: a Redis that takes longer is told of as one that does not answer
_LISTEN_S: Final = 1.0  # chosen: so often it is looked whether to end
_PAUSE_S: Final = 1.0  # chosen: between attempts to reach a Redis that is gone
_GOODBYE_S: Final = 2.0  # chosen: as long as it may be waiting for Redis


class Messenger:
    """Says what moved on here, and hears what moved on elsewhere, each in a background task of its own.

    Args:
        socketio: Whose background tasks they are.
        url: The Redis.
        heard: Is given the id of a show that moved on.
    """

    def __init__(self, socketio: SocketIO, url: str, heard: Callable[[str], None]) -> None:
        self._socketio, self._url, self._heard = socketio, url, heard
        self._lock = threading.Lock()
        self._unsaid: set[str] = set()
        self._is_something_unsaid, self._is_over = threading.Event(), threading.Event()
        self._asking = _connected(url)
        self._tasks: list[Any] = []

    def tell(self, show_id: str) -> None:
        """Have it said that a show moved on; returns at once."""
        with self._lock:
            self._unsaid.add(show_id)
        self._is_something_unsaid.set()

    def answers(self) -> bool:
        """Whether Redis answers now, and soon."""
        try:
            return bool(self._asking.ping())
        except (RedisError, OSError):
            return False

    def start(self) -> None:
        """Begin."""
        self._tasks = [self._socketio.start_background_task(one) for one in (self._say, self._listen)]

    def stop(self) -> None:
        """End."""
        self._is_over.set()
        self._is_something_unsaid.set()
        for task in self._tasks:
            task.join(_GOODBYE_S)

    def _say(self) -> None:
        saying = _connected(self._url)
        while self._is_something_unsaid.wait() and not self._is_over.is_set():
            self._is_something_unsaid.clear()
            with self._lock:
                said, self._unsaid = self._unsaid, set()
            try:
                for show_id in sorted(said):
                    saying.publish(_CHANNEL, show_id)
            except (RedisError, OSError):
                pass  # the others find it at their next look; that Redis does not answer is told elsewhere

    def _listen(self) -> None:
        while not self._is_over.is_set():
            try:
                client: Any = _connected(self._url)  # its published types know no subscriptions
                with client.pubsub(ignore_subscribe_messages=True) as hearing:
                    hearing.subscribe(_CHANNEL)
                    self._hear(hearing)
            except (RedisError, OSError):
                self._is_over.wait(_PAUSE_S)

    def _hear(self, hearing: Any) -> None:
        while not self._is_over.is_set():
            message = hearing.get_message(timeout=_LISTEN_S)
            if message is not None and message["type"] == "message":
                self._heard(message["data"].decode("utf-8", "replace"))


def _connected(url: str) -> Redis:
    return Redis.from_url(
        url,
        socket_timeout=_PATIENCE_S,
        socket_connect_timeout=_PATIENCE_S,
        retry=Retry(NoBackoff(), 0),
    )
