"""The bare server that monreq is compared with: one durable commit and one push a request, and nothing else.

It answers at the addresses and with the fields of monreq's that the bench's client uses, so that one client drives both;
it knows no show, no token and no page. Arguments: the port and the database's file.
"""
# ruff: noqa: E402 - the standard library is patched before other imports

import gevent.monkey

gevent.monkey.patch_all()

import json
import socket
import sqlite3
import sys
from collections.abc import Mapping
from itertools import count
from threading import Lock
from typing import Any

from flask import Flask, request
from flask_socketio import SocketIO, join_room
from gevent.pywsgi import WSGIHandler

Said = Mapping[str, Any]
Told = dict[str, Any]


class Store:
    """One table; each statement is a transaction of its own, flushed to the disk."""

    def __init__(self, path: str) -> None:
        self._database = sqlite3.connect(path, isolation_level=None, check_same_thread=False)
        self._database.execute("PRAGMA journal_mode=WAL")
        self._database.execute("PRAGMA synchronous=FULL")
        self._database.execute(
            "CREATE TABLE requests (client_id TEXT PRIMARY KEY, mix TEXT, body TEXT, answer TEXT)"
        )
        self._lock = Lock()

    def commit(self, statement: str, *values: str) -> list[Any]:
        """Run a statement and return its rows once it is on disk."""
        with self._lock:
            return self._database.execute(statement, values).fetchall()


class NoDelay(WSGIHandler):
    """Without TCP_NODELAY a small push waits for the acknowledgement of the one before."""

    def __init__(self, sock: Any, *others: Any) -> None:
        sock.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        super().__init__(sock, *others)


class Floor:
    """The server's two actions, over HTTP or over the live connection."""

    def __init__(self, store: Store) -> None:
        self._store = store
        self._revisions = count(1)
        self.app = Flask(__name__)
        self.socketio = SocketIO(
            self.app, async_mode="gevent", async_handlers=False, cors_allowed_origins="*"
        )

    def ask(self, mix: str, said: Said) -> Told:
        """Store a request and push it to the desk; one that is there already is answered again."""
        wanted = "INSERT INTO requests VALUES (?, ?, ?, NULL) ON CONFLICT DO NOTHING RETURNING client_id"
        client_id, revision = said["client_id"], next(self._revisions)
        if self._store.commit(wanted, client_id, mix, json.dumps(said)):
            self._tell("/desk", None, client_id, revision)
        return {"request": client_id, "revision": revision, "state": "waiting"}

    def answer(self, said: Said) -> Told:
        """Store an answer and push it to the phones that it concerns."""
        wanted = "UPDATE requests SET answer = ? WHERE client_id = ? RETURNING mix"
        revision = next(self._revisions)
        for client_id in said["requests"]:
            for (mix,) in self._store.commit(wanted, said["outcome"], client_id):
                self._tell("/phone", mix, client_id, revision)
        return {"decision": f"d{revision}", "revision": revision}

    def _tell(self, namespace: str, room: str | None, client_id: str, revision: int) -> None:
        told = {"revision": revision, "client_ids": [client_id]}
        self.socketio.emit("changed", told, namespace=namespace, to=room)


def put_together(floor: Floor) -> None:
    """Give the server its addresses and live events."""
    app, socketio = floor.app, floor.socketio
    app.get("/", endpoint="page")(lambda: "<!doctype html><title>floor</title>")
    app.post("/api/v1/mixes/<mix>/requests", endpoint="ask")(
        lambda mix: (floor.ask(mix, request.get_json()), 201)
    )
    app.post("/api/v1/decisions", endpoint="answer")(lambda: floor.answer(request.get_json()))
    socketio.on("connect", namespace="/phone")(lambda auth: join_room(auth["token"]))
    socketio.on("connect", namespace="/desk")(lambda _auth: None)
    socketio.on("ask", namespace="/phone")(lambda said: floor.ask(said["mix"], said))
    socketio.on("answer", namespace="/desk")(floor.answer)


def main(port: int, path: str) -> None:
    """Serve until the process is ended."""
    floor = Floor(Store(path))
    put_together(floor)
    floor.socketio.run(floor.app, host="127.0.0.1", port=port, handler_class=NoDelay)


if __name__ == "__main__":
    main(int(sys.argv[1]), sys.argv[2])
