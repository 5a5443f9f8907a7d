"""The server as a process: how it listens, what it logs, how it stops."""

import json
import signal
import socket
from collections.abc import Iterator

import pytest
from flask import Flask
from flask_socketio import SocketIO
from websocket import WebSocket, WebSocketConnectionClosedException, create_connection

from monreq.cli.server import ServerError, listen, run_server
from tests.support.serving import PATIENCE_S, Serving, serving, start

MODES = ["gevent", "threading"]
CLIENT_HELLO = bytes.fromhex("1603010200010001fc0303") + b"\x8f" * 506
TOKEN = "show1-mix1.AAAAAAAAAAAAAAAAAAAAAA"


@pytest.fixture(params=MODES)
def server(request: pytest.FixtureRequest) -> Iterator[Serving]:
    with serving(request.param) as running:
        yield running


def open_live(server: Serving) -> WebSocket:
    url = f"ws://127.0.0.1:{server.port}/socket.io/?EIO=4&transport=websocket"
    live = create_connection(url, timeout=PATIENCE_S)
    live.recv()
    live.send("40")
    live.recv()
    return live


def drain(live: WebSocket) -> None:
    while True:
        live.recv()


def test_server_answers_a_live_event(server: Serving) -> None:
    live = open_live(server)

    live.send('420["ask","more kick"]')

    answer = live.recv()
    live.close()
    assert answer == '430["heard more kick"]'


def test_server_holds_no_small_packet_back(server: Serving) -> None:
    _, _, body = server.ask("GET", "/delay", "Host: localhost")

    assert json.loads(body) == {"delay": False}


@pytest.mark.security
def test_server_closes_on_tls_without_an_answer(server: Serving) -> None:
    answer = server.exchange(CLIENT_HELLO)

    _, errors, _ = server.stop(signal.SIGTERM)
    assert answer == b""
    assert errors == ""


@pytest.mark.security
def test_server_logs_no_request_and_no_token(server: Serving) -> None:
    status, _, _ = server.ask("GET", f"/j/{TOKEN}", "Host: localhost")
    server.exchange(f"GET /j/{TOKEN}\x01 FTP/9 \x02\r\n\r\n".encode())

    _, errors, _ = server.stop(signal.SIGTERM)

    assert status == 500
    assert "ValueError: [token]" in errors
    assert TOKEN not in errors
    assert "FTP" not in errors
    assert errors.count("a client sent something that is not an HTTP request\n") == 1


@pytest.mark.security
@pytest.mark.parametrize(
    "headers", [b"X: a\r\n" * 101, b"X: " + b"a" * 70_000 + b"\r\n"], ids=["many", "long"]
)
def test_server_tells_of_more_headers_than_it_takes_in_one_line(server: Serving, headers: bytes) -> None:
    answer = server.exchange(b"GET / HTTP/1.1\r\nHost: localhost\r\n" + headers + b"\r\n")

    _, errors, _ = server.stop(signal.SIGTERM)

    assert answer.split()[1] in (b"400", b"431")
    assert errors.count("\n") == 1
    assert errors.endswith("a client sent something that is not an HTTP request\n")


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGINT])
def test_server_told_to_stop_ends_well(server: Serving, number: int) -> None:
    output, errors, code = server.stop(number)

    assert (output, errors, code) == ("stopped\n", "", 0)


def test_server_told_to_stop_closes_live_connections(server: Serving) -> None:
    live = open_live(server)

    output, errors, code = server.stop(signal.SIGTERM)

    with pytest.raises(WebSocketConnectionClosedException):
        drain(live)
    assert (output, errors, code) == ("stopped\n", "", 0)


def test_server_told_to_stop_finishes_what_it_is_answering(server: Serving) -> None:
    with server.connect() as connection:
        connection.sendall(b"GET /slow HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n")
        assert server.line() == "slow"

        output, _, code = server.stop(signal.SIGTERM)

        answer = b"".join(iter(lambda: connection.recv(65536), b""))
    assert answer.endswith(b"finished")
    assert (output, code) == ("stopped\n", 0)


def test_server_told_to_stop_does_not_wait_for_idle_connections(server: Serving) -> None:
    with server.connect() as idle:
        idle.sendall(b"GET / HTTP/1.1\r\nHost: localhost\r\n\r\n")
        assert idle.recv(12) == b"HTTP/1.1 200"

        output, errors, code = server.stop(signal.SIGTERM)

    assert (output, errors, code) == ("stopped\n", "", 0)


@pytest.mark.parametrize("mode", MODES)
def test_server_with_a_taken_port_says_so_in_one_line(mode: str) -> None:
    with socket.create_server(("127.0.0.1", 0)) as other:
        port = other.getsockname()[1]

        with start(mode, port) as process:
            output, errors = process.communicate(timeout=PATIENCE_S)

    assert (output, process.returncode) == ("", 1)
    assert errors == (
        f"monreq: Port {port} is taken: another program listens on it, so stop that one "
        "or choose another port with --port.\n"
    )


def test_listen_on_a_strange_address_says_so() -> None:
    with pytest.raises(ServerError, match=r"no address '192\.0\.2\.1' to listen on"):
        listen("192.0.2.1", 0)


def test_listen_on_port_zero_gets_a_port() -> None:
    with listen("127.0.0.1", 0) as listener:
        host, port = listener.getsockname()

    assert host == "127.0.0.1"
    assert port > 0


@pytest.mark.security
def test_run_server_refuses_debug_mode() -> None:
    app = Flask(__name__)
    app.debug = True
    done: list[str] = []

    with (
        listen("127.0.0.1", 0) as listener,
        pytest.raises(ServerError, match="unset FLASK_DEBUG"),
    ):
        run_server(
            app,
            SocketIO(app, async_mode="threading"),
            listener,
            on_ready=lambda: done.append("ready"),
            on_stop=lambda: done.append("stopped"),
        )

    assert done == []


def test_run_server_refuses_gevent_without_a_cooperative_library() -> None:
    app = Flask(__name__)

    with listen("127.0.0.1", 0) as listener, pytest.raises(RuntimeError, match="prepare_runtime"):
        run_server(
            app,
            SocketIO(app, async_mode="gevent"),
            listener,
            on_ready=lambda: None,
            on_stop=lambda: None,
        )
