"""More live connections than there may be, and those that hold a place and do nothing with it."""

import socket
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
import requests
from flask_socketio import SocketIOTestClient
from websocket import WebSocketConnectionClosedException, create_connection
from werkzeug.test import Client, EnvironBuilder
from werkzeug.wrappers import Response

from monreq.live.capacity import FOR_DESKS, PER_CODE, Doorman
from tests.support import serving as support
from tests.support.live import LiveHouse
from tests.support.serving import PATIENCE_S, Serving, serving

pytestmark = pytest.mark.faults

MODES = ["gevent", "threading"]
SCRIPT = Path(support.__file__).with_name("live_server.py")
LOOKS_TO_JOIN = 5  # as in monreq/live/capacity.py
OPENING = "/socket.io/?EIO=4&transport=polling"
SHOUTS, AT_ONCE = 30, 10  # of 64 kB each: more in all than a socket holds


@pytest.fixture(params=MODES)
def server(request: pytest.FixtureRequest) -> Iterator[Serving]:
    with serving(request.param, SCRIPT) as running:
        yield running


def connect(house: LiveHouse, subject: str) -> SocketIOTestClient:
    namespace = "/desk" if subject == "desk" else "/phone"
    return house.socketio.test_client(house.app, namespace=namespace, auth={"token": f"{subject}@0"})


def test_one_page_too_many_with_a_code_is_refused_and_all_others_hear() -> None:
    house = LiveHouse()
    pages = [connect(house, "front") for _ in range(PER_CODE)]

    extra, other, desk = connect(house, "front"), connect(house, "ears"), connect(house, "desk")
    house.ask("front")
    house.announcer.announce_waiting()

    assert not extra.is_connected("/phone")
    assert other.is_connected("/phone")
    assert desk.is_connected("/desk")
    assert all(page.get_received("/phone")[-1]["name"] == "changed" for page in pages)


def test_page_that_was_closed_makes_room_for_one_with_the_same_code() -> None:
    house = LiveHouse()
    first, *_ = [connect(house, "front") for _ in range(PER_CODE)]
    first.disconnect("/phone")

    assert connect(house, "front").is_connected("/phone")


def test_connections_beyond_the_limit_are_told_to_come_again_but_desks_are_let_in() -> None:
    house = LiveHouse()
    doorman = Doorman(house.app.wsgi_app, house.socketio, lambda environ: "HTTP_DESK" in environ, together=2)
    client = Client(doorman, Response)

    phones = [client.get(OPENING) for _ in range(3)]
    desks = [client.get(OPENING, headers={"Desk": "1"}).status_code for _ in range(FOR_DESKS + 1)]

    assert [one.status_code for one in phones] == [200, 200, 503]
    assert phones[-1].headers["Retry-After"] == "5"
    assert phones[-1].get_json()["error"] == "full"
    assert desks == [200] * FOR_DESKS + [503]


def test_requests_of_an_open_connection_are_answered_when_there_is_no_room() -> None:
    house = LiveHouse()
    client = Client(Doorman(house.app.wsgi_app, house.socketio, lambda _: False, together=1), Response)
    opened = client.get(OPENING).get_data(as_text=True)
    sid = opened.partition('"sid":"')[2].partition('"')[0]

    answer = client.open(EnvironBuilder(f"{OPENING}&sid={sid}", method="POST", data="40/phone,"))

    assert answer.status_code == 200


@contextmanager
def raw(server: Serving) -> Iterator[Any]:
    """Have a connection until the block ends; its own way to close leaves the socket open once the server said goodbye."""
    live = create_connection(
        f"ws://127.0.0.1:{server.port}/socket.io/?EIO=4&transport=websocket",
        timeout=PATIENCE_S,
        sockopt=[(socket.SOL_SOCKET, socket.SO_RCVBUF, 4096)],
    )
    try:
        live.recv()
        yield live
    finally:
        live.shutdown()  # type: ignore[no-untyped-call]  # it publishes none


def post(server: Serving, path: str) -> None:
    requests.post(f"http://127.0.0.1:{server.port}{path}", timeout=PATIENCE_S).raise_for_status()


def open_files(server: Serving) -> int:
    return len([*Path(f"/proc/{server.process.pid}/fd").iterdir()])


def resident_kb(server: Serving) -> int:
    text = Path(f"/proc/{server.process.pid}/status").read_text(encoding="ascii")
    return int(text.partition("VmRSS:")[2].split()[0])


def test_connection_that_joins_nothing_is_ended(server: Serving) -> None:
    with raw(server) as live:
        post(server, f"/look/{LOOKS_TO_JOIN}")
        hear(live, "2")
        post(server, "/look/1")

        with pytest.raises((WebSocketConnectionClosedException, ConnectionError)):
            hear(live, "nothing that is ever said")


def test_client_that_never_reads_holds_nobody_up_and_is_dropped(server: Serving) -> None:
    with raw(server) as stuck, raw(server) as hears:
        for live in (stuck, hears):
            live.send('40/phone,{"token":"front@0"}')
        hear(hears, "40/phone,")
        post(server, "/look/1")
        before = open_files(server), resident_kb(server)

        shout(server, hears)
        over = time.monotonic() + PATIENCE_S
        while open_files(server) >= before[0] and time.monotonic() < over:
            hear(hears, "2")
            post(server, "/look/1")
        is_dropped = open_files(server) < before[0]
        shout(server, hears)

    assert is_dropped
    assert resident_kb(server) - before[1] < 100_000


def shout(server: Serving, hears: Any) -> None:
    """Push much to all, as fast as the one who hears can take it: whoever is behind answers pings late."""
    for _ in range(SHOUTS):
        post(server, f"/shout/{AT_ONCE}")
        for _ in range(AT_ONCE):
            hear(hears, '42/phone,["shout"')


def hear(live: Any, start: str) -> None:
    """Read, and answer pings, until something that begins so has come."""
    said = ""
    while not said.startswith(start):
        said = live.recv()
        if said == "":
            raise WebSocketConnectionClosedException("the server said goodbye")
        if said == "2":
            live.send("3")
