"""Bodies that nobody meant: each is refused in JSON, with the right status, and nothing is stored."""

import pytest

from tests.support.api_client import ApiClient
from tests.support.web_app import LARGEST_BODY, Site

POSTS = ["/mixes/front/requests", "/decisions", "/mixes/front/corrections"]


@pytest.fixture
def _nothing_is_stored(site: Site) -> object:
    before = site.show
    yield
    assert site.show == before


pytestmark = [pytest.mark.security, pytest.mark.usefixtures("_nothing_is_stored")]


@pytest.mark.parametrize("path", POSTS)
@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"{",
        b"kind=level",
        b"\xff\xfe{\x00}\x00",
        b"\xc3\x28",
        b'{"client_id": "\\ud800"}',
        b"[" * 30_000,
        b'{"change_db": ' + b"9" * 5000 + b"}",
        b"{}{}",
        b'{"client_id": "a\x00"}',
    ],
)
def test_what_is_not_json_is_refused(desk: ApiClient, path: str, data: bytes) -> None:
    reply = desk.send("POST", path, data)

    assert (reply.status, reply.error) == (400, "bad_request")


@pytest.mark.parametrize("path", POSTS)
@pytest.mark.parametrize("data", [b"null", b"[]", b'"level"', b"7", b"true", b"{}", b"[{}]"])
def test_json_that_is_not_the_object_wanted_is_refused(desk: ApiClient, path: str, data: bytes) -> None:
    reply = desk.send("POST", path, data)

    assert (reply.status, reply.error) == (422, "bad_body")


@pytest.mark.parametrize("path", POSTS)
@pytest.mark.parametrize(
    "kind", ["text/plain", "application/x-www-form-urlencoded", "multipart/form-data; boundary=x", ""]
)
def test_a_body_that_does_not_say_json_is_refused(desk: ApiClient, path: str, kind: str) -> None:
    reply = desk.send("POST", path, b"{}", kind=kind)

    assert (reply.status, reply.error) == (415, "unsupported_media_type")


@pytest.mark.parametrize("path", POSTS)
def test_a_body_that_is_too_large_is_refused(desk: ApiClient, path: str) -> None:
    reply = desk.send("POST", path, b'{"client_id": "' + b"a" * LARGEST_BODY + b'"}')

    assert (reply.status, reply.error) == (413, "request_entity_too_large")


@pytest.mark.parametrize(
    "figure",
    [
        *("NaN", "Infinity", "-Infinity", "1e999", "-1e999", "1e308", "9" * 400),
        *("true", "false", '"3"', "[3]", "{}", "0.30000000000000004", "3.0000001"),
    ],
)
@pytest.mark.parametrize(
    ("path", "said"),
    [
        ("/mixes/front/requests", '"client_id": "a", "kind": "level", "source": "voice", "change_db"'),
        (
            "/mixes/ears/requests",
            '"client_id": "a", "musician": "bass", "kind": "pan", "source": "voice", "change_pan"',
        ),
        ("/decisions", '"requests": ["r1"], "outcome": "done", "done_db"'),
        ("/decisions", '"requests": ["r1"], "outcome": "done", "level_db"'),
        ("/mixes/front/corrections", '"source": "voice", "level_db"'),
    ],
)
def test_what_is_no_figure_is_refused(desk: ApiClient, path: str, said: str, figure: str) -> None:
    reply = desk.send("POST", path, f"{{{said}: {figure}}}".encode())

    assert reply.status == 422


@pytest.mark.parametrize(
    "field",
    [
        {"source": 7},
        {"source": ["voice"]},
        {"source": {"id": "voice"}},
        {"source": "voice' OR 1=1 --"},
        {"source": "__class__"},
        {"source": ""},
        {"source": "\u0000"},
        {"musician": 1},
        {"musician": "singer\u0000"},
        {"kind": None},
        {"kind": ["level"]},
        {"kind": "LEVEL"},
        {"by": "desk"},
        {"__proto__": {"by": "desk"}},
        {"change_pan": 0.2},
    ],
)
def test_a_field_of_another_form_is_refused(desk: ApiClient, field: dict[str, object]) -> None:
    said = {"client_id": "a1", "kind": "level", "source": "voice", "change_db": 3}

    reply = desk.post("/mixes/front/requests", said | field)

    assert reply.status == 422
    assert set(reply.json) == {"error", "message"}


@pytest.mark.parametrize("requests", ["r1", {"r1": 1}, [1], [None], [["r1"]], [True], None, ["r1"] * 1001])
def test_a_list_of_requests_of_another_form_is_refused(desk: ApiClient, requests: object) -> None:
    reply = desk.post("/decisions", {"requests": requests, "outcome": "done"})

    assert (reply.status, reply.error) == (422, "bad_body")


def test_a_message_says_where_and_never_gives_back_what_was_sent(desk: ApiClient) -> None:
    reply = desk.post("/mixes/front/corrections", {"source": "voice", "level_db": "<script>"})

    assert reply.json["message"] == "level_db: Input should be a valid number."
