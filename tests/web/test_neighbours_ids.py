"""What is somebody else's, named by its right id: whoever knows an id has no more right for it."""

from collections.abc import Sequence

import pytest
from flask import Flask

from monreq.domain.requests import RequestState
from tests.support.api_client import ApiClient
from tests.support.evening import Evening
from tests.support.visitor import Visitor
from tests.support.web_app import Site

pytestmark = pytest.mark.security

LEVEL = {"client_id": "a1", "kind": "level", "source": "voice", "change_db": 3}


Fields = dict[str, str | Sequence[str]]


def own_fields(visitor: Visitor, mix: str) -> Fields:
    page = visitor.get(f"/mix/{mix}")
    return page.sent_by(page.button("more Voice" if mix == "front" else "more Guitar"))


def test_a_phone_posts_nothing_to_another_mix_with_its_own_token(evening: Evening, singer: Visitor) -> None:
    before = evening.show

    answer = singer.post("/mix/side", own_fields(singer, "front") | {"do": "more:drums"})

    assert answer.status == 401
    assert evening.show == before


def test_a_phone_does_not_become_a_musician_of_another_mix(evening: Evening, bassist: Visitor) -> None:
    answer = bassist.post("/mix/ears/who", own_fields(bassist, "ears") | {"musician": "singer"})

    bassist.post("/mix/ears", own_fields(bassist, "ears") | {"do": "more:voice"})
    (asked,) = evening.show.open_requests.values()
    assert answer.status == 422
    assert asked.musician == "bass"


def test_a_phone_asks_in_nobody_elses_name(evening: Evening, bassist: Visitor) -> None:
    bassist.post("/mix/ears", own_fields(bassist, "ears") | {"do": "more:voice", "musician": "drummer"})

    (asked,) = evening.show.open_requests.values()
    assert asked.musician == "bass"


def test_a_cookie_signed_by_another_key_admits_to_nothing(evening: Evening) -> None:
    forger = Flask("forger")
    forger.secret_key = "guessed"
    serializer = forger.session_interface.get_signing_serializer(forger)  # type: ignore[attr-defined]
    visitor = Visitor(evening.monreq.flask)
    name = evening.monreq.flask.config["SESSION_COOKIE_NAME"]
    visitor.client.set_cookie(name, serializer.dumps({"admissions": {"": ["show1", 0, None]}}))

    assert visitor.get("/desk").status == 401


def test_the_interface_asks_for_no_musician_of_another_mix(site: Site, ears: ApiClient) -> None:
    before = site.show

    reply = ears.post("/mixes/ears/requests", LEVEL | {"musician": "singer", "source": "guitar"})

    assert (reply.status, reply.error) == (422, "unknown_musician")
    assert site.show == before


@pytest.mark.parametrize(
    "field", [{"state": "done"}, {"mix": "ears"}, {"by": "@desk"}, {"done_db": 6}, {"id": "r1"}]
)
def test_the_interface_takes_no_field_that_is_not_the_callers_to_set(
    site: Site, front: ApiClient, field: dict[str, object]
) -> None:
    reply = front.post("/mixes/front/requests", LEVEL | field)

    assert (reply.status, reply.error) == (422, "bad_body")
    assert site.show.open_requests == {}


def test_a_submission_id_of_another_mix_tells_nothing_of_it(front: ApiClient, ears: ApiClient) -> None:
    theirs = front.post("/mixes/front/requests", LEVEL)

    ours = ears.post("/mixes/ears/requests", LEVEL | {"musician": "bass", "source": "guitar"})

    assert (theirs.status, ours.status) == (201, 201)
    assert theirs.json["request"] != ours.json["request"]
    assert ours.json["state"] == RequestState.WAITING
