"""Pages with a live connection, behind the same link: they hear pushes, and read again after any doubt, as the script does."""

import threading
from typing import Any

import requests
import socketio

from tests.faults.history.clients import House

PAUSE_S = 0.8  # chosen: whoever reads faster than anybody can look is asked to wait


class Page(threading.Thread):
    """One phone's page of a mix.

    Attributes:
        shown: What it read last, or heard nothing new since.
        pushes: How many it heard.
        faults: Revisions that went back within one connection.
    """

    def __init__(self, house: House, mix: str) -> None:
        super().__init__(name=f"page of {mix}", daemon=True)
        self.house, self.mix = house, mix
        self.shown: Any = None
        self.pushes = 0
        self.faults: list[tuple[int, int]] = []
        self._heard = 0
        self._is_stale, self._is_over = threading.Event(), threading.Event()
        self._client = socketio.Client(reconnection_delay=0.1, reconnection_delay_max=0.5)
        self._client.on("at", self._at, namespace="/phone")
        self._client.on("changed", self._changed, namespace="/phone")

    def run(self) -> None:
        self.house.link.enter()
        self._client.connect(
            self.house.url,
            auth=lambda: {"token": self.house.phones[self.mix]},
            transports=["websocket"],
            namespaces=["/phone"],
            retry=True,
        )
        while not self._is_over.is_set():
            if self._is_stale.wait(0.1):
                self._read()
        self._client.disconnect()

    def close(self) -> None:
        self._is_over.set()
        self.join()

    def fresh(self) -> Any:
        """Read the mix, as it is whatever happened in others."""
        return self.house.read(f"/mixes/{self.mix}", self.house.phones[self.mix]) | {"revision": None}

    def _at(self, _: dict[str, Any]) -> None:
        # What was committed just before may still be pushed; a page leaves it out.
        self._heard = 0
        self._is_stale.set()

    def _changed(self, push: dict[str, Any]) -> None:
        self.pushes += 1
        if push["revision"] <= self._heard:
            self.faults.append((self._heard, push["revision"]))
        self._heard = push["revision"]
        self._is_stale.set()

    def _read(self) -> None:
        self._is_stale.clear()
        try:
            read = self.fresh()
        except (requests.RequestException, ValueError):
            read = {"error": "no answer"}
        if "error" in read:
            self._is_stale.set()
        else:
            self.shown = read
        self._is_over.wait(PAUSE_S)
