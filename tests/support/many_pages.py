"""Many pages with live connections, in one thread: they answer pings, and count what they hear."""

import selectors
import threading
from collections import Counter
from typing import Any, Self

from websocket import WebSocket, WebSocketException, create_connection

from tests.support.serving import PATIENCE_S

_OPENING = "/socket.io/?EIO=4&transport=websocket"


class ManyPages:
    """Pages of mixes.

    Attributes:
        heard: How many changes were pushed to pages with a token.
        lost: How many connections ended.
    """

    def __init__(self) -> None:
        self.heard: Counter[str] = Counter()
        self.lost = 0
        self._opened: list[WebSocket] = []
        self._ready = selectors.DefaultSelector()
        self._is_over = threading.Event()
        self._thread = threading.Thread(target=self._listen, daemon=True)

    def __enter__(self) -> Self:
        """Begin to listen."""
        self._thread.start()
        return self

    def __exit__(self, *_: object) -> None:
        """Close all."""
        self._is_over.set()
        self._thread.join()
        for page in self._opened:
            if page.sock is not None:
                page.sock.close()
        self._ready.close()

    def open(self, url: str, token: str) -> bool:
        """Open one more; tells whether it was let in."""
        page: Any = create_connection(url.replace("http", "ws", 1) + _OPENING, timeout=PATIENCE_S)
        self._opened.append(page)
        page.send(f'40/phone,{{"token":"{token}"}}')
        while not (said := str(page.recv())).startswith(("40/phone,", "44/phone,")):
            pass
        is_in = said.startswith("40") and page.sock is not None
        if is_in:
            self._ready.register(page.fileno(), selectors.EVENT_READ, (page, token))
        return is_in

    def _listen(self) -> None:
        while not self._is_over.is_set():
            for key, _ in self._ready.select(0.1):
                page, token = key.data
                self._hear(key.fileobj, page, token)

    def _hear(self, connection: Any, page: WebSocket, token: str) -> None:
        try:
            said = str(page.recv())
            if said == "2":
                page.send("3")
        except (WebSocketException, OSError):
            self._ready.unregister(connection)
            self.lost += 1
            return
        self.heard[token] += said.startswith('42/phone,["changed"')
