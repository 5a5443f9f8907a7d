"""Packets that no page sends, over real sockets: whoever sends them is answered or cut, and nobody else notices."""

import signal
from collections.abc import Iterator

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from websocket import WebSocket, WebSocketException, WebSocketTimeoutException, create_connection

from tests.live.test_sockets import MODES, SCRIPT, Listeners, post
from tests.support.serving import PATIENCE_S, Serving, serving

pytestmark = pytest.mark.security

ADMITTED = '40/phone,{"token":"front@0"}'
CORPUS = [
    "",
    "4",
    "40",
    "40/nowhere,",
    '40/desk,{"token":"front@0"}',
    "40/phone,{",
    "40/phone,[]",
    '40/phone,{"token":{"$gt":""}}',
    '40/phone,{"mix":["front"]}',
    "40" + "/phone" * 500 + ",",
    "42",
    "42[]",
    "42{}",
    "42null",
    '42/phone,["more",{"source":"voice"}]',
    '42/desk,["connect"]',
    '42/phone,["connect",{"token":"desk@0"}]',
    '42/phone,["disconnect"]',
    '42/phone,["__class__"]',
    '42/phone,[{"a":1}]',
    "42/phone,[1]",
    "42/phone," + "[" * 5_000,
    "42/phone," + '{"a":' * 2_000 + "1" + "}" * 2_000,
    "42/phone,99999999999999999999[]",
    "43/phone,1[]",
    '44/phone,{"message":"no"}',
    '45/phone,1-["x",{"_placeholder":true,"num":0}]',
    '45/phone,99-["x",{"_placeholder":true,"num":7}]',
    '451-["x",{"_placeholder":true,"num":-1}]',
    "46/phone,1-[]",
    "49/phone,[]",
    "41/desk,",
    "1",
    "2",
    "2probe",
    "3",
    "5",
    "6",
    "9",
    "x",
    "\u0000",
    "\N{DRUM WITH DRUMSTICKS}" * 3_000,
    "b4AAAA",
    "4" + "\x1e" * 2_000,
]


@pytest.fixture(params=MODES)
def server(request: pytest.FixtureRequest) -> Iterator[Serving]:
    with serving(request.param, SCRIPT) as running:
        yield running


@pytest.fixture
def listeners(server: Serving) -> Iterator[Listeners]:
    listeners = Listeners(server)
    yield listeners
    listeners.end()


def connect(server: Serving) -> WebSocket:
    url = f"ws://127.0.0.1:{server.port}/socket.io/?EIO=4&transport=websocket"
    live = create_connection(url, timeout=PATIENCE_S)
    assert str(live.recv()).startswith("0{")
    return live


def send_all(server: Serving, *packets: str | bytes) -> None:
    """Send packets over one connection, as long as it is kept."""
    live = connect(server)
    try:
        for packet in packets:
            if isinstance(packet, bytes):
                live.send_binary(packet)
            else:
                live.send(packet)
    except (WebSocketException, OSError):
        pass  # it was cut, as it may be
    finally:
        live.shutdown()  # type: ignore[no-untyped-call]  # it publishes none


def is_cut(live: WebSocket) -> bool:
    """Read until the server ends the connection; what was sent before may be lost with it."""
    try:
        while live.recv():
            pass
    except WebSocketTimeoutException:
        return False
    except (WebSocketException, OSError):
        pass
    finally:
        live.shutdown()  # type: ignore[no-untyped-call]  # it publishes none
    return True


def is_heard(server: Serving, listeners: Listeners) -> bool:
    """Tell whether a phone that comes now hears of what happens."""
    phone = listeners.of("front")
    revision = post(server, "/ask/front")
    while True:
        name, said = phone.hear()
        if name == "changed" and said["revision"] == revision:
            return True


def test_no_packet_of_the_corpus_disturbs_another_phone_or_fills_the_log(
    server: Serving, listeners: Listeners
) -> None:
    before = listeners.of("ears")
    for packet in CORPUS:
        send_all(server, packet)
        send_all(server, ADMITTED, packet, packet)
        send_all(server, packet.encode(errors="surrogatepass"), ADMITTED)

    post(server, "/ask/ears")

    assert before.hear()[0] == "changed"
    assert is_heard(server, listeners)
    _, errors, code = server.stop(signal.SIGTERM)
    assert code == 0
    assert "Traceback" not in errors
    assert len(errors.splitlines()) <= 12


def test_a_message_above_the_limit_ends_its_connection_and_no_other(
    server: Serving, listeners: Listeners
) -> None:
    live = connect(server)

    live.send(ADMITTED + " " * 2_000_000)

    assert is_cut(live)
    assert is_heard(server, listeners)


@given(
    st.lists(
        st.text(max_size=60) | st.binary(max_size=60) | st.from_regex(r"4[0-6](/phone,|/desk,)?.{0,30}"),
        max_size=5,
    )
)
@settings(
    max_examples=60,
    derandomize=True,
    database=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
def test_no_drawn_packets_disturb_another_phone(drawn_server: Serving, packets: list[str | bytes]) -> None:
    send_all(drawn_server, ADMITTED, *packets)

    live = connect(drawn_server)
    live.send(ADMITTED)

    said = str(live.recv())
    live.shutdown()  # type: ignore[no-untyped-call]  # it publishes none
    assert said.startswith('42/phone,["at"')


@pytest.fixture(scope="module")
def drawn_server() -> Iterator[Serving]:
    with serving("gevent", SCRIPT) as running:
        yield running
        _, errors, _ = running.stop(signal.SIGTERM)
        assert "Traceback" not in errors
