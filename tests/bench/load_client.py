"""The load bench's client: a live connection that notes what it hears and when, and posts that are timed."""

import asyncio
import json
import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Self

import aiohttp

PATIENCE_S = 20.0


@dataclass(frozen=True, slots=True)
class Heard:
    """One push.

    Attributes:
        at_s: When it was read, before it was looked into. [s]
    """

    at_s: float
    revision: int
    client_ids: tuple[str, ...]


class Live:
    """A Socket.IO connection over a websocket, to one namespace.

    Args:
        hear: Called with each push of a change.
    """

    def __init__(self, http: aiohttp.ClientSession, namespace: str, hear: Callable[[Heard], None]) -> None:
        self._http, self._namespace, self._hear = http, namespace, hear
        self._asked: dict[str, asyncio.Future[Any]] = {}

    async def open(self, url: str, token: str) -> Self:
        """Connect and be admitted by a token.

        Raises:
            ConnectionError: The server did not admit it.
        """
        self._socket = await self._http.ws_connect(f"{url}/socket.io/?EIO=4&transport=websocket")
        await self._socket.receive_str(timeout=PATIENCE_S)
        await self._socket.send_str(f"40{self._namespace},{json.dumps({'token': token})}")
        answer = await self._socket.receive_str(timeout=PATIENCE_S)
        while answer.startswith("42"):
            answer = await self._socket.receive_str(timeout=PATIENCE_S)
        if not answer.startswith("40"):
            raise ConnectionError(answer)
        self._reader = asyncio.create_task(self._read())
        return self

    async def emit(self, event: str, said: object) -> Any:
        """Send an event and return what the server answers."""
        number = str(len(self._asked))
        self._asked[number] = asyncio.get_running_loop().create_future()
        await self._socket.send_str(f"42{self._namespace},{number}{json.dumps([event, said])}")
        return await asyncio.wait_for(self._asked[number], PATIENCE_S)

    async def close(self) -> None:
        """Disconnect."""
        await self._socket.close()
        await self._reader

    async def _read(self) -> None:
        async for message in self._socket:
            at_s, text = time.perf_counter(), str(message.data)
            if text == "2":
                await self._socket.send_str("3")
                continue
            head, _, rest = text.partition("[")
            if head.startswith("42"):
                self._take(json.loads("[" + rest), at_s)
            elif head.startswith("43"):
                self._asked[head.rpartition(",")[2]].set_result(json.loads("[" + rest)[0])

    def _take(self, pushed: list[Any], at_s: float) -> None:
        event, told = pushed
        if event == "changed":
            self._hear(Heard(at_s, told["revision"], tuple(told["client_ids"])))


async def post(http: aiohttp.ClientSession, url: str, token: str, said: object) -> Any:
    """Post JSON under a token and return the answer.

    Raises:
        ClientResponseError: It was refused.
    """
    headers = {"Authorization": f"Bearer {token}"}
    async with http.post(url, json=said, headers=headers, raise_for_status=True) as answer:
        return await answer.json()
