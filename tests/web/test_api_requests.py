"""Requests over JSON, followed to their answer or taken back."""

import json

import pytest

from tests.support.api_client import ApiClient
from tests.support.web_app import Site

Said = dict[str, object]

VOICE_UP: Said = {"client_id": "a1", "kind": "level", "source": "voice", "change_db": 3}


def post(client: ApiClient, said: Said, mix: str = "front") -> str:
    reply = client.post(f"/mixes/{mix}/requests", said)
    assert reply.status == 201
    return str(reply.json["request"])


@pytest.mark.parametrize(
    ("decision", "answer"),
    [
        ({"outcome": "done", "done_db": 6}, {"state": "done", "done_db": 6.0, "reason": None}),
        (
            {"outcome": "done", "done_db": 4, "reason": "near_feedback"},
            {
                "state": "done_in_part",
                "done_db": 4.0,
                "reason": "near_feedback",
                "reason_text": "near feedback",
            },
        ),
        (
            {"outcome": "not_done", "reason": "amp_down"},
            {"state": "not_done", "done_db": None, "reason": "amp_down"},
        ),
        (
            {"outcome": "not_done", "reason": "after <b>this</b> one"},
            {"state": "not_done", "reason_text": "after <b>this</b> one"},
        ),
        ({"outcome": "set_aside"}, {"state": "set_aside", "done_db": None}),
    ],
)
def test_a_request_says_how_it_was_answered(
    desk: ApiClient, front: ApiClient, decision: Said, answer: Said
) -> None:
    request = post(front, VOICE_UP | {"source": "guitar", "change_db": 6})
    decided = desk.post("/decisions", {"requests": [request], **decision}).json["decision"]

    known = front.get(f"/requests/{request}").json

    assert {name: known[name] for name in answer} == answer
    assert known["decision"] == decided


def test_a_request_waits_again_after_its_answer_was_taken_back(desk: ApiClient, front: ApiClient) -> None:
    request = post(front, VOICE_UP)
    decision = desk.post("/decisions", {"requests": [request], "outcome": "not_done", "reason": "no"}).json
    desk.post(f"/decisions/{decision['decision']}/undo")

    known = front.get(f"/requests/{request}").json

    assert (known["state"], known["reason"], known["decision"]) == ("waiting", None, None)


def test_a_pan_says_how_far_it_was_moved(desk: ApiClient, ears: ApiClient) -> None:
    said = {"client_id": "a1", "musician": "bass", "kind": "pan", "source": "guitar", "change_pan": 0.4}
    request = post(ears, said, "ears")
    desk.post("/decisions", {"requests": [request], "outcome": "done", "done_pan": 0.2})

    known = ears.get(f"/requests/{request}").json

    assert (known["state"], known["done_pan"], known["done_db"]) == ("done_in_part", 0.2, None)


def test_a_withdrawn_request_is_out_of_the_queue_and_says_so(desk: ApiClient, front: ApiClient) -> None:
    request = post(front, VOICE_UP)

    reply = front.delete(f"/requests/{request}")

    assert reply.status == 200
    assert (reply.json["request"], reply.json["state"]) == (request, "withdrawn")
    assert desk.get("/queue").json["rows"] == []
    assert front.get(f"/requests/{request}").json["state"] == "withdrawn"


def test_what_was_answered_or_withdrawn_by_another_cannot_be_withdrawn(
    desk: ApiClient, front: ApiClient
) -> None:
    answered, withdrawn = (
        post(front, VOICE_UP),
        post(front, VOICE_UP | {"client_id": "a2", "source": "drums"}),
    )
    desk.post("/decisions", {"requests": [answered], "outcome": "done"})
    desk.delete(f"/requests/{withdrawn}")

    replies = [front.delete(f"/requests/{request}") for request in (answered, withdrawn)]

    assert [(reply.status, reply.error) for reply in replies] == [(409, "already_answered")] * 2
    assert [reply.json["requests"] for reply in replies] == [[answered], [withdrawn]]


def test_a_withdrawal_sent_twice_is_done_once_and_answered_the_same(site: Site, front: ApiClient) -> None:
    request = post(front, VOICE_UP)

    replies = [front.delete(f"/requests/{request}") for _ in range(2)]

    assert [reply.status for reply in replies] == [200, 200]
    assert replies[0].json == replies[1].json
    assert site.show.revision == replies[0].json["revision"]


def test_the_desk_can_withdraw_for_a_musician(site: Site, desk: ApiClient, front: ApiClient) -> None:
    request = post(front, VOICE_UP)

    desk.delete(f"/requests/{request}")

    assert site.show.open_requests == {}
    assert site.recorded()[-1].by == "desk"


@pytest.mark.security
@pytest.mark.parametrize("state", ["waiting", "answered"])
@pytest.mark.parametrize("method", ["GET", "DELETE"])
def test_a_request_of_another_mix_does_not_exist_for_a_mix(
    desk: ApiClient, front: ApiClient, ears: ApiClient, method: str, state: str
) -> None:
    said: Said = {
        "client_id": "a1",
        "musician": "bass",
        "kind": "sound",
        "source": "voice",
        "words": "secret",
    }
    request = post(ears, said, "ears")
    if state == "answered":
        desk.post("/decisions", {"requests": [request], "outcome": "not_done", "reason": "secret"})

    reply, of_nothing = front.send(method, f"/requests/{request}"), front.send(method, "/requests/r999")

    assert (reply.status, reply.json) == (404, of_nothing.json)
    assert "secret" not in json.dumps(reply.json)
    assert desk.get(f"/requests/{request}").json["words"] == "secret"


@pytest.mark.parametrize(
    "request_id", ["r999", "d1", "r1", "%00", "r1%00", "%F0%9F%98%80", "x" * 3000, "r-1"]
)
def test_a_request_that_was_never_asked_is_not_found(desk: ApiClient, request_id: str) -> None:
    reply = desk.get(f"/requests/{request_id}")

    assert (reply.status, reply.error) == (404, "unknown_request")
