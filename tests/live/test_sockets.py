"""Live connections over real sockets, under both runtimes."""

import signal
from collections.abc import Iterator
from functools import partial
from pathlib import Path
from queue import SimpleQueue
from typing import Any

import pytest
import requests
import socketio
from websocket import WebSocketBadStatusException, create_connection

from tests.support import serving as support
from tests.support.serving import PATIENCE_S, Serving, serving

MODES = ["gevent", "threading"]
SCRIPT = Path(support.__file__).with_name("live_server.py")


class Listener:
    """One page's connection; keeps what it hears, the end of the connection and a refusal included."""

    def __init__(self, namespace: str) -> None:
        self.namespace = namespace
        self.client = socketio.Client(reconnection=False)
        self.told: SimpleQueue[tuple[str, Any]] = SimpleQueue()
        self.client.on("*", lambda name, data: self.told.put((name, data)), namespace=namespace)
        for name in ("disconnect", "connect_error"):
            self.client.on(name, partial(self._note, name), namespace=namespace)

    def connect(self, server: Serving, auth: dict[str, Any], headers: dict[str, str], transport: str) -> None:
        self.client.connect(
            f"http://127.0.0.1:{server.port}",
            headers=headers,
            auth=auth,
            transports=[transport],
            namespaces=[self.namespace],
            wait_timeout=PATIENCE_S,
        )

    def hear(self) -> tuple[str, Any]:
        """Wait for the next thing that is heard."""
        return self.told.get(timeout=PATIENCE_S)

    def _note(self, name: str, data: object) -> None:
        self.told.put((name, data if name == "connect_error" else None))


class Listeners:
    """Opens connections to one server, and ends them with it."""

    def __init__(self, server: Serving) -> None:
        self.server = server
        self.opened: list[Listener] = []

    def open(
        self,
        namespace: str,
        auth: dict[str, Any],
        headers: dict[str, str] | None = None,
        transport: str = "websocket",
    ) -> Listener:
        listener = Listener(namespace)
        self.opened.append(listener)
        listener.connect(self.server, auth, headers or {}, transport)
        return listener

    def of(self, subject: str) -> Listener:
        """Open the connection of a page that was admitted, and wait until it was let in."""
        listener = self.open("/desk" if subject == "desk" else "/phone", {"token": f"{subject}@0"})
        assert listener.hear()[0] == "at"
        return listener

    def refusal(self, namespace: str, auth: dict[str, Any]) -> dict[str, Any]:
        """Return what the server says to one whom it does not admit."""
        with pytest.raises(socketio.exceptions.ConnectionError):
            self.open(namespace, auth)
        said: dict[str, Any] = self.opened[-1].hear()[1]
        return said

    def leave(self) -> None:
        for listener in self.opened:
            listener.client.disconnect()

    def end(self) -> None:
        self.server.process.kill()
        self.leave()


@pytest.fixture(params=MODES)
def server(request: pytest.FixtureRequest) -> Iterator[Serving]:
    with serving(request.param, SCRIPT) as running:
        yield running


@pytest.fixture
def listeners(server: Serving) -> Iterator[Listeners]:
    listeners = Listeners(server)
    yield listeners
    listeners.end()


@pytest.fixture(scope="module", params=MODES)
def standing(request: pytest.FixtureRequest) -> Iterator[Serving]:
    """A server for all tests that leave no trace in it but requests."""
    with serving(request.param, SCRIPT) as running:
        yield running


@pytest.fixture
def guests(standing: Serving) -> Iterator[Listeners]:
    listeners = Listeners(standing)
    yield listeners
    listeners.leave()


def post(server: Serving, path: str) -> int:
    answer = requests.post(f"http://127.0.0.1:{server.port}{path}", timeout=PATIENCE_S)
    revision: int = answer.json()["revision"]
    return revision


def test_phones_hear_of_their_own_mix_and_the_desk_of_all(server: Serving, listeners: Listeners) -> None:
    pages = {subject: listeners.of(subject) for subject in ("desk", "front", "ears")}
    front, ears = post(server, "/ask/front"), post(server, "/ask/ears")

    heard = {subject: listener.hear()[1] for subject, listener in pages.items()}

    assert heard["front"]["fragments"] == {"front": "1 waiting"}
    assert (heard["front"]["revision"], heard["front"]["client_ids"]) == (front, ["id-of-front"])
    assert heard["ears"]["fragments"] == {"ears": "1 waiting"}
    assert (heard["ears"]["revision"], heard["ears"]["client_ids"]) == (ears, ["id-of-ears"])
    assert heard["desk"]["after"] == front - 1


def test_phone_that_cannot_have_a_websocket_hears_by_polling(standing: Serving, guests: Listeners) -> None:
    phone = guests.open("/phone", {"token": "front@0"}, transport="polling")
    front = post(standing, "/ask/front")

    (first, _), (second, push) = phone.hear(), phone.hear()

    assert (first, second, push["revision"]) == ("at", "changed", front)


@pytest.mark.security
def test_phone_with_a_replaced_code_is_told_and_cut(server: Serving, listeners: Listeners) -> None:
    front = listeners.of("front")
    post(server, "/replace/front")
    post(server, "/ask/front")

    heard = [front.hear(), front.hear()]

    assert heard == [("revoked", {}), ("disconnect", None)]
    assert listeners.refusal("/phone", {"token": "front@0"})["data"]["error"] == "code_replaced_since"


@pytest.mark.security
def test_unknown_token_is_refused_in_words(guests: Listeners) -> None:
    said = guests.refusal("/phone", {"token": "drums@0"})

    assert said["data"]["error"] == "unknown_code"
    assert said["message"] == said["data"]["message"]


def test_cookie_admits_as_a_token_does(standing: Serving, guests: Listeners) -> None:
    browser = requests.Session()
    browser.get(f"http://127.0.0.1:{standing.port}/admit/front", timeout=PATIENCE_S)
    cookie = f"session={browser.cookies['session']}"

    phone = guests.open("/phone", {"mix": "front"}, {"Cookie": cookie})

    assert phone.hear()[0] == "at"


@pytest.mark.security
@pytest.mark.parametrize("origin", ["http://evil.example", "null", "http://127.0.0.1:1"])
def test_page_of_another_site_is_refused(standing: Serving, origin: str) -> None:
    address = f"127.0.0.1:{standing.port}/socket.io/?EIO=4&transport="

    polled = requests.get(f"http://{address}polling", headers={"Origin": origin}, timeout=PATIENCE_S)
    with pytest.raises(WebSocketBadStatusException) as refused:
        create_connection(f"ws://{address}websocket", timeout=PATIENCE_S, origin=origin)

    assert (polled.status_code, polled.json()["error"]) == (403, "foreign_origin")
    assert refused.value.status_code == 403


def test_page_of_this_site_is_admitted(standing: Serving, guests: Listeners) -> None:
    origin = {"Origin": f"http://127.0.0.1:{standing.port}"}

    phone = guests.open("/phone", {"token": "front@0"}, origin, transport="polling")

    assert phone.hear()[0] == "at"


def test_event_that_nobody_knows_is_answered(guests: Listeners) -> None:
    phone = guests.of("front")

    answer = phone.client.call("more", {"source": "voice"}, "/phone", timeout=PATIENCE_S)

    assert answer["error"] == "unknown_event"


def test_event_whose_handler_raises_is_answered(server: Serving, listeners: Listeners) -> None:
    client = listeners.open("/", {}).client

    answer = client.call("fail", timeout=PATIENCE_S)

    _, errors, _ = server.stop(signal.SIGTERM)
    assert answer["error"] == "failed"
    assert errors.count("a live event failed") == 1


def test_server_told_to_stop_ends_its_announcer(server: Serving, listeners: Listeners) -> None:
    front = listeners.of("front")
    post(server, "/ask/front")
    front.hear()

    output, _, code = server.stop(signal.SIGTERM)

    assert (output, code) == ("stopped\n", 0)
