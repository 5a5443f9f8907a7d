"""Clients that take their time over a request, and more connections than there may be."""

import socket
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from monreq.cli.connections import Connections
from tests.support import serving as support
from tests.support.serving import PATIENCE_S, Serving, serving

pytestmark = pytest.mark.faults

MODES = ["gevent", "threading"]
SCRIPT = Path(support.__file__).with_name("hasty_server.py")


@pytest.fixture(params=MODES)
def server(request: pytest.FixtureRequest) -> Iterator[Serving]:
    with serving(request.param, SCRIPT) as running:
        yield running


def is_hung_up_on(connection: socket.socket, drip: bytes) -> bool:
    """Send a byte now and then until the other side ends it."""
    over = time.monotonic() + PATIENCE_S
    connection.settimeout(0.1)
    while time.monotonic() < over:
        try:
            connection.sendall(drip)
            if connection.recv(1024) == b"":
                return True
        except TimeoutError:
            continue
        except OSError:
            return True
    return False


def is_cut_short(connection: socket.socket) -> bool:
    """Read what is left, and look whether the other side ended before all was sent."""
    got = 0
    try:
        while chunk := connection.recv(1 << 20):
            got += len(chunk)
    except OSError:
        pass
    return got < 40_000_000


def drips(head: bytes, drip: bytes) -> Callable[[socket.socket], bool]:
    def send(connection: socket.socket) -> bool:
        connection.sendall(head)
        return is_hung_up_on(connection, drip)

    return send


SLOW = {
    "head": drips(b"", b"G"),
    "headers": drips(b"GET / HTTP/1.1\r\n", b"a"),
    "body": drips(b"POST / HTTP/1.1\r\nHost: here\r\nContent-Length: 5000\r\n\r\n", b"a"),
    "nothing more": drips(b"GET / HTTP/1.1\r\nHost: here\r\n\r\n", b""),
}


def test_client_that_takes_too_long_is_hung_up_on_and_others_are_answered(server: Serving) -> None:
    ended: dict[str, bool] = {}

    def be_slow(how: str, slow: Callable[[socket.socket], bool]) -> None:
        with server.connect() as connection:
            ended[how] = slow(connection)

    reading = server.connect()
    reading.sendall(b"GET /long HTTP/1.1\r\nHost: here\r\n\r\n")
    reading.recv(1, socket.MSG_PEEK)  # its time runs, and began before that of those that follow
    slow_ones = [threading.Thread(target=be_slow, args=one) for one in SLOW.items()]
    for one in slow_ones:
        one.start()
    statuses = [server.ask("GET", "/", "Host: here")[0] for _ in range(20)]
    for one in slow_ones:
        one.join(PATIENCE_S)

    with reading:
        # Whoever came after it was hung up on: so was it, or it gets the rest now.
        ended["reading"] = is_cut_short(reading)

    assert statuses == [200] * 20
    assert ended == dict.fromkeys([*SLOW, "reading"], True)


def test_connection_beyond_the_limit_is_told_to_come_again_but_this_machine_is_let_in() -> None:
    open_ones = Connections(most=1)
    pairs = [socket.socketpair() for _ in range(3)]
    pairs[1][1].sendall(b"GET / HTTP/1.1\r\n\r\n")

    let_in = [
        open_ones.enter(pair[0], host)
        for pair, host in zip(pairs, ("192.0.2.1", "192.0.2.2", "127.0.0.1"), strict=True)
    ]

    answer = pairs[1][1].recv(4096)
    assert let_in == [True, False, True]
    assert answer.startswith(b"HTTP/1.1 503 ")
    assert b"\r\nRetry-After: 5\r\n" in answer
    for one in (end for pair in pairs for end in pair):
        one.close()


def test_connection_that_left_makes_room() -> None:
    open_ones = Connections(most=1)
    ours, theirs = socket.socketpair()
    open_ones.enter(ours, "192.0.2.1")
    open_ones.leave(ours)

    assert open_ones.enter(theirs, "192.0.2.2")

    ours.close()
    theirs.close()
